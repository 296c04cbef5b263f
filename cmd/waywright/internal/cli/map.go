package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"waywright/procedures/diagnose"
	"waywright/report/datamap"
)

func (a *app) mapCommand() *cobra.Command {
	var data bool
	var svg string
	c := &cobra.Command{
		Use:   "map PROCEDURE",
		Short: "What depends on what in a procedure, as a picture",
		Long: `Show what depends on what in a procedure: the readings, the results that are
worked out of them, the gates, the corrections, and what each correction spoils,
so that it is measured again. On the screen as lines, with --svg as a picture.`,
		Example: `  waywright map lathe/headstock-align --data
  waywright map lathe/headstock-align --data --svg headstock.svg`,
		Args:              takes(1, 1, "the name of a procedure, or a file"),
		ValidArgsFunction: a.completeProcedure,
		RunE: func(_ *cobra.Command, args []string) error {
			if !data {
				return cannot("a map of the steps and branches is not there yet. Write --data for readings, results, gates, corrections and what these spoil")
			}
			return a.dataMap(args[0], svg)
		},
	}
	c.Flags().BoolVar(&data, "data", false, "the readings, results, gates and corrections")
	c.Flags().StringVar(&svg, "svg", "", "write it as a picture to a file; - is standard output")
	return c
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
