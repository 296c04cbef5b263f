package engine

import (
	"math"
	"slices"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// env gives formulas the facts of a run.
type env struct {
	s     *State
	step  *procedures.Step
	round []string
	binds []binding
	own   map[string]value.Value // amount, moved, attempt

	shift map[string]float64 // added to the takes of an element, for central differences
	trace *leaves            // notes the elements that are used
	memo  map[string]value.Value

	suppose func(*procedures.Reading, place) value.Value // in the place of what was read; see Suppose
}

// binding is a word with its value: a key of each, or v.
type binding struct {
	name string
	each *procedures.Each
	key  string
	v    *value.Value
}

func (b *binding) value() value.Value {
	if b.v != nil {
		return *b.v
	}
	return keyValue(b.each, b.key)
}

// leaves are the elements that a formula used, in the order of first use.
type leaves struct {
	order []string
	known map[string]leaf
}

// leaf is one element: of a reading or of a given.
type leaf struct {
	id      string
	reading *procedures.Reading
	given   *procedures.Given
	round   []string
}

func (l *leaves) add(id string, f leaf) {
	if l == nil {
		return
	}
	if _, ok := l.known[id]; !ok {
		l.order = append(l.order, id)
		l.known[id] = f
	}
}

// env returns the environment outside any step.
func (s *State) env() *env { return &env{s: s, memo: s.memo} }

// Shown implements formula.Shower: texts show sizes in the units of the run.
func (e *env) Shown(u quantity.Unit) quantity.Unit { return quantity.InRun(u, e.s.begun.Inch) }

// in returns the environment within a round of a step.
func (e *env) in(st *procedures.Step, round []string) *env {
	f := *e
	f.step, f.round = st, round
	f.binds = nil
	if st != nil {
		return f.bindAll(st.Each, round)
	}
	return &f
}

func (e *env) bindAll(each []*procedures.Each, keys []string) *env {
	if len(keys) == 0 || len(each) == 0 {
		return e
	}
	f := *e
	f.binds = append(make([]binding, 0, len(e.binds)+len(keys)), e.binds...)
	for i, k := range keys {
		if i < len(each) {
			f.binds = append(f.binds, binding{name: each[i].Name, each: each[i], key: k})
		}
	}
	return &f
}

func (e *env) bind(name string, v value.Value) *env {
	f := *e
	f.binds = append(append(make([]binding, 0, len(e.binds)+1), e.binds...), binding{name: name, v: &v})
	return &f
}

// with returns the environment in which the own words have values.
func (e *env) with(own map[string]value.Value) *env {
	f := *e
	f.own = own
	return &f
}

// Value implements formula.Env.
func (e *env) Value(r formula.Ref) value.Value {
	switch r.Space {
	case formula.Each:
		for i := range e.binds {
			b := &e.binds[len(e.binds)-1-i]
			if b.name == r.Name {
				return b.value()
			}
		}
		return value.Value{State: value.Missing}
	case formula.Own:
		if v, ok := e.own[r.Name]; ok {
			return v
		}
		return value.Value{State: value.Missing}
	case formula.Table:
		return e.table(r.Name)
	case formula.Machine:
		return e.s.fromMachine(r.Name)
	case formula.Accepted:
		return e.s.acceptedValue(r)
	case formula.Expansion:
		id := expansionOf(r)
		e.trace.add(id, leaf{id: id})
		return value.Value{Kind: value.Number, Num: e.shift[id]}
	case formula.Given:
		return e.givenIn(r.Name)
	case formula.Reading:
		rd, ok := e.s.plan.items[r.Name].(*procedures.Reading)
		if !ok {
			return value.Value{State: value.Missing}
		}
		read := e.readingIn
		if e.suppose != nil {
			read = e.reading
		}
		return e.perRound(rd.Step, r, func(round []string) value.Value { return read(rd, round) })
	case formula.Result:
		res, ok := e.s.plan.items[r.Name].(*procedures.Result)
		if !ok {
			return value.Value{State: value.Missing}
		}
		return e.perRound(res.Step, r, func(round []string) value.Value { return e.result(res, round) })
	}
	return value.Value{State: value.Missing}
}

// perRound gives the value in the present round, or, from outside a step with
// each, the values of all rounds by their keys.
func (e *env) perRound(st *procedures.Step, r formula.Ref, one func(round []string) value.Value) value.Value {
	if len(st.Each) == 0 {
		return one(nil)
	}
	if r.Round {
		return one(e.round)
	}
	rounds := e.s.rounds(st)
	if rounds == nil {
		return value.Value{State: value.Missing}
	}
	return nest(rounds, len(st.Each), one)
}

// nest makes keyed values of keyed values from rows of keys.
func nest(rows [][]string, depth int, one func(keys []string) value.Value) value.Value {
	return nestFrom(rows, 0, depth, one)
}

func nestFrom(rows [][]string, level, depth int, one func(keys []string) value.Value) value.Value {
	if level == depth {
		return one(rows[0])
	}
	out := value.Value{Kind: value.Keyed}
	for len(rows) > 0 {
		n := 1
		for n < len(rows) && rows[n][level] == rows[0][level] {
			n++
		}
		out.Keys = append(out.Keys, rows[0][level])
		out.Elems = append(out.Elems, nestFrom(rows[:n], level+1, depth, one))
		rows = rows[n:]
	}
	return out
}

func (e *env) table(name string) value.Value {
	row, ok := e.s.plan.rows[name]
	if !ok {
		return value.Value{State: value.Missing}
	}
	g := e.s.Grade()
	if g == "" {
		return value.Value{State: value.Missing}
	}
	v, ok := row.Values[g]
	if !ok {
		return value.Value{State: value.Absent, Why: "the table has no value for grade " + g}
	}
	return v
}

func (e *env) result(res *procedures.Result, round []string) value.Value {
	if e.trace == nil && len(e.shift) > 0 && !e.shifts(e.s.plan.resultOn[res.Name]) {
		return e.s.env().result(res, round)
	}
	id := address(res.Name, round...)
	if e.still() {
		return e.traced(id, func(f *env) value.Value { return f.in(res.Step, round).evaluated(res) })
	}
	if e.memo != nil && e.trace == nil {
		if v, ok := e.memo[id]; ok {
			return v
		}
	}
	f := e.in(res.Step, round)
	f.own = nil
	v := f.evaluated(res)
	if e.memo != nil {
		e.memo[id] = v
	}
	return v
}

// evaluated works a result out in the environment of its round.
func (e *env) evaluated(res *procedures.Result) value.Value {
	v, ok := e.applies(res.Step)
	if ok {
		v = res.Value.Eval(e)
	}
	return v
}

// applies reports whether a step applies in the environment's round; v stands
// for what is in it where it does not.
func (e *env) applies(st *procedures.Step) (v value.Value, ok bool) {
	if st.When == nil {
		return v, true
	}
	if w := st.When.Eval(e); w.State != value.Present || !w.Truth {
		return absent(w, "step "+st.Name), false
	}
	return v, true
}

// given returns a given with its keys.
func (e *env) given(name string) value.Value {
	g, ok := e.s.plan.givens[name]
	if !ok {
		return value.Value{State: value.Missing}
	}
	combos, ok := e.s.combos(g.Each, e.s.env())
	if !ok {
		return value.Value{State: value.Missing}
	}
	return nest(combos, len(g.Each), func(keys []string) value.Value {
		id := address(g.Name, keys...)
		if g.When != nil {
			if w := g.When.Eval(e.s.env().bindAll(g.Each, keys)); w.State != value.Present || !w.Truth {
				return absent(w, "given "+g.Name)
			}
		}
		takes, l := e.s.live(id, nil), leaf{id: id, given: g}
		v := e.element(id, base(g.Type), takes, l)
		if v.State == value.Present && (g.With != nil || takes[len(takes)-1].u > 0) {
			e.trace.add(id, l)
		}
		return v
	})
}

// absent stands for what its condition w keeps out: absent where w is false,
// else as w itself is, not known yet or not to be known.
func absent(w value.Value, what string) value.Value {
	switch w.State {
	case value.Present:
		return value.Value{State: value.Absent, Why: what + notApplying}
	case value.Missing:
		return value.Value{State: value.Missing}
	}
	return value.Value{State: w.State, Why: w.Why}
}

// notApplying ends the reason of what a condition keeps out, and tells it from
// a computation that has no answer.
const notApplying = " does not apply"

// reading returns a reading in one round: scalar, takes, profile or turn, by
// its own keys.
func (e *env) reading(r *procedures.Reading, round []string) value.Value {
	en := e.s.env().in(r.Step, round)
	combos, ok := e.s.keysOf(r, round)
	if !ok {
		return value.Value{State: value.Missing}
	}
	if v, ok := en.applies(r.Step); !ok {
		return v
	}
	whole := e.s.whole(r, round)
	return nest(combos, len(r.Each), func(keys []string) value.Value {
		ek := en
		if r.When != nil || r.Along != nil || r.Around != nil {
			ek = en.bindAll(r.Each, keys)
		}
		if r.When != nil {
			if w := r.When.Eval(ek); w.State != value.Present || !w.Truth {
				return absent(w, "reading "+r.Name)
			}
		}
		full := append(slices.Clone(round), keys...)
		stations, row, ok := e.s.stations(r, ek)
		switch {
		case !ok:
			return value.Value{State: value.Missing}
		case !row:
			return e.readElement(r, round, place{keys: full}, whole)
		}
		out := value.Value{Kind: value.Profile, At: stations}
		if r.Around != nil {
			out.Kind = value.Turn
		}
		for i, z := range stations {
			key := z
			if r.Around != nil {
				key = z * 180 / math.Pi
			}
			out.Elems = append(out.Elems, e.readElement(r, round, place{keys: full, key: stationKey(key), at: z, station: i}, whole))
		}
		return out
	})
}

func (e *env) readElement(r *procedures.Reading, round []string, p place, whole bool) value.Value {
	if e.suppose != nil {
		return e.suppose(r, p)
	}
	id := p.element(r)
	if u := e.s.unableAt(r, id); u != "" {
		return value.Value{State: value.Unmeasured, Why: u}
	}
	if !whole {
		return value.Value{State: value.Missing}
	}
	takes := e.s.live(id, r.Step)
	t := base(r.Inner)
	l := leaf{id: id, reading: r, round: round}
	v := e.element(id, t, takes, l)
	if v.State == value.Present && (t.Kind == value.Number || t.Kind == value.Takes || t.Kind == value.Point) && !t.Count {
		e.trace.add(id, l)
	}
	return v
}

// element makes the value of one address from its takes.
func (e *env) element(id string, t value.Type, takes []take, l leaf) value.Value {
	if len(takes) == 0 {
		return value.Value{State: value.Missing}
	}
	last := takes[len(takes)-1]
	d := e.shift[id]
	switch t.Kind {
	case value.Text:
		return value.Value{Kind: value.Text, Text: last.word}
	case value.Truth:
		return value.Value{Kind: value.Truth, Truth: last.word == "yes"}
	case value.Point:
		return value.Value{Kind: value.Point, Num: e.s.meanAt(l, takes) + d}
	case value.Takes:
		v := value.Value{Kind: value.Takes, Takes: make([]float64, len(takes))}
		for i, tk := range takes {
			v.Takes[i] = tk.value - e.s.driftIn(l, tk) + d
		}
		return v
	}
	return value.Value{Kind: value.Number, Num: e.s.meanAt(l, takes) + d}
}

// meanOf is taken about the first value, so that a common offset costs no
// digits.
func meanOf(takes []take) float64 {
	var sum float64
	for _, t := range takes {
		sum += t.value - takes[0].value
	}
	return takes[0].value + sum/float64(len(takes))
}

// live returns the takes at an address that count: of the present working,
// not void, and not the closing reading. st is nil for a given. They are not to
// be changed.
func (s *State) live(id string, st *procedures.Step) []take {
	f := s.facts[id]
	if f == nil {
		return nil
	}
	work := 0
	if st != nil {
		work = s.work[st.Name]
	}
	n, first, last := 0, 0, 0
	for i := range f.takes {
		if !f.takes[i].counts(st != nil, work) {
			continue
		}
		if n == 0 {
			first = i
		}
		n, last = n+1, i
	}
	switch n {
	case 0:
		return nil
	case last - first + 1: // as a rule they stand together
		return f.takes[first : last+1 : last+1]
	}
	out := make([]take, 0, n)
	for i := range f.takes {
		if f.takes[i].counts(st != nil, work) {
			out = append(out, f.takes[i])
		}
	}
	return out
}

// counts tells whether a take is used: of this working, where there are any.
func (t *take) counts(worked bool, work int) bool {
	return t.void == "" && t.part != again && (!worked || t.work == work)
}

func (s *State) unableAt(r *procedures.Reading, id string) string {
	f := s.facts[id]
	if f == nil || f.unable == nil || f.unable.work != s.work[r.Step.Name] {
		return ""
	}
	return f.unable.reason
}

// expansionOf is what shifts name the coefficient of a material by.
func expansionOf(r formula.Ref) string {
	return "expansion of " + strings.ReplaceAll(r.Name, ".", " ")
}

// uExpansion is the standard uncertainty of a coefficient of expansion from a
// table, 1/K: measure rule 7, as JCGM 100:2008, H.1.3.3 has it for ±1·10⁻⁶.
const uExpansion = 1e-6

// acceptedValue is a result of another procedure, from its accepted run.
func (s *State) acceptedValue(r formula.Ref) value.Value {
	a, ok := s.accepted(r)
	if !ok {
		return value.Value{State: value.Missing}
	}
	u, err := quantity.Lookup(a.Unit)
	if err != nil {
		return value.Value{State: value.Missing}
	}
	return value.Value{Kind: value.Number, Num: a.Value * u.Factor}
}

// fromMachine returns a size or word of the machine's entry.
func (s *State) fromMachine(name string) value.Value {
	if n, ok := s.begun.Machine.Numbers[name]; ok {
		if u, err := quantity.Lookup(n.Unit); err == nil {
			return value.Value{Kind: value.Number, Num: n.Value * u.Factor}
		}
	}
	if w, ok := s.begun.Machine.Text[name]; ok {
		return value.Value{Kind: value.Text, Text: w}
	}
	return value.Value{State: value.Absent, Why: "the machine's entry has no " + strings.ReplaceAll(name, ".", " ")}
}

// Grade returns the grade of tolerance that the run was begun with, or "".
func (s *State) Grade() string {
	if f := s.facts["grade"]; f != nil && len(f.takes) > 0 {
		return f.takes[len(f.takes)-1].word
	}
	return ""
}
