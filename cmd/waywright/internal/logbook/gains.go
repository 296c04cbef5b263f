package logbook

import (
	"math"
	"slices"

	"waywright/procedures"
)

// Gains are what a machine answered to corrections, as shares of what was asked.
type Gains struct {
	Of   map[string]float64 // by the correction's name
	From map[string]string  // the run in which it was found
}

// Gains returns what a machine answered to the corrections of a procedure when it
// was last worked on by it: of each correction what the newest run found that
// found something. It does not matter what became of that run: a machine answers
// as it does, accepted or not.
func (b Book) Gains(p *procedures.Procedure, machine string) (Gains, error) {
	g := Gains{map[string]float64{}, map[string]string{}}
	if machine == "" || !slices.ContainsFunc(p.Corrections, func(c *procedures.Correction) bool { return c.Should != nil }) {
		return g, nil
	}
	runs, err := b.Runs()
	if err != nil {
		return g, err
	}
	for _, s := range runs { // the newest first
		if s.Run == nil || s.Run.State.Begun().Procedure != p.Name || s.Run.State.Begun().Machine.ID != machine {
			continue
		}
		for c, gain := range s.Run.State.Gains() {
			if _, newer := g.Of[c]; !newer {
				g.Of[c], g.From[c] = math.Round(gain*1000)/1000, s.Name // nobody knows it better
			}
		}
	}
	return g, nil
}
