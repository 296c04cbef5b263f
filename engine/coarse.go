package engine

import (
	"cmp"
	"fmt"
	"slices"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/checks/uncert"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
	"waywright/procedures/vet"
)

// mostCoarse is how many gates are named for which an instrument is too
// coarse.
const mostCoarse = 3

// tooCoarse tells for which gates a real instrument is too coarse: with it
// nothing could pass (measure rule 13), or the doubt is more than a third of
// the limit and more than with the instrument that the author had in mind. It
// is worked out for the grade and the givens of this run, in the middle of
// what readings may be.
func (s *State) tooCoarse(p *procedures.Instrument, b Bound) []Oddity {
	if b.Resolution+b.Error+b.Repeatability+b.CertU+b.Turn == 0 && !b.HasZero {
		return nil // nothing is known of it
	}
	gates := s.fedBy(p)
	if len(gates) == 0 {
		return nil
	}
	usual := s.circumstances()
	delete(usual.Instruments, p)
	with := s.circumstances()
	with.Instruments[p] = known(p, b)
	zones := vet.Zones(s.plan.proc, gates, with)
	before := vet.Zones(s.plan.proc, gates, usual)
	type found struct {
		ratio float64
		odd   Oddity
	}
	var all []found
	for i, z := range zones {
		if said, ok := s.coarseAt(z, before[i], len(with.Instruments) == 1); ok {
			all = append(all, found{z.Doubt() / max(z.Limit(), 1e-12), Oddity{oddCoarse, said}})
		}
	}
	slices.SortStableFunc(all, func(a, b found) int { return cmp.Compare(b.ratio, a.ratio) })
	var out []Oddity
	for i, f := range all {
		if i == mostCoarse {
			out = append(out, Oddity{oddCoarse, fmt.Sprintf("The same holds for %d more.", len(all)-i)})
			break
		}
		out = append(out, f.odd)
	}
	return out
}

// coarseAt says what is odd at one gate; z is its zone with the real
// instrument, usual the one with the procedure's in its place. Where that is no
// better the author was told; here it is said only of the first instrument
// that is named: what another one spoils is not put down to this one.
func (s *State) coarseAt(z, usual vet.Zone, first bool) (string, bool) {
	if !z.Known || z.Rule == checks.Simple || z.Limit() <= 0 {
		return "", false
	}
	var round []string
	if rounds := s.rounds(z.Gate.Step); len(rounds) > 0 {
		round = rounds[0]
	}
	title := words(z.Gate.Title, s.env().in(z.Gate.Step, round))
	worse := !usual.Known || z.Doubt() > usual.Doubt()*(1+1e-9)
	u := quantity.InRun(z.Gate.Unit, s.begun.Inch)
	doubt, limit := vet.Length(z.Doubt(), u), vet.Length(z.Limit(), u)
	switch {
	case !z.CanPass && (worse || usual.CanPass || first):
		return fmt.Sprintf("Too coarse for %q: nothing could pass. Give or take %s, where the limits leave %s.", title, doubt, limit), true
	case z.CanPass && worse && z.Doubt() > z.Limit()/3:
		return fmt.Sprintf("Coarse for %q: much good work would be CANNOT TELL. Give or take %s, where the limits leave %s.", title, doubt, limit), true
	}
	return "", false
}

// fedBy lists the gates that are decided from what an instrument reads, but
// for those of steps that a condition keeps out.
func (s *State) fedBy(p *procedures.Instrument) []*procedures.Gate {
	var out []*procedures.Gate
	for _, g := range s.plan.gates() {
		if s.isOut(g.Step) {
			continue
		}
		_, givens, _ := s.plan.inputs(gatePrograms(g)...)
		if slices.ContainsFunc(s.plan.feeds[g.Name], func(r *procedures.Reading) bool { return r.With == p }) ||
			slices.ContainsFunc(givens, func(n string) bool { return s.plan.givens[n] != nil && s.plan.givens[n].With == p }) {
			out = append(out, g)
		}
	}
	return out
}

// circumstances are what this run has settled that pass zones depend on.
func (s *State) circumstances() vet.Circumstances {
	c := vet.Circumstances{Grade: s.Grade(), Rule: s.rule, Givens: map[string]value.Value{}, Instruments: map[*procedures.Instrument]uncert.Instrument{}}
	for _, g := range s.plan.proc.Givens {
		v := s.env().Value(formula.Ref{Space: formula.Given, Name: g.Name})
		if w, _ := v.Worst(); w == value.Present {
			c.Givens[g.Name] = v
		}
	}
	for _, p := range s.plan.proc.Instruments {
		if _, ok := s.bound[p.Name]; ok {
			c.Instruments[p] = s.instrument(p)
		}
	}
	return c
}
