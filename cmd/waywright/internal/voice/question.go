package voice

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"waywright/checks/quantity"
	"waywright/engine"
	"waywright/procedures"
)

// Act is what choosing an option does.
type Act uint8

// The acts.
const (
	Say      Act = iota // says Word
	Because             // asks why, and says Word with the reason
	Enter               // asks for a value, and says that
	Explains            // explains the question
	Leaves              // stops for today
	Stays               // says nothing: the question stays
	Retakes             // the odd one of a row is read again, alone
)

// Option is one numbered choice.
type Option struct {
	Label  string
	Act    Act
	Word   string
	Name   string // the name to answer under, where it is not the question's
	Prompt string // what to ask, for Because and Enter

	Reasons []string // the common ones, for Because, so that a keypad is enough
}

// Asked is a question as it is put to a person.
type Asked struct {
	Head    Screen // where, and what the machine is doing
	Body    Screen // what to do, what to know
	Ask     Screen // what to answer
	Options []Option
	Value   bool // a value may be typed as well
}

// All returns everything but the options.
func (a Asked) All() Screen {
	return append(append(append(Screen(nil), a.Head...), a.Body...), a.Ask...)
}

// Expired says what is to be done again by its age.
func (v Voice) Expired(q engine.Question) Line {
	return Line{Text: "AGAIN. " + Sentence(You(q.Expired))}
}

// Ask puts a question into words. GoOn is the number that means "go on" where
// the question is one of safety: 1 or 2. The time is for waits.
func (v Voice) Ask(q engine.Question, goOn int, now time.Time) Asked {
	a := Asked{Head: v.head(q)}
	if q.Expired != "" {
		a.Head = append(a.Head, v.Expired(q))
	}
	switch q.Kind {
	case engine.AskOperator:
		v.operator(q, &a)
	case engine.AskInstrument:
		v.instrument(q, &a)
	case engine.AskClear:
		v.clear(q, goOn, &a)
	case engine.AskRelease:
		a.Ask = say("HOLD POINT.", heldFor(q.Role), question(You(strings.TrimPrefix(q.Ask, "Hold point. "))))
		a.Value = true
	case engine.AskConfirm, engine.AskDone:
		v.confirm(q, &a)
	case engine.AskNudge:
		a.Body = v.work(q)
		v.nudge(q.Positive, q.Ask, &a)
	case engine.AskWait:
		v.wait(q, now, &a)
	case engine.AskWay:
		v.way(q, &a)
	case engine.AskMoved:
		v.moved(q, &a)
	case engine.AskMove:
		v.move(q, &a)
	case engine.AskDecider:
		v.decider(q, &a)
	case engine.AskConcession:
		v.concession(q, &a)
	case engine.AskSign:
		v.sign(q, &a)
	case engine.Blocked:
		a.Ask = say("This run cannot go on yet.", Sentence(You(q.Ask)), Sentence(You(q.Why)))
	case engine.End:
		a.Head = nil
	default: // a grade, a given, a reading
		v.value(q, &a)
	}
	return a
}

// heldFor says who has to come before work goes on.
func heldFor(role *procedures.Signoff) string {
	if role == nil {
		return ""
	}
	return "Nothing goes on here before the " + strings.ToUpper(name(role.Name)) + " has looked."
}

// head says where the question stands and what the spindle does.
func (v Voice) head(q engine.Question) Screen {
	if q.Kind == engine.AskOperator {
		return nil
	}
	if q.Step.N == 0 {
		return v.title()
	}
	step := fmt.Sprintf("step %d of %d", q.Step.N, q.Step.Of)
	if q.Kind == engine.AskClear {
		return v.title(step)
	}
	return say(Sentence("S"+step[1:]+", "+lowerFirst(You(q.Step.Title))), spindle(q.Spindle))
}

// title is the first line of a piece of work: the procedure's title up to a
// colon or comma, and the machine.
func (v Voice) title(more ...string) Screen {
	short := v.Title
	if i := strings.IndexAny(short, ":,"); i > 0 {
		short = short[:i]
	}
	parts := nonEmpty(append([]string{short, v.Machine}, more...)...)
	line := strings.Join(parts, "    ")
	if len([]rune(line)) > v.columns() {
		line = strings.Join(parts, "  ")
	}
	return say(line)
}

func spindle(s procedures.Spindle) string {
	switch s {
	case procedures.Stopped:
		return "SPINDLE STOPPED."
	case procedures.Turning:
		return "THE SPINDLE TURNS."
	}
	return ""
}

func nonEmpty(s ...string) []string {
	var out []string
	for _, t := range s {
		if t != "" {
			out = append(out, t)
		}
	}
	return out
}

// work says what to have ready and what to do first.
func (v Voice) work(q engine.Question) Screen {
	var s Screen
	if len(q.Tools) > 0 {
		s = append(s, labelled("Ready", You(strings.Join(q.Tools, "; "))+"."))
	}
	for _, d := range q.Do {
		s = append(s, Line{Text: Sentence(You(d))})
	}
	return s
}

func (v Voice) operator(q engine.Question, a *Asked) {
	a.Ask = say("Who is at the machine?")
	a.Value = true
	for _, c := range q.Choices {
		a.Options = append(a.Options, Option{Label: c.Label, Word: c.Word})
	}
	if len(a.Options) > 0 {
		a.Options = append(a.Options, Option{Label: "somebody else", Act: Enter, Prompt: "Your name?"})
	}
}

func (v Voice) instrument(q engine.Question, a *Asked) {
	a.Ask = say(question(You(q.Ask)))
	if q.Ask == "" {
		kind := ""
		if q.Instrument != nil {
			kind = " " + name(q.Instrument.Name) + " (" + q.Instrument.Kind + ")"
		}
		a.Ask = say("Which" + kind + " is in your hand?")
	}
	a.Ask = append(a.Ask, detail("-  it has no number"))
	a.Value = true
	for _, c := range q.Choices {
		a.Options = append(a.Options, Option{Label: You(c.Label), Word: c.Word})
	}
}

// clear shows the cautions, alone. The number of the answer that goes on is
// never 1 twice running.
func (v Voice) clear(q engine.Question, goOn int, a *Asked) {
	switch q.SpindleTo {
	case procedures.Turning:
		a.Body = say("THE SPINDLE WILL TURN.")
		if !warns(q, "rotating") {
			a.Body = append(a.Body, Line{Text: "Chuck key out. Guards shut. No gloves, no rings."})
		}
	case procedures.Stopped:
		a.Body = say("HANDS GO IN NOW.", "Spindle at rest, isolator off and locked, key out?")
	}
	for _, c := range q.Cautions {
		a.Body = append(a.Body, Line{Text: Sentence(You(c.Text))})
	}
	a.Ask = say("Your shop's own rules come first.")
	yes := "all clear"
	if q.SpindleTo == procedures.Stopped {
		yes = "all so"
	}
	a.Options = goOnAt(goOn, Option{Label: yes, Word: "yes"}, Option{Label: "not yet", Act: Stays})
}

// warns tells whether a caution of its own says what the standing line would.
func warns(q engine.Question, hazard string) bool {
	return slices.ContainsFunc(q.Cautions, func(c engine.CautionText) bool { return c.Hazard == hazard })
}

// goOnAt puts the option that goes on at the number n, 1 or 2.
func goOnAt(n int, yes, no Option) []Option {
	if n == 1 {
		return []Option{yes, no}
	}
	return []Option{no, yes}
}

// confirm asks for yes or no, or whether work is done: always in one order.
func (v Voice) confirm(q engine.Question, a *Asked) {
	a.Body = v.work(q)
	ask, yes, no := You(q.Ask), "yes", "no"
	if q.Kind == engine.AskDone {
		if ask == "" {
			ask = "Done"
		}
		yes, no = "done", "not yet"
	}
	a.Ask = say(question(ask))
	decline := Option{Label: no, Word: "no"}
	if q.Kind == engine.AskDone {
		decline = Option{Label: no, Act: Stays}
	}
	a.Options = []Option{{Label: yes, Word: "yes"}, decline}
	if q.Kind == engine.AskDone && len(q.Ways) > 0 && q.Ways[0].Advice != nil {
		ad := *q.Ways[0].Advice
		a.Body = v.Advised(ad)[1:]
		a.Options = append(v.done(ad), decline)
	}
}

// nudge asks which way the needle goes when the part is pushed.
func (v Voice) nudge(way, ask string, a *Asked) {
	if ask == "" {
		ask = "Push it " + strings.ToUpper(You(way)) + " by hand. The needle goes"
	}
	a.Ask = say(Mark(You(ask)))
	a.Options = []Option{{Label: "plus", Word: "plus"}, {Label: "minus", Word: "minus"}, {Label: "nowhere", Word: "nowhere"}}
}

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
	return limit(q.Range.From, u, d) + " to " + limit(q.Range.To, u, d)
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

// wait says how long still, and what ends it.
func (v Voice) wait(q engine.Question, now time.Time, a *Asked) {
	a.Body = v.work(q)
	w := q.Wait
	if w == nil {
		w = &engine.Waiting{}
	}
	if q.Why != "" {
		a.Body = append(a.Body, Line{Text: "WAIT: " + strings.TrimRight(You(q.Why), ".") + "."})
	}
	if w.Reading {
		work := a.Body
		v.value(q, a)
		a.Body = work
		if len(w.Last) > 0 && q.Unit != nil {
			a.Body = append(a.Body, labelled("Read", v.readings(w.Last, q)))
		}
		a.Body = append(a.Body, Line{Text: v.agreement(w, q)})
		a.Ask = append(a.Ask, detail("or type  short  and say why"))
		return
	}
	if w.Takes > 0 {
		if len(w.Last) > 0 && q.Unit != nil {
			a.Body = append(a.Body, labelled("Read", v.readings(w.Last, q)))
		}
		a.Body = append(a.Body, Line{Text: v.agreement(w, q)})
	}
	left := w.Over.Sub(now)
	switch {
	case w.Takes > 0 && len(w.Last) >= w.Takes:
		a.Ask = say("THE READINGS STILL DO NOT AGREE.")
		a.Options = []Option{
			{Label: "stop for today", Act: Leaves},
			{Label: "go on all the same, and say why", Act: Because, Word: "short", Prompt: "Why may it go on?", Reasons: disagreeReasons},
		}
		return
	case w.Over.IsZero() || left <= 0:
		a.Ask = say("THE TIME IS UP.")
		a.Options = []Option{{Label: "go on", Word: "over"}}
		return
	}
	if v.Watched {
		a.Body = append(a.Body, Line{Text: v.bar(now.Sub(w.From), left)})
	}
	a.Ask = say(v.Left(w.Over, now))
	a.Options = []Option{
		{Label: "cut it short, and say why", Act: Because, Word: "short", Prompt: "Why may it be short?", Reasons: shortReasons},
		{Label: "it has passed already, and say how you know", Act: Because, Word: "stated", Prompt: "How do you know?", Reasons: statedReasons},
		{Label: "stop for today", Act: Leaves},
	}
}

// Left says how long a wait still is.
func (v Voice) Left(over, now time.Time) string {
	return countdown(over.Sub(now)) + " left, until " + over.Local().Format("15:04") + "."
}

// bar shows how much of a wait has passed; the words below it say the same.
func (v Voice) bar(passed, left time.Duration) string {
	width := min(v.columns()-2, 40)
	done := int(float64(width) * float64(max(0, passed)) / float64(max(1, passed+left)))
	done = min(max(0, done), width)
	return "[" + strings.Repeat("#", done) + strings.Repeat(".", width-done) + "]"
}

func (v Voice) readings(last []float64, q engine.Question) string {
	out := make([]string, len(last))
	for i, y := range last {
		out[i] = quantity.Number(y, *q.Unit, q.Decimals)
	}
	return strings.Join(out, "  ")
}

func (v Voice) agreement(w *engine.Waiting, q engine.Question) string {
	if q.Unit == nil {
		return ""
	}
	s := "Done when two readings"
	if w.Every > 0 {
		s += ", " + duration(w.Every) + " apart,"
	}
	return s + " agree within " + hold(quantity.Plain(w.Agree, q.Unit.Difference())) + "."
}

// Numbered returns the options as they are shown, from 1.
func (v Voice) Numbered(options []Option) Screen {
	var s Screen
	for i, o := range options {
		s = append(s, Line{Text: fmt.Sprintf(" %d  %s", i+1, o.Label), Hang: 4})
	}
	return s
}

// Common reasons, to be chosen by number.
var (
	shortReasons      = []string{"no heat went in", "it is cold to the hand", "no time today"}
	disagreeReasons   = []string{"near enough for this part", "the room itself is changing", "no time today"}
	statedReasons     = []string{"by the shop's clock", "it was longer than that"}
	keepReasons       = []string{"measured afresh, it reads the same", "the part is like that", "another person read it too"}
	statedOddly       = []string{"it is so", "the machine is like that"}
	instrumentReasons = []string{"nothing better is in the shop", "the right one is away", "it will do for this part"}
	afreshReasons     = []string{"I do not trust a reading", "something was not clean", "it was touched"}
	leaveReasons      = []string{"good enough for its use", "no better with the means here", "agreed with the buyer"}
	giveUpReasons     = []string{"not worth more work", "damaged", "agreed with the buyer"}
	refuseReasons     = []string{"not good enough for its use", "to be measured better first"}
	AbandonReasons    = []string{"begun by mistake", "to be begun anew", "the machine is gone"}
	grantedReasons    = []string{"good enough for its use", "agreed with the buyer"}
)
