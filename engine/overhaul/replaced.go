package overhaul

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/checks/stat"
	"waywright/checks/uncert"
	"waywright/engine"
)

// A value that a run took over, and that was measured anew since, spoils the run
// only where that makes a difference (semantics rule 46): where the two values
// differ by more than the doubt of both, and one of the run's tests would not
// pass with the new one. Else the run stands, and that is said.

// Standing is a value that a run took over and that another run measured anew
// since, and the run stands all the same.
type Standing struct {
	Run    string // that the value is from
	Value  string // "lathe-level-twist.twist"
	By     string // the run that measured it anew
	At     time.Time
	Change string // "3 µm/m less, give or take 8 µm/m"; "" where it is the same
	Real   bool   // it is more than the doubt, but every test comes out as before
}

// Said says it in a sentence, without its point.
func (s Standing) Said() string {
	_, result, _ := strings.Cut(s.Value, ".")
	out := fmt.Sprintf("%s was taken from run %s, and measured again in run %s on %s", strings.ReplaceAll(result, "_", " "), s.Run, s.By, s.At.UTC().Format(time.DateOnly))
	switch {
	case s.Change == "":
		return out + ": the same; what rests on it stands"
	case s.Real:
		return out + ": " + s.Change + "; with that every test comes out as before, and what rests on it stands"
	}
	return out + ": " + s.Change + ", so no real difference; what rests on it stands"
}

// Standing returns what a run took over that was measured anew since without
// spoiling it, by the names of the values.
func (h *History) Standing(name string) []Standing {
	if p := h.find(name); p != nil {
		return h.renewal(p).stands
	}
	return nil
}

// renewal is what newer values make of a run that took the older ones over.
type renewal struct {
	spoilt []Cause
	stands []Standing
	state  *engine.State // the run with the newer values in their places; nil: as it is
}

// newer is a value that is there in the place of one that was taken over.
type newerValue struct {
	was    engine.TakenValue
	is     engine.AcceptedValue
	known  bool // else the newer run has none that can be compared
	real   bool
	change string
	by     string
	at     time.Time
	kind   Kind
}

func (h *History) replaced(p *past) []Cause { return h.renewal(p).spoilt }

// renewal works out what newer values make of a run. Values are looked for in
// runs that were decided before they were taken over, so that this ends.
func (h *History) renewal(p *past) *renewal {
	if known := h.news[p]; known != nil {
		return known
	}
	out := &renewal{}
	var found []newerValue
	for _, v := range p.taken {
		if n, ok := h.newer(p, v); ok {
			found = append(found, n)
		}
	}
	slices.SortStableFunc(found, func(a, b newerValue) int { return cmp.Compare(a.was.Name, b.was.Name) })
	holds := h.holdsWith(p, found, out)
	for _, n := range found {
		if n.known && (!n.real || holds) {
			out.stands = append(out.stands, Standing{Run: n.was.Run, Value: n.was.Name, By: n.by, At: n.at, Change: n.change, Real: n.real})
		} else {
			out.spoilt = append(out.spoilt, Cause{Kind: n.kind, At: n.at, Run: n.was.Run, Value: n.was.Name, By: n.by, Change: n.change})
		}
	}
	h.news[p] = out
	return out
}

// holdsWith tells whether every test of a run was judged, and comes out with the
// newer values as it did, or passes.
func (h *History) holdsWith(p *past, found []newerValue, out *renewal) bool {
	var now []engine.AcceptedValue
	for _, n := range found {
		switch {
		case !n.known:
			return false
		case n.real:
			now = append(now, n.is)
		}
	}
	if len(now) == 0 {
		return true
	}
	s := p.State.Revalued(now...)
	was := map[string]checks.Verdict{}
	for _, j := range p.State.Judgements() {
		was[j.Name] = j.Verdict
	}
	for _, j := range s.Judgements() {
		before, there := was[j.Name]
		if !there || before == checks.Open || j.Verdict != before && j.Verdict != checks.Pass {
			return false
		}
		delete(was, j.Name)
	}
	if len(was) == 0 {
		out.state = s
	}
	return len(was) == 0
}

// newer returns the value that stands in the place of one that was taken over:
// that of the run which took the place of the one it is from, or, where that run
// took values over itself, what it comes to with the newest of those.
func (h *History) newer(p *past, v engine.TakenValue) (n newerValue, ok bool) {
	from := h.find(v.Run)
	if from == nil || !from.ended.Before(v.At) {
		return n, false
	}
	_, result, _ := strings.Cut(v.Name, ".")
	n.was = v
	if q := h.newest(from.procedure()); q != nil && q != p && q != from && q.ended.After(p.since(v)) && q.ended.After(from.ended) {
		n.kind, n.by, n.at = Replaced, q.Name, q.ended
		if n.is, ok = resultOf(q.State, result); ok {
			n.is.Name, n.is.Run, n.is.Day = v.Name, q.Name, q.ended.Format(time.DateOnly)
			n.compare()
		}
		return n, true
	}
	r := h.renewal(from)
	i := slices.IndexFunc(r.stands, func(s Standing) bool { return s.Real && s.At.After(p.since(v)) })
	if r.state == nil || i < 0 {
		return n, false
	}
	n.kind, n.by, n.at = Renewed, r.stands[i].By, r.stands[i].At
	if n.is, ok = resultOf(r.state, result); !ok {
		return n, true
	}
	n.is.Name, n.is.Run, n.is.Day = v.Name, v.Run, v.Day
	n.compare()
	n.real = n.is.Value != v.Value // its readings are the same: what differs is what was taken over, and that does
	return n, true
}

// compare holds the newer value against the one that was taken over. Between
// runs nothing is shared.
func (n *newerValue) compare() {
	a, b := n.was.AcceptedValue, n.is
	ua, errA := quantity.Lookup(a.Unit)
	ub, errB := quantity.Lookup(b.Unit)
	if errA != nil || errB != nil || ua.Dim != ub.Dim {
		return
	}
	n.known = true
	sa, sb := a.U*ua.Factor, b.U*ub.Factor
	r := uncert.Result{Std: math.Hypot(sa, sb), DoF: stat.EffectiveDoF([]float64{sa, sb}, []float64{known(a.DoF), known(b.DoF)})}
	if math.IsNaN(r.DoF) {
		r.DoF = math.Inf(1)
	}
	d := uncert.Differ(b.Value*ub.Factor-a.Value*ua.Factor, r)
	n.real, n.change = d.Shown, said(d, ub)
}

func known(dof float64) float64 {
	if dof == 0 {
		return math.Inf(1)
	}
	return dof
}

// said says by how much a value is another one.
func said(d uncert.Difference, u quantity.Unit) string {
	if d.By == 0 {
		return ""
	}
	u = u.Difference()
	word := "more"
	if d.By < 0 {
		word = "less"
	}
	if d.U == 0 {
		return quantity.Short(math.Abs(d.By), u) + " " + word
	}
	by, doubt := quantity.Rounded(math.Abs(d.By), d.U, u)
	return fmt.Sprintf("%s %s, give or take %s", quantity.WithSymbol(by, u), word, quantity.WithSymbol(doubt, u))
}
