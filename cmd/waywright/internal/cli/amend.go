package cli

import (
	"errors"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"waywright/cmd/waywright/internal/logbook"
	"waywright/cmd/waywright/internal/voice"
	"waywright/engine"
	"waywright/engine/drive"
	"waywright/procedures/diagnose"
)

func (a *app) amendCommand() *cobra.Command {
	in := engine.Input{Verb: engine.Amend}
	var operator string
	var renew bool
	c := &cobra.Command{
		Use:   "amend RUN READING VALUE",
		Short: "Correct a typing mistake, with a reason",
		Long: `Correct an answer that was typed or read wrongly. The old value, the new one, who
and why stay in the record. What was decided from it is decided again. To read
again is another thing: go on with the run and say what was disturbed.

What was signed is not altered. With --new-record a new run is made that takes
over every reading as it was, with the correction; its record names the signed one
by number and digest, and is signed in its turn.`,
		Example: `  waywright amend lap-bar-lathe-2 station_2 24.997 --because mistyped
  waywright amend lap-bar-lathe-2 operator "Tom Acker" --because mistyped
  waywright amend tailstock-by-test-cut-lathe-2 diameter.headstock_end --take 2 "31.847 mm" --because "misread a turn"`,
		Args:              takes(3, 3, "RUN, READING and VALUE; a value of several words stands in quotes"),
		ValidArgsFunction: a.completeAmend,
		RunE: func(c *cobra.Command, args []string) error {
			in.Name, in.Text = args[1], args[2]
			for _, s := range []string{in.Name, in.Text, in.Reason, operator} {
				if !sound(s) {
					return cannot("%q is not plain text", s)
				}
			}
			if renew {
				return a.amendAnew(args[0], in, operator)
			}
			return a.amend(args[0], in, operator)
		},
	}
	c.Flags().IntVar(&in.Take, "take", 0, "which take of a reading that has several, from 1")
	c.Flags().StringVar(&in.Reason, "because", "", "why")
	c.Flags().StringVar(&operator, "operator", "", "who corrects it; the operator of the last sitting where not given")
	c.Flags().BoolVar(&renew, "new-record", false, "of a signed run: make a new run that takes everything over and corrects it; the signed one stays as it is")
	a.completeFlags(c)
	return c
}

// amend corrects an answer in a sitting of its own.
func (a *app) amend(name string, in engine.Input, operator string) (err error) {
	run, err := a.book().Open(name, a.Now)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, run.Close()) }()
	session := run.Session()
	q := session.Next()
	if session.State().Seal() != nil {
		take := ""
		if in.Take > 0 {
			take = fmt.Sprintf(" --take %d", in.Take)
		}
		return cannot("run %s is signed, and what was signed is not altered. Make a new record that corrects it, with all its readings: %s. Or measure again: %s",
			name, a.withBook(fmt.Sprintf("waywright amend %s %s %q%s --because %q --new-record", name, in.Name, in.Text, take, or(in.Reason, "…"))),
			a.withBook(fmt.Sprintf("waywright run %s --supersedes %s --because \"…\"", session.State().Begun().Procedure, name)))
	}
	if q.Kind == engine.End {
		return cannot("run %s is closed: %s. What was signed is not amended", name, outcome(q.Outcome))
	}
	in, operator = ofOperator(session.State(), in, operator)
	if operator == "" {
		operator = session.State().Operator()
	}
	if operator == "" {
		return cannot("nobody has worked on run %s yet, so there is nothing to amend", name)
	}
	if refusal := attempt(session, in, operator); refusal != nil {
		return cannot("%s", sentence(*refusal))
	}
	if err := amendInSitting(session, q, in, operator, a); err != nil {
		return err
	}
	return a.record(run, session)
}

// ofOperator gives the amendment of a name the sitting that it is of: the last one
// there was, where none is named, and not that in which it is amended. Whose name it
// is amends it, where nobody else is named.
func ofOperator(s *engine.State, in engine.Input, operator string) (engine.Input, string) {
	if in.Name != "operator" {
		return in, operator
	}
	if in.Take == 0 {
		in.Take = len(s.Sittings())
	}
	return in, or(operator, in.Text)
}

// attempt tries an amendment on a copy, so that one that is refused leaves no
// sitting behind.
func attempt(session *drive.Session, in engine.Input, operator string) *engine.Refusal {
	return attemptOn(session.State(), session.Now(), in, operator)
}

func attemptOn(s *engine.State, now time.Time, in engine.Input, operator string) *engine.Refusal {
	after, err := s.With(
		engine.Event{N: s.Len() + 1, Time: now, Data: engine.Paused{}},
		engine.Event{N: s.Len() + 2, Time: now, Data: engine.Sat{Operator: operator}})
	if err != nil {
		return &engine.Refusal{Wrong: err.Error()}
	}
	_, refusal := after.Reply(now, in)
	return refusal
}

func amendInSitting(session *drive.Session, q engine.Question, in engine.Input, operator string, a *app) error {
	if q.Kind != engine.AskOperator {
		if _, err := session.Record(engine.Paused{Reason: "the program stopped without a pause"}); err != nil {
			return err
		}
	}
	if _, err := session.Record(engine.Sat{Operator: operator}); err != nil {
		return err
	}
	notices, refusal, err := session.Say(in)
	if err != nil {
		return err
	}
	if refusal != nil {
		return cannot("%s", sentence(*refusal))
	}
	v := voice.Voice{Inch: session.State().Inch()}
	for _, n := range notices {
		for _, line := range v.Lay(v.Told(n)) {
			a.printf("%s\n", diagnose.Plain(line))
		}
	}
	_, err = session.Record(engine.Paused{Reason: "amended"})
	return err
}

// completeAmend completes a run, then the answers that can be amended.
func (a *app) completeAmend(c *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	switch len(args) {
	case 0:
		return a.completeRun(c, args, typed)
	case 1:
		run, err := a.book().Read(args[0])
		if err != nil {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return names(amendable(run), typed)
	}
	return nil, cobra.ShellCompDirectiveNoFileComp
}

func amendable(run *logbook.Run) []string {
	var out []string
	seen := map[string]bool{}
	for _, k := range run.State.Amendable(1000) {
		if !seen[k.Name] {
			seen[k.Name] = true
			out = append(out, k.Name)
		}
	}
	return out
}
