package report

import (
	"math"
	"slices"
	"strings"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/engine"
	"waywright/procedures"
)

func (b *builder) tests() []Test {
	var out []Test
	for i, j := range b.s.Judgements() {
		out = append(out, b.test(i+1, j))
	}
	return out
}

func (b *builder) test(no int, j engine.Judgement) Test {
	g := j.Gate
	t := Test{
		No: no, Name: j.Name, Title: inRound(j.Title, g.Step, j.Keys), Step: b.s.Words(g.Step.Title, g.Step, j.Keys), Keys: j.Keys, Lasting: g.Test,
		Noted: g.Noted(), Setup: g.Decision != checks.NoRule && !b.s.Procedure().Counted(g), Rule: rule(b.s.RuleFor(g)),
	}
	if g.Of != nil {
		t.Of = formulaText(g.Of.Source())
	}
	v := b.judged(j)
	t.Verdict, t.Word, t.Why, t.Found, t.Allowed = v.Verdict, v.Word, v.Why, v.Found, v.Allowed
	t.P, t.Worst, t.Elements, t.Along = v.P, v.Worst, v.Elements, along(g, j)
	if x := j.LeftOut; x != nil {
		t.Word, t.LeftOut = leftOutWord, &LeftOut{Agreed: x.Agreed, Because: x.Because, At: at(x.Stamp)}
	}
	history := b.s.History(j.Name)
	for i, a := range history {
		t.Attempts = append(t.Attempts, b.attempt(i+1, a))
	}
	t.AsFound = b.asFound(t.Attempts)
	t.Change = b.sinceFound(t, history)
	if n := len(t.Attempts); n > 0 && t.Allowed.Said == unknownLimit {
		t.Allowed = t.Attempts[n-1].Allowed
	}
	if n := len(t.Attempts); n > 0 && t.Attempts[n-1].Stands {
		t.Readings, t.Instruments = t.Attempts[n-1].Readings, t.Attempts[n-1].Instruments
	}
	readings, givens, results := b.s.Feeds(j.Name)
	for _, r := range b.record.Readings {
		fed := slices.ContainsFunc(readings, func(name string) bool { return named(r.Name, name) })
		if fed && r.State == "unmeasured" && !slices.Contains(t.Readings, r.ID) {
			t.Readings = append(t.Readings, r.ID)
		}
	}
	for _, gv := range b.record.Givens {
		if slices.ContainsFunc(givens, func(name string) bool { return named(gv.Name, name) }) {
			t.Givens = append(t.Givens, gv.Name)
		}
	}
	for _, r := range b.worked {
		same := r.Result.Step != g.Step || slices.Equal(r.Keys, j.Keys)
		if same && slices.Contains(results, r.Result.Name) {
			t.Working = append(t.Working, r.Name)
		}
	}
	b.budget(&t)
	t.Upstream = b.upstream(j)
	return t
}

// named tells whether a name, with keys behind it, is of that label.
func named(name, label string) bool { return name == label || strings.HasPrefix(name, label+".") }

func along(g *procedures.Gate, j engine.Judgement) string {
	if len(j.Elements) == 0 || g.Of == nil {
		return ""
	}
	switch g.Of.Type().Kind {
	case value.Profile:
		return "station"
	case value.Turn:
		return "angle"
	}
	return "key"
}

// judged is a judgement in the words and digits of the record.
func (b *builder) judged(j engine.Judgement) Attempt {
	a := Attempt{Verdict: j.Verdict.String(), Word: VerdictWord(j.Verdict), Why: j.Why}
	u := b.unit(j.Unit)
	s := senseOf(j.Positive, "")
	switch {
	case j.Holds:
		a.Found = held(j.Verdict)
	case j.Verdict == checks.Pass || j.Verdict == checks.Undecided || j.Verdict == checks.Fail:
		a.Found = finding(j.Value, j.U, j.K, j.Dof, j.Lo, j.Hi, u, s)
		a.Worst = b.elementName(j.Gate, j.Element, elementAt(j))
		for _, e := range j.Elements {
			a.Elements = append(a.Elements, b.element(j, e, u, s))
		}
		if j.U > 0 {
			a.P = conforming(j)
		}
	}
	a.Allowed = b.allowed(j, u, s)
	return a
}

// conforming is the probability that the limit is kept, as it is printed. Of
// what cannot be negative it is known from one side (measure rule 15).
func conforming(j engine.Judgement) string {
	p := checks.FormatBound(j.P, j.Bound)
	if j.TooCoarse {
		return p + ", u too large: above an eighth of what is allowed"
	}
	if strings.HasPrefix(p, ">") || strings.HasPrefix(p, "<") {
		return p
	}
	switch j.Bound {
	case checks.AtLeast:
		return "at least " + p
	case checks.AtMost:
		return "at most " + p
	}
	return p
}

func held(v checks.Verdict) *Finding {
	switch v {
	case checks.Pass:
		return &Finding{Said: "it is so", Holds: "yes", Exact: true}
	case checks.Fail:
		return &Finding{Said: "it is not so", Holds: "no", Exact: true}
	case checks.Undecided:
		return &Finding{Said: "it cannot be told", Holds: "cannot tell"}
	}
	return nil
}

func (b *builder) allowed(j engine.Judgement, u quantity.Unit, s sense) Allowed {
	var a Allowed
	switch {
	case j.Holds:
		a = Allowed{Said: "it must be so", Formula: formulaText(j.Gate.Holds.Source())}
	case !limitsKnown(j):
		a = Allowed{Said: unknownLimit}
	default:
		a = limits(j.Lo, j.Hi, u, apart(placesOf(j.Value, j.U, u), u, j.Value, j.Lo, j.Hi), s)
	}
	for _, p := range []procedures.Text{j.Gate.Within, j.Gate.AtMost, j.Gate.AtLeast} {
		if p != nil && len(p.Refs()) > 0 {
			a.Formula = formulaText(p.Source())
		}
	}
	a.Source, a.Memory = j.Source, fromMemory(j.Source)
	return a
}

const unknownLimit = "not worked out yet"

// limitsKnown tells whether the limits could be worked out.
func limitsKnown(j engine.Judgement) bool {
	switch j.Verdict {
	case checks.Open:
		return false
	case checks.NotApplied, checks.NotMeasured:
		return j.Lo < j.Hi && !(math.IsInf(j.Lo, -1) && math.IsInf(j.Hi, 1))
	}
	return true
}

// formulaText puts a formula on one line.
func formulaText(s string) string { return strings.Join(strings.Fields(s), " ") }

func elementAt(j engine.Judgement) float64 {
	for _, e := range j.Elements {
		if e.Key == j.Element {
			return e.At
		}
	}
	return 0
}

// elementName is a station or angle with its unit, or a key.
func (b *builder) elementName(g *procedures.Gate, key string, pos float64) string {
	if n := b.position(g, pos); n != nil && key != "" {
		return n.WithUnit()
	}
	return key
}

func (b *builder) position(g *procedures.Gate, pos float64) *Number {
	if g.Of == nil {
		return nil
	}
	return b.positionIn(g.Of.Type().Kind, pos)
}

// positionIn is a station in mm, or an angle in degrees.
func (b *builder) positionIn(k value.Kind, pos float64) *Number {
	name := ""
	switch k {
	case value.Profile:
		name = "mm"
	case value.Turn:
		name = "deg"
	default:
		return nil
	}
	u, err := quantity.Lookup(name)
	if err != nil {
		return nil
	}
	return number(pos, b.unit(u), asItIs)
}

func (b *builder) element(j engine.Judgement, e engine.Element, u quantity.Unit, s sense) Element {
	out := Element{Key: e.Key, At: b.position(j.Gate, e.At), Verdict: e.Verdict.String(), Word: VerdictWord(e.Verdict)}
	if out.At != nil {
		out.Key = ""
	}
	places := apart(placesOf(e.Value, e.U, u), u, e.Value, e.Lo, e.Hi)
	if n := number(e.Value, u, places); n != nil {
		out.Value, out.Said = *n, s.say(*n)
	}
	if e.U > 0 {
		out.U = number(e.U, u.Difference(), places)
	}
	out.Lower, out.Upper = limit(e.Lo, u, places), limit(e.Hi, u, places)
	return out
}

// upstream lists what may lie behind a failed test, once every attempt at its
// corrections was spent or where it has none.
func (b *builder) upstream(j engine.Judgement) []Upstream {
	if j.Verdict != checks.Fail || !b.spent(j.Gate) {
		return nil
	}
	var out []Upstream
	for _, t := range j.Gate.Upstream {
		if t.Gate == nil {
			out = append(out, Upstream{Title: "accepted run of " + t.Accepted})
			continue
		}
		u := Upstream{Title: b.s.Words(t.Gate.Title, t.Gate.Step, nil)}
		for _, k := range b.s.Judgements() {
			if k.Gate == t.Gate {
				u.State = VerdictWord(k.Verdict)
			}
		}
		out = append(out, u)
	}
	return out
}

func (b *builder) spent(g *procedures.Gate) bool {
	for _, w := range g.IfFailed {
		if w.Correction == nil {
			continue
		}
		n := 0
		for _, c := range b.corrections {
			if c.Correction == w.Correction {
				n++
			}
		}
		if n < w.Correction.Attempts {
			return false
		}
	}
	return true
}
