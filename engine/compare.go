package engine

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"waywright/checks/uncert"
	"waywright/checks/value"
)

// Change is by how much a value differs from an earlier one, in base units,
// and whether that is more than the errors of the readings explain.
type Change struct {
	uncert.Difference
	From, To float64
	Since    int    // of attempts at a gate: the number of the one that From is of
	Element  string // of many values: which of them From was; as a rule the one that decides now
}

// weighed are the numbers that a judgement was made from.
type weighed struct {
	estimate
	i int // which of them decided
}

// compare holds a value against an earlier one: their difference, with what
// both share counted once. Of many values the one that decides is held against
// what it was itself. Every place where two values stand side by side asks
// here whether they differ. ok is false where one of them is no number.
func compare(was, is weighed) (c Change, ok bool) {
	b, okB := is.alone()
	if okB {
		was = was.at(b.of[0].key)
	}
	a, okA := was.alone()
	if !okA || !okB {
		return Change{}, false
	}
	c = Change{From: a.of[0].y, To: b.of[0].y, Element: a.of[0].key}
	r := difference(a, apartFrom(a, b))
	if more := unseen(a) + unseen(b); more > 0 {
		r.Std = math.Sqrt(r.Std*r.Std + more)
		r.K = uncert.Coverage(r.DoF)
		r.U = r.K * r.Std
	}
	c.Difference = uncert.Differ(c.To-c.From, r)
	return c, true
}

// at lets the number with that key decide, if there is one.
func (w weighed) at(key string) weighed {
	if i := slices.IndexFunc(w.of, func(n number) bool { return n.key == key && n.state == value.Present }); i >= 0 {
		w.i = i
	}
	return w
}

// alone returns the estimate of the number that decided.
func (w weighed) alone() (estimate, bool) {
	if w.i >= len(w.e) || w.i >= len(w.of) || w.of[w.i].state != value.Present || w.e[w.i].Undefined() || w.e[w.i].Slopes == nil {
		return estimate{}, false
	}
	w.of, w.e = w.of[w.i:w.i+1], w.e[w.i:w.i+1]
	return w.estimate, true
}

// unseen is what the slopes of a number leave out of its variance, where errors
// were drawn: nobody knows how much of it two results share, so it counts as
// if they shared nothing.
func unseen(est estimate) float64 {
	if est.e[0].Drawn == nil || est.problem.Model == nil {
		return 0
	}
	linear := est.problem.Model.Std(est.e[0].Slopes)
	return math.Max(0, est.e[0].Std*est.e[0].Std-linear*linear)
}

// apartFrom returns b with what it has beyond a taken apart from what both
// have. Where further takes were pooled with the first ones, the mean is that
// of the first takes and that of the further ones by their numbers: only the
// latter is new.
func apartFrom(a, b estimate) estimate {
	slopes := slices.Clone(b.e[0].Slopes[:len(b.obs)])
	own := b.e[0].Slopes[len(b.obs):]
	b.obs, b.sources, b.e = slices.Clone(b.obs), slices.Clone(b.sources), slices.Clone(b.e)
	scatter(a, &b)
	renamed := map[string]string{}
	for i := range len(slopes) {
		o := &b.obs[i]
		k := slices.IndexFunc(a.obs, func(x uncert.Observation) bool { return x.ID == o.ID })
		if k < 0 {
			continue
		}
		n, all := max(1, len(a.obs[k].Takes)), max(1, len(o.Takes))
		if all <= n {
			continue
		}
		more := *o
		more.ID += " from take " + strconv.Itoa(n+1)
		more.Takes = nil
		if all-n > 1 {
			more.Takes = o.Takes[n:]
		}
		renamed[o.ID] = more.ID
		b.obs = append(b.obs, more)
		slopes = append(slopes, slopes[i]*float64(all-n)/float64(all))
		slopes[i] *= float64(n) / float64(all)
	}
	for i := range b.sources {
		src := &b.sources[i]
		src.On = slices.Clone(src.On)
		for _, e := range src.On {
			if more, ok := renamed[e.ID]; ok {
				src.On = append(src.On, uncert.Effect{ID: more, Coefficient: e.Coefficient})
			}
		}
		k := slices.IndexFunc(a.sources, func(x uncert.Source) bool { return x.ID == src.ID })
		if k >= 0 && (a.sources[k].U != src.U || !slices.Equal(a.sources[k].On, src.On)) {
			src.ID += ", later" // another state of knowledge
		}
	}
	b.e[0].Slopes = append(slopes, own...)
	return b
}

// scatter gives the readings of b the pools of a, where the same was read with
// the same instrument: what takes scatter is known best from both.
func scatter(a estimate, b *estimate) {
	pools := map[string]string{}
	for _, o := range b.obs {
		for _, was := range a.obs {
			if whereRead(was.ID) == whereRead(o.ID) && a.ins[was.Instrument].Name == b.ins[o.Instrument].Name {
				pools[o.Pool] = was.Pool
			}
		}
	}
	for i := range b.obs {
		if was, ok := pools[b.obs[i].Pool]; ok {
			b.obs[i].Pool = was
		}
	}
}

// whereRead is what was read, whenever it was: an observation's name without the
// number of the working.
func whereRead(id string) string {
	at, work, _ := strings.Cut(id, "@")
	_, take, _ := strings.Cut(work, " ")
	if take == "" {
		return at
	}
	return at + " " + take
}
