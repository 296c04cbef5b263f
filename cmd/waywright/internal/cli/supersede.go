package cli

import (
	"errors"

	"github.com/spf13/cobra"

	"waywright/cmd/waywright/internal/logbook"
	"waywright/engine"
	"waywright/procedures"
)

// correcting is which record a run is to correct.
type correcting struct{ run, because string }

func (x *correcting) flags(c *cobra.Command) {
	c.Flags().StringVar(&x.run, "supersedes", "", "the run whose signed record this one corrects")
	c.Flags().StringVar(&x.because, "because", "", "why it is corrected")
}

func (x correcting) check() error {
	switch {
	case x.run == "" && x.because != "":
		return cannot("--because says why a record is corrected. Write --supersedes RUN too")
	case x.run != "" && x.because == "":
		return cannot("a record that is corrected wants a reason, which the new one keeps: --because \"…\"")
	case !sound(x.because):
		return cannot("%q is not plain text", x.because)
	}
	return nil
}

// corrected finds the record that a run is to correct; nil where it is none.
// The machine is that of the older run.
func (a *app) corrected(b logbook.Book, proc *procedures.Procedure, x correcting, machine *string) (*engine.Superseding, error) {
	if x.run == "" {
		return nil, nil
	}
	old, err := b.Read(x.run)
	if err != nil {
		return nil, err
	}
	begun := old.State.Begun()
	switch {
	case begun.Procedure != proc.Name:
		return nil, cannot("run %s is of the procedure %s, and this would be one of %s. Nothing was begun", old.Name, begun.Procedure, proc.Name)
	case *machine == "":
		*machine = begun.Machine.ID
	case *machine != begun.Machine.ID:
		return nil, cannot("run %s is of the machine %s, and not of %s. Nothing was begun", old.Name, begun.Machine.ID, *machine)
	}
	d, err := b.Superseding(old, "", x.because)
	if err != nil {
		return nil, cannot("%w. Nothing was begun", err)
	}
	return &d, nil
}

// amendAnew makes a run that takes over everything of a signed one, and
// corrects an answer in it.
func (a *app) amendAnew(name string, in engine.Input, operator string) (err error) {
	b := a.book()
	old, err := b.Read(name)
	if err != nil {
		return err
	}
	in, operator = ofOperator(old.State, in, operator)
	if operator == "" {
		operator = old.State.Operator()
	}
	d, err := b.Superseding(old, operator, in.Reason)
	if err != nil {
		return cannot("%w. Nothing was begun", err)
	}
	before, err := old.State.BeforeSeal()
	if err != nil {
		return err
	}
	if refusal := attemptOn(before, a.Now(), in, operator); refusal != nil { // before a run is made for it
		return cannot("%s", sentence(*refusal))
	}
	run, err := b.Carry(old, d, a.Now)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, run.Close()) }()
	a.note("Run %s: %s", run.Name, run.Dir)
	a.printf("It corrects record %s, which stays as it is. Taken over: %s of its journal.\n", d.Number, plural(old.State.Seal().N-1, "line"))
	session := run.Session()
	if err := amendInSitting(session, session.Next(), in, operator, a); err != nil {
		return err
	}
	if err := a.record(run, session); err != nil {
		return err
	}
	a.signNext(run)
	return nil
}
