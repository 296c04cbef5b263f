package engine

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"waywright/checks"
	"waywright/checks/propagate"
	"waywright/checks/uncert"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// judge holds a gate against its limits in one round of its step.
func (s *State) judge(g *procedures.Gate, round []string) Judgement {
	name := address(g.Name, round...)
	if j, ok := s.judged[name]; ok {
		return j.Judgement
	}
	e := s.env().in(g.Step, round)
	j := Judgement{
		Gate: g, Name: name, Keys: round, Title: s.told(g.Title, e), Rule: s.rule(g), Unit: g.Unit, Source: g.Source,
		Lo: math.Inf(-1), Hi: math.Inf(1), Positive: words(g.Positive, e), Conceded: s.concession(name),
	}
	var from weighed
	out := s.excluded(g.Name)
	switch v, ok := e.applies(g.Step); {
	case out != nil && g.Holds != nil:
		j.Verdict, j.Why, j.LeftOut, j.Holds = checks.NotApplied, out.said(), out, true
	case out != nil:
		j.Verdict, j.Why, j.LeftOut = checks.NotApplied, out.said(), out
		if _, lo, hi, st, _ := sides(g, e.in(g.Step, round)); st == value.Present {
			j.Lo, j.Hi = lo, hi
		}
	case !ok:
		blocked(&j, v.State, v.Why)
	case g.Holds != nil:
		s.judgeHolds(g, round, &j)
	default:
		from = s.judgeValue(g, round, &j)
		s.distrustTurns(&j, from)
		s.distrustSag(&j)
	}
	put(&s.judged, name, judged{j, s.Len(), from})
	return j
}

// told is what a text says to whoever reads it; "" where nobody does.
func (s *State) told(t procedures.Text, e formula.Env) string {
	if s.plan.unread {
		return ""
	}
	return words(t, e)
}

func words(t procedures.Text, e formula.Env) string {
	if t == nil {
		return ""
	}
	return t.Words(e)
}

// blocked gives the verdict on what is not there; it reports false for what is.
func blocked(j *Judgement, st value.State, why string) bool {
	if st == value.Present {
		return false
	}
	j.Verdict, j.Why = absence(st, why), why
	if j.Verdict == checks.Open {
		j.Why = ""
	}
	return true
}

// absence is the verdict on a value that is not there. A test does not apply
// where a condition says so or a key is not there (semantics rule 25). A computation that has no
// answer is another thing: nothing was established by it.
func absence(st value.State, why string) checks.Verdict {
	switch {
	case st == value.Missing:
		return checks.Open
	case st == value.Absent && (strings.HasSuffix(why, notApplying) || strings.HasPrefix(why, formula.NothingAt)):
		return checks.NotApplied
	}
	return checks.NotMeasured
}

func (s *State) judgeHolds(g *procedures.Gate, round []string, j *Judgement) {
	j.Holds = true
	v := g.Holds.Eval(s.env().in(g.Step, round))
	if blocked(j, v.State, v.Why) {
		return
	}
	j.Verdict, j.P = checks.Fail, 0
	if v.Truth {
		j.Verdict, j.P = checks.Pass, 1
	}
	if j.Rule != checks.Simple && s.wavers(g, round, v.Truth) {
		j.Verdict, j.P = checks.Undecided, 0.5
	}
}

// wavers tells whether moving one input by its expanded uncertainty changes
// the truth of a holds gate (semantics rule 27).
func (s *State) wavers(g *procedures.Gate, round []string, truth bool) bool {
	tr := &leaves{known: map[string]leaf{}}
	g.Holds.Eval((&env{s: s, trace: tr}).in(g.Step, round))
	var est estimate
	s.observeAll(subject{of: g.Holds}, tr, &est)
	m, err := uncert.New(est.ins, est.obs, est.sources)
	if err != nil {
		return true
	}
	c := make([]float64, m.Len())
	for i, in := range est.inputs {
		c[i] = 1
		u := m.Combine(c).U
		c[i] = 0
		for _, d := range []float64{u, -u} {
			e := (&env{s: s, shift: map[string]float64{in.key(): d}, memo: map[string]value.Value{}}).in(g.Step, round)
			if v := g.Holds.Eval(e); v.State == value.Present && v.Truth != truth {
				return true
			}
		}
	}
	return false
}

// number is one number of a value, with its key and place.
type number struct {
	key   string
	at, y float64
	state value.State
	why   string
}

// leavesOf lists the numbers of a value: one without a key for a single
// number. One that is not there stands for all below it.
func leavesOf(v value.Value) []number {
	if v.State != value.Present {
		return []number{{state: v.State, why: v.Why}}
	}
	switch v.Kind {
	case value.Takes:
		m := v.Mean()
		return []number{{y: m.Num, state: m.State, why: m.Why}}
	case value.Profile, value.Turn, value.Keyed, value.List:
		var out []number
		for i, el := range v.Elems {
			k, at := placeOf(v, i)
			for _, n := range leavesOf(el) {
				if n.key != "" {
					n.key = k + "." + n.key
				} else {
					n.key = k
				}
				if v.Kind == value.Profile || v.Kind == value.Turn {
					n.at = at
				}
				out = append(out, n)
			}
		}
		return out
	}
	return []number{{y: v.Num}}
}

// placeOf is the key of an element of a collection, and its station or angle.
func placeOf(v value.Value, i int) (key string, at float64) {
	switch v.Kind {
	case value.Keyed:
		return v.Keys[i], 0
	case value.Profile:
		return stationKey(v.At[i]), v.At[i]
	case value.Turn:
		return stationKey(v.At[i] * 180 / math.Pi), v.At[i]
	}
	return strconv.Itoa(i + 1), 0
}

// numbersOf lists the numbers of a value that is present, and their stations.
func numbersOf(v value.Value) (at, y []float64) {
	for _, n := range leavesOf(v) {
		at, y = append(at, n.at), append(y, n.y)
	}
	return at, y
}

// sides evaluates the limits of a gate and the numbers it judges; st is the
// state of the limits.
func sides(g *procedures.Gate, e *env) (of []number, lo, hi float64, st value.State, why string) {
	lo, hi = math.Inf(-1), math.Inf(1)
	note := func(v value.Value) value.Value {
		if s, w := v.Worst(); s > st {
			st, why = s, w
		}
		return v.Mean()
	}
	if g.Within != nil {
		z := note(g.Within.Eval(e))
		lo, hi = z.Lo, z.Hi
	}
	if g.AtMost != nil {
		hi = note(g.AtMost.Eval(e)).Num
	}
	if g.AtLeast != nil {
		lo = note(g.AtLeast.Eval(e)).Num
	}
	return leavesOf(g.Of.Eval(e)), lo, hi, st, why
}

// judgeValue judges every number of a gate by itself. The worst verdict stands
// for all (semantics rule 26).
func (s *State) judgeValue(g *procedures.Gate, round []string, j *Judgement) (from weighed) {
	of, lo, hi, st, why := sides(g, s.env().in(g.Step, round))
	if blocked(j, st, why) {
		return from
	}
	j.Lo, j.Hi = lo, hi
	if slices.ContainsFunc(of, func(n number) bool { return n.state == value.Missing }) {
		j.Verdict = checks.Open
		return from
	}
	if s.judgeAsRead(j, of) {
		return from
	}
	est, ok := s.fromResult(g, of, lo, hi)
	if !ok {
		est, ok = s.estimate(ofGate(g, round))
	}
	if !ok || len(of) == 0 {
		j.Verdict, j.Why = checks.NotMeasured, "it cannot be worked out from these readings"
		return from
	}
	return weighed{est, s.judgeEach(j, &est)}
}

// judgeEach returns which number decided.
func (s *State) judgeEach(j *Judgement, est *estimate) (decided int) {
	again := s.readAgain(j.Gate)
	if est.form.NonNegative && !strings.Contains(j.Positive, "never") {
		j.Positive = "" // the reading's, and a size has no direction
	}
	judged := false
	for i, n := range est.of {
		el, e := Element{Verdict: absence(n.state, n.why)}, propagate.Estimate{}
		if n.state == value.Present {
			e = est.e[i]
			el = est.judge(i, j.Rule, again)
			j.Elements = append(j.Elements, el)
		}
		if judged && (el.Verdict < j.Verdict || el.Verdict == j.Verdict && el.P >= j.P) {
			continue
		}
		judged, decided = true, i
		j.Value, j.U, j.P, j.Bound, j.Verdict = el.Value, el.U, el.P, el.Bound, el.Verdict
		j.TooCoarse = el.TooCoarse
		j.K, j.Dof, j.Budget, j.Drawn, j.Element, j.Why = e.K, e.DoF, e.Budget, e.Drawn, n.key, n.why
		j.Noise = !s.plan.unread && s.plan.isNoise(est, i)
	}
	if !s.plan.unread {
		j.Budget = s.sourced(est, j.Budget)
	}
	if len(est.of) == 1 && est.of[0].key == "" || j.Verdict == checks.NotMeasured || j.Verdict == checks.NotApplied {
		j.Elements = nil // only what was judged is worth a row
	}
	return decided
}

// readAgain tells whether further readings were asked for because of a gate,
// and pooled with the first: then it must be surer to pass (measure rule 16).
func (s *State) readAgain(g *procedures.Gate) bool { return s.extra[askedAgain(g)] > 0 }

// judge holds number i against the limits (measure rules 11 to 16).
func (est *estimate) judge(i int, rule checks.Rule, again bool) Element {
	n, e := est.of[i], est.e[i]
	if e.Undefined() {
		return Element{Key: n.key, At: n.at, Value: n.y, Lo: est.lo, Hi: est.hi, Verdict: checks.Undecided}
	}
	below, above := e, e
	if est.below != nil {
		below = est.below[i]
	}
	if est.above != nil {
		above = est.above[i]
	}
	q := checks.Request{
		Value: n.y, Lo: est.lo, Hi: est.hi, Rule: rule, Again: again,
		AtLo: checks.Margin{U: below.Std, DoF: below.DoF}, AtHi: checks.Margin{U: above.Std, DoF: above.DoF},
	}
	switch {
	case e.Drawn != nil && est.form.NonNegative:
		q.NonNegative, q.Bias = true, math.Max(0, e.Drawn.Bias)
	case below.Drawn != nil || above.Drawn != nil:
		q.Drawn = &checks.Drawn{
			Below: shareBeyond(below, n.y-est.lo, func(d *propagate.Drawn) float64 { return d.Below }),
			Above: shareBeyond(above, est.hi-n.y, func(d *propagate.Drawn) float64 {
				if est.above != nil {
					return d.Below // of the margin
				}
				return d.Above
			}),
		}
	}
	d := checks.Decide(q)
	return Element{Key: n.key, At: n.at, Value: n.y, U: e.U, Lo: est.lo, Hi: est.hi, P: d.P, Bound: d.PBound, Verdict: d.Verdict, TooCoarse: d.TooCoarse}
}

// shareBeyond is the probability that a margin is not kept.
func shareBeyond(e propagate.Estimate, margin float64, share func(*propagate.Drawn) float64) float64 {
	switch {
	case math.IsInf(margin, 1):
		return 0
	case e.Drawn != nil:
		return share(e.Drawn)
	case e.Std == 0:
		return float64(b2i(margin < 0))
	}
	return checks.TCDF(-margin/e.Std, e.DoF)
}

// isNoise tells whether number i, which cannot be negative, is no more than what
// the errors of the readings make of a part without fault.
func (pl *Plan) isNoise(est *estimate, i int) bool {
	if est.of[i].state != value.Present || !est.form.NonNegative {
		return false
	}
	e := est.e[i]
	// Beyond twice its doubt it is more in any case.
	if e.Drawn == nil || e.Value > 2*e.U {
		return false
	}
	flat := make([]float64, est.problem.Model.Len())
	for k, in := range est.inputs {
		flat[k] = -in.value
	}
	if y := est.problem.Eval(flat); i >= len(y) || !(math.Abs(y[i]) <= 1e-9) {
		return false
	}
	return e.Value <= pl.noise(est.problem, flat, i)
}

// Judgements returns every gate in the order of the file, and of its rounds.
func (s *State) Judgements() []Judgement {
	var out []Judgement
	s.eachGate(func(g *procedures.Gate, round []string) { out = append(out, s.judge(g, round)) })
	return out
}

// GateNames lists the gates as Judgements has them, without judging any.
func (s *State) GateNames() []string {
	var out []string
	s.eachGate(func(g *procedures.Gate, round []string) { out = append(out, address(g.Name, round...)) })
	return out
}

// eachGate calls f for every gate, in each round of its step.
func (s *State) eachGate(f func(g *procedures.Gate, round []string)) {
	for _, g := range s.plan.gates() {
		rounds := s.rounds(g.Step)
		if len(rounds) == 0 {
			f(g, nil)
			continue
		}
		for _, round := range rounds {
			f(g, round)
		}
	}
}

// concededGates returns the judgements of the gates with a concession that still
// stands. The others are not judged for it: to work out how well a value is
// known may take a while.
func (s *State) concededGates() []Judgement {
	var out []Judgement
	s.eachGate(func(g *procedures.Gate, round []string) {
		if s.concession(address(g.Name, round...)) != nil {
			out = append(out, s.judge(g, round))
		}
	})
	return out
}

// applies tells whether a gate applies in one round, as its verdict would, but
// without working out how well its value is known.
func (s *State) applies(g *procedures.Gate, round []string) bool {
	e := s.env().in(g.Step, round)
	if _, known := s.judged[address(g.Name, round...)]; !known && g.Of != nil && s.excluded(g.Name) == nil {
		if _, ok := e.applies(g.Step); ok {
			of, _, _, st, _ := sides(g, e)
			if st == value.Present && slices.ContainsFunc(of, func(n number) bool { return n.state == value.Present }) {
				return true // one that is there is a better verdict than one that does not apply
			}
		}
	}
	return s.judge(g, round).Verdict != checks.NotApplied
}

// gateAt finds a gate and its round by the name that a question has for it.
func (s *State) gateAt(name string) (*procedures.Gate, []string, bool) {
	for _, g := range s.plan.gates() {
		for _, round := range s.rounds(g.Step) {
			if address(g.Name, round...) == name {
				return g, round, true
			}
		}
	}
	return nil, nil, false
}

// feeding lists the takes that a gate's verdict stands on in one round, for
// telling whether anything changed since.
func (s *State) feeding(g *procedures.Gate, within []string) []int {
	var out []int
	note := func(id string, st *procedures.Step) {
		for _, t := range s.live(id, st) {
			out = append(out, t.n)
			for _, a := range t.amends {
				out = append(out, a.n)
			}
		}
		if f := s.facts[id]; f != nil && f.unable != nil && st != nil && f.unable.work == s.work[st.Name] {
			out = append(out, -f.unable.n)
		}
	}
	for _, r := range s.plan.feeds[g.Name] {
		for _, round := range s.feedRounds(r, g, within) {
			places, _ := s.places(r, round)
			for _, p := range places {
				if p.part == going && p.pass == 0 {
					note(p.element(r), r.Step)
				}
			}
		}
	}
	note("grade", nil)
	_, givens, _ := s.plan.inputs(gatePrograms(g)...)
	for _, name := range givens {
		gv := s.plan.givens[name]
		combos, _ := s.combos(gv.Each, s.env())
		for _, keys := range combos {
			note(address(gv.Name, keys...), nil)
		}
	}
	return out
}

// feedRounds are the rounds of a reading's step that a gate stands on: of its
// own step the present one only, as inside it names mean that (semantics rule
// 17).
func (s *State) feedRounds(r *procedures.Reading, g *procedures.Gate, within []string) [][]string {
	if r.Step == g.Step && len(within) > 0 {
		return [][]string{within}
	}
	return s.rounds(r.Step)
}

// concession returns the one asked for at a gate, while what it was asked
// for still stands (semantics rule 30).
func (s *State) concession(name string) *Concession {
	c := s.conceded[name]
	if c == nil {
		return nil
	}
	g, round, ok := s.gateAt(name)
	if !ok || !slices.Equal(s.feeding(g, round), c.feeding) {
		return nil
	}
	return &c.Concession
}

// liveConcessions returns the concessions that stand, in the order of gates.
func (s *State) liveConcessions() []Concession {
	var out []Concession
	for _, j := range s.concededGates() {
		if j.Verdict != checks.Pass && j.Verdict != checks.NotApplied {
			out = append(out, *j.Conceded)
		}
	}
	return out
}
