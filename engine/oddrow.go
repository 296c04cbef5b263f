package engine

import (
	"fmt"
	"math"
	"slices"

	"waywright/checks/quantity"
	"waywright/checks/uncert"
)

// anew says how a value is come by once more: one that is only stated is not
// measured.
func anew(q Question) string {
	if q.Kind == AskGiven && q.Instrument == nil {
		return "Type it again"
	}
	return "Measure again"
}

// oddInRow tells what is odd about a value of a row, or nil. Of takes at one
// place it is the one that strays from the others, wherever it stands, and not
// the first that differs from one before.
func (s *State) oddInRow(q Question, typed []quantity.Typed, i int) *Refusal {
	var before []float64
	for _, t := range typed[:i] {
		before = append(before, t.Value)
	}
	r := s.oddValue(q, typed[i], before)
	if r == nil || len(typed) == 1 {
		return r
	}
	if r.Code == "spread" {
		if j, said := s.strayOf(q, typed, i); said != nil {
			i, r = j, said
		}
	}
	r.At = i + 1
	for _, t := range typed {
		r.Row = append(r.Row, t.Text)
	}
	return r
}

// strays notices a take that lies further from the others than the instrument
// scatters (measure rules 2 and 20). before are the takes of the same row. A
// further take, which an undecided gate asked for, is held against those before
// it: unsaid, one that strays leaves the gate less certain than it was.
func (s *State) strays(q Question, t quantity.Typed, before []float64, read func() string) *Refusal {
	further := q.Further && !q.Again
	if q.Takes < 2 && !further {
		return nil
	}
	others := append(s.takenHere(q), before...)
	if len(others) == 0 || len(others)+1 > q.Takes && !further || !s.scatters(q, append(slices.Clip(others), t.Value)) {
		return nil
	}
	return strayed(q, t, others, "what was read here before", read)
}

// strayed says by how much a take strays from others.
func strayed(q Question, t quantity.Typed, others []float64, from string, read func() string) *Refusal {
	off := t.Value - mean(others)
	side := "above"
	if off < 0 {
		side = "below"
	}
	return &Refusal{Code: "spread", Understood: read(), Keep: true,
		Wrong: fmt.Sprintf("That is %s %s %s, more than this instrument scatters.", quantity.Format(math.Abs(off), *q.Unit, q.Decimals), side, from),
		Mend:  "Measure again, or keep it and say why. An earlier one that was wrong is mended with amend."}
}

// takenHere are the takes kept so far at the place that a question asks for. What
// was kept as odd is no measure for the next.
func (s *State) takenHere(q Question) (out []float64) {
	r, id := s.readingOf(q.Name)
	if r == nil {
		return nil
	}
	for _, e := range s.liveParts(id, r) {
		if e.odd == "" {
			out = append(out, e.raw)
		}
	}
	return out
}

// scatters tells whether takes lie further apart than the instrument scatters.
func (s *State) scatters(q Question, takes []float64) bool {
	r, _ := s.readingOf(q.Name)
	return r != nil && r.With != nil && uncert.Scatters(s.instrument(r.With), takes)
}

// strayOf finds which of the takes of a row at one place strays from the others,
// where the take i was found to differ from those before it: the one without
// which they agree best. Nothing is said where they do not agree without it
// either, or where i is the one.
func (s *State) strayOf(q Question, typed []quantity.Typed, i int) (which int, said *Refusal) {
	kept := s.takenHere(q)
	row := typed[:max(0, min(len(typed), q.Takes-len(kept)))] // further takes are kept already
	if len(kept)+len(row) < 3 {
		return i, nil
	}
	without := func(j int) []float64 {
		out := slices.Clone(kept)
		for k, t := range row {
			if k != j {
				out = append(out, t.Value)
			}
		}
		return out
	}
	spread := func(x []float64) float64 { return slices.Max(x) - slices.Min(x) }
	which = i
	for j := range row {
		if spread(without(j)) < spread(without(which)) {
			which = j
		}
	}
	others := without(which)
	if which == i || s.scatters(q, others) {
		return i, nil
	}
	t := row[which]
	return which, strayed(q, t, others, "the others of the row", func() string { return "I read " + quantity.Plain(t.Value, t.Unit) + "." })
}
