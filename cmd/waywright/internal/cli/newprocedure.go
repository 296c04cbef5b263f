package cli

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"github.com/google/renameio/v2"
	"github.com/spf13/cobra"

	"waywright/cmd/waywright/internal/prompt"
	"waywright/cmd/waywright/internal/voice"
	"waywright/engine"
	"waywright/engine/rehearse"
	"waywright/procedures/diagnose"
	"waywright/procedures/outline"
	"waywright/procedures/proofread"
)

func (a *app) newProcedureCommand() *cobra.Command {
	var answers, folder string
	c := &cobra.Command{
		Use:   "procedure [NAME]",
		Short: "Write a first procedure, from questions",
		Long: `Write the file of a procedure from plain questions: what is measured, along what,
which limits, what is done to put it right, with which instrument. Five shapes are
offered: a difference between two places, a profile along a length, readings round
a turn, squareness over a span, a single size.

The file is proofread and its rehearsals are played before it is written: a machine
in order, one that is out, one that is moved the wrong way first. It is yours from
then on; change it as you like.

The answers may come from a file, one name = value a line, or line by line from a
pipe, in the order of asking.`,
		Example: `  waywright new procedure drill-table
  waywright new procedure drill-table --answers drill-table.answers`,
		Args: takes(0, 1, "at most one name"),
		RunE: func(_ *cobra.Command, args []string) error {
			i := interview{app: a, a: outline.Answers{}, folder: folder}
			if len(args) > 0 {
				i.a["name"] = args[0]
			}
			return i.run(answers)
		},
	}
	c.Flags().StringVar(&answers, "answers", "", "answer from a file, one name = value a line; - is standard input")
	c.Flags().StringVar(&folder, "folder", ".", "where the file is to stand")
	return c
}

// interview asks for a procedure until it is whole.
type interview struct {
	*app
	a      outline.Answers
	folder string
	in     *bufio.Scanner     // a person, or a pipe
	file   []prompt.Statement // an answers file
	name   string             // of the answers file
	at     int                // how many of its lines were used
}

func (i *interview) run(answers string) error {
	if name := i.a["name"]; name != "" {
		q, _ := outline.Next(outline.Answers{})
		if err := q.Check(nil, name); err != nil {
			return cannot("%q: %s", name, diagnose.Plain(err.Error()))
		}
		if err := i.free(); err != nil {
			return err
		}
	}
	if err := i.open(answers); err != nil {
		return err
	}
	for {
		if err := i.ask(); err != nil {
			return err
		}
		src, found, err := i.made()
		if err == nil && len(found.Diagnostics) == 0 {
			return i.write(src, found)
		}
		if err := i.amiss(found, err); err != nil {
			return err
		}
	}
}

// open finds where the answers come from.
func (i *interview) open(answers string) error {
	if answers == "" {
		i.in = bufio.NewScanner(i.In)
		return nil
	}
	var in io.Reader = i.In
	i.name = "standard input"
	if answers != "-" {
		f, err := os.Open(answers)
		if err != nil {
			return cannot("answers file: %w", err)
		}
		defer f.Close()
		in, i.name = f, answers
	}
	var err error
	if i.file, err = prompt.Statements(in, i.name); err != nil {
		return cannot("%w", err)
	}
	return nil
}

// free refuses a file that is there already.
func (i *interview) free() error {
	path := filepath.Join(i.folder, i.a.File())
	if _, err := os.Stat(path); err == nil {
		return cannot("%s is there already. Nothing was changed", path)
	} else if !errors.Is(err, fs.ErrNotExist) {
		return cannot("%w", err)
	}
	return nil
}

// ask asks what is open, and takes only what can stand.
func (i *interview) ask() error {
	for {
		q, ok := outline.Next(i.a)
		if !ok {
			return i.rest()
		}
		text, where, err := i.next(q)
		if err != nil {
			return err
		}
		why := refusedHere(i.a, q, text)
		switch {
		case why == "":
			i.a[q.Name] = text
			if q.Name == "name" {
				if err := i.free(); err != nil {
					return err
				}
			}
		case where != "":
			return cannot("%s: %s", where, why)
		default:
			i.printf("%s", fill(diagnose.Plain(why), "", page))
		}
	}
}

// refusedHere says why an answer cannot stand; it is empty where it can.
func refusedHere(a outline.Answers, q outline.Question, text string) string {
	switch {
	case text == "" && q.Need:
		return "I read nothing, and this is needed."
	case text == "":
		return ""
	}
	if err := q.Check(a, text); err != nil {
		return fmt.Sprintf("I read %s. %s", text, voice.Sentence(err.Error()))
	}
	return ""
}

// next is the answer to a question; where says the line of an answers file, which
// cannot be asked again.
func (i *interview) next(q outline.Question) (text, where string, err error) {
	if i.in == nil {
		return i.fromFile(q)
	}
	i.printf("%s", fill(diagnose.Plain(q.Ask), "", page))
	i.printf("> ")
	if !i.in.Scan() {
		i.printf("\n")
		return "", "", cannot("the questions were not answered to the end. No procedure was written")
	}
	text = strings.TrimSpace(i.in.Text())
	if !q.Need && notKnown(text) {
		text = outline.LeftOut
	}
	return text, "", nil
}

// fromFile takes the next line where it answers the question. What may be left
// out may be missing.
func (i *interview) fromFile(q outline.Question) (text, where string, err error) {
	if i.at < len(i.file) {
		st := i.file[i.at]
		if st.Verb == engine.Answer && st.Name == q.Name {
			i.at++
			return st.Text, fmt.Sprintf("%s:%d:%d", i.name, st.Line, st.ValueColumn), nil
		}
		if q.Need {
			return "", "", cannot("%s:%d:%d: this answers %s, but %s is asked: %s", i.name, st.Line, st.Column, or(st.Name, "nothing"), q.Name, q.Ask)
		}
		return outline.LeftOut, "", nil
	}
	if q.Need {
		return "", "", cannot("%s ends before %s is answered: %s", i.name, q.Name, q.Ask)
	}
	return outline.LeftOut, "", nil
}

// rest refuses lines of an answers file that nothing asked for.
func (i *interview) rest() error {
	if i.in == nil && i.at < len(i.file) {
		st := i.file[i.at]
		return cannot("%s:%d:%d: this answers %s, but nothing more is asked", i.name, st.Line, st.Column, or(st.Name, "nothing"))
	}
	return nil
}

// made is the file, and what is found in it.
func (i *interview) made() ([]byte, proofread.Result, error) {
	src, err := i.a.Source()
	if err != nil {
		return nil, proofread.Result{}, err
	}
	return src, outline.Proofread(i.a.File(), src), nil
}

// together are the answers that may not go together: what is plausible, what is
// allowed, and how well it is read.
var together = []string{"least", "most", "lower", "upper", "limit", "resolution", "error", "repeatability", "takes"}

// amiss says what does not go together, and has a person answer it again.
func (i *interview) amiss(found proofread.Result, err error) error {
	var said []string
	if err != nil {
		said = append(said, voice.Sentence(err.Error()))
	}
	for _, d := range found.Diagnostics {
		said = append(said, d.Detail)
	}
	if i.in == nil {
		return cannot("%s: these answers do not go together. %s No procedure was written", i.name, strings.Join(said, " "))
	}
	i.printf("\nThese answers do not go together.\n")
	for _, s := range said {
		i.printf("%s", fill(diagnose.Plain(s), "", page))
	}
	i.printf("The figures are asked once more.\n\n")
	for _, name := range together {
		delete(i.a, name)
	}
	return nil
}

// write writes the file, when its rehearsals were played.
func (i *interview) write(src []byte, found proofread.Result) error {
	path := filepath.Join(i.folder, i.a.File())
	if err := i.free(); err != nil {
		return err
	}
	if err := renameio.WriteFile(path, src, 0o666); err != nil {
		return cannot("%w", err)
	}
	plan := engine.NewPlan(found.Procedure).WithTrials(rehearsalTrials)
	machines, code := 0, done
	for _, r := range found.Procedure.Rehearsals {
		ended := rehearse.Seeds(plan, r, r.Seeds, runtime.GOMAXPROCS(0), nil)
		machines += len(ended)
		if k := slices.IndexFunc(ended, func(e rehearse.Ended) bool { return e.Failure != nil }); k >= 0 {
			i.printf("Rehearsal %q does not hold: %s\n", r.Name, ended[k].Failure.Sentence())
			code = no
		}
	}
	i.printf("Wrote %s.\n", path)
	held := "hold"
	if code != done {
		held = "were played"
	}
	i.printf("%s", fill(fmt.Sprintf("Proofreading has nothing to say of it. Its %s %s, with %s. A run asks at most %s.",
		plural(len(found.Procedure.Rehearsals), "rehearsal"), held, plural(machines, "machine"), plural(found.Prompts, "question")), "", page))
	i.printf("It is yours now: read it, and change what is not right. Then\n  waywright rehearse %[1]s\n  waywright sheet %[1]s\n  waywright run %[1]s\n", path)
	return exit(code)
}
