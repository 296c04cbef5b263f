package cli

import (
	"errors"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"waywright/cmd/waywright/internal/logbook"
)

func (a *app) resumeCommand() *cobra.Command {
	var s sitting
	c := &cobra.Command{
		Use:   "resume [RUN]",
		Short: "Go on with a run; without a name, the last one",
		Long: `Go on with a run after a pause, a power cut or a month. It says what is kept
and what is to be done again, and asks for what is next.

With --from-sheet what comes next is typed in from a work sheet; with --sheet-ends
the sheet that was typed in holds no more, and the run goes on at the machine.`,
		Example: `  waywright resume
  waywright resume tailstock-by-test-cut-lathe-2`,
		Args:              takes(0, 1, "at most one name of a run"),
		ValidArgsFunction: a.completeRun,
		RunE: func(c *cobra.Command, args []string) error {
			if err := s.check(); err != nil {
				return err
			}
			b := a.book()
			name, err := a.runName(b, args)
			if err != nil {
				return err
			}
			answers, err := s.open(a.In)
			if err != nil {
				return err
			}
			return a.resume(b, name, &s, answers)
		},
	}
	s.flags(c)
	c.Flags().StringVar(&s.assuming.agreed, "agreed", "", "who agreed to what is assumed, by name")
	c.Flags().BoolVar(&s.sheetEnd, "sheet-ends", false, "the work sheet holds no more: go on at the machine")
	c.MarkFlagsMutuallyExclusive("from-sheet", "sheet-ends")
	a.completeFlags(c)
	return c
}

// resume opens a run and goes on with it.
func (a *app) resume(b logbook.Book, name string, s *sitting, answers io.ReadCloser) error {
	run, err := b.Open(name, a.Now)
	if err != nil {
		return err
	}
	if x := run.State.Abandoned(); x != nil {
		return errors.Join(cannot("run %s was abandoned on %s: %s. It cannot be gone on with. Begin another: %s", run.Name, x.At.UTC().Format(time.DateOnly),
			strings.TrimRight(x.Reason, "."), a.withBook("waywright run "+run.State.Begun().Procedure)), run.Close())
	}
	if s.assumed, err = s.assuming.of(run.State.Procedure(), run.State.Inch()); err != nil {
		return errors.Join(err, run.Close())
	}
	a.note("Run %s: %s", run.Name, run.Dir)
	return a.work(run, b, s, answers, true)
}
