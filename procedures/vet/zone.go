package vet

import (
	"cmp"
	"math"
	"slices"

	"waywright/checks"
	"waywright/checks/propagate"
	"waywright/checks/quantity"
	"waywright/checks/uncert"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// Zone is what must be read at a gate for a pass, with the instruments that
// the procedure names, at the middle of all ranges and under its first grade.
// Numbers are in base units.
type Zone struct {
	Gate        *procedures.Gate
	Rule        checks.Rule
	Lo, Hi      float64 // the limits; infinite where there is none
	U           float64 // standard uncertainty of the value against the nearer limit; of many elements the worst
	DoF         float64
	From, To    float64 // what must be read for a pass
	CanPass     bool    // a perfect machine could pass
	NonNegative bool    // the value cannot be negative: nought is a bound and no limit
	Perfect     float64 // of a value that cannot be negative: how often a perfect machine passes, 0 to 1; NaN where that was not worked out
	Instruments []*procedures.Instrument
	Known       bool   // false: it depends on what only a run can tell, and the rest is empty
	Where       string // for which givens: "given.span = 275 mm, grade normal"
}

// maxInputs bounds the values for which the sensitivities of a gate are
// worked out.
const maxInputs = 400

// zones works out the pass zone of each gate that has limits, and warns where
// the instruments are too coarse for it (measure rules 12, 13 and 15).
func (v *vetting) zones() {
	for _, g := range v.ix.gates {
		if g.Of == nil || len(limits(g)) == 0 || v.bad[g] {
			continue
		}
		for i, grade := range gradesOr(v.ix.p.Grades) {
			z := v.ix.zone(g, grade)
			if i == 0 {
				v.out.Zones = append(v.out.Zones, z)
			}
			if z.Known && v.coarse(z) || !v.ix.usesTable(g) {
				break // the same under every grade, or told already
			}
		}
	}
}

// usesTable tells whether the limits of a gate depend on the grade.
func (ix *index) usesTable(g *procedures.Gate) bool {
	for r := range ix.inputs(judged(g)...) {
		if r.Space == formula.Table {
			return true
		}
	}
	return false
}

// coarse warns where the instruments are too coarse, and tells whether it did:
// nothing can pass, or a perfect machine too seldom, or much good work will be
// left open. Only the worst of the three is said.
func (v *vetting) coarse(z Zone) bool {
	g, t := z.Gate, z.Limit()
	at := limits(g)[0].At()
	if z.CanPass && v.unlucky(z) {
		return true
	}
	if z.Rule == checks.Simple {
		return false // it checks the set-up
	}
	if !z.CanPass {
		v.say("W609", gateIn(g), g.At, at, "With %s the doubt is %s either way, and the limits leave no value that would be sure enough under %q%s. Use a finer instrument, more takes, a wider limit, or decision = \"simple\" where only the set-up is checked.",
			instruments(z), length(uncert.Coverage(z.DoF)*z.U, g.Unit), z.Rule, whereText(z))
		return true
	}
	if u := uncert.Coverage(z.DoF) * z.U; t > 0 && u > t/3 {
		v.say("W604", gateIn(g), g.At, at, "With %s the doubt is %s either way, more than a third of %s%s. Much good work will be \"cannot tell\". Use a finer instrument, more takes, or decision = \"simple\" where only the set-up is checked.",
			instruments(z), length(u, g.Unit), length(t, g.Unit), whereText(z))
		return true
	}
	return false
}

// unlucky warns where a perfect machine would pass too seldom, and tells
// whether it did.
func (v *vetting) unlucky(z Zone) bool {
	if !(z.Perfect < sure) { // a NaN is not
		return false
	}
	g := z.Gate
	v.say("W611", gateIn(g), g.At, limits(g)[0].At(), "A value that cannot be negative is read too large by the errors of the readings alone. With %s a machine without any fault passes this limit in about %.0f of 100 cases%s. Use a finer instrument, more takes, fewer stations or a wider limit.",
		instruments(z), math.Floor(100*z.Perfect), whereText(z))
	return true
}

func whereText(z Zone) string {
	if z.Where == "" {
		return ""
	}
	return " (for " + z.Where + ")"
}

func length(x float64, u quantity.Unit) string {
	if u.Point {
		u = quantity.TempDiff.Default()
	}
	return quantity.Plain(u.Base(roundFigures(u.Of(x))), u)
}

// roundFigures keeps two figures.
func roundFigures(x float64) float64 {
	if x == 0 || math.IsInf(x, 0) || math.IsNaN(x) {
		return x
	}
	p := math.Pow(10, 1-math.Floor(math.Log10(math.Abs(x))))
	return math.Round(x*p) / p
}

func instruments(z Zone) string {
	var names []string
	for _, in := range z.Instruments {
		names = append(names, "instrument."+in.Name)
	}
	switch len(names) {
	case 0:
		return "these readings"
	case 1:
		return names[0]
	}
	out := names[0]
	for i, n := range names[1:] {
		sep := ", "
		if i == len(names)-2 {
			sep = " and "
		}
		out += sep + n
	}
	return out
}

// zone works out the pass zone of a gate under a grade.
func (ix *index) zone(g *procedures.Gate, grade string) Zone {
	z := Zone{Gate: g, Perfect: math.NaN(), Rule: cmp.Or(g.Decision, ix.p.Decision, checks.Guarded)}
	if ix.known.Rule != nil {
		z.Rule = ix.known.Rule(g)
	}
	for _, r := range ix.feeding(g) {
		if r.With != nil && !slices.Contains(z.Instruments, r.With) {
			z.Instruments = append(z.Instruments, r.With)
		}
	}
	if !ix.bounded(judged(g)...) {
		return z
	}
	base := ix.workable(g, grade)
	if base == nil {
		return z
	}
	w := base.shifted(ix.dither(base))
	y, ok := margins(g, w)
	if !ok {
		return z
	}
	reqs, ok := ix.requests(g, w, y)
	if !ok {
		return z
	}
	z.Known = true
	z.Where = base.where(ix.givensOf(judged(g)...))
	z.NonNegative = ix.traits(g.Of).NonNegative
	for i := range reqs {
		reqs[i].Rule, reqs[i].NonNegative = z.Rule, z.NonNegative
	}
	z.fill(reqs)
	if z.NonNegative && z.CanPass && ix.machineBudget > 0 {
		if share, ok := ix.perfect(g, base, reqs); ok {
			z.Perfect = share
		}
	}
	return z
}

// workable returns a made-up run in which the gate can be judged: in the
// middle of the ranges, else at one of their ends.
func (ix *index) workable(g *procedures.Gate, grade string) *world {
	for _, f := range []float64{0.5, 0, 1} {
		at := map[string]float64{}
		for _, x := range ix.p.Givens {
			at[x.Name] = f
		}
		w := newWorld(ix, at)
		w.grade = grade
		if _, ok := margins(g, w); ok && len(w.order) <= maxInputs {
			return w
		}
	}
	return nil
}

// fill takes the element that is known worst.
func (z *Zone) fill(reqs []checks.Request) {
	q := slices.MaxFunc(reqs, func(a, b checks.Request) int {
		return cmp.Compare(math.Max(a.AtLo.U, a.AtHi.U), math.Max(b.AtLo.U, b.AtHi.U))
	})
	z.Lo, z.Hi = q.Lo, q.Hi
	z.U, z.DoF = q.AtHi.U, q.AtHi.DoF
	if q.AtLo.U > z.U {
		z.U, z.DoF = q.AtLo.U, q.AtLo.DoF
	}
	z.From, z.To, z.CanPass = q.PassZone()
}

// String says what must be read for a pass, in the gate's unit.
//
//	level_plane: pass from 2.3 µm to 12.7 µm, limits 0 µm to 15 µm, give or take 2.7 µm with instrument.lever
func (z Zone) String() string {
	u := z.Gate.Unit
	if !z.Known {
		return z.Gate.Name + ": depends on what only a run can tell"
	}
	out := z.Gate.Name + ": nothing can pass, limits " + z.span(z.Lo, z.Hi)
	if z.CanPass {
		out = z.Gate.Name + ": pass " + z.span(z.From, z.To) + ", limits " + z.span(z.Lo, z.Hi)
	}
	if z.U > 0 {
		out += ", give or take " + length(uncert.Coverage(z.DoF)*z.U, u)
	}
	if len(z.Instruments) > 0 {
		out += " with " + instruments(z)
	}
	return out + whereText(z)
}

// span writes a zone in three figures of its own width, or of the doubt where
// that is less: 19.98 to 20.02 mm is not 20 to 20.
func (z Zone) span(lo, hi float64) string {
	u := z.Gate.Unit
	at := func(x float64) string {
		scale := math.Max(1e-9, math.Abs(u.Of(x)))
		if w := u.Of(z.Hi) - u.Of(z.Lo); w > 0 && !math.IsInf(w, 0) {
			scale = math.Min(w, math.Max(math.Abs(u.Of(z.Lo)), math.Abs(u.Of(z.Hi))))
		}
		if doubt := 20 * (u.Of(z.U) - u.Of(0)); doubt > 0 {
			scale = math.Min(scale, doubt)
		}
		d := math.Pow(10, 3-math.Ceil(math.Log10(scale)))
		return quantity.Plain(u.Base(math.Round(u.Of(x)*d)/d), u)
	}
	switch {
	case math.IsInf(lo, -1) && math.IsInf(hi, 1):
		return "anything"
	case math.IsInf(lo, -1):
		return "up to " + at(hi)
	case math.IsInf(hi, 1):
		return "from " + at(lo)
	}
	return "from " + at(lo) + " to " + at(hi)
}

// step is a movement that an instrument shows.
func (ix *index) step(c cell) float64 {
	if a := ix.instrument(c.reading.With, "").Resolution; a > 0 {
		return a
	}
	if c.reading.Unit != nil {
		return c.reading.Unit.Factor / 100
	}
	return 1e-6
}

// dither moves each reading a few steps away from the middle, in a fixed
// pattern without any order, so that sensitivities are not taken at a kink:
// where two readings are equal, or a difference is nothing.
func (ix *index) dither(w *world) map[string]float64 {
	out := map[string]float64{}
	for i, id := range w.order {
		out[id] = 10 * (propagate.Uneven(i) - 0.5) * ix.step(w.cells[id])
	}
	return out
}

// margin is one element that a gate judges.
type margin struct{ value, lo, hi float64 }

// margins evaluates what a gate judges, and its limits.
func margins(g *procedures.Gate, w *world) ([]margin, bool) {
	if w.ix.budget--; w.ix.budget < 0 {
		return nil, false
	}
	e := firstKeys(w, g.Step)
	y, ok := numbers(g.Of.Eval(e))
	if !ok {
		return nil, false
	}
	lo, hi := []float64{math.Inf(-1)}, []float64{math.Inf(1)}
	switch {
	case g.Within != nil:
		lo, hi, ok = zones(g.Within.Eval(e))
	case g.AtMost != nil:
		hi, ok = numbers(g.AtMost.Eval(e))
	case g.AtLeast != nil:
		lo, ok = numbers(g.AtLeast.Eval(e))
	}
	if !ok {
		return nil, false
	}
	out := make([]margin, len(y))
	for i := range y {
		out[i] = margin{y[i], lo[min(i, len(lo)-1)], hi[min(i, len(hi)-1)]}
	}
	return out, true
}

func zones(v value.Value) (lo, hi []float64, ok bool) {
	if v.State != value.Present {
		return nil, nil, false
	}
	if v.Kind == value.Zone {
		return []float64{v.Lo}, []float64{v.Hi}, !math.IsNaN(v.Lo) && !math.IsNaN(v.Hi)
	}
	for _, e := range v.Elems {
		l, h, ok := zones(e)
		if !ok {
			return nil, nil, false
		}
		lo, hi = append(lo, l...), append(hi, h...)
	}
	return lo, hi, len(lo) > 0
}

// gateWarnings warns of a limit that nobody vouches for.
func (v *vetting) gateWarnings(g *procedures.Gate) {
	if g.Source == "" && (v.whole || len(judged(g)) > 0) {
		v.say("W601", gateIn(g), g.At, g.At, "It is not said where the limit comes from. Write source = \"…\": a standard with its number and year, a handbook, or \"shop rule, estimate\".")
	}
}

// instruments asks for the repeatability of instruments that few takes are
// taken with (measure rule 2).
func (v *vetting) instruments() {
	type pool struct {
		dof   int
		first *procedures.Reading
	}
	for _, in := range v.ix.p.Instruments {
		if in == nil || in.Repeatability > 0 {
			continue
		}
		for _, s := range v.ix.p.Steps {
			var p pool
			w := newWorld(v.ix, nil)
			for _, item := range s.Items {
				r, ok := item.(*procedures.Reading)
				if !ok || r.With != in || r.Unit == nil || !v.judgedReading(r) {
					continue
				}
				if p.first == nil {
					p.first = r
				}
				cells := v.ix.cells(w, r)
				p.dof += cells * (r.Repeat - 1)
			}
			if p.first != nil && p.dof < 3 {
				v.say("W610", readingIn(p.first), p.first.At, p.first.At, "instrument.%s has no repeatability, and the takes of this step are too few to tell it. Write repeatability in the instrument, from a trial of your own, or take more.", in.Name)
				break
			}
		}
	}
}

// judgedReading tells whether a gate with a limit depends on the reading.
func (v *vetting) judgedReading(r *procedures.Reading) bool {
	for _, g := range v.ix.gates {
		if g.Of != nil && v.ix.inputs(judged(g)...)[formula.Ref{Space: formula.Reading, Name: r.Name}] {
			return true
		}
	}
	return false
}
