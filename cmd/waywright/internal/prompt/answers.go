package prompt

import (
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"waywright/cmd/waywright/internal/voice"
	"waywright/engine"
	"waywright/report/evidence"
)

// Answers answers from a file, a line at a time: name = value. The name has to
// be that of the question, or one that may be used in its place; optional
// questions that the next line does not name are left out, and the record says
// so. What is asked and what is read back is written to w.
//
// When the file ends before the run does, the run is paused. A line that
// cannot be carried out stops the run with a [FileError]; what the lines
// before it said is kept, and the run can be gone on with.
func Answers(r io.Reader, file string, w io.Writer, s Session, opts Options) (Result, error) {
	opts.Voice.Bare = true
	a := &answers{file: file, in: newStatementReader(r, file), s: s, opts: opts, v: opts.Voice, w: w}
	a.tell(opts.Before)
	if s.Next().Kind == engine.AskOperator {
		a.print(meanwhile(s, a.v))
	}
	for {
		st, err := a.in.next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err == nil {
			err = a.carryOut(st)
		}
		if a.done != nil && err == nil {
			return *a.done, nil
		}
		if err != nil {
			return a.pause("the answers stop"), err
		}
	}
	q := s.Next()
	if q.Kind == engine.End {
		return Result{Ended: true, Outcome: q.Outcome}, nil
	}
	a.print(a.v.AskedNext(q))
	return Result{Paused: true, Outcome: q.Outcome, Reason: "the answers end"}, nil
}

type answers struct {
	file string
	in   *statementReader
	s    Session
	opts Options
	v    voice.Voice
	w    io.Writer
	done *Result

	stood   string // the state that was told last
	expired string // what was said last to be done again by its age
	summed  bool   // that all is settled was said
}

func (a *answers) pause(reason string) Result {
	return Result{Paused: true, Outcome: a.s.Next().Outcome, Reason: reason}
}

// at returns an error at a statement.
func (a *answers) at(st Statement, column int, format string, args ...any) error {
	return &FileError{File: a.file, Line: st.Line, Column: column, Text: fmt.Sprintf(format, args...)}
}

func (a *answers) carryOut(st Statement) error {
	if done, err := a.graded(st); done || err != nil {
		return err
	}
	switch st.Verb {
	case engine.Answer, engine.Cannot:
		if err := a.comeTo(&st); err != nil {
			return err
		}
		if done, err := a.graded(st); done || err != nil { // by who sat down on the way
			return err
		}
	case engine.Attach:
		return a.attach(st)
	case engine.Pause:
		err := a.say(st, st.Input)
		done := a.pause("stopped")
		a.done = &done
		return err
	}
	if q := a.s.Next(); st.Verb == engine.Answer && q.File {
		return a.evidence(st)
	}
	return a.say(st, st.Input)
}

// graded tells whether a line gives the grade that the command line has given
// already.
func (a *answers) graded(st Statement) (done bool, err error) {
	now := a.s.State()
	if a.opts.Grade == "" || st.Name != "grade" || st.Verb != engine.Answer || now == nil || now.Grade() == "" {
		return false, nil
	}
	if now.Grade() != st.Text {
		return false, a.at(st, st.ValueColumn, "this says the grade %s, and the command line has said %s", st.Text, now.Grade())
	}
	return true, nil
}

// comeTo leaves out the optional questions before the one that a statement
// answers. It leaves out none unless that one comes.
func (a *answers) comeTo(st *Statement) error {
	skip, q, err := a.ahead(st.Input)
	if err != nil {
		return err
	}
	if byNumber(q, st.Name) {
		if st.Name = q.Name; q.Kind == engine.AskWay {
			st.Name = q.Also[0]
		}
	}
	st.Input = asRow(q, st.Input)
	if !mayAnswer(q, st.Name) {
		if _, ok := a.s.(instrumented); ok && strings.HasPrefix(st.Name, "instrument.") && q.Kind != engine.End {
			return nil // another instrument was taken into the hand
		}
		return a.mismatch(*st, q)
	}
	for range skip {
		if err := a.say(*st, engine.Input{Verb: engine.Omit}); err != nil {
			return err
		}
	}
	return nil
}

// mayAnswer tells whether a name may be used at a question.
func mayAnswer(q engine.Question, name string) bool {
	return name == "" || name == q.Name || slices.Contains(q.Also, name) || byNumber(q, name)
}

// byNumber tells whether a name is the number that a question has on a work
// sheet; a blank in it is written as a low line.
func byNumber(q engine.Question, name string) bool {
	return q.Field != "" && name == strings.ReplaceAll(q.Field, " ", "_")
}

// asRow gives the name of the present place to a row that is written under the
// name of its reading: "height = 0 3 4" where height.0 is asked. One value
// alone has to name its place.
func asRow(q engine.Question, in engine.Input) engine.Input {
	if in.Verb == engine.Answer && in.Name != "" && in.Name == rowName(q) && numbersIn(in.Text) > 1 {
		in.Name = q.Name
	}
	return in
}

// rowName is the name of the reading that a profile's or turn's place belongs
// to, or "".
func rowName(q engine.Question) string {
	name, way := strings.CutSuffix(q.Name, ".back")
	longest := ""
	for _, at := range q.At {
		for _, x := range []float64{at, at * 180 / math.Pi} { // a station in mm, an angle in degrees
			key := "." + strconv.FormatFloat(math.Round(x*1e6)/1e6, 'f', -1, 64)
			if strings.HasSuffix(name, key) && len(key) > len(longest) {
				longest = key
			}
		}
	}
	if longest == "" || q.Again {
		return ""
	}
	name = strings.TrimSuffix(name, longest)
	if way {
		name += ".back"
	}
	return name
}

// numbersIn counts the numbers of a row, whatever units stand between them.
func numbersIn(text string) int {
	n := 0
	for _, f := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ';' }) {
		if f = strings.TrimLeft(f, "+-.,"); f != "" && f[0] >= '0' && f[0] <= '9' {
			n++
		}
	}
	return n
}

// ahead looks how many optional questions stand before one that the input
// answers, and returns that one, or the one that is in the way.
func (a *answers) ahead(in engine.Input) (skip int, q engine.Question, err error) {
	q = a.s.Next()
	st, now := a.s.State(), a.s.Now()
	for (q.Optional || a.knows(q)) && !mayAnswer(q, in.Name) && st != nil {
		as := engine.Input{Verb: engine.Omit}
		if a.knows(q) { // the session says it, once somebody has sat down
			as = engine.Input{Text: a.opts.Grade}
			skip--
		}
		data, refusal := st.Reply(now, as)
		if refusal != nil {
			break
		}
		if st, err = st.With(eventsOf(st, now, data)...); err != nil {
			return 0, q, err
		}
		skip++
		if skip > 10000 {
			return 0, q, errors.New("prompt: leaving questions out has no end")
		}
		q = st.Next(now)
	}
	return skip, q, nil
}

// knows tells whether a question is answered by what was said beforehand.
func (a *answers) knows(q engine.Question) bool {
	return q.Kind == engine.AskGrade && a.opts.Grade != ""
}

func eventsOf(st *engine.State, now time.Time, data []engine.Data) []engine.Event {
	out := make([]engine.Event, len(data))
	for i, d := range data {
		out[i] = engine.Event{N: st.Len() + i + 1, Time: now, By: st.Author(d), Data: d}
	}
	return out
}

func (a *answers) mismatch(st Statement, q engine.Question) error {
	switch q.Kind {
	case engine.End:
		return a.at(st, st.Column, "this answers %s, but nothing more is asked: the run is at its end", st.Name)
	case engine.Blocked:
		return a.at(st, st.Column, "this answers %s, but the run waits for %s: %s", st.Name, q.Name, q.Why)
	}
	also := ""
	if len(q.Also) > 0 {
		also = " (or " + strings.Join(q.Also, ", ") + ")"
	}
	return a.at(st, st.Column, "this answers %s, but %s%s is asked: %s", st.Name, q.Name, also, strings.TrimSpace(q.Ask))
}

// say tells the engine, and writes what it answers.
func (a *answers) say(st Statement, in engine.Input) error {
	q := a.s.Next()
	if in.Verb == engine.Answer && mayAnswer(q, in.Name) {
		a.ask(q)
		if c := q.Clear; c != nil && in.Name == c.Name { // the way is taken with its cautions, which are shown first
			fmt.Fprintf(a.w, "> %s\n", q.Ways[0].Name)
			a.ask(*c)
		}
		fmt.Fprintf(a.w, "> %s\n", in.Text)
		in.Text = Typed(q, in.Text)
	}
	notices, refusal, err := a.s.Say(in)
	if err != nil {
		return err
	}
	if refusal != nil {
		return a.refused(st, *refusal)
	}
	a.tell(notices)
	return nil
}

// ask writes what is asked, so that what was done can be followed. What a gate
// or a movement has to be told of stands above already.
func (a *answers) ask(q engine.Question) {
	asked := a.v.Ask(q, 2, a.s.Now())
	what, _, _ := strings.Cut(q.Expired, ":")
	if what != a.expired && what != "" { // said once, above the first question that it asks again
		a.print(append(voice.Screen{{}}, a.v.Expired(q)))
	}
	a.expired = what
	switch q.Kind {
	case engine.AskMove:
		return
	case engine.AskClear:
		a.print(append(voice.Screen{{}}, asked.Body...))
	case engine.AskDecider, engine.AskConcession, engine.AskSign:
		a.print(append(append(voice.Screen{{}}, asked.Head...), asked.Body...))
	}
	a.print(asked.Ask)
}

// stand tells the state that a question is about, and the answers there are to
// it, before it is answered: of a gate that is not passed, and of a movement
// that was not as asked. It is said once.
func (a *answers) stand(q engine.Question) {
	if !stands(q) {
		a.stood = ""
		return
	}
	asked := a.v.Ask(q, 2, a.s.Now())
	s := append(append(voice.Screen{{}}, asked.Head...), asked.Body...)
	options := asked.Options
	if q.Kind == engine.AskWay {
		options = a.v.OtherWays(q)
	} else {
		s = append(s, asked.Ask...)
	}
	s = append(s, a.v.Words(q.Name, options)...)
	if said := strings.Join(a.v.Lay(s), "\n"); said != a.stood {
		a.stood = said
		a.print(s)
	}
}

// sum says how the run stands when all is settled, and at its end.
func (a *answers) sum(q engine.Question) {
	st := a.s.State()
	switch {
	case st == nil:
	case q.Kind == engine.End:
		a.print(a.v.Ended(q.Outcome, st.Judgements()))
	case (q.Kind == engine.AskSign || q.Kind == engine.AskDecider || q.Kind == engine.AskConcession) && !a.summed:
		a.summed = true
		a.print(a.v.Ended(engine.NotDecided, st.Judgements()))
	}
}

func (a *answers) refused(st Statement, r engine.Refusal) error {
	column := st.Column
	if st.ValueColumn > 0 {
		column = st.ValueColumn
	}
	text := strings.Join(nonEmpty(r.Understood, r.Wrong, r.Mend), " ")
	if r.Keep {
		text += " Here: write because and the reason behind the value."
	}
	return a.at(st, column, "%s", text)
}

func nonEmpty(s ...string) []string {
	return slices.DeleteFunc(s, func(t string) bool { return strings.TrimSpace(t) == "" })
}

// tell says what was kept and what comes of it, then where the run stands. What
// the next question tells is not said twice.
func (a *answers) tell(notices []engine.Notice) {
	q := seated(a.s)
	for _, n := range notices {
		if !repeats(q, n) {
			a.print(a.v.Told(n))
		}
	}
	a.sum(q)
	a.stand(q)
}

func (a *answers) print(s voice.Screen) {
	for _, l := range a.v.Lay(s) {
		fmt.Fprintln(a.w, l)
	}
}

func (a *answers) attach(st Statement) error {
	f, err := a.put(st, st.Path, st.Column, st.NoPlace)
	if err != nil {
		return err
	}
	in := st.Input
	in.File = f
	return a.say(st, in)
}

// evidence answers a question that asks for a file.
func (a *answers) evidence(st Statement) error {
	path, noPlace := placed(st.Text)
	f, err := a.put(st, path, st.ValueColumn, noPlace)
	if err != nil {
		return err
	}
	in := st.Input
	in.File = f
	return a.say(st, in)
}

func (a *answers) put(st Statement, path string, column int, noPlace bool) (*engine.File, error) {
	how := evidence.AsItIs
	if noPlace {
		how = evidence.NoPlace
	}
	if a.opts.Attach == nil {
		return nil, a.at(st, column, "the file %q cannot be kept: this run keeps no files", path)
	}
	f, err := a.opts.Attach(path, how)
	if err != nil {
		e := a.at(st, column, "the file %q cannot be kept: %v", path, err).(*FileError)
		e.Err = err
		return nil, e
	}
	return f, nil
}
