package protocol

import (
	"bufio"
	"bytes"
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"waywright/cmd/waywright/internal/prompt"
	"waywright/engine"
	"waywright/report/evidence"
)

// Version is the version of the protocol.
const Version = 1

// Schema is the JSON Schema of every line that comes out, and of those that go
// in.
//
//go:embed protocol.schema.json
var Schema []byte

// maxLine is the longest line that is read, in bytes.
const maxLine = 1 << 20

// Options are what the protocol needs to know besides the run.
type Options struct {
	// Before is told before the first question.
	Before []engine.Notice

	// Attach puts a file into its place beside the run. Without it no file
	// can be kept.
	Attach func(path string, how evidence.Keeping) (*engine.File, error)

	// Record writes the record when the session ends and returns where it is.
	// Without it none is told.
	Record func(prompt.Result) (path string, err error)
}

// Serve speaks the protocol until the run is at its end, it is paused, or the
// input ends. The error is one of the journal, the record or the streams.
func Serve(r io.Reader, w io.Writer, s prompt.Session, opts Options) (prompt.Result, error) {
	c := &conn{in: bufio.NewReader(r), out: w, s: s, opts: opts}
	result, err := c.serve()
	if err != nil && !errors.Is(err, errWrite) {
		result = prompt.Result{Paused: true, Outcome: result.Outcome, Reason: "the session could not go on"}
	}
	return result, errors.Join(err, c.end(result, err))
}

type conn struct {
	in   *bufio.Reader
	out  io.Writer
	s    prompt.Session
	opts Options
	q    engine.Question
	id   int
}

var errWrite = errors.New("protocol: the output cannot be written")

func (c *conn) send(v any) error {
	b, err := json.Marshal(v)
	if err != nil {
		return fmt.Errorf("protocol: %w", err)
	}
	if _, err := c.out.Write(append(b, '\n')); err != nil {
		return fmt.Errorf("%w: %w", errWrite, err)
	}
	return nil
}

func (c *conn) serve() (prompt.Result, error) {
	if err := c.tell(c.opts.Before); err != nil {
		return c.paused("stopped"), err
	}
	for {
		if done, err := c.ask(true); done != nil || err != nil {
			return orPaused(done), err
		}
		for asked := false; !asked; {
			line, err := c.read()
			if errors.Is(err, io.EOF) {
				_, _, err = c.s.Say(engine.Input{Verb: engine.Pause, Reason: "the input ended"})
				return c.paused("the input ended"), err
			}
			if err != nil {
				return c.paused("stopped"), err
			}
			var done *prompt.Result
			if asked, done, err = c.take(line); done != nil || err != nil {
				return orPaused(done), err
			}
		}
	}
}

func orPaused(r *prompt.Result) prompt.Result {
	if r == nil {
		return prompt.Result{Paused: true, Outcome: engine.NotDecided}
	}
	return *r
}

func (c *conn) paused(reason string) prompt.Result {
	return prompt.Result{Paused: true, Outcome: c.s.Next().Outcome, Reason: reason}
}

// ask sends the open question, after the advice that it offers. At the end of
// the run it returns the result instead.
func (c *conn) ask(another bool) (*prompt.Result, error) {
	c.q = c.s.Next()
	if c.q.Kind == engine.End {
		return &prompt.Result{Ended: true, Outcome: c.q.Outcome}, nil
	}
	if another {
		c.id++
	}
	sh := shape{c.inch()}
	for _, w := range c.q.Ways {
		if w.Advice == nil {
			continue
		}
		a := sh.advice(w)
		a.V, a.Type, a.Gate = Version, "advice", c.q.Name
		if c.q.Gate != nil {
			a.Gate = c.q.Gate.Name
		}
		if err := c.send(a); err != nil {
			return nil, err
		}
	}
	q := sh.question(c.q, c.round())
	q.ID = strconv.Itoa(c.id)
	if st := c.s.State(); st != nil && c.q.Kind == engine.AskOperator {
		q.LeavesOut = choicesOf(st.LeavesOut())
	}
	if err := c.send(q); err != nil {
		return nil, err
	}
	if c.q.Kind == engine.Blocked {
		_, _, err := c.s.Say(engine.Input{Verb: engine.Pause, Reason: "a value must come from elsewhere"})
		r := c.paused("a value must come from elsewhere")
		return &r, err
	}
	return nil, nil
}

func (c *conn) inch() bool {
	st := c.s.State()
	return st != nil && st.Inch()
}

// round tells whether the places of the open question are angles.
func (c *conn) round() bool {
	st := c.s.State()
	if st == nil {
		return false
	}
	first, _, _ := strings.Cut(c.q.Name, ".")
	return isRound(st.Plan().Procedure(), first)
}

// read returns the next line that is not empty.
func (c *conn) read() ([]byte, error) {
	for {
		var line []byte
		for {
			chunk, err := c.in.ReadSlice('\n')
			line = append(line, chunk...)
			if len(line) > maxLine {
				return nil, fmt.Errorf("protocol: a line has more than %d bytes", maxLine)
			}
			if errors.Is(err, bufio.ErrBufferFull) {
				continue
			}
			if err != nil && (len(line) == 0 || !errors.Is(err, io.EOF)) {
				return nil, err
			}
			break
		}
		if line = bytes.TrimSpace(line); len(line) > 0 {
			return line, nil
		}
	}
}

// answer is a line that goes in.
type answer struct {
	Type    string `json:"type"`
	ID      string `json:"id"`
	Name    string `json:"name"`
	Verb    string `json:"verb"`
	Take    int    `json:"take"`
	Text    string `json:"text"`
	Reason  string `json:"reason"`
	File    string `json:"file"`
	NoPlace bool   `json:"no_place"` // keep the file without where it was taken
}

// parseLine reads a line that goes in. The refusal says what is wrong with it.
func parseLine(line []byte) (a answer, bad *engine.Refusal) {
	mend := `Write an object of the schema, such as {"type":"answer","text":"31.847"}.`
	if !utf8.Valid(line) {
		return a, &engine.Refusal{Code: "json", Wrong: "The line is not UTF-8.", Mend: mend}
	}
	dec := json.NewDecoder(bytes.NewReader(line))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&a); err != nil {
		return a, &engine.Refusal{Code: "json", Understood: "I read " + strconv.Quote(shorten(line)) + ".", Wrong: "It is not understood: " + strings.TrimPrefix(err.Error(), "json: ") + ".", Mend: mend}
	}
	if dec.More() {
		return a, &engine.Refusal{Code: "json", Understood: "I read " + strconv.Quote(shorten(line)) + ".", Wrong: "More than one object stands on the line.", Mend: "Write one object a line."}
	}
	if a.Type != "answer" && a.Type != "ask" {
		return a, &engine.Refusal{Code: "type", Understood: "I read the type " + strconv.Quote(a.Type) + ".", Wrong: "Only answer and ask go in.", Mend: mend}
	}
	if _, ok := verbs[a.Verb]; !ok {
		return a, &engine.Refusal{Code: "verb", Understood: "I read the verb " + strconv.Quote(a.Verb) + ".", Wrong: "There is no such verb.",
			Mend: "Leave it out to answer, or use back, amend, cannot, note, attach, pause, disturb, omit, leave_out or abandon."}
	}
	return a, nil
}

var verbs = map[string]engine.Verb{
	"": engine.Answer, "back": engine.Back, "amend": engine.Amend, "cannot": engine.Cannot, "note": engine.Note,
	"attach": engine.Attach, "pause": engine.Pause, "disturb": engine.Disturb, "omit": engine.Omit,
	"abandon": engine.Abandon, "leave_out": engine.Exclude,
}

func shorten(line []byte) string {
	s := []rune(string(line))
	if len(s) > 60 {
		return string(s[:60]) + "…"
	}
	return string(s)
}

// take carries a line out. asked is true when another question is to be asked.
func (c *conn) take(line []byte) (asked bool, done *prompt.Result, err error) {
	a, bad := parseLine(line)
	if bad == nil && a.ID != "" && a.ID != strconv.Itoa(c.id) {
		bad = &engine.Refusal{Code: "id", Understood: "I read the id " + strconv.Quote(a.ID) + ".",
			Wrong: "The open question has the id " + strconv.Quote(strconv.Itoa(c.id)) + ": " + c.q.Name + ".", Mend: "Nothing is kept. Answer the open question."}
	}
	if bad != nil {
		return false, nil, c.refuse(*bad)
	}
	if a.Type == "ask" {
		done, err = c.ask(false)
		return false, done, err
	}
	in := engine.Input{Verb: verbs[a.Verb], Name: a.Name, Take: a.Take, Text: a.Text, Reason: a.Reason}
	if a.File != "" {
		f, bad := c.file(a.File, a.NoPlace)
		if bad != nil {
			return false, nil, c.refuse(*bad)
		}
		in.File = f
	}
	if in.Verb == engine.Answer && (in.Name == "" || in.Name == c.q.Name) {
		in.Text = prompt.Typed(c.q, in.Text)
	}
	notices, refusal, err := c.s.Say(in)
	switch {
	case err != nil:
		return false, nil, err
	case refusal != nil:
		return false, nil, c.refuse(*refusal)
	}
	if err := c.tell(notices); err != nil {
		return false, nil, err
	}
	if in.Verb == engine.Pause {
		r := c.paused("stopped")
		return true, &r, nil
	}
	return true, nil, nil
}

func (c *conn) file(path string, noPlace bool) (*engine.File, *engine.Refusal) {
	how := evidence.AsItIs
	if noPlace {
		how = evidence.NoPlace
	}
	read := "I read the file name " + strconv.Quote(path) + "."
	if c.opts.Attach == nil {
		return nil, &engine.Refusal{Code: "file", Understood: read, Wrong: "This session keeps no files.", Mend: "Leave the file out."}
	}
	f, err := c.opts.Attach(path, how)
	if err != nil {
		return nil, &engine.Refusal{Code: "file", Understood: read, Wrong: "It cannot be kept: " + err.Error() + ".", Mend: "Name another file, or leave it out."}
	}
	return f, nil
}

func (c *conn) refuse(r engine.Refusal) error {
	return c.send(refusalOf(r, strconv.Itoa(c.id)))
}

// tell sends what happened: verdicts as settled, the rest as notices.
func (c *conn) tell(notices []engine.Notice) error {
	sh := shape{c.inch()}
	for _, n := range notices {
		var err error
		if n.Kind == engine.Settled && n.Judgement != nil {
			err = c.send(settled{Version, "settled", sh.changed(sh.gate(*n.Judgement), *n.Judgement, n.Change)})
		} else {
			err = c.send(sh.notice(n))
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// end writes the record and sends the last line.
func (c *conn) end(r prompt.Result, failed error) error {
	e := end{V: Version, Type: "end", Ended: r.Ended, Paused: r.Paused, Reason: r.Reason, Outcome: string(r.Outcome)}
	if e.Outcome == "" {
		e.Outcome = string(engine.NotDecided)
	}
	if st := c.s.State(); st != nil {
		for _, j := range st.Judgements() {
			e.Gates = append(e.Gates, verdictOf{j.Name, j.Verdict.String()})
		}
	}
	var err error
	if c.opts.Record != nil {
		e.Record, err = c.opts.Record(r)
	}
	switch {
	case failed != nil:
		e.Error = failed.Error()
	case err != nil:
		e.Error = err.Error()
	}
	if errors.Is(failed, errWrite) {
		return err
	}
	return errors.Join(err, c.send(e))
}
