package voice

import (
	"fmt"
	"slices"
	"strings"
	"time"

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
	if q.Sheet {
		return v.onPaper(q, a)
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
