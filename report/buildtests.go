package report

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/checks/uncert"
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
		Setup: g.Decision != checks.NoRule, Rule: rule(j.Rule),
	}
	v := b.judged(j)
	t.Verdict, t.Word, t.Why, t.Found, t.Allowed = v.Verdict, v.Word, v.Why, v.Found, v.Allowed
	t.P, t.Worst, t.Elements, t.Along = v.P, v.Worst, v.Elements, along(g, j)
	history := b.s.History(j.Name)
	for i, a := range history {
		t.Attempts = append(t.Attempts, b.attempt(i+1, a))
	}
	t.AsFound = b.asFound(t.Attempts)
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
	t.Doubt = b.doubt(j)
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
	a := Attempt{Verdict: j.Verdict.String(), Word: verdictWord(j.Verdict), Why: j.Why}
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
			a.P = checks.FormatP(j.P)
		}
	}
	a.Allowed = b.allowed(j, u, s)
	return a
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
		a = limits(j.Lo, j.Hi, u, apart(placesFor(j.U, u), u, j.Value, j.Lo, j.Hi), s)
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
	out := Element{Key: e.Key, At: b.position(j.Gate, e.At), Verdict: e.Verdict.String(), Word: verdictWord(e.Verdict)}
	if out.At != nil {
		out.Key = ""
	}
	places := apart(placesFor(e.U, u), u, e.Value, e.Lo, e.Hi)
	if n := number(e.Value, u, places); n != nil {
		out.Value, out.Said = *n, s.say(*n)
	}
	if e.U > 0 {
		out.U = number(e.U, u.Difference(), places)
	}
	out.Lower, out.Upper = limit(e.Lo, u, places), limit(e.Hi, u, places)
	return out
}

// asFound is the first judgement, if it was made before any correction of the
// run was carried out.
func (b *builder) asFound(as []Attempt) AsFound {
	if len(as) == 0 || !as[0].AsFound {
		return AsFound{Said: "not read"}
	}
	a := as[0]
	return AsFound{Read: true, Said: a.Found.Said, Found: a.Found, Verdict: a.Verdict, Word: a.Word}
}

// firstWork is the event of the first correction that was carried out.
func (b *builder) firstWork() int {
	first := math.MaxInt
	for _, c := range b.corrections {
		first = min(first, c.Report.N)
	}
	return first
}

func (b *builder) attempt(n int, a engine.Attempt) Attempt {
	out := b.judged(a.Judgement)
	out.N, out.At = n, at(a.At)
	out.AsFound = n == 1 && a.At.N < b.firstWork() && out.Found != nil
	out.Stands, out.Ended = a.Stands, quoted(a.Ended)
	for _, id := range a.Working {
		if r := b.ids[id]; r != "" && !slices.Contains(out.Readings, r) {
			out.Readings = append(out.Readings, r)
		}
	}
	for _, id := range out.Readings {
		if r, ok := b.record.Reading(id); ok && r.Instrument != "" && !slices.Contains(out.Instruments, r.Instrument) {
			out.Instruments = append(out.Instruments, r.Instrument)
		}
	}
	if a.Chosen != nil {
		out.Way = b.way(a)
	}
	return out
}

func (b *builder) way(a engine.Attempt) *Way {
	w := &Way{Name: a.Chosen.Way, Reason: a.Chosen.Reason, At: at(a.ChosenAt)}
	switch a.Chosen.Way {
	case string(engine.WayAgain):
		w.Said = "Further takes were asked for."
	case string(engine.WayConcession):
		w.Said = "A concession was asked for."
	case string(engine.WayReject):
		w.Said = "It was rejected."
	default:
		w.Said = "Chosen: " + a.Chosen.Way
		if a.Correction != nil {
			w.Correction = b.correction(*a.Correction)
			w.Said = w.Correction.Title
		} else if c := b.correctionNamed(a.Chosen.Way); c != nil {
			w.Said = b.s.Words(c.Title, nil, nil) + ", not reported yet"
		}
	}
	return w
}

func (b *builder) correctionNamed(name string) *procedures.Correction {
	for _, c := range b.proc.Corrections {
		if c.Name == name {
			return c
		}
	}
	return nil
}

func (b *builder) correction(a engine.Attempted) *Correction {
	c := a.Correction
	out := &Correction{Name: c.Name, Title: a.Title, Do: a.Do, N: a.N, Disturbed: a.Disturbed}
	if a.Gain != 1 {
		out.Gain = steady(a.Gain)
	}
	if a.Report.N != 0 {
		st := at(a.Report)
		out.Reported = &st
	}
	if c.Unit != nil {
		u := b.unit(*c.Unit)
		for i, x := range a.Amounts {
			amount := b.amount(x, u, quantity.Usual(u), b.amountWay(c, x))
			if i < len(a.At) {
				amount.At = b.positionIn(value.Profile, a.At[i])
				amount.Said += ", at " + amount.At.WithUnit()
			}
			out.Asked = append(out.Asked, amount)
		}
	}
	for i, m := range a.Moved {
		u := b.movedUnit(c)
		out.Movements = append(out.Movements, Movement{
			Typed: m.Typed, Amount: b.amount(m.Value, u, b.places(m.Value, u, c.Moved.With), m.Way), At: at(m.Stamp), Further: i > 0, Reason: m.Reason,
		})
	}
	if a.MovedSum != nil && c.Moved != nil {
		u := b.movedUnit(c)
		sum := b.amount(*a.MovedSum, u, b.places(*a.MovedSum, u, c.Moved.With), a.MovedWay)
		out.Moved = &sum
	}
	for _, j := range a.Judged {
		out.Judged = append(out.Judged, MoveJudge{How: j.How, Said: judgedSaid(j.How), At: at(j.Stamp)})
	}
	out.Response = b.response(a.Response)
	return out
}

func (b *builder) movedUnit(c *procedures.Correction) quantity.Unit {
	if c.Moved.Unit.Name != "" {
		return b.unit(c.Moved.Unit)
	}
	return b.unit(*c.Unit)
}

// amountWay is the direction of an amount in the correction's own words.
func (b *builder) amountWay(c *procedures.Correction, x float64) string {
	if x < 0 {
		return b.s.Words(c.Negative, nil, nil)
	}
	return b.s.Words(c.Positive, nil, nil)
}

func (b *builder) amount(x float64, u quantity.Unit, places int, way string) Amount {
	n := number(x, u, places)
	if n == nil {
		return Amount{Said: "not known"}
	}
	if way == "" {
		return Amount{Number: *n, Said: n.WithUnit()}
	}
	a := n.abs()
	return Amount{Number: a, Direction: way, Said: a.WithUnit() + " " + way}
}

// places is how many decimals an instrument shows in u, and more where x has
// more.
func (b *builder) places(x float64, u quantity.Unit, with *procedures.Instrument) int {
	p := quantity.Usual(u)
	if with != nil && with.Resolution > 0 {
		p = quantity.Decimals(u, with.Resolution)
	}
	return b.enough(x, u, p)
}

// enough adds decimals until x is printed as it was typed, three at most.
func (b *builder) enough(x float64, u quantity.Unit, places int) int {
	want := u.Of(x)
	for p := places; p < places+3; p++ {
		if math.Abs(printed(digits(x, u, p))-want) <= 1e-9*math.Max(math.Abs(want), 1e-3) {
			return p
		}
	}
	return places
}

func judgedSaid(how string) string {
	switch how {
	case "carry_on":
		return "It was carried on with that."
	case "wrong_way":
		return "It had been typed the wrong way round."
	case "plus":
		return "Pushed the positive way, the needle went plus: it reads right."
	case "minus":
		return "Pushed the positive way, the needle went minus: it reads reversed, and its signs are turned from here on."
	case "nowhere":
		return "Pushed the positive way, the needle went nowhere."
	}
	return how
}

func (b *builder) response(x *engine.Response) *Response {
	if x == nil {
		return nil
	}
	u := b.unit(x.Unit)
	places := placesFor(x.UDelta, u)
	before, after := number(x.Before, u, places), number(x.After, u, places)
	d := u.Difference()
	change, expected := number(x.After-x.Before, d, places), number(x.Expected, d, places)
	if before == nil || after == nil || change == nil {
		return nil
	}
	r := &Response{Word: string(x.Finding.Word), Said: responseSaid(x.Finding), Before: *before, After: *after, Change: *change, Expected: expected}
	if x.Cannot != "" {
		r.Word, r.Said = "cannot_tell", "What it did cannot be told: "+strings.TrimRight(x.Cannot, ".")+"."
	}
	if x.UDelta > 0 {
		r.UChange = number(x.UDelta, d, places)
	}
	var s sense
	if x.Correction.Should != nil {
		s = senseOf(b.s.Words(x.Correction.Should.Result.Positive, nil, nil), "")
	}
	r.Told = told(r, s)
	return r
}

// told puts a change in words.
func told(r *Response, s sense) string {
	say := func(n Number) string {
		switch {
		case s.minus == "" && n.Value < 0:
			return n.abs().WithUnit() + " down"
		case s.minus == "" && !isNought(n.Text):
			return n.WithUnit() + " up"
		}
		return s.say(n)
	}
	out := "It went " + say(r.Change)
	if isNought(r.Change.Text) {
		out = "It did not change"
	}
	if r.UChange != nil {
		out += ", give or take " + r.UChange.WithUnit()
	}
	if r.Expected != nil {
		out += "; " + say(*r.Expected) + " was expected"
	}
	return out + "."
}

// doubt is the budget of a judgement, the greatest part first. What gives
// less than a thousandth of the variance is left out.
func (b *builder) doubt(j engine.Judgement) []Doubt {
	u := b.unit(j.Unit).Difference()
	lines := slices.Clone(j.Budget)
	sort.SliceStable(lines, func(i, k int) bool { return steady(lines[i].Share) > steady(lines[k].Share) })
	var out []Doubt
	for _, l := range lines {
		given := math.Abs(l.Sensitivity) * l.U
		n := number(given, u, placesFor(given, u))
		if n == nil || l.Share < 0.001 {
			continue
		}
		d := Doubt{Source: doubtSource(l), U: *n, Share: steady(l.Share)}
		if !math.IsInf(l.DoF, 0) && !math.IsNaN(l.DoF) {
			d.DoF = steady(l.DoF)
		}
		out = append(out, d)
	}
	return out
}

// doubtSource says in words what a source of uncertainty is.
func doubtSource(l uncert.Line) string {
	what := map[uncert.Kind]string{
		uncert.Takes: "takes vary", uncert.Resolution: "smallest step", uncert.Zero: "zero", uncert.Indication: "indication",
		uncert.Drift: "drift", uncert.Temperature: "temperature", uncert.Given: "given",
	}[l.Kind]
	if what == "" {
		what = l.Kind.String()
	}
	name := strings.TrimSpace(l.Source)
	// A source of a setting is named by the instrument and the setting, which
	// begins with the instrument's name in the procedure.
	if first, setting, ok := strings.Cut(name, " "); ok && strings.Contains(setting, first) {
		name = setting
	}
	return capital(strings.TrimSuffix(what+": "+name, ": "))
}

// upstream lists what may lie behind a failed test, once every attempt at its
// corrections was spent.
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
				u.State = verdictWord(k.Verdict)
			}
		}
		out = append(out, u)
	}
	return out
}

func (b *builder) spent(g *procedures.Gate) bool {
	any := false
	for _, w := range g.IfFailed {
		if w.Correction == nil {
			continue
		}
		any = true
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
	return any
}

// results are all results as they stand.
func (b *builder) results() []Result {
	var out []Result
	for _, r := range b.worked {
		x := Result{Name: r.Name, Title: r.Title, Formula: formulaText(r.Result.Value.Source()), Inputs: r.Inputs}
		st, why := r.Value.Worst()
		x.State, x.Why = [...]string{"present", "unmeasured", "absent", "missing"}[st], why
		if x.Title == "" {
			x.Title = strings.ReplaceAll(r.Name, "_", " ")
		}
		x.Title = inRound(x.Title, r.Result.Step, r.Keys)
		if st == value.Present {
			b.resultValue(&x, r)
		}
		out = append(out, x)
	}
	return out
}

func (b *builder) resultValue(x *Result, r engine.ResultValue) {
	v := r.Value.Mean()
	u := quantity.Unit{UCUM: "1", Factor: 1}
	if r.Result.Unit != nil {
		u = b.unit(*r.Result.Unit)
	}
	switch v.Kind {
	case value.Text:
		x.Text = v.Text
	case value.Truth:
		x.Text = map[bool]string{true: "yes", false: "no"}[v.Truth]
	case value.Number, value.Point:
		if r.Result.Unit == nil {
			x.Text = strconv.FormatFloat(steady(v.Num), 'f', -1, 64)
			return
		}
		bigU := 0.0
		if r.HasU {
			bigU = r.U
		}
		positive := b.s.Words(r.Result.Positive, r.Result.Step, r.Keys)
		x.Found = finding(v.Num, bigU, r.K, r.Dof, math.Inf(-1), math.Inf(1), u, senseOf(positive, ""))
	case value.Profile, value.Turn, value.Keyed, value.List:
		x.Profile = b.points(v, u, "")
	}
}

// points flattens a collection of numbers.
func (b *builder) points(v value.Value, u quantity.Unit, under string) []Point {
	var out []Point
	for i, e := range v.Elems {
		key := fmt.Sprint(i + 1)
		var pos *Number
		switch v.Kind {
		case value.Keyed:
			key = v.Keys[i]
		case value.Profile, value.Turn:
			pos = b.positionIn(v.Kind, v.At[i])
			if key = ""; pos != nil && under != "" {
				key = pos.WithUnit()
			}
		}
		key = strings.Trim(under+", "+key, ", ")
		e = e.Mean()
		if len(e.Elems) > 0 {
			out = append(out, b.points(e, u, key)...)
			continue
		}
		if n := number(e.Num, u, quantity.Usual(u)); n != nil && e.State == value.Present && (e.Kind == value.Number || e.Kind == value.Point) {
			out = append(out, Point{Key: key, At: pos, Value: *n})
		}
	}
	return out
}
