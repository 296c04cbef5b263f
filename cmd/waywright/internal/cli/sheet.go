package cli

import (
	"bytes"
	"path"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"waywright/cmd/waywright/internal/logbook"
	"waywright/engine"
	"waywright/procedures"
	"waywright/report/document"
	"waywright/report/pdf"
	worksheet "waywright/report/sheet"
)

func (a *app) sheetCommand() *cobra.Command {
	var x blankSheet
	c := &cobra.Command{
		Use:   "sheet PROCEDURE",
		Short: "A blank work sheet to print and fill in by hand",
		Long: `Print a work sheet of a procedure as PDF: what is asked, each under its number and
with room to write, cautions, which way is plus, formulas with room for the sum,
limits, and behind each limit what to do where it is not met. It is filled in at
the machine and typed in afterwards, in the same order:

  waywright run PROCEDURE --from-sheet

What is known beforehand makes limits into figures: --machine takes the sizes of
the machine's entry and what its accepted runs found, --grade chooses the limits,
--given says a size. Without them the formula stands there, with the limit for a
few sizes.`,
		Example: `  waywright sheet lathe/tailstock-by-test-cut
  waywright sheet lathe/headstock-align --machine lathe-2 --grade normal --pdf head.pdf
  waywright sheet lathe/tailstock-by-test-cut --given span=240mm --paper letter --pdf -`,
		Args:              takes(1, 1, "the name of a procedure, or a file"),
		ValidArgsFunction: a.completeProcedure,
		RunE:              func(_ *cobra.Command, args []string) error { return a.workSheet(args[0], x) },
	}
	f := c.Flags()
	f.StringVar(&x.machine, "machine", "", "the machine, by its id in the logbook")
	f.StringVar(&x.grade, "grade", "", "the grade of tolerance, where the procedure has several")
	f.StringVar(&x.paper, "paper", "", paperHelp)
	f.StringVar(&x.file, "pdf", "", "the file to write; - is standard output (without it PROCEDURE-sheet.pdf)")
	f.StringArrayVar(&x.givens, "given", nil, "what is known, NAME=VALUE as in an answers file; may be given several times")
	f.BoolVar(&x.inch, "inch", false, "in inch, for inch scales")
	f.BoolVar(&x.text, "text", false, "the same words as plain text, to standard output")
	a.completeFlags(c)
	return c
}

// blankSheet is the sheet that is asked for.
type blankSheet struct {
	machine, grade, paper, file string
	givens                      []string
	inch, text                  bool
}

func (a *app) workSheet(name string, x blankSheet) error {
	on, err := a.paper(x.paper)
	if err != nil {
		return err
	}
	b := a.book()
	proc, err := a.procedure(b, name, ". No sheet was made")
	if err != nil {
		return err
	}
	s, err := a.beforehand(b, proc, x)
	if err != nil {
		return err
	}
	d := worksheet.Of(s, name)
	var out bytes.Buffer
	if x.text {
		if err := document.WritePlain(&out, d); err != nil {
			return err
		}
		return a.put("", out.Bytes())
	}
	if err := pdf.Render(&out, d, on); err != nil {
		return err
	}
	file := x.file
	if file == "" {
		file = path.Base(strings.TrimSuffix(name, ".hcl")) + "-sheet.pdf"
	}
	if err := a.put(file, out.Bytes()); err != nil {
		return err
	}
	if file != "-" {
		a.note("Work sheet: %s", file)
	}
	return nil
}

// beforehand is a run that has begun, as far as what is known goes.
func (a *app) beforehand(b logbook.Book, proc *procedures.Procedure, x blankSheet) (*engine.State, error) {
	begun := engine.Begun{Procedure: proc.Name, Revision: proc.Revision, Digest: logbook.Digest(proc.Files), Inch: x.inch, Program: version()}
	if x.machine != "" {
		all, err := b.Machines()
		if err != nil {
			return nil, err
		}
		if begun.Machine, err = a.machineNamed(b, proc, all, x.machine); err != nil {
			return nil, err
		}
		if begun.Accepted, _, err = b.Accepted(proc, x.machine, a.Now(), logbook.Task{}); err != nil {
			return nil, err
		}
	}
	n := 0
	keep := func(s *engine.State, data ...engine.Data) (*engine.State, error) {
		var events []engine.Event
		for _, d := range data {
			n++
			events = append(events, engine.Event{N: n, Data: d})
		}
		return s.With(events...)
	}
	s, err := keep(engine.New(engine.NewPlan(proc)), begun)
	if err != nil {
		return nil, err
	}
	if err := gradeOf(proc, x.grade); err != nil {
		return nil, cannot("%s", strings.ReplaceAll(err.Error(), "Nothing was begun", "No sheet was made"))
	}
	if x.grade != "" {
		if s, err = keep(s, engine.Answered{Name: "grade", Word: x.grade}); err != nil {
			return nil, err
		}
	}
	for _, text := range x.givens {
		name, value, ok := strings.Cut(text, "=")
		name, value = strings.TrimSpace(name), strings.TrimSpace(value)
		if !ok || !sound(text) {
			return nil, cannot("--given %q: write NAME=VALUE, such as span=240mm", text)
		}
		known := slices.ContainsFunc(proc.Givens, func(g *procedures.Given) bool { return g.Name == name })
		if !known {
			return nil, cannot("--given %s: the procedure asks for %s", name, or(strings.Join(givenNames(proc), ", "), "nothing beforehand"))
		}
		data, refusal := s.Known(name, value)
		if refusal != nil {
			return nil, cannot("--given %s: %s", text, sentence(*refusal))
		}
		if s, err = keep(s, data...); err != nil {
			return nil, err
		}
	}
	return s, nil
}

func givenNames(p *procedures.Procedure) []string {
	var out []string
	for _, g := range p.Givens {
		out = append(out, g.Name)
	}
	return out
}
