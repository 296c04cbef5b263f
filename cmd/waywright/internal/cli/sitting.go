package cli

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"waywright/cmd/waywright/internal/logbook"
	"waywright/cmd/waywright/internal/prompt"
	"waywright/cmd/waywright/internal/protocol"
	"waywright/cmd/waywright/internal/voice"
	"waywright/engine"
	"waywright/engine/drive"
	"waywright/engine/overhaul"
	"waywright/procedures/diagnose"
	"waywright/report/evidence"
)

// sitting is how a run is worked on: what run and resume have in common.
type sitting struct {
	answers  string
	plain    bool
	large    bool
	noPlace  bool
	protocol string
	operator string
	grade    string
	sheet    bool
	sheetEnd bool // the sheet holds no more
	assuming assuming
	assumed  []engine.Assumed // read from it
}

func (s *sitting) flags(c *cobra.Command) {
	f := c.Flags()
	f.StringVar(&s.answers, "answers", "", "answer from a file, one name = value a line; - is standard input")
	f.BoolVar(&s.plain, "plain", false, "line by line, without redrawing: for screen readers and pipes")
	f.BoolVar(&s.noPlace, "no-place", false, "photographs are kept without what says where they were taken")
	f.BoolVar(&s.large, "large", false, "large letters: few words, one line a screen")
	f.StringVar(&s.protocol, "protocol", "", "json: one JSON object a line on standard input and output, for other programs")
	f.BoolVar(&s.sheet, "from-sheet", false, "type a work sheet in that was filled in by hand, in its order and by its numbers")
	f.StringVar(&s.operator, "operator", "", "who is at the machine")
	s.assuming.flags(c)
	f.StringVar(&s.grade, "grade", "", "the grade of tolerance, where the procedure has several")
}

// check refuses flags that do not go together.
func (s *sitting) check() error {
	switch {
	case s.protocol != "" && s.protocol != "json":
		return cannot("--protocol %q is not known. Write --protocol json", s.protocol)
	case s.protocol != "" && (s.answers != "" || s.plain || s.large):
		return cannot("--protocol json stands alone: it takes no --answers, --plain or --large")
	case s.answers != "" && (s.plain || s.large):
		return cannot("--answers stands alone: nobody looks at a screen, so it takes no --plain and no --large")
	}
	for flag, v := range map[string]string{"operator": s.operator, "grade": s.grade} {
		if v != "" && !sound(v) {
			return cannot("--%s %q is not plain text", flag, v)
		}
	}
	return nil
}

// open opens the answers file before anything is begun, so that a slip in its
// name, or a file that is no answers file, leaves no run behind. It is nil
// where there is none.
func (s *sitting) open(in *os.File) (io.ReadCloser, error) {
	switch s.answers {
	case "":
		return nil, nil
	case "-":
		return io.NopCloser(in), nil
	}
	info, err := os.Stat(s.answers)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, cannot("there is no answers file %s. Look for a slip in its name, or in the folder", s.answers)
	case err != nil:
		return nil, cannot("answers file: %w", err)
	case info.IsDir():
		return nil, cannot("answers file %s: it is a folder", s.answers)
	}
	f, err := os.Open(s.answers)
	if err != nil {
		return nil, cannot("answers file: %w", err)
	}
	if info.Mode().IsRegular() { // a pipe is read once, as the answers come
		if err := prompt.Unreadable(f, s.answers); err != nil {
			return nil, errors.Join(cannot("%w", err), f.Close())
		}
		if _, err := f.Seek(0, io.SeekStart); err != nil {
			return nil, errors.Join(cannot("answers file: %w", err), f.Close())
		}
	}
	return f, nil
}

// work sits down at a run until it ends or is paused, writes its record and
// closes it.
func (a *app) work(run *logbook.Run, b logbook.Book, s *sitting, answers io.ReadCloser, resumed bool) (err error) {
	defer func() { err = errors.Join(err, run.Close()) }()
	if answers != nil {
		defer answers.Close()
	}
	session := run.Session()
	bench, err := newBench(b, session)
	if err != nil {
		return err
	}
	if err := a.assume(session, s.assumed); err != nil {
		return a.stopped(run, session, err)
	}
	if s.sheet && !session.State().OnSheet() && session.State().Seal() == nil {
		if _, err := session.Record(engine.FromSheet{}); err != nil {
			return a.stopped(run, session, err)
		}
	}
	if s.sheetEnd && session.State().OnSheet() {
		if _, err := session.Record(engine.FromSheet{Ended: true}); err != nil {
			return a.stopped(run, session, err)
		}
	}
	before, err := a.sitDown(run, session, resumed)
	if err != nil {
		return a.stopped(run, session, err)
	}
	if err := a.lookAround(b, run, session, resumed); err != nil {
		return a.stopped(run, session, err)
	}
	if err := s.said(session); err != nil {
		return a.stopped(run, session, err)
	}
	bench.grade = s.grade
	result, err := a.front(run, session, bench, s, answers, before)
	switch {
	case err != nil && !resumed && answers != nil && unanswered(session.State()) && seated(session.State(), a.Now()).Kind != engine.Blocked:
		return a.dropped(run, err)
	case err != nil:
		return a.stopped(run, session, err)
	}
	if s.protocol == "" { // its last line says where the record is
		if err := a.record(run, session); err != nil {
			return err
		}
	}
	if s.protocol == "" {
		if err := a.whatItSpoilt(b, run); err != nil {
			return err
		}
	}
	if q := seated(session.State(), a.Now()); q.Kind == engine.Blocked && s.protocol == "" {
		a.whatIsMissing(session.State(), q)
	}
	if result.Paused && s.protocol == "" {
		a.printf("Go on with: %s\n", a.again(run.Name))
	}
	return exit(codeOf(result))
}

// lookAround records, where a run is gone on with, what was accepted on the
// machine since.
func (a *app) lookAround(b logbook.Book, run *logbook.Run, session *drive.Session, resumed bool) error {
	if !resumed {
		return nil
	}
	begun := session.State().Begun()
	accepted, notes, err := b.Accepted(session.State().Procedure(), begun.Machine.ID, a.Now(), logbook.Task{})
	if err != nil {
		return err
	}
	if seated(session.State(), a.Now()).Kind == engine.Blocked {
		for _, n := range notes {
			a.note("%s", n)
		}
	}
	if err := a.spoiltMeanwhile(b, run); err != nil {
		return err
	}
	if session.State().Seal() != nil {
		return nil
	}
	fresh := slices.DeleteFunc(accepted, func(v engine.AcceptedValue) bool { return slices.Contains(begun.Accepted, v) })
	if len(fresh) == 0 {
		return nil
	}
	_, err = session.Record(engine.Found{Accepted: fresh})
	return err
}

// spoiltMeanwhile says what was done in other runs since a run that is gone on
// with was read: accepted as it is it would not count.
func (a *app) spoiltMeanwhile(b logbook.Book, run *logbook.Run) error {
	if o := run.State.Outcome(); o == engine.Rejected {
		return nil
	}
	h, err := b.History(run.State.Begun().Machine)
	if err != nil {
		return err
	}
	for _, c := range h.Spoilt(run.Name) {
		a.note("%s", strings.TrimSpace(fill(diagnose.Plain(capital(notNow(c.Kind, c.Said()))+"."), "", page)))
	}
	return nil
}

// whatItSpoilt says which accepted runs of the machine do not hold any more
// because of what was done in this one, and where its overhaul is shown.
func (a *app) whatItSpoilt(b logbook.Book, run *logbook.Run) error {
	begun, o := run.State.Begun(), run.State.Outcome()
	if len(run.State.Corrections()) == 0 && !o.Stands() {
		return nil // it only read
	}
	all, err := b.Runs()
	if err != nil {
		return err
	}
	h := b.Histories(all)[begun.Machine.ID]
	var spoilt, older, stands []string
	for _, s := range all {
		if s.Run == nil || s.Run.State.Begun().Machine.ID != begun.Machine.ID || h.Replaced(s.Name) != "" || h.History(s.Name) {
			continue
		}
		if !s.Run.State.Outcome().Stands() {
			continue
		}
		by := slices.DeleteFunc(h.Spoilt(s.Name), func(c overhaul.Cause) bool { return c.Origin() != run.Name })
		for _, x := range h.Standing(s.Name) {
			if x.By == run.Name {
				stands = append(stands, s.Name+": "+x.Said()+".")
			}
		}
		switch anew := func(c overhaul.Cause) bool { return c.Kind == overhaul.Anew }; {
		case slices.ContainsFunc(by, anew): // the task that this run is of itself
			older = append(older, s.Name)
		case len(by) > 0:
			spoilt = append(spoilt, s.Name)
		}
	}
	if len(older) > 0 {
		a.printf("%s", fill(diagnose.Plain("Accepted before, and not true any more, as this run moved what was measured then: "+strings.Join(older, ", ")+"."), "", page))
	}
	if len(spoilt) > 0 {
		a.printf("%s", fill(diagnose.Plain("Accepted before and spoilt by this run, to be done again: "+strings.Join(spoilt, ", ")+"."), "", page))
	}
	for _, said := range stands {
		a.printf("%s", fill(diagnose.Plain(said), "", page))
	}
	if begun.Overhaul != "" && o != engine.NotDecided {
		where := ""
		if a.dir != "" {
			where = " --logbook " + a.dir
		}
		a.printf("What is next: waywright overhaul %s --machine %s%s\n", begun.Overhaul, begun.Machine.ID, where)
	}
	return nil
}

// again is the command that goes on with a run.
func (a *app) again(name string) string {
	if a.dir != "" {
		return fmt.Sprintf("waywright resume %s --logbook %s", name, a.dir)
	}
	return "waywright resume " + name
}

func codeOf(r prompt.Result) int {
	switch {
	case !r.Ended:
		return paused
	case r.Outcome.Stands():
		return done
	case r.Outcome == engine.Rejected:
		return no
	}
	return paused
}

// stopped ends a sitting that could not go on. What was kept stays, and the
// record says how far it came.
func (a *app) stopped(run *logbook.Run, session *drive.Session, cause error) error {
	run.Now(session.State())
	// The cause is what has to be said; the record can be made again.
	_, _ = run.WriteRecord()
	a.note("What was kept is safe. Go on with: %s", a.again(run.Name))
	var e *ending
	if errors.As(cause, &e) {
		return cause
	}
	return &ending{unable, cause}
}

// unanswered tells whether a run holds no more than that it was begun.
func unanswered(st *engine.State) bool {
	for _, ev := range st.Events() {
		switch d := ev.Data.(type) {
		case engine.Begun:
			if d.Because != "" || d.Anew != nil { // a reason was given, and is kept
				return false
			}
		case engine.Sat:
			if d.Operator != engine.NotNamed {
				return false
			}
		case engine.Found, engine.FromSheet:
		default:
			return false
		}
	}
	return true
}

// dropped takes a run back of which the first answer was refused already: it
// would stand in the logbook begun, and nobody would go on with it.
func (a *app) dropped(run *logbook.Run, cause error) error {
	if err := run.Drop(); err != nil {
		a.note("Nothing was answered. The run stays as it was begun: %v", err)
		return &ending{unable, cause}
	}
	a.note("Nothing was answered, so no run was kept: %s is free again.", run.Name)
	return &ending{unable, cause}
}

// record writes the record of a run as it stands and says where it is.
func (a *app) record(run *logbook.Run, session *drive.Session) error {
	run.Now(session.State())
	files, err := run.WriteRecord()
	if err != nil {
		return err
	}
	a.printf("Record: %s\n", strings.Join(files, "\n        "))
	return nil
}

// said answers what was said on the command line already.
func (s *sitting) said(session *drive.Session) error {
	for _, f := range []struct {
		kind       engine.Kind
		flag, text string
	}{{engine.AskOperator, "operator", s.operator}, {engine.AskGrade, "grade", s.grade}} {
		q := session.Next()
		if f.text == "" || q.Kind != f.kind {
			if f.text != "" && f.flag == "grade" {
				if had := session.State().Grade(); had != "" && had != f.text {
					return cannot("--grade %s: this run was begun with the grade %s, and keeps to it", f.text, had)
				} else if had == "" && q.Kind != engine.AskOperator {
					return cannot("--grade %s: this procedure has no grades", f.text)
				}
			}
			continue
		}
		_, refusal, err := session.Say(engine.Input{Name: q.Name, Text: f.text})
		if err != nil {
			return err
		}
		if refusal != nil {
			return cannot("--%s %s: %s", f.flag, f.text, sentence(*refusal))
		}
	}
	return nil
}

// sentence puts a refusal on one line.
func sentence(r engine.Refusal) string {
	var parts []string
	for _, p := range []string{r.Understood, r.Wrong, r.Mend} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	return strings.Join(parts, " ")
}

// front runs the front end that was asked for, or the one that fits.
func (a *app) front(run *logbook.Run, session *drive.Session, bench *bench, s *sitting, answers io.Reader, before []engine.Notice) (prompt.Result, error) {
	who := prompt.WithInstruments(bench, bench.bound)
	attach := run.Attach
	if s.noPlace {
		attach = func(path string, _ evidence.Keeping) (*engine.File, error) { return run.Attach(path, evidence.NoPlace) }
	}
	if s.protocol != "" {
		return protocol.Serve(a.In, a.Out, who, protocol.Options{
			Before: before, Attach: attach,
			Record: func(prompt.Result) (string, error) {
				run.Now(session.State())
				files, err := run.WriteRecord()
				if err != nil {
					return "", err
				}
				return files[0], nil
			},
		})
	}
	opts := prompt.Options{
		Voice: voice.Voice{
			Title: run.Plan.Procedure().Title, Machine: spoken(run.State.Begun().Machine.ID),
			Inch: run.State.Inch(), Large: s.large, Width: width(a.Out),
		},
		Before: before, Attach: attach, Instruments: bench.choices, Grade: s.grade,
	}
	if answers != nil {
		name := s.answers
		if name == "-" {
			name = "standard input"
		}
		return prompt.Answers(bufio.NewReader(answers), name, a.Out, who, opts)
	}
	out, ok := a.Out.(*os.File)
	if ok && !s.plain && isTerminal(a.In) && isTerminal(out) {
		return prompt.Terminal(context.Background(), a.In, out, who, opts)
	}
	return prompt.Plain(a.In, a.Out, who, opts)
}

func isTerminal(f *os.File) bool { return f != nil && term.IsTerminal(int(f.Fd())) }

// width returns how many columns a terminal has, where it is narrow; 0 leaves
// the usual width.
func width(w io.Writer) int {
	f, ok := w.(*os.File)
	if !ok || !isTerminal(f) {
		return 0
	}
	columns, _, err := term.GetSize(int(f.Fd()))
	if err != nil {
		return 0
	}
	return columns
}

// sound tells whether a text can be kept: UTF-8, and no characters that a
// terminal takes for commands.
func sound(s string) bool {
	return utf8.ValidString(s) && strings.IndexFunc(s, func(r rune) bool { return r != '\t' && diagnose.Control(r) }) < 0
}
