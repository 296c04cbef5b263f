package vet

import (
	"slices"
	"strings"

	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
	"waywright/procedures/source"
)

// limits proves that the limits of a gate stand the right way round and have
// a value, for all allowed givens and grades: in the middle of the ranges and
// at all their corners.
func (v *vetting) limits(g *procedures.Gate) {
	ps := limits(g)
	if len(ps) == 0 {
		return
	}
	p := ps[0]
	givens := v.ix.givensOf(p)
	sure := v.ix.bounded(p)
	for _, w := range v.ix.corners(givens) {
		for _, w.grade = range gradesOr(v.ix.p.Grades) {
			e := w.env()
			e.round, e.each = firstKeys(w, g.Step).round, firstKeys(w, g.Step).each
			x := p.Eval(e)
			w.memo = map[string]value.Value{}
			switch {
			case x.State == value.Absent && sure:
				v.bad[g] = true
				v.say("E413", gateIn(g), g.At, p.At(), "The limit cannot be worked out: %s%s. Mend it, or narrow the range.", x.Why, forThese(w, givens))
				return
			case x.State != value.Present:
			case !rightWay(x):
				v.bad[g] = true
				v.say("E404", gateIn(g), g.At, p.At(), "The lower limit lies above the upper one%s. Turn them round, or mend the formula.", forThese(w, givens))
				return
			}
		}
	}
}

// maxGrades is how many grades limits are tried under.
const maxGrades = 20

func gradesOr(grades []string) []string {
	if len(grades) == 0 {
		return []string{""}
	}
	return grades[:min(len(grades), maxGrades)]
}

func forThese(w *world, givens []string) string {
	if s := w.where(givens); s != "" {
		return " for " + s
	}
	return ""
}

// rightWay tells whether the lower limit lies below the upper one, in every
// element.
func rightWay(x value.Value) bool {
	if x.Kind == value.Zone {
		return x.Lo < x.Hi
	}
	return !slices.ContainsFunc(x.Elems, func(e value.Value) bool { return !rightWay(e) })
}

// ranges proves the same of plausible ranges.
func (v *vetting) ranges() {
	for _, g := range v.ix.p.Givens {
		v.rangeOf(g.Answer, givenIn(g), g.At, g.Each, nil)
	}
	for _, s := range v.ix.p.Steps {
		for _, item := range s.Items {
			if r, ok := item.(*procedures.Reading); ok {
				v.rangeOf(r.Answer, readingIn(r), r.At, r.Each, s)
			}
		}
	}
}

func (v *vetting) rangeOf(a procedures.Answer, in string, at source.Range, each []*procedures.Each, s *procedures.Step) {
	lo, hi := a.Range[0], a.Range[1]
	if lo == nil || hi == nil || len(lo.Refs())+len(hi.Refs()) == 0 {
		return // what is fixed has been told when the file was read
	}
	givens := v.ix.givensOf(lo, hi)
	for _, w := range v.ix.corners(givens) {
		e := firstKeys(w, s)
		for _, x := range each {
			if ks, ok := keys(x, e); ok && len(ks) > 0 {
				e = e.with(x, ks[0])
			}
		}
		from, to := lo.Eval(e), hi.Eval(e)
		if from.State != value.Present || to.State != value.Present {
			continue
		}
		if from.Num > to.Num {
			v.say("E408", in, at, hi.At(), "The lower end is %s and the upper end %s%s. Mend one of them.",
				shown(from, a.Unit), shown(to, a.Unit), forThese(w, givens))
			return
		}
	}
}

// keys proves that the keys of an each which depends on outer keys differ in
// their order only (semantics rule 17).
func (v *vetting) keys() {
	check := func(in string, each []*procedures.Each, start func(w *world) env) {
		w := newWorld(v.ix, nil)
		e := start(w)
		var outer []*procedures.Each
		for _, x := range each {
			v.keysOf(in, x, outer, e)
			outer = append(outer, x)
		}
	}
	for _, g := range v.ix.p.Givens {
		check(givenIn(g), g.Each, (*world).env)
	}
	for _, s := range v.ix.p.Steps {
		check(stepIn(s), s.Each, (*world).env)
		for _, item := range s.Items {
			if r, ok := item.(*procedures.Reading); ok {
				check(readingIn(r), append(slices.Clone(s.Each), r.Each...), (*world).env)
			}
		}
	}
}

// keysOf compares the keys of x under all outer keys.
func (v *vetting) keysOf(in string, x *procedures.Each, outer []*procedures.Each, e env) {
	if x.Of == nil {
		return
	}
	var first []string
	told := false
	left := maxCells
	if !slices.ContainsFunc(x.Of.Refs(), func(r formula.Ref) bool { return r.Space == formula.Each }) {
		outer = nil // the same under every outer key
	}
	var walk func(outer []*procedures.Each, e env)
	walk = func(outer []*procedures.Each, e env) {
		if left--; told || left < 0 {
			return
		}
		if len(outer) > 0 {
			ks, _ := keys(outer[0], e)
			for _, k := range ks {
				walk(outer[1:], e.with(outer[0], k))
			}
			return
		}
		ks, ok := keys(x, e)
		if !ok {
			return
		}
		var now []string
		for _, k := range ks {
			now = append(now, keyText(k))
		}
		if twice := repeated(now); twice != "" {
			told = true
			v.say("E409", in, x.At, x.Of.At(), "The key %q stands twice. Every key is asked for once.", twice)
			return
		}
		set := slices.Sorted(slices.Values(now))
		if first == nil {
			first = set
			return
		}
		if !slices.Equal(first, set) {
			told = true
			v.say("E409", in, x.At, x.Of.At(), "Under one outer key the keys are %s, under another %s. Only their order may differ.",
				strings.Join(first, ", "), strings.Join(set, ", "))
		}
	}
	walk(outer, e)
}

func repeated(words []string) string {
	seen := map[string]bool{}
	for _, w := range words {
		if seen[w] {
			return w
		}
		seen[w] = true
	}
	return ""
}
