package cli

import (
	"errors"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"waywright/cmd/waywright/internal/logbook"
	"waywright/engine"
	"waywright/procedures/diagnose"
)

func (a *app) abandonCommand() *cobra.Command {
	var because, operator string
	c := &cobra.Command{
		Use:   "abandon RUN...",
		Short: "Close runs that nobody will go on with, with a reason",
		Long: `Close a run that nobody will go on with. Nothing is decided by it: it accepts and
rejects nothing. Its journal and its record stay, with the reason, and what was done
to the machine in it counts as in any other run; logbook shows it with --all. It
cannot be opened again.`,
		Example: `  waywright abandon tailstock-by-test-cut-lathe-2 --because "begun by mistake"
  waywright abandon level-lathe-2 level-lathe-2.2 --because "the lathe was sold"`,
		Args: takes(1, -1, "the name of a run"),
		ValidArgsFunction: func(c *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
			return a.completeRun(c, nil, typed)
		},
		RunE: func(_ *cobra.Command, args []string) error {
			switch {
			case strings.TrimSpace(because) == "":
				return cannot("a run is abandoned with a reason, which its record keeps: --because \"…\". Nothing was changed")
			case !sound(because) || !sound(operator):
				return cannot("%q is not plain text. Nothing was changed", because+operator)
			}
			for _, name := range args {
				if err := a.abandon(a.book(), name, because, operator); err != nil {
					return err
				}
			}
			return nil
		},
	}
	c.Flags().StringVar(&because, "because", "", "why nobody will go on with it")
	c.Flags().StringVar(&operator, "operator", "", "who closes it; the operator of the last sitting where not given")
	a.completeFlags(c)
	return c
}

// abandon closes a run for good.
func (a *app) abandon(b logbook.Book, name, because, operator string) (err error) {
	run, err := b.Open(name, a.Now)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, run.Close()) }()
	session := run.Session()
	data, refusal := session.State().Abandon(because, operator)
	if refusal != nil {
		return cannot("run %s: %s", name, sentence(*refusal))
	}
	if _, err := session.Record(data...); err != nil {
		return err
	}
	run.Now(session.State())
	said := "Abandoned: " + name + ". Its journal and its record stay."
	if n := len(session.State().Corrections()); n > 0 {
		said += " What was done to the machine in it counts: " + plural(n, "correction") + "."
	}
	a.printf("%s", fill(diagnose.Plain(said), "", page))
	return a.record(run, session)
}

// unfinished lists the runs of a procedure on a machine that can be gone on with,
// the one worked on last first.
func unfinished(b logbook.Book, procedure, machine string) ([]logbook.Summary, error) {
	all, err := b.RunsNamed(procedure, machine)
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc(all, func(s logbook.Summary) bool {
		return s.Run == nil || s.Run.State.Begun().Machine.ID != machine || s.Run.State.Procedure().Name != procedure ||
			s.Run.State.Outcome() != engine.NotDecided || s.Run.State.Seal() != nil
	}), nil
}
