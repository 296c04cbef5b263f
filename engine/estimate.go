package engine

import (
	"bytes"
	"math"
	"slices"
	"strconv"

	"waywright/checks"
	"waywright/checks/propagate"
	"waywright/checks/quantity"
	"waywright/checks/uncert"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
	"waywright/procedures/register"
)

// subject is a program whose numbers are wanted with their uncertainty, and
// for a gate the limits that they are held against.
type subject struct {
	name  string
	of    *formula.Program
	gate  *procedures.Gate // nil where there are no limits
	step  *procedures.Step
	round []string
}

func ofResult(res *procedures.Result, round []string) subject {
	return subject{name: "result." + address(res.Name, round...), of: res.Value, step: res.Step, round: round}
}

func ofGate(g *procedures.Gate, round []string) subject {
	return subject{name: "gate." + address(g.Name, round...), of: g.Of, gate: g, step: g.Step, round: round}
}

// numbers evaluates the subject: what is judged, and the limits, infinite
// where there is none; st is the state of the limits.
func (q subject) numbers(e *env) (of []number, lo, hi float64, st value.State, why string) {
	e = e.in(q.step, q.round)
	if q.gate != nil {
		return sides(q.gate, e)
	}
	return leavesOf(q.of.Eval(e)), math.Inf(-1), math.Inf(1), value.Present, ""
}

// limits lists the programs of the limits.
func (q subject) limits() []*formula.Program {
	if q.gate == nil {
		return nil
	}
	return slices.DeleteFunc([]*formula.Program{q.gate.Within, q.gate.AtMost, q.gate.AtLeast}, func(p *formula.Program) bool { return p == nil })
}

// estimate is some numbers worked out from readings: how well each is known,
// and how it depends on every element that was read.
type estimate struct {
	of     []number
	lo, hi float64 // limits; infinite where there is none
	// e are of the numbers in of; below and above are of their margins to the
	// limits, where these are worked out from readings too.
	e, below, above []propagate.Estimate
	form            propagate.Form
	problem         propagate.Problem

	ins     []uncert.Instrument
	obs     []uncert.Observation
	sources []uncert.Source
	inputs  []input // what the shifts of the model's inputs move, in their order
}

// input is a number that formulas are worked out from: an element of a reading
// or a given, or one of its takes where a formula looks at them one by one.
type input struct {
	id    string
	take  int // from 0; −1 for all of them together
	value float64
}

// key is the input's name among the shifts of an environment.
func (in input) key() string {
	if in.take < 0 {
		return in.id
	}
	return in.id + takeMark + strconv.Itoa(in.take)
}

// takeMark stands before the number of a take, in the key of a shift.
const takeMark = "\x00"

// estimate works a subject out from the facts of the run. The sensitivities
// are taken over the whole chain of results, so that what readings share is
// counted once. ok is false where a limit or a number is not there.
func (s *State) estimate(q subject) (est estimate, ok bool) {
	tr := &leaves{known: map[string]leaf{}}
	var st value.State
	est.of, est.lo, est.hi, st, _ = q.numbers(&env{s: s, trace: tr})
	if st != value.Present || slices.ContainsFunc(est.of, func(n number) bool { return n.state == value.Missing }) {
		return estimate{}, false
	}
	s.observeAll(q, tr, &est)
	m, err := uncert.New(est.ins, est.obs, est.sources)
	if err != nil {
		return estimate{}, false
	}
	w := s.chain(q, &est)
	est.form = propagate.Form{Kinked: w.form.Kinked, NonNegative: w.form.NonNegative, Turns: w.form.Turns}
	est.problem = propagate.Problem{
		Model: m, Eval: w.eval, Divisors: len(w.divisors), About: s.about(q), Trials: s.plan.trials,
	}
	est.problem.Forms, est.problem.Zones = w.forms()
	if s.plan.unread && q.gate != nil {
		est.problem.Enough = w.plain
	}
	solved, ok := s.plan.solve(&est.problem, w.start)
	if !ok {
		return estimate{}, false
	}
	est.e, est.below, est.above = w.parts(solved)
	return est, true
}

// about returns what tells a subject from others that have the same readings.
func (s *State) about(q subject) []byte {
	var b bytes.Buffer
	word := func(w string) { b.WriteString(strconv.Quote(w)) }
	word(s.plan.proc.Name)
	word(q.name)
	word(s.Grade())
	for _, g := range s.plan.proc.Givens {
		combos, _ := s.combos(g.Each, s.env())
		for _, keys := range combos {
			for _, t := range s.live(address(g.Name, keys...), nil) {
				word(t.word)
				word(strconv.FormatFloat(t.value, 'x', -1, 64))
			}
		}
	}
	return b.Bytes()
}

// observeAll makes observations of all elements that the subject used.
func (s *State) observeAll(q subject, tr *leaves, est *estimate) {
	apart := s.plan.apart(append(q.limits(), q.of)...)
	index := map[string]int{}
	var own []string // givens taken over with their uncertainty, and coefficients of expansion
	for _, id := range tr.order {
		l := tr.known[id]
		if l.reading == nil && (l.given == nil || l.given.With == nil) {
			own = append(own, id)
			continue
		}
		est.observe(s, id, l, l.reading != nil && apart[l.reading.Name], index)
	}
	s.addDrifts(tr, est)
	for _, id := range own {
		if tr.known[id].given == nil {
			est.sources = append(est.sources, uncert.Source{ID: id, Kind: uncert.Temperature, U: uExpansion})
			est.inputs = append(est.inputs, input{id, -1, 0})
			continue
		}
		takes := s.live(id, nil)
		t := takes[len(takes)-1]
		est.sources = append(est.sources, uncert.Source{ID: id, U: t.u, DoF: t.dof})
		est.inputs = append(est.inputs, input{id, -1, t.value})
	}
}

// observe adds the element as an observation of its instrument, or each of its
// takes where these are looked at one by one. Then how they scatter is what is
// asked, and the error of a take is what the instrument is known to scatter.
func (est *estimate) observe(s *State, id string, l leaf, apart bool, index map[string]int) {
	var with *procedures.Instrument
	var takes []take
	step, turned := "", false
	work := 0
	if l.reading != nil {
		with, takes = l.reading.With, s.live(id, l.reading.Step)
		step, turned = l.reading.Step.Name, l.reading.Turned
		work = s.work[step]
	} else {
		with, takes = l.given.With, s.live(id, nil)
	}
	t := takes[len(takes)-1]
	name := "without an instrument: " + id
	in := uncert.Instrument{Name: name}
	if with != nil {
		b := s.boundAs(t.bound)
		name = with.Name + " " + b.ID
		in = known(with, b)
	}
	i, ok := index[name]
	if !ok {
		i = len(est.ins)
		index[name] = i
		est.ins = append(est.ins, in)
	}
	mean := s.meanAt(l, takes)
	o := uncert.Observation{
		ID: id + "@" + strconv.Itoa(work), Value: mean, Instrument: i, Setting: t.setting, Turned: turned != t.turned,
		Pool: name + " in " + step + " " + strconv.Itoa(work),
	}
	if !apart || len(takes) < 2 {
		if len(takes) > 1 {
			for _, t := range takes {
				o.Takes = append(o.Takes, t.value-s.driftIn(l, t))
			}
		}
		est.obs = append(est.obs, o)
		est.inputs = append(est.inputs, input{id, -1, mean})
		return
	}
	est.observeApart(s, o, in, l, takes, id)
}

// observeApart adds each take by itself. What the smallest step leaves open of
// their mean is not averaged away (measure rule 3).
func (est *estimate) observeApart(s *State, o uncert.Observation, in uncert.Instrument, l leaf, takes []take, id string) {
	whole, n := o.ID, float64(len(takes))
	o.Pool += " one by one"
	o.Apart = true
	left := in.Resolution*in.Resolution/12*(1-1/n) - in.Repeatability*in.Repeatability/n
	common := uncert.Source{ID: whole + " step", Kind: uncert.Resolution, U: math.Sqrt(math.Max(0, left)), Limit: true}
	for j, t := range takes {
		o.ID = whole + " take " + strconv.Itoa(j+1)
		est.obs = append(est.obs, o)
		est.inputs = append(est.inputs, input{id, j, t.value - s.driftIn(l, t)})
		common.On = append(common.On, uncert.Effect{ID: o.ID, Coefficient: 1})
	}
	if common.U > 0 {
		est.sources = append(est.sources, common)
	}
}

// instrument is what is known of the instrument in the hand.
func (s *State) instrument(p *procedures.Instrument) uncert.Instrument {
	return known(p, s.bound[p.Name])
}

// known puts what the shop knows of a real instrument in the place of the
// procedure's own figures.
func known(p *procedures.Instrument, b Bound) uncert.Instrument {
	in := uncert.Instrument{
		Name: p.Name, Kind: p.Kind, Resolution: p.Resolution, Error: p.Error, HasError: p.HasError, Zero: p.Zero, HasZero: p.HasZero,
		Repeatability: p.Repeatability, RepeatabilityDoF: p.RepeatabilityDoF, Turn: p.Turn,
	}
	if b.ID == "" {
		return in
	}
	in.Name = b.ID
	if u, err := quantity.Lookup(b.Unit); err == nil && u.Dim != p.Dim {
		return in // it reads something else: its figures say nothing here
	}
	f := factor(b.Unit, p.Unit)
	if b.What != "" && !register.SameKind(b.What, p.Kind) {
		in.Kind, in.Turn = b.What, 0
	}
	if b.Resolution > 0 {
		in.Resolution = b.Resolution * f
	}
	if b.Error > 0 {
		in.Error, in.HasError = b.Error*f, true
	}
	if b.Repeatability > 0 {
		in.Repeatability = b.Repeatability * f
	}
	if b.RepeatabilityDoF > 0 {
		in.RepeatabilityDoF = b.RepeatabilityDoF
	}
	if b.HasZero {
		in.Zero, in.HasZero = b.Zero*f, true
	}
	if b.Turn > 0 {
		in.Turn = b.Turn * f
	}
	in.CertU, in.CertK = b.CertU*f, b.CertK
	return in
}

// difference returns the uncertainty of b's number less a's, each the first of
// its estimate; what they share cancels.
func difference(a, b estimate) uncert.Result {
	j := joint{at: map[string]int{}, ins: map[string]int{}, from: map[string]int{}}
	j.add(a, -1)
	j.add(b, 1)
	m, err := uncert.New(j.instruments, j.obs, j.sources)
	if err != nil {
		return uncert.Result{DoF: math.Inf(1), K: checks.TQuantile(0.975, math.Inf(1))}
	}
	return m.Combine(j.slopes())
}

// joint puts the inputs of several estimates together.
type joint struct {
	instruments []uncert.Instrument
	obs         []uncert.Observation
	sources     []uncert.Source
	c           []float64 // of obs
	at          map[string]int
	ins         map[string]int
	from        map[string]int
	own         []float64 // of the sources that act on no observation
}

// add adds the inputs of an estimate, its first number times sign.
func (j *joint) add(est estimate, sign float64) {
	slopes := est.e[0].Slopes
	for i, o := range est.obs {
		k, ok := j.at[o.ID]
		if !ok {
			k = len(j.obs)
			j.at[o.ID] = k
			o.Instrument = j.instrument(est.ins[o.Instrument])
			j.obs = append(j.obs, o)
			j.c = append(j.c, 0)
		}
		j.c[k] += sign * slopes[i]
	}
	own := len(est.obs)
	for _, src := range est.sources {
		k, ok := j.from[src.ID]
		if !ok {
			k = len(j.sources)
			j.from[src.ID] = k
			j.sources, j.own = append(j.sources, src), append(j.own, 0)
		}
		if len(src.On) == 0 { // an input of its own
			j.own[k] += sign * slopes[own]
			own++
		}
	}
}

// slopes are those of all inputs of the model: observations, then the sources
// that act on none.
func (j *joint) slopes() []float64 {
	out := j.c
	for k, src := range j.sources {
		if len(src.On) == 0 {
			out = append(out, j.own[k])
		}
	}
	return out
}

func (j *joint) instrument(in uncert.Instrument) int {
	i, ok := j.ins[in.Name]
	if !ok {
		i = len(j.instruments)
		j.ins[in.Name] = i
		j.instruments = append(j.instruments, in)
	}
	return i
}

// factor is the size of a bound instrument's unit in base units.
func factor(name string, usual quantity.Unit) float64 {
	if u, err := quantity.Lookup(name); err == nil {
		return u.Factor
	}
	return usual.Factor
}
