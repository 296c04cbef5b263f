package vet

import (
	"slices"
	"strings"
	"unicode/utf8"

	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/direction"
	"waywright/procedures/source"
)

// longAsk is how many characters a question may have: it is read at arm's
// length, on a narrow screen.
const longAsk = 48

// ways are the words, besides those that have an opposite, by which a person
// in front of a machine knows where to.
var ways = []string{"on", "off", "over", "under", "shim", "scrape", "remove", "add", "lift", "operator", "column", "nose", "north", "south", "east", "west"}

// saysNothing are texts that repeat the sign instead of saying the way.
var saysNothing = []string{"plus", "minus", "positive", "negative", "+", "-", "−", "yes", "above zero", "below zero"}

// questions looks at the texts that people read.
func (v *vetting) questions() {
	w := newWorld(v.ix, nil)
	ask := func(in string, block source.Range, p procedures.Text, e env) {
		if p == nil {
			return
		}
		if n := utf8.RuneCountInString(p.Words(e)); n > longAsk {
			v.say("W605", in, block, p.At(), "The question has %d characters, and %d are read at a glance. Put the place first, then the quantity; the rest belongs in do.", n, longAsk)
		}
		v.placeFirst(in, block, p, p.Words(e))
	}
	for _, g := range v.ix.p.Givens {
		ask(givenIn(g), g.At, g.Ask, eachFirst(g.Each, w.env()))
		v.noRange(givenIn(g), g.At, g.Answer, g.Ask != nil)
	}
	for _, s := range v.ix.p.Steps {
		v.turning(stepIn(s), s.At, s.Spindle, s.Cautions)
		e := firstKeys(w, s)
		for _, item := range s.Items {
			switch x := item.(type) {
			case *procedures.Reading:
				ask(readingIn(x), x.At, x.Ask, w.firstPlace(x, eachFirst(x.Each, e)))
				v.noRange(readingIn(x), x.At, x.Answer, true)
			case *procedures.Wait:
				if x.Until != nil {
					e.each = withKey(e.each, "take", value.Num(1))
					ask(`wait "`+x.Name+`"`, x.At, x.Until.Ask, e)
				}
			case *procedures.Result:
				v.resultWords(x)
			}
		}
	}
	for _, c := range v.ix.p.Corrections {
		v.turning(correctionIn(c), c.At, c.Spindle, c.Cautions)
		v.correctionWords(c, w)
	}
}

// eachFirst takes the first key of each.
func eachFirst(each []*procedures.Each, e env) env {
	for _, x := range each {
		if ks, ok := keys(x, e); ok && len(ks) > 0 {
			e = e.with(x, ks[0])
		}
	}
	return e
}

func withKey(m map[string]value.Value, name string, v value.Value) map[string]value.Value {
	out := map[string]value.Value{name: v}
	for k, x := range m {
		out[k] = x
	}
	return out
}

// firstPlace adds the first station, angle and take.
func (w *world) firstPlace(x *procedures.Reading, e env) env {
	at, kind, ok := places(x, e)
	if ok && len(at) > 0 {
		name := "station"
		if kind == value.Turn {
			name = "angle"
		}
		e.each = withKey(e.each, name, value.Num(at[0]))
	}
	e.each = withKey(e.each, "take", value.Num(1))
	return e
}

func (v *vetting) noRange(in string, at source.Range, a procedures.Answer, typed bool) {
	if v.whole && typed && (a.Unit != nil || a.Count) && a.Range[0] == nil {
		v.say("W607", in, at, at, "Any value would be taken. Write range = [ …, … ], wide enough for every machine of the class.")
	}
}

// turning warns where the spindle turns and nothing is said of it.
func (v *vetting) turning(in string, at source.Range, s procedures.Spindle, cautions []*procedures.Caution) {
	if s != procedures.Turning {
		return
	}
	if !slices.ContainsFunc(cautions, func(c *procedures.Caution) bool { return c.Hazard == "rotating" }) {
		v.say("W602", in, at, at, "The spindle turns, and no caution of the hazard \"rotating\" is shown. Write caution = [caution.rotating].")
	}
}

func (v *vetting) resultWords(x *procedures.Result) {
	if x.Value == nil || x.Unit == nil {
		return
	}
	if x.Positive == nil {
		v.say("W603", resultIn(x), x.At, x.At, "It is not said what plus means. Write positive = \"…\"; for what cannot be below nothing, positive = \"never below nothing\".")
		return
	}
	if !v.sign(resultIn(x), x.At, x.Positive) {
		return
	}
	text, ok := x.Positive.Static()
	if ok {
		v.directionFirst(resultIn(x), x.At, x.Positive, text.Text)
	}
	if _, turns := direction.Opposite(text.Text); ok && !turns && !unsigned(text.Text) {
		v.say("W612", resultIn(x), x.At, x.Positive.At(), "Below nothing it could not be told in words, since no word in it has an opposite. Use words such as high, larger, towards, up; for what cannot be below nothing write \"never below nothing\".")
	}
}

// unsigned tells whether words say that there is no other way.
func unsigned(s string) bool {
	first, _, _ := strings.Cut(s, " ")
	return first == "never" || first == "always"
}

// sign warns of a text that only repeats the sign.
func (v *vetting) sign(in string, at source.Range, p procedures.Text) bool {
	s, ok := p.Static()
	if ok && slices.Contains(saysNothing, strings.ToLower(strings.TrimSpace(s.Text))) {
		v.say("W612", in, at, p.At(), "%q repeats the sign. Say it as it is seen in front of the machine: \"towards the operator\", \"high at the free end\".", s.Text)
		return false
	}
	return true
}

// correctionWords looks for the way to go in the words of a correction.
func (v *vetting) correctionWords(c *procedures.Correction, w *world) {
	for _, p := range []procedures.Text{c.Positive, c.Negative} {
		if p == nil || !v.sign(correctionIn(c), c.At, p) {
			continue
		}
		if !hasWay(p.Words(w.env())) {
			v.say("W612", correctionIn(c), c.At, p.At(), "No word in it says which way. Begin with the direction: towards, away from, up, down, raise, lower, shim, scrape off.")
			continue
		}
		v.directionFirst(correctionIn(c), c.At, p, p.Words(w.env()))
	}
	if c.Moved == nil || c.Moved.Ask == nil {
		return
	}
	text := c.Moved.Ask.Words(w.env())
	if n := utf8.RuneCountInString(text); n > longAsk {
		v.say("W605", correctionIn(c), c.At, c.Moved.Ask.At(), "The question has %d characters, and %d are read at a glance. Write, for example, %q.", n, longAsk, movedAsk(c, w))
	}
	if !strings.Contains(strings.ToLower(text), "way") && !hasWay(text) {
		v.say("W606", correctionIn(c), c.At, c.Moved.Ask.At(), "What is read has a way as well as a size, and the question asks for the size alone. Write, for example, %q.", movedAsk(c, w))
	}
}

// movedAsk is a question that a correction could ask.
func movedAsk(c *procedures.Correction, w *world) string {
	plus := "towards the operator"
	if c.Positive != nil {
		if x := c.Positive.Words(w.env()); hasWay(x) && !slices.Contains(saysNothing, strings.ToLower(x)) {
			plus = x
		}
	}
	if ask := "Moved, plus " + plus; utf8.RuneCountInString(ask) <= longAsk {
		return ask
	}
	return "How far after locking, and which way?"
}

func hasWay(s string) bool {
	if _, ok := direction.Opposite(s); ok {
		return true
	}
	for _, word := range strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return r < 'a' || r > 'z' }) {
		if slices.Contains(ways, word) {
			return true
		}
	}
	return false
}
