package prompt

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"waywright/checks/quantity"
	"waywright/cmd/waywright/internal/voice"
	"waywright/engine"
	"waywright/procedures"
)

// talk is one sitting in front of a person, apart from how lines come in and
// go out: it holds the question, takes a line, and tells what to say.
type talk struct {
	s     Session
	opts  Options
	v     voice.Voice
	q     engine.Question
	asked voice.Asked
	page  *page // what is asked in between; nil for the question itself
	held  *held // the rest of a row, while one of its values is read again
	part  int   // which screen of the question, in large letters
	goOn  int   // the number that goes on in the next question of safety

	redraws bool // the screen goes when it is answered: a verdict on it is said again
	rows    int  // lines of the screen, where it is redrawn
	summed  bool // that all is settled was said
	result  *Result
	err     error // the journal could not be written: the sitting is over
}

// page is a question of the front end's own, in between.
type page struct {
	screen  voice.Screen
	options []string
	pick    func(i int) reply
	typed   func(line string) reply // anything but an option; nil refuses it
	help    voice.Screen            // what / says here; nil explains the question behind
	leave   func() reply            // goes back; nil to the question, from its beginning
}

// reply is what a line led to.
type reply struct {
	log    voice.Screen // said once; it stays to be read above the question
	remark voice.Screen // said about the line, with the question
	fresh  bool         // something else is asked now: the line is done with
}

func newTalk(s Session, opts Options) (*talk, reply) {
	t := &talk{s: s, opts: opts, v: opts.Voice, goOn: 2}
	r := t.kept(opts.Before)
	if t.q.Kind == engine.AskOperator {
		r.log = append(r.log, t.v.Standing(seated(s))...)
		r.log = append(r.log, meanwhile(s, t.v)...)
	}
	if t.result == nil {
		r.log = append(r.log, voice.Line{Text: "At every question  * opens the menu,  / explains."})
	}
	return t, r
}

// load asks the engine what is next.
func (t *talk) load() voice.Screen {
	t.page, t.part = nil, 0
	t.q = t.s.Next()
	if t.q.Kind == engine.AskInstrument && t.q.Instrument != nil && t.opts.Instruments != nil {
		t.q.Choices = t.opts.Instruments(t.q.Instrument.Kind)
	}
	t.asked = t.v.Ask(t.q, t.goOn, t.s.Now())
	var said voice.Screen
	switch t.q.Kind {
	case engine.AskSign, engine.AskDecider, engine.AskConcession:
		if !t.summed {
			t.summed = true
			said = t.v.Ended(engine.NotDecided, t.judgements())
		}
	case engine.End:
		said = t.v.Ended(t.q.Outcome, t.judgements())
		t.result = &Result{Ended: true, Outcome: t.q.Outcome}
	case engine.Blocked:
		said = t.asked.All()
		t.stop("a value must come from elsewhere")
	}
	return said
}

func (t *talk) judgements() []engine.Judgement {
	if st := t.s.State(); st != nil {
		return st.Judgements()
	}
	return nil
}

// lines is the screen as it stands.
func (t *talk) lines() []string {
	if t.page != nil {
		return t.v.Lay(append(t.page.screen[:len(t.page.screen):len(t.page.screen)], numbered(t.page.options)...))
	}
	pages := t.pages()
	if len(pages) == 0 {
		return nil
	}
	return pages[min(t.part, len(pages)-1)]
}

// head says where the question stands. It is empty for a page in between.
func (t *talk) head() string {
	if t.page != nil {
		return ""
	}
	return strings.Join(t.v.Lay(t.asked.Head), "\n")
}

// linesAfter is the screen without its head, where that was said last.
func (t *talk) linesAfter(head string) []string {
	lines := t.lines()
	if head == "" || t.v.Large || t.head() != head {
		return lines
	}
	return lines[len(t.v.Lay(t.asked.Head)):]
}

func (t *talk) pages() [][]string {
	if t.redraws && !t.v.Large && t.q.Kind == engine.AskWay {
		return t.v.Leaves(t.asked, t.rows-aroundLines) // the verdict stands first, and is seen first
	}
	return t.v.Pages(t.asked)
}

func numbered(options []string) voice.Screen {
	var s voice.Screen
	for i, o := range options {
		s = append(s, voice.Line{Text: fmt.Sprintf(" %d  %s", i+1, o), Hang: 4})
	}
	return s
}

// enter takes a line that a person typed.
func (t *talk) enter(line string) reply {
	line = strings.TrimSpace(line)
	if t.page != nil {
		return t.enterPage(line)
	}
	if line == "" {
		return t.nothing()
	}
	if r, ok := t.command(line); ok {
		return r
	}
	if t.part < len(t.pages())-1 {
		r := remark("There is more to read first. Enter turns the page.")
		r.fresh = true // the line is emptied, so that Enter alone can turn it
		return r
	}
	if o, ok := match(line, t.asked.Options); ok {
		return t.act(o, line)
	}
	return t.answer(line)
}

// nothing is Enter alone: it turns the page in large letters, and answers
// nothing.
func (t *talk) nothing() reply {
	if n := len(t.pages()); n > 1 {
		t.part = (t.part + 1) % n
		return reply{fresh: true}
	}
	return remark("I read nothing. Enter alone answers nothing.")
}

// looksRead tells whether what was typed for the number of an instrument is a
// reading that was typed too early: 24.812, or 0.10 mm.
func looksRead(line string) bool {
	if strings.Trim(line, "+-0123456789., ") == "" {
		return strings.ContainsAny(line, ".,")
	}
	typed, err := quantity.Parse(line, quantity.Context{Any: true})
	return err == nil && len(typed) > 0 && typed[0].HasUnit
}

func remark(texts ...string) reply {
	var s voice.Screen
	for _, text := range texts {
		s = append(s, voice.Line{Text: text})
	}
	return reply{remark: s}
}

// match finds the option that was typed, by its number or its words.
func match(line string, options []voice.Option) (voice.Option, bool) {
	for _, o := range options {
		if no := strings.ToLower(line); o.Act == voice.Stays && (no == "no" || no == "n") {
			return o, true
		}
		if o.Word != "" && strings.EqualFold(line, o.Word) || strings.EqualFold(line, o.Label) {
			return o, true
		}
	}
	if n, err := strconv.Atoi(line); err == nil && n >= 1 && n <= len(options) && line == strconv.Itoa(n) {
		return options[n-1], true
	}
	return voice.Option{}, false
}

// act does what an option says.
func (t *talk) act(o voice.Option, line string) reply {
	switch o.Act {
	case voice.Because:
		return t.why(o.Prompt, o.Reasons, func(reason string) reply {
			return t.say(engine.Input{Name: o.Name, Text: o.Word, Reason: reason})
		})
	case voice.Enter:
		return t.value(o)
	case voice.Explains:
		return t.explain()
	case voice.Leaves:
		return t.stopNow()
	case voice.Stays:
		return remark("Nothing is recorded. The question stays.")
	}
	return t.say(engine.Input{Name: o.Name, Text: o.Word})
}

// answer says what was typed to the engine, asking once more where it is
// wanted so.
func (t *talk) answer(line string) reply {
	in := engine.Input{Text: Typed(t.q, line)}
	switch t.q.Kind {
	case engine.AskOperator, engine.AskSign, engine.AskRelease, engine.AskDecider:
		if !named(line) {
			return remark("I read " + line + ". That is not a name.")
		}
	case engine.AskWay:
		if t.asked.Value && len(t.q.Also) > 0 && strings.ContainsAny(line, "0123456789") {
			in.Name = t.q.Also[0]
		}
	case engine.AskMove:
		if strings.Trim(line, "0123456789") == "" {
			return remark("I read "+line+". That is none of the choices, and no movement as it stands.",
				"Type the movement with its sign, its direction or its unit.")
		}
	case engine.AskInstrument:
		if in.Text == line && looksRead(line) {
			return t.open(page{
				screen: lines("I read " + line + ", which looks like a reading. Is it the number of the instrument?"), options: []string{"no, again", "yes, its number"},
				pick: func(i int) reply {
					if i == 0 {
						return t.again()
					}
					return t.say(in)
				},
			})
		}
	}
	if t.q.Kind == engine.AskSign && len(t.q.Open) == 0 {
		return t.signNow(line)
	}
	if t.q.File {
		path, without := placed(line)
		return t.file(path, without, func(f *engine.File) reply { return t.say(engine.Input{Text: f.Name, File: f}) })
	}
	if t.v.Large && t.asked.Value && t.q.Unit != nil {
		return t.readBack(line, in)
	}
	return t.say(in)
}

// named tells whether a text may be a name: it has more than figures.
func named(line string) bool { return strings.Trim(line, "+-0123456789., ") != "" }

// say tells the engine, and what it answers.
func (t *talk) say(in engine.Input) reply {
	q := t.q
	notices, refusal, err := t.s.Say(in)
	switch {
	case err != nil:
		t.err = err
		t.result = &Result{Paused: true, Outcome: engine.NotDecided, Reason: "the journal could not be written"}
		return reply{fresh: true}
	case refusal != nil:
		return t.refused(in, *refusal)
	}
	t.goOn = wentOn(q, in, t.goOn)
	r := t.kept(notices)
	if more, ok := t.release(q, in); ok {
		r.log = append(r.log, more.log...)
		return reply{log: r.log, remark: more.remark, fresh: true}
	}
	r.log = append(r.log, t.row(q)...)
	if t.redraws && q.Kind == engine.AskWay && q.Gate != nil {
		r.log = append(append(append(voice.Screen{{}}, t.v.Judged(*q.Gate)...), t.v.Changed(*q.Gate, q.Change)...), r.log...)
	}
	return r
}

// wentOn returns the number that goes on at the next question of safety, after
// the answer that goes on at q: never the one that went on last. Plain yes and
// no stand still, yes first.
func wentOn(q engine.Question, in engine.Input, now int) int {
	switch {
	case in.Verb != engine.Answer || strings.EqualFold(in.Text, "no"):
		return now
	case q.Kind == engine.AskClear:
		return 3 - now
	case q.Kind == engine.AskConfirm, q.Kind == engine.AskDone, q.Kind == engine.AskWait && in.Text == "over":
		return 2
	}
	return now
}

// kept says what was kept and goes on to the next question. What that
// question tells itself is not said twice.
func (t *talk) kept(notices []engine.Notice) reply {
	next := t.load()
	r := reply{fresh: true}
	for _, n := range notices {
		if !repeats(t.q, n) {
			r.log = append(r.log, t.v.Told(n)...)
		}
	}
	r.log = append(r.log, next...)
	return r
}

// repeats tells whether the question that comes next tells by itself what a
// notice says.
func repeats(q engine.Question, n engine.Notice) bool {
	switch {
	case n.Judgement != nil && q.Move != nil && q.Move.Nudge:
		return true // nothing is to be moved before the needle is tested
	case n.Judgement != nil && q.Gate != nil:
		return q.Kind == engine.AskWay && n.Judgement.Name == q.Gate.Name
	case n.Response != nil && q.Response != nil:
		return n.Response.Correction == q.Response.Correction && n.Response.Attempt == q.Response.Attempt
	}
	return n.Kind == engine.Ended
}

// seated returns what a run asks once somebody has said who is at the machine.
func seated(s Session) engine.Question {
	q, _ := past(s, engine.AskOperator)
	return q
}

// past returns what a run asks behind questions of these kinds, and the state of
// the spindle that one of them asked for.
func past(s Session, kinds ...engine.Kind) (q engine.Question, spindle procedures.Spindle) {
	q = s.Next()
	st, now := s.State(), s.Now()
	for n := 0; st != nil && n < 8 && slices.Contains(kinds, q.Kind); n++ {
		data, refusal := st.Reply(now, engine.Input{Verb: engine.Omit})
		if refusal != nil {
			break
		}
		after, err := st.With(eventsOf(st, now, data)...)
		if err != nil {
			break
		}
		if q.SpindleTo != procedures.AnySpindle {
			spindle = q.SpindleTo
		}
		st, q = after, after.Next(now)
	}
	return q, spindle
}

// meanwhile says how far a wait has come on which a run was left.
func meanwhile(s Session, v voice.Voice) voice.Screen {
	q, spindle := past(s, engine.AskOperator, engine.AskClear)
	return v.Meanwhile(q, spindle, s.Now())
}

// stands tells whether a question has a state to tell of before it is asked: a
// gate that is not passed, or a movement that was not as asked.
func stands(q engine.Question) bool { return q.Kind == engine.AskWay || q.Kind == engine.AskMove }

// refused says why an answer was not kept. An odd value may be kept with a
// reason; a missing reason is asked for.
func (t *talk) refused(in engine.Input, r engine.Refusal) reply {
	if r.Code == "choice" && len(t.asked.Options) > 0 && !t.asked.Value {
		r.Mend = "Type one of the numbers." // they stand there; the words are those of answers files
	}
	said := t.v.Refused(r)
	switch {
	case r.Keep:
		options := t.v.Insist(t.q, r, in.Text)
		if len(r.Row) > 0 {
			said = append(said, t.v.OddInRow(t.q, r))
		}
		t.page = &page{screen: said, options: labels(options)}
		if len(r.Row) > 0 {
			t.page.pick = func(i int) reply { return t.insistInRow(r, options[i]) }
			t.page.typed = t.instead
			return reply{fresh: true}
		}
		t.page.pick = func(i int) reply { return t.insist(in, options[i]) }
		t.page.typed = t.instead
		return reply{fresh: true}
	case r.Code == "reason" && in.Reason == "":
		return t.why("Why?", nil, func(reason string) reply {
			in.Reason = reason
			return t.say(in)
		})
	}
	if t.page != nil {
		t.page = nil
		return reply{remark: said, fresh: true}
	}
	return reply{remark: said}
}

// instead takes what was typed in the place of an odd value.
func (t *talk) instead(line string) reply {
	t.page = nil
	return t.answer(line)
}

func (t *talk) insist(in engine.Input, o voice.Option) reply {
	switch o.Act {
	case voice.Stays:
		return t.again()
	case voice.Because:
		return t.why(o.Prompt, o.Reasons, func(reason string) reply {
			in.Reason = reason
			return t.say(in)
		})
	}
	in.Text = o.Word
	return t.say(in)
}

func labels(options []voice.Option) []string {
	out := make([]string, len(options))
	for i, o := range options {
		out[i] = o.Label
	}
	return out
}

// again puts the question once more.
func (t *talk) again() reply {
	t.page, t.part = nil, 0
	t.asked = t.v.Ask(t.q, t.goOn, t.s.Now())
	return reply{fresh: true}
}

// stopNow ends the sitting because the person says so.
func (t *talk) stopNow() reply {
	t.stop("stopped")
	return reply{fresh: true}
}

// stop ends the sitting. Nothing is lost if the pause itself cannot be kept.
func (t *talk) stop(reason string) {
	if t.result != nil {
		return
	}
	outcome := t.q.Outcome
	_, _, err := t.s.Say(engine.Input{Verb: engine.Pause, Reason: pauseReason(reason)})
	if err != nil {
		t.err = err
	}
	t.result = &Result{Paused: true, Outcome: outcome, Reason: reason}
}

func pauseReason(reason string) string {
	if reason == "stopped" {
		return ""
	}
	return reason
}

// lookAgain asks the engine again while a wait is on. It reports whether the
// wait asks for something else now: its time has passed, or a reading is due.
func (t *talk) lookAgain() (changed bool) {
	now := t.s.Now()
	q := t.s.Next()
	if q.Kind != engine.AskWait || q.Name != t.q.Name || q.Wait == nil || t.q.Wait == nil {
		return false
	}
	asked := t.v.Ask(q, t.goOn, now)
	changed = q.Wait.Reading != t.q.Wait.Reading || len(asked.Options) != len(t.asked.Options)
	t.q, t.asked = q, asked
	return changed
}
