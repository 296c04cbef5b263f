package vet

import (
	"fmt"
	"math"
	"slices"

	"waywright/checks"
	"waywright/checks/uncert"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// withinBranch is a step in the doubt of a reading that stays on one side of a
// kink, where readings were set apart by some steps of their instrument.
const withinBranch = 1e-4

// requests works out the uncertainty of each margin.
func (ix *index) requests(g *procedures.Gate, w *world, y []margin) ([]checks.Request, bool) {
	m, ids := ix.model(w)
	if m == nil {
		return nil, false
	}
	base := w.shift
	x, u := make([]float64, len(ids)), m.U()
	if slices.ContainsFunc(judged(g), func(p *formula.Program) bool { return ix.traits(p).Kinked }) {
		// The slopes of the branch on which the readings were set apart: a step of u
		// would reach over the kink into another.
		for i := range u {
			u[i] *= withinBranch
		}
	}
	shifted := map[[2]float64][]margin{}
	at := func(s []float64) ([]margin, bool) {
		for i, d := range s {
			if d == 0 {
				continue
			}
			key := [2]float64{float64(i), d}
			out, ok := shifted[key]
			if !ok {
				shift := map[string]float64{}
				for k, b := range base {
					shift[k] = b
				}
				shift[ids[i]] += d
				if out, ok = margins(g, w.shifted(shift)); !ok || len(out) != len(y) {
					out = nil
				}
				shifted[key] = out
			}
			return out, out != nil
		}
		return y, true
	}
	out := make([]checks.Request, len(y))
	for k := range y {
		out[k] = checks.Request{Value: y[k].value, Lo: y[k].lo, Hi: y[k].hi}
		out[k].AtLo = sideMargin(m, x, u, at, func(m []margin) float64 { return m[k].value - m[k].lo }, y[k].lo)
		out[k].AtHi = sideMargin(m, x, u, at, func(m []margin) float64 { return m[k].hi - m[k].value }, y[k].hi)
	}
	return out, true
}

func sideMargin(m *uncert.Model, x, u []float64, at func([]float64) ([]margin, bool), f func([]margin) float64, limit float64) checks.Margin {
	if math.IsInf(limit, 0) {
		return checks.Margin{}
	}
	c, _ := uncert.Gradient(func(s []float64) (float64, bool) {
		y, ok := at(s)
		if !ok {
			return 0, false
		}
		return f(y), true
	}, x, u)
	r := m.Combine(c)
	return checks.Margin{U: r.Std, DoF: r.DoF}
}

// model makes the sources of error of all readings of a world, as a run has
// them where each step is worked once in one sitting.
func (ix *index) model(w *world) (m *uncert.Model, ids []string) {
	var ins []uncert.Instrument
	index := map[*procedures.Instrument]int{}
	var obs []uncert.Observation
	for _, id := range w.order {
		c := w.cells[id]
		r := c.reading
		i, ok := index[r.With]
		if !ok || r.With == nil {
			i = len(ins)
			index[r.With] = i
			ins = append(ins, ix.instrument(r.With, id))
		}
		o := uncert.Observation{
			ID: id, Value: c.mid + w.shift[id], Instrument: i, Turned: r.Turned,
			Setting: ins[i].Name, Pool: fmt.Sprint(ins[i].Name, " in ", r.Step.Name),
		}
		if r.Repeat > 1 {
			o.Takes = takesAbout(o.Value, r.Repeat, ins[i])
		}
		obs = append(obs, o)
		ids = append(ids, id)
	}
	m, err := uncert.New(ins, obs, nil)
	if err != nil {
		return nil, nil
	}
	return m, ids
}

// instrument is what readings are taken with: the real one, where it is known.
func (ix *index) instrument(in *procedures.Instrument, id string) uncert.Instrument {
	if in == nil {
		return uncert.Instrument{Name: id}
	}
	if real, ok := ix.known.Instruments[in]; ok {
		return real
	}
	return uncert.Instrument{
		Name: in.Name, Kind: in.Kind, Resolution: in.Resolution, Error: in.Error, HasError: in.HasError,
		Zero: in.Zero, HasZero: in.HasZero, Repeatability: in.Repeatability, RepeatabilityDoF: in.RepeatabilityDoF, Turn: in.Turn,
	}
}
