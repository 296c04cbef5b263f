package rehearse

import (
	"math"

	"waywright/checks/montecarlo"
	"waywright/checks/uncert"
	"waywright/checks/value"
	"waywright/engine"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// read is a value as an instrument shows it before it is rounded: with the
// noise of one take, and in a drawn shop with the errors of the instrument.
func (m *model) read(facts formula.Env, q engine.Question, asked question, x float64) float64 {
	noise := m.noise(asked, facts)
	if m.shop != nil {
		if real := m.shop.of(q); real != nil {
			x += real.error(q, x)
			if real.scatter > 0 {
				noise = real.scatter
			}
		}
	}
	if noise > 0 {
		x += float64(noise * m.rng.Normal())
	}
	return x
}

// readMove is a movement as its indicator shows it: the difference of two
// readings of one setting, the first set to nothing.
func (m *model) readMove(q engine.Question, x float64) float64 {
	if m.shop == nil || q.Instrument == nil {
		return x
	}
	real := m.shop.tools[q.Instrument.Name]
	if real == nil {
		return x
	}
	return x + real.indication(x) - real.indication(0) + float64(real.scatter*m.rng.Normal())
}

// shop is what the instruments of one drawn machine are really like.
type shop struct {
	rng   *montecarlo.Stream
	tools map[string]*tool
}

// tool is one instrument, drawn from the figures that the procedure states.
type tool struct {
	rng     *montecarlo.Stream
	limit   float64 // of indication error
	zero    float64 // limit of the error of its zero
	zeros   map[string]float64
	reach   float64 // how far apart indications are independent; 0: one error for the whole scale
	from    float64 // where on the scale the first place with an error of its own is
	nodes   map[int]float64
	scatter float64 // standard deviation of one take; 0 where the procedure states none
}

func newShop(rng *montecarlo.Stream, proc *procedures.Procedure) *shop {
	s := &shop{rng, map[string]*tool{}}
	for _, p := range proc.Instruments { // drawn in the order of the file
		s.tools[p.Name] = newTool(rng, p)
	}
	return s
}

// usualDoF is how well a repeatability is known of which nothing is said:
// to a quarter (measure rule 2).
const usualDoF = 8

// newTool draws an instrument. The limit of error of one without any is its
// resolution, and that of a zero of which nothing is known is the limit of
// indication (measure rules 4 and 5). How it scatters is drawn about the figure
// stated as far as that is known.
func newTool(rng *montecarlo.Stream, p *procedures.Instrument) *tool {
	t := &tool{rng: rng, limit: p.Resolution, zeros: map[string]float64{}, nodes: map[int]float64{}}
	if p.HasError || p.Error > 0 {
		t.limit = p.Error
	}
	t.zero = t.limit
	if p.HasZero || p.Zero > 0 {
		t.zero = p.Zero
	}
	if t.reach = p.Turn; t.reach <= 0 {
		if reach, ok := uncert.Reach(p.Kind, p.Resolution); ok && !math.IsInf(reach, 1) {
			t.reach = reach
		}
	}
	t.from = rng.Centred() * t.reach
	dof := p.RepeatabilityDoF
	if dof <= 0 {
		dof = usualDoF
	}
	stretch := rng.Stretch(dof)
	t.scatter = p.Repeatability * stretch
	return t
}

// of is the tool that a question is answered with, or nil.
func (s *shop) of(q engine.Question) *tool {
	if q.Instrument == nil {
		return nil
	}
	return s.tools[q.Instrument.Name]
}

// error is that of zero and indication at a value. An instrument that stands
// turned round has its zero the other way.
func (t *tool) error(q engine.Question, x float64) float64 {
	setting := q.Setting
	if setting == "" {
		setting = q.Name // a given, or the reading of a wait
	}
	zero, ok := t.zeros[setting]
	if !ok {
		zero = float64(t.zero * t.rng.Centred())
		t.zeros[setting] = zero
	}
	if q.Turned {
		zero = -zero
	}
	return t.indication(x) + zero
}

// indication is a smooth curve of error over the scale: places one turn apart
// err by themselves, anywhere between the limits, and between two of them the
// error goes evenly from one to the other. So neighbouring readings err alike,
// and those a turn apart do not (measure rule 5).
func (t *tool) indication(x float64) float64 {
	if t.limit <= 0 {
		return 0
	}
	if t.reach <= 0 {
		return t.node(0)
	}
	at := (x - t.from) / t.reach
	i := math.Floor(at)
	part := at - i
	return float64(t.node(int(i))*(1-part)) + float64(t.node(int(i)+1)*part)
}

func (t *tool) node(i int) float64 {
	e, ok := t.nodes[i]
	if !ok {
		e = float64(t.limit * t.rng.Centred())
		t.nodes[i] = e
	}
	return e
}

// spreadOut draws a hidden state about what the author states, every number of
// it by itself.
func (m *model) spreadOut(name string, v value.Value, facts formula.Env) value.Value {
	if m.shop == nil {
		return v
	}
	for _, a := range m.r.Spread {
		if a.Name != name {
			continue
		}
		sd := a.Value.Eval(&scene{m: m, facts: facts}).Mean()
		if sd.State != value.Present {
			return value.Value{State: sd.State, Why: "its spread cannot be worked out"}
		}
		return value.Map(func(x value.Value) value.Value {
			if x.State == value.Present && (x.Kind == value.Number || x.Kind == value.Point) {
				x.Num += float64(sd.Num * m.rng.Normal())
			}
			return x
		}, v)
	}
	return v
}
