package voice

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"waywright/checks/quantity"
	"waywright/engine"
)

// value asks for a given or a reading.
func (v Voice) value(q engine.Question, a *Asked) {
	a.Body = v.work(q)
	if len(q.So) > 0 {
		a.Body = append(a.Body, v.Row(q)...)
	}
	ask := Mark(You(q.Ask))
	if q.Takes > 1 && q.Take > 0 {
		ask = insertTake(ask, fmt.Sprintf("take %d of %d", q.Take, q.Takes))
	}
	switch {
	case q.Again:
		ask = question(strings.TrimRight(ask, "?.:") + ", once more")
	case q.Back:
		ask = question(strings.TrimRight(ask, "?.:") + ", on the way back")
	default:
		ask = question(ask)
	}
	if q.Stations > 1 {
		a.Ask = say(fmt.Sprintf("Place %d of %d.", q.Station, q.Stations))
	}
	a.Ask = append(a.Ask, Line{Text: ask})
	for _, d := range v.details(q) {
		a.Ask = append(a.Ask, detail(d))
	}
	a.Value = true
	if numbered(q.Choices) {
		for _, c := range q.Choices {
			a.Options = append(a.Options, Option{Label: You(c.Label), Word: c.Word})
		}
	} else if len(q.Choices) > 0 {
		a.Ask = append(a.Ask, detail("one of: "+strings.Join(choiceWords(q.Choices), ", ")))
	}
}

// numbered tells whether the choices may be chosen by number: not where they
// are numbers themselves.
func numbered(cs []engine.Choice) bool {
	for _, c := range cs {
		if strings.TrimLeft(c.Word, "+-0123456789.,") == "" {
			return false
		}
	}
	return len(cs) > 0
}

func choiceWords(cs []engine.Choice) []string {
	out := make([]string, len(cs))
	for i, c := range cs {
		out[i] = c.Word
	}
	return out
}

// insertTake puts the take behind the place, where the question names the
// place first: "Tailstock-end collar: diameter".
func insertTake(ask, take string) string {
	if place, what, ok := strings.Cut(ask, ":"); ok {
		return place + ", " + take + ":" + what
	}
	return strings.TrimRight(ask, "?.") + ", " + take
}

// details are the small lines below a question: sign, instrument, unit, what
// is expected, what is offered.
func (v Voice) details(q engine.Question) []string {
	var out []string
	if q.Positive != "" {
		plus := "plus: " + You(q.Positive)
		if q.Negative != "" {
			plus += "; minus: " + You(q.Negative)
		}
		out = append(out, plus)
	}
	if q.Turning != "" {
		out = append(out, "angles: "+You(q.Turning))
	}
	with := nonEmpty(inHand(q.Instrument), unitName(q))
	if q.Range != nil && q.Take < 2 {
		with = append(with, expected(q)+" expected")
	}
	line := strings.Join(with, ", ")
	if q.Takes > 1 && q.Take > 1 {
		if line != "" {
			line += ". "
		}
		line += "Earlier takes stay hidden."
	}
	if line != "" {
		out = append(out, line)
	}
	if q.Remaining > 1 && q.Stations > 1 && q.Takes <= 1 {
		out = append(out, fmt.Sprintf("one value, or all %d that are left, in a row", q.Remaining))
	}
	if q.File {
		out = append(out, "the name of a file")
	}
	if q.Offer != nil {
		offer := "offered: " + q.Offer.Text
		if q.Offer.From != "" {
			offer += ", from " + You(q.Offer.From)
		}
		out = append(out, offer+". To take it: +")
	}
	return out
}

func unitName(q engine.Question) string {
	switch {
	case q.Count:
		return "a whole number"
	case q.Unit == nil:
		return ""
	}
	return q.Unit.Symbol
}

// inHand names the instrument: "micrometer M-3".
func inHand(i *engine.InHand) string {
	if i == nil {
		return ""
	}
	return strings.TrimSpace(name(i.Name) + " " + i.ID)
}

// expected is the plausible range: "5 to 120".
func expected(q engine.Question) string {
	u := quantity.Unit{Factor: 1}
	if q.Unit != nil {
		u = *q.Unit
	}
	d := q.Decimals
	if u.Name == "in" {
		d = min(d, 3) // millimetres turned into inches: more figures say no more
	}
	for _, x := range []float64{q.Range.From, q.Range.To} {
		for d < 6 && lost(u.Of(x), d) {
			d++ // 0.03 is not 0, and no value is asked for that the range does not let in
		}
	}
	return limit(q.Range.From, u, d) + " to " + limit(q.Range.To, u, d)
}

// lost tells whether so many decimals change a value by more than one in a
// hundred.
func lost(x float64, decimals int) bool {
	scale := math.Pow10(decimals)
	return math.Abs(math.Round(x*scale)/scale-x) > 0.01*math.Abs(x)
}

// Row shows what was read so far along a profile or round a turn: a small
// picture, and the same as a list.
func (v Voice) Row(q engine.Question) Screen {
	if q.Unit == nil {
		return nil
	}
	so := slices.Clone(q.So)
	if q.Take > 1 && q.Station > 0 && len(so) > 0 {
		so[(q.Station-1)%len(so)] = math.NaN() // earlier takes of this place stay hidden
	}
	var have []string
	for _, y := range so {
		if !math.IsNaN(y) {
			have = append(have, quantity.Number(y, *q.Unit, q.Decimals))
		}
	}
	if len(have) == 0 {
		return nil
	}
	var s Screen
	if len(have) > 1 && !v.Large && !v.Bare {
		for _, l := range Plot(q.At, so, min(v.columns(), 40)) {
			s = append(s, Line{Text: l})
		}
	}
	return append(s, labelled("So far", strings.Join(have, "  ")))
}
