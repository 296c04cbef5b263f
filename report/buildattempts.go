package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/engine"
	"waywright/procedures"
)

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
	if a.Change != nil {
		out.Change = b.change(a.Judgement, a.Change, "", fmt.Sprintf("attempt %d", a.Change.Since))
	}
	for _, x := range a.Suspicions {
		out.Looks = append(out.Looks, Look{Kind: string(x.Kind), Said: x.Said, Mend: x.Mend, ByNoise: x.ByNoise})
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
		out.Gain, out.GainFrom = steady(a.Gain), a.FromRun
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
	if m := a.Took; m != nil { // told, not read
		u := b.unit(*c.Unit)
		out.Movements = append(out.Movements, Movement{Typed: m.Typed, Amount: b.amount(m.Value, u, b.enough(m.Value, u, quantity.Usual(u)), m.Way), At: at(m.Stamp)})
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
	places := differing(x.After-x.Before, x.UDelta, u.Difference())
	before, after := number(x.Before, u, places), number(x.After, u, places)
	d := u.Difference()
	change, expected := number(x.After-x.Before, d, places), number(x.Expected, d, places)
	if before == nil || after == nil || change == nil {
		return nil
	}
	r := &Response{Word: string(x.Finding.Word), Said: responseSaid(x.Finding), Before: *before, After: *after, Change: *change, Shown: x.Shown, Expected: expected}
	if len(x.Looks) > 0 && x.Looks[0].Kind == engine.Swapped {
		r.Said = x.Looks[0].Said
	}
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
	who, far := s.shift(r.Change)
	out := who + " " + far
	switch {
	case !r.Shown:
		out = "No difference shown: changed by " + r.Change.abs().WithUnit()
		if r.UChange != nil {
			out += ", doubt " + r.UChange.WithUnit()
		}
	case r.UChange != nil:
		out += ", give or take " + r.UChange.WithUnit()
	}
	if r.Expected != nil {
		_, far := s.shift(*r.Expected)
		out += "; " + far + " was expected"
	}
	return out + "."
}
