package engine

import (
	"math"
	"slices"

	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// mostScaled is for how many sizes limits are worked out that hang on one.
const mostScaled = 5

// limits works out the limits of a gate as far as they hang on what is known:
// under each grade where none was chosen, and for a few sizes where they hang on
// one that is not known. Limits that hang on more, or on a reading, are left to
// their formula.
func (b *sheetBuilder) limits(g *procedures.Gate, round []string) []SheetLimit {
	if g.Holds != nil {
		return nil
	}
	size, ok := b.scaledBy(g.Within, g.AtMost, g.AtLeast)
	if !ok {
		return nil
	}
	var out []SheetLimit
	for _, grade := range b.grades(g) {
		s := b.s.clone()
		s.forget()
		if grade != "" && s.keepGiven(Event{}, Answered{Name: "grade", Word: grade}, nil) != nil {
			continue
		}
		if s.Grade() == grade && b.s.Grade() == grade {
			grade = ""
		}
		if size == nil {
			if l, ok := limitOf(s, g, round); ok {
				l.Grade = grade
				out = append(out, l)
			}
			continue
		}
		out = append(out, b.scaled(s, g, round, size, grade)...)
	}
	return merged(out)
}

// grades lists those under which limits are to be worked out: none where no
// table is used, or one was chosen.
func (b *sheetBuilder) grades(g *procedures.Gate) []string {
	if b.s.Grade() != "" || !slices.ContainsFunc([]*formula.Program{g.Within, g.AtMost, g.AtLeast}, func(p *formula.Program) bool {
		return p != nil && slices.ContainsFunc(p.Refs(), func(r formula.Ref) bool { return r.Space == formula.Table })
	}) {
		return []string{b.s.Grade()}
	}
	return b.s.plan.proc.Grades
}

// scaledBy returns the one size that limits hang on and that is not known, or
// nil where there is none. It is not ok where they hang on more.
func (b *sheetBuilder) scaledBy(programs ...*formula.Program) (size *procedures.Given, ok bool) {
	seen := map[string]bool{}
	b.s.plan.reach(seen, programs...)
	for name := range seen {
		if g := b.s.plan.givens[name]; g != nil && b.assumed[name] {
			if size != nil || g.Unit == nil || len(g.Each) > 0 || g.Range[1] == nil {
				return nil, false
			}
			size = g
		}
		if _, ok := b.s.plan.items[name].(*procedures.Reading); ok {
			return nil, false
		}
	}
	return size, true
}

func (b *sheetBuilder) scaled(s *State, g *procedures.Gate, round []string, size *procedures.Given, grade string) []SheetLimit {
	lo, hi := size.Range[0].Eval(b.t.env()).Mean(), size.Range[1].Eval(b.t.env()).Mean()
	if lo.State != value.Present || hi.State != value.Present {
		return nil
	}
	var out []SheetLimit
	for _, x := range roundSizes(size.Unit.Of(lo.Num), size.Unit.Of(hi.Num)) {
		t := s.clone()
		if !b.keep(t, size, size.Unit.Base(x)) {
			continue
		}
		if l, ok := limitOf(t, g, round); ok {
			l.Grade, l.Given, l.At, l.Unit = grade, words(size.Ask, s.env()), size.Unit.Base(x), *size.Unit
			if l.Given == "" {
				l.Given = words(size.Title, s.env())
			}
			out = append(out, l)
		}
	}
	return out
}

func limitOf(s *State, g *procedures.Gate, round []string) (SheetLimit, bool) {
	_, lo, hi, st, _ := sides(g, s.env().in(g.Step, round))
	return SheetLimit{Lo: lo, Hi: hi}, st == value.Present
}

// merged leaves one of limits that are the same whatever the size.
func merged(ls []SheetLimit) []SheetLimit {
	var out []SheetLimit
	for i := 0; i < len(ls); {
		n := i + 1
		for n < len(ls) && ls[n].Grade == ls[i].Grade && ls[n].Lo == ls[i].Lo && ls[n].Hi == ls[i].Hi {
			n++
		}
		l := ls[i]
		if n-i > 1 && (i == 0 || ls[i-1].Grade != l.Grade) && (n == len(ls) || ls[n].Grade != l.Grade) {
			l.Given = ""
			out = append(out, l)
		} else {
			out = append(out, ls[i:n]...)
		}
		i = n
	}
	return out
}

// roundSizes are a few round numbers from lo to hi: 50, 100, 200, 500.
func roundSizes(lo, hi float64) []float64 {
	var out []float64
	if lo <= 0 || hi/lo < 1.2 || hi/lo > 1e6 {
		for i := range mostScaled {
			out = append(out, lo+(hi-lo)*float64(i)/(mostScaled-1))
		}
		return out
	}
	for p := math.Pow(10, math.Floor(math.Log10(lo))); p <= hi; p *= 10 {
		for _, m := range []float64{1, 1.5, 2, 3, 5, 7} {
			if x := m * p; x >= lo-1e-9 && x <= hi+1e-9 {
				out = append(out, x)
			}
		}
	}
	if len(out) > mostScaled { // the ends and what lies evenly between
		var thin []float64
		for i := range mostScaled {
			thin = append(thin, out[i*(len(out)-1)/(mostScaled-1)])
		}
		return thin
	}
	return out
}
