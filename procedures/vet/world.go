package vet

import (
	"cmp"
	"maps"
	"math"
	"strconv"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/uncert"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// maxCells bounds how many values of one name are made up. The largest
// reading that ships has some two hundred.
const maxCells = 4000

// world is a made-up run: every given lies somewhere in its range, every
// reading in the middle of its own. Formulas are evaluated in it to see what
// they give at the ends of what is allowed.
type world struct {
	ix    *index
	at    map[string]float64 // givens: 0 is the lower end of the range, 1 the upper; ½ where nothing is said
	grade string
	shift map[string]float64 // cells of readings, by id
	memo  map[string]value.Value
	open  map[string]bool // names that are being worked out, against circles
	cells map[string]cell
	order []string
}

// cell is one value that is read.
type cell struct {
	reading *procedures.Reading
	mid     float64
}

func newWorld(ix *index, at map[string]float64) *world {
	w := &world{ix: ix, at: at, memo: map[string]value.Value{}, open: map[string]bool{}, cells: map[string]cell{}}
	if len(ix.p.Grades) > 0 {
		w.grade = ix.p.Grades[0]
	}
	return w
}

// shifted returns the same world with some cells read differently.
func (w *world) shifted(shift map[string]float64) *world {
	out := newWorld(w.ix, w.at)
	out.grade, out.shift = w.grade, shift
	for k, v := range w.memo { // givens do not change
		if strings.HasPrefix(k, formula.Given.String()+".") {
			out.memo[k] = v
		}
	}
	return out
}

// env gives a formula the values of a world, in a round of a step.
type env struct {
	w     *world
	round []string // keys of the step that the formula stands in
	each  map[string]value.Value
	own   map[string]value.Value
}

func (w *world) env() env { return env{w: w} }

// Value returns the value of a name.
func (e env) Value(r formula.Ref) value.Value {
	switch r.Space {
	case formula.Given:
		return e.w.given(r.Name)
	case formula.Reading, formula.Result:
		v := e.w.named(r)
		if r.Round {
			for _, k := range e.round {
				v = v.Index(k)
			}
		}
		return v
	case formula.Each:
		return present(e.each[r.Name])
	case formula.Own:
		return present(e.own[r.Name])
	case formula.Table:
		return e.w.row(r.Name)
	}
	return value.NotYet()
}

func present(v value.Value) value.Value {
	if v.Kind == 0 {
		return value.NotYet()
	}
	return v
}

// with returns the environment with one more key.
func (e env) with(each *procedures.Each, key value.Value) env {
	e.each = maps.Clone(e.each)
	if e.each == nil {
		e.each = map[string]value.Value{}
	}
	e.each[each.Name] = key
	return e
}

func (w *world) row(name string) value.Value {
	for _, t := range w.ix.p.Tables {
		for _, r := range t.Rows {
			if t.Name+"."+r.Name == name {
				if v, ok := r.Values[w.grade]; ok {
					return v
				}
			}
		}
	}
	return value.NotYet()
}

// once keeps what has been worked out, and stops at circles.
func (w *world) once(key string, make func() value.Value) value.Value {
	if v, ok := w.memo[key]; ok {
		return v
	}
	if w.open[key] {
		return value.NotYet()
	}
	w.open[key] = true
	v := make()
	delete(w.open, key)
	w.memo[key] = v
	return v
}

func (w *world) given(name string) value.Value {
	return w.once(formula.Given.String()+"."+name, func() value.Value {
		if v, ok := w.ix.known.Givens[name]; ok {
			return v
		}
		g := w.ix.givens[name]
		if g == nil {
			return value.NotYet()
		}
		return w.keyed(g.Each, w.env(), "", func(e env, _ string) value.Value {
			return answerAt(g.Answer, e, w.fraction(name))
		})
	})
}

func (w *world) fraction(given string) float64 {
	if f, ok := w.at[given]; ok {
		return f
	}
	return 0.5
}

// answerAt is an answer at a place between the ends of its range. Without a
// range it is one of its unit.
func answerAt(a procedures.Answer, e env, f float64) value.Value {
	switch {
	case len(a.Choose) > 0:
		i := int(math.Round(f * float64(len(a.Choose)-1)))
		return value.Str(a.Choose[i])
	case a.Text, a.File:
		return value.Str("words")
	}
	x := 1.0
	point := a.Unit != nil && a.Unit.Point
	if a.Unit != nil && !point {
		x = a.Unit.Factor
	} else if point {
		x = 20
	}
	if a.Range[0] != nil && a.Range[1] != nil {
		lo, hi := a.Range[0].Eval(e), a.Range[1].Eval(e)
		if lo.State != value.Present || hi.State != value.Present {
			return value.NotYet()
		}
		x = lo.Num + f*(hi.Num-lo.Num)
	}
	if a.Count {
		x = math.Round(x)
	}
	if point {
		return value.Celsius(x)
	}
	return value.Num(x)
}

// keys returns the keys of an each.
func keys(x *procedures.Each, e env) ([]value.Value, bool) {
	if x.Of == nil {
		return nil, false
	}
	v := x.Of.Eval(e)
	if v.State != value.Present {
		return nil, false
	}
	return v.Elems, true
}

func keyText(v value.Value) string {
	if v.Kind == value.Text {
		return v.Text
	}
	return strconv.FormatFloat(v.Num, 'f', -1, 64)
}

// keyed makes the value of a name that is asked for each key.
func (w *world) keyed(each []*procedures.Each, e env, id string, leaf func(e env, id string) value.Value) value.Value {
	if len(each) == 0 {
		return leaf(e, id)
	}
	ks, ok := keys(each[0], e)
	if !ok || keyCount(w, each, e) > maxCells {
		return value.NotYet()
	}
	var names []string
	var elems []value.Value
	for _, k := range ks {
		names = append(names, keyText(k))
		elems = append(elems, w.keyed(each[1:], e.with(each[0], k), id+"."+keyText(k), leaf))
	}
	return value.KeyedOf(names, elems)
}

// named returns the value of a reading or a result with all the keys of its
// step.
func (w *world) named(r formula.Ref) value.Value {
	return w.once(r.Space.String()+"."+r.Name, func() value.Value {
		if x := w.ix.readings[r.Name]; r.Space == formula.Reading && x != nil {
			if w.ix.cells(w, x) > maxCells {
				return value.NotYet()
			}
			return w.rounds(x.Step, func(e env, id string) value.Value { return w.reading(x, e, id) }, x.Name)
		}
		if x := w.ix.results[r.Name]; r.Space == formula.Result && x != nil && x.Value != nil {
			return w.rounds(x.Step, func(e env, _ string) value.Value { return x.Value.Eval(e) }, x.Name)
		}
		return value.NotYet()
	})
}

// rounds makes a value for each round of a step.
func (w *world) rounds(s *procedures.Step, leaf func(e env, id string) value.Value, id string) value.Value {
	var each []*procedures.Each
	if s != nil {
		each = s.Each
	}
	return w.keyed(each, w.env(), id, func(e env, id string) value.Value {
		e.round = nil
		for _, x := range each {
			e.round = append(e.round, keyText(e.each[x.Name]))
		}
		return leaf(e, id)
	})
}

func (w *world) reading(x *procedures.Reading, e env, id string) value.Value {
	return w.keyed(x.Each, e, id, func(e env, id string) value.Value {
		at, kind, ok := places(x, e)
		switch {
		case !ok:
			return value.NotYet()
		case kind == 0:
			return w.cell(x, e, id)
		}
		var elems []value.Value
		for i := range at {
			elems = append(elems, w.cell(x, e, id+"@"+strconv.Itoa(i)))
		}
		if kind == value.Profile {
			return value.ProfileOf(at, elems)
		}
		return value.TurnOf(at, elems)
	})
}

// places returns the stations or angles of a reading; kind is 0 where it has
// none.
func places(x *procedures.Reading, e env) (at []float64, kind value.Kind, ok bool) {
	p := x.Along
	kind = value.Profile
	if p == nil {
		p, kind = x.Around, value.Turn
	}
	if p == nil {
		return nil, 0, true
	}
	v := p.Eval(e)
	if v.State != value.Present {
		return nil, kind, false
	}
	if v.Kind == value.Number { // so many even steps round a turn
		for i := range int(min(v.Num, maxCells)) {
			at = append(at, 2*math.Pi*float64(i)/v.Num)
		}
		return at, kind, true
	}
	for _, s := range v.Elems {
		at = append(at, s.Num)
	}
	return at, kind, true
}

// cell makes one value that is read, with its takes.
func (w *world) cell(x *procedures.Reading, e env, id string) value.Value {
	v := answerAt(x.Answer, e, 0.5)
	if v.State != value.Present || v.Kind != value.Number && v.Kind != value.Point || x.Count {
		return v
	}
	if _, seen := w.cells[id]; !seen {
		w.order = append(w.order, id)
		w.cells[id] = cell{reading: x, mid: v.Num}
	}
	v.Num += w.shift[id]
	if x.Repeat <= 1 {
		return v
	}
	out := value.TakesOf(takesAbout(v.Num, x.Repeat, w.ix.instrument(x.With, id))...)
	if v.Kind == value.Point {
		out.Num = v.Num
	}
	return out
}

// takesAbout makes takes that scatter about a value as the instrument is said
// to repeat; where that is not said, by its resolution.
func takesAbout(mid float64, takes int, in uncert.Instrument) []float64 {
	s := cmp.Or(in.Repeatability, in.Resolution)
	n := float64(takes)
	// Even steps d from −(n−1)d/2 to (n−1)d/2 have the standard deviation
	// d·√(n(n+1)/12).
	d := s / math.Sqrt(n*(n+1)/12)
	out := make([]float64, takes)
	for i := range out {
		out[i] = mid + d*(float64(i)-(n-1)/2)
	}
	return out
}

// numbers returns the numbers in a value; ok is false where one is not there.
func numbers(v value.Value) (out []float64, ok bool) {
	if v.State != value.Present {
		return nil, false
	}
	switch v.Kind {
	case value.Number, value.Point:
		return []float64{v.Num}, !math.IsNaN(v.Num)
	case value.Takes:
		m := v.Mean()
		return []float64{m.Num}, m.State == value.Present
	}
	for _, e := range v.Elems {
		x, ok := numbers(e)
		if !ok {
			return nil, false
		}
		out = append(out, x...)
	}
	return out, len(out) > 0
}

// freeGivens is how many givens are tried at both ends independently of one
// another; any further ones go with these.
const freeGivens = 6

// corners returns the worlds at the ends of the ranges of some givens, and
// the one in the middle.
func (ix *index) corners(givens []string) []*world {
	out := []*world{newWorld(ix, nil)}
	n := min(len(givens), freeGivens)
	for mask := range 1 << n {
		at := map[string]float64{}
		for i, g := range givens {
			at[g] = float64(mask >> (i % n) & 1)
		}
		out = append(out, newWorld(ix, at))
	}
	return out
}

// where says for which givens something was found.
func (w *world) where(givens []string) string {
	var parts []string
	for _, name := range givens {
		g := w.ix.givens[name]
		v := w.given(name)
		if g == nil || v.State != value.Present || len(v.Elems) > 0 {
			continue
		}
		parts = append(parts, "given."+name+" = "+shown(v, g.Unit))
	}
	if w.grade != "" && len(w.ix.p.Grades) > 1 {
		parts = append(parts, "grade "+w.grade)
	}
	return strings.Join(parts, ", ")
}

func shown(v value.Value, u *quantity.Unit) string {
	switch {
	case v.Kind == value.Text:
		return v.Text
	case u != nil:
		return quantity.Plain(v.Num, *u)
	}
	return strconv.FormatFloat(v.Num, 'g', 6, 64)
}
