package cli

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"waywright/cmd/waywright/internal/logbook"
	"waywright/engine"
	"waywright/procedures"
	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
	"waywright/procedures/proofread"
)

func (a *app) runCommand() *cobra.Command {
	var s sitting
	var machine string
	var inch bool
	var fix correcting
	var left leaving
	c := &cobra.Command{
		Use:   "run PROCEDURE",
		Short: "Begin a run on a machine of the logbook",
		Long: `Begin a run of a procedure on a machine: of the library, of the logbook's own
procedures, or of a file. The procedure is proofread first and kept beside the
run as it is now. Leaving at any time loses nothing.

On a terminal one question is asked at a time. Where input or output is no
terminal, or with --plain, the same questions come line by line.

With --supersedes the run corrects the signed record of another one, which stays
as it is: the new record names the old one by its number and its digest.

With --leave-out a test is not measured, by an agreement made beforehand: the
record says which, with whom, when and why, apart from what could not be measured.
What is read for that test alone is not asked.

With --assume a value that is taken from accepted runs, and that no accepted run has,
is agreed on with its doubt: the record says so on its first page, and every verdict
carries the doubt. An accepted run that is there is taken all the same.

With --from-sheet a work sheet is typed in that was filled in at the machine (see
waywright sheet): in the order of the sheet and by its numbers. Waits are asked
about and not watched. Where a limit is not met that can be corrected, it is asked
whether the sheet goes on there; limits that cannot are decided at the end.`,
		Example: `  waywright run lathe/tailstock-by-test-cut
  waywright run lathe/headstock-align --machine lathe-2 --grade normal
  waywright run lathe/lathe-acceptance --leave-out "TEST: no thread is cut on it" --agreed "Tom Acker"
  waywright run my-procedure.hcl --answers answers.txt
  waywright run lathe/tailstock-by-test-cut --machine lathe-2 --from-sheet`,
		Args:              takes(1, 1, "the name of a procedure, or a file"),
		ValidArgsFunction: a.completeProcedure,
		RunE: func(c *cobra.Command, args []string) error {
			if err := fix.check(); err != nil {
				return err
			}
			return a.run(args[0], machine, inch, fix, left, &s)
		},
	}
	s.flags(c)
	c.Flags().StringVar(&machine, "machine", "", "the machine, by its id in the logbook")
	c.Flags().BoolVar(&inch, "inch", false, "bare numbers and displays are inch")
	fix.flags(c)
	left.flags(c)
	a.completeFlags(c)
	return c
}

// run begins a run and works on it.
func (a *app) run(name, machine string, inch bool, fix correcting, left leaving, s *sitting) error {
	if err := s.check(); err != nil {
		return err
	}
	b := a.book()
	proc, err := a.procedure(b, name, ". Nothing was begun")
	if err != nil {
		return err
	}
	if err := gradeOf(proc, s.grade); err != nil {
		return err
	}
	out, err := left.of(proc, len(s.assuming.values) > 0)
	if err != nil {
		return err
	}
	s.assuming.agreed = left.agreed
	if s.assumed, err = s.assuming.of(proc, inch); err != nil {
		return fmt.Errorf("%w. Nothing was begun", err)
	}
	answers, err := s.open(a.In)
	if err != nil {
		return err
	}
	made, err := b.Make()
	if err != nil {
		return err
	}
	if made {
		a.note("Made a logbook: %s", b.Dir)
	}
	old, err := a.corrected(b, proc, fix, &machine)
	if err != nil {
		return err
	}
	m, err := a.machine(b, proc, machine, s)
	if err != nil {
		return err
	}
	if old == nil {
		switch now, err := a.beside(b, proc.Name, m, s); {
		case err != nil || now.none:
			return err
		case now.resume != "":
			if len(out) > 0 {
				a.note("A test is left out when a run is begun: of this one none is left out now.")
			}
			return a.resume(b, now.resume, s, answers)
		}
	}
	return a.begin(b, begin{proc, m, inch, logbook.Task{}, old, out}, s, answers)
}

// begin is a run to be begun.
type begin struct {
	proc    *procedures.Procedure
	machine engine.Machine
	inch    bool
	task    logbook.Task
	old     *engine.Superseding // the record that it corrects, or nil
	out     []engine.LeftOut    // by agreement
}

// begin begins a run, when all that it needs was found.
func (a *app) begin(b logbook.Book, n begin, s *sitting, answers io.ReadCloser) error {
	proc, m := n.proc, n.machine
	shop, err := b.Shop()
	if err != nil {
		return err
	}
	if said := shopRule(proc, shop.Decision); said != "" {
		a.note("%s", said)
	}
	accepted, notes, err := b.Accepted(proc, m.ID, a.Now(), n.task)
	if err != nil {
		return err
	}
	for _, note := range notes {
		a.note("%s", note)
	}
	gains, err := b.Gains(proc, m.ID)
	if err != nil {
		return err
	}
	run, err := b.Begin(logbook.Start{
		Procedure: proc, Machine: m, Inch: n.inch, Rule: shop.Decision, Accepted: accepted, Gains: gains, Program: version(), Task: n.task,
	}, a.Now)
	if err != nil {
		return err
	}
	a.note("Run %s: %s", run.Name, run.Dir)
	if n.old != nil {
		if err := run.Append(*n.old); err != nil {
			return errors.Join(err, run.Close())
		}
		a.note("It corrects record %s, which stays as it is.", n.old.Number)
	}
	for _, x := range n.out {
		if err := run.Append(x); err != nil {
			return errors.Join(err, run.Close())
		}
		a.note("Left out by agreement with %s: %s. %s", x.Agreed, x.Gate, strings.TrimRight(x.Because, ".")+".")
	}
	return a.work(run, b, s, answers, false)
}

// gradeOf refuses a grade that a procedure has not, before anything is begun.
func gradeOf(p *procedures.Procedure, grade string) error {
	switch {
	case grade == "" || slices.Contains(p.Grades, grade):
		return nil
	case len(p.Grades) == 0:
		return cannot("--grade %s: this procedure has no grades. Nothing was begun", grade)
	}
	return cannot("--grade %s: this procedure has the grades %s. Nothing was begun", grade, strings.Join(p.Grades, ", "))
}

// procedure finds a procedure and proofreads it. Mistakes in it are shown; so
// says what that means for the command.
func (a *app) procedure(b logbook.Book, name, so string) (*procedures.Procedure, error) {
	src, err := b.Find(name)
	if err != nil {
		return nil, cannot("%w", err)
	}
	return a.usable(name, src, so)
}

func (a *app) usable(name string, src hclfile.Source, so string) (*procedures.Procedure, error) {
	r := proofread.File(src)
	switch {
	case r.Diagnostics.HasErrors():
		a.diagnostics(r.Diagnostics, r.Text)
		return nil, cannot("%s cannot be used: %s%s", name, counted(r.Diagnostics), so)
	case r.Overhaul != nil:
		return nil, cannot("%s is a plan of an overhaul. See where it stands: waywright overhaul %s", name, name)
	case r.Procedure == nil:
		return nil, cannot("%s holds what procedures share, and no procedure", name)
	}
	return r.Procedure, nil
}

// counted says how many errors and warnings there are.
func counted(l diagnose.List) string {
	errors, warnings := l.Count(diagnose.Error), l.Count(diagnose.Warning)
	switch {
	case warnings == 0:
		return plural(errors, "error")
	case errors == 0:
		return plural(warnings, "warning")
	}
	return plural(errors, "error") + ", " + plural(warnings, "warning")
}
