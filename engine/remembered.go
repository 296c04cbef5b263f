package engine

import (
	"waywright/checks/response"
	"waywright/procedures"
)

// mostDoubt is how poorly a gain without a reading of the movement may be known
// to be remembered; with one, package response says when it is known.
const mostDoubt = 0.25

// Gains returns what the machine was found to answer to each correction in this
// run, as a share of what was asked. What a logbook remembered from before
// is not in it, nor what nothing was learnt of.
func (s *State) Gains() map[string]float64 {
	out := map[string]float64{}
	for _, c := range s.plan.proc.Corrections {
		gain, known := 1.0, false
		for i := range s.attempts {
			if a := &s.attempts[i]; s.teaches(a, c) {
				gain, known = response.NextGain(gain, a.finding), true
			}
		}
		if known {
			out[c.Name] = gain
		}
	}
	return out
}

// teaches reports whether a gain was learnt from what an attempt at a correction
// did.
func (s *State) teaches(a *attempt, c *procedures.Correction) bool {
	if a.corr != c || !a.told || a.cannot != "" || a.mistaken {
		return false
	}
	f := &a.finding
	if !f.HasMoved {
		return f.Tell == response.TellCause && f.URho < mostDoubt && response.BandOf(f.Rho, f.URho) > response.BandNought
	}
	return f.Teaches()
}

// remembered returns the gain of a correction that the logbook has from an
// earlier run, and that run, while nothing was learnt in this one; else nought.
func (s *State) remembered(c *procedures.Correction) (gain float64, run string) {
	g := s.begun.Gains[c.Name]
	if !(g > 0) {
		return 0, ""
	}
	for i := range s.attempts {
		if s.teaches(&s.attempts[i], c) {
			return 0, ""
		}
	}
	return g, s.begun.GainsFrom[c.Name]
}
