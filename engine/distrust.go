package engine

import (
	"slices"

	"waywright/checks/response"
)

// readFirst reports whether a gate's readings are to be taken once more before
// anything is moved: they look like a mistake; or what the last correction did is
// not clear, or shows no difference, or went against a needle that was tested and
// reads rightly, so that it is the readings that were taken for one another. Once
// they were read again it is not said again.
func (s *State) readFirst(j *Judgement, look []Suspicion) bool {
	if slices.ContainsFunc(look, func(x Suspicion) bool { return x.First }) {
		return true
	}
	for i := len(s.attempts) - 1; i >= 0; i-- {
		a := &s.attempts[i]
		if a.gate != j.Name || !a.told {
			continue
		}
		if a.cannot != "" || s.rereadSince(a) {
			return false
		}
		switch a.finding.Word {
		case response.Unclear, response.NoDifference:
			return true
		case response.WrongSign:
			return a.tested == "plus"
		}
		return false
	}
	return false
}
