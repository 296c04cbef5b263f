package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"waywright/procedures/diagnose"
	"waywright/report/datamap"
	"waywright/report/flowmap"
)

func (a *app) mapCommand() *cobra.Command {
	var data bool
	var svg string
	c := &cobra.Command{
		Use:   "map PROCEDURE",
		Short: "The steps, gates and branches of a procedure as a picture",
		Long: `Show how a procedure runs: its steps from top to bottom, the gates in them, what
is done where a gate is not passed, from where it is worked again then, what is
repeated, and what is left out under a condition. On the screen as lines, with
--svg as a picture, which is no wider than a sheet of A4.

With --data it shows what depends on what instead: the readings, the results that
are worked out of them, the gates, the corrections, and what each correction
spoils, so that it is measured again.`,
		Example: `  waywright map lathe/headstock-align
  waywright map lathe/headstock-align --svg headstock.svg
  waywright map lathe/headstock-align --data
  waywright map lathe/headstock-align --data --svg data.svg`,
		Args:              takes(1, 1, "the name of a procedure, or a file"),
		ValidArgsFunction: a.completeProcedure,
		RunE: func(_ *cobra.Command, args []string) error {
			if data {
				return a.dataMap(args[0], svg)
			}
			return a.flowMap(args[0], svg)
		},
	}
	c.Flags().BoolVar(&data, "data", false, "what depends on what: readings, results, gates, corrections")
	c.Flags().StringVar(&svg, "svg", "", "write it as a picture to a file; - is standard output")
	return c
}

func (a *app) flowMap(name, svg string) error {
	proc, err := a.procedure(a.book(), name, "")
	if err != nil {
		return err
	}
	f := flowmap.Of(proc)
	if svg != "" {
		return a.picture(svg, f.Picture())
	}
	a.printf("%s\n", fill(diagnose.Plain(f.Title), "", page))
	for _, l := range f.Lines() {
		// A part stands at the edge, what is said of it under its title.
		in := strings.Repeat("  ", l.Indent)
		if l.Indent > 0 {
			in += " "
		}
		text := fill(diagnose.Plain(l.Text), in+"  ", page)
		a.printf("%s%s", in, strings.TrimLeft(text, " "))
	}
	return nil
}

func (a *app) dataMap(name, svg string) error {
	proc, err := a.procedure(a.book(), name, "")
	if err != nil {
		return err
	}
	m := datamap.Of(proc)
	if svg != "" {
		return a.picture(svg, m.Picture())
	}
	a.printf("%s", fill(diagnose.Plain(m.Title), "", narrow))
	for _, l := range m.Lines() {
		if l.Indent == 0 {
			a.printf("\n")
		}
		// What follows on a further line stands a little further in.
		text := fill(diagnose.Plain(l.Text), strings.Repeat("  ", l.Indent+1), narrow)
		a.printf("%s%s", strings.Repeat("  ", l.Indent), strings.TrimLeft(text, " "))
	}
	return nil
}
