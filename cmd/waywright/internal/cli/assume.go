package cli

import (
	"math"
	"strings"

	"github.com/spf13/cobra"

	"waywright/checks/quantity"
	"waywright/checks/uncert"
	"waywright/engine"
	"waywright/engine/drive"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// assuming is what a run takes for given where no accepted run has it, and with
// whom that was agreed.
type assuming struct {
	values []string // given = value give or take doubt: reason
	agreed string
}

func (x *assuming) flags(c *cobra.Command) {
	c.Flags().StringArrayVar(&x.values, "assume", nil, "a value that no accepted run has, by agreement: \"GIVEN = VALUE give or take DOUBT: reason\"; may be repeated")
}

const assumeForm = "--assume \"%s = VALUE give or take DOUBT: reason\""

// of reads what is assumed in a run of p.
func (x assuming) of(p *procedures.Procedure, inch bool) ([]engine.Assumed, error) {
	agreed := strings.TrimSpace(x.agreed)
	if len(x.values) > 0 && agreed == "" {
		return nil, cannot("what is assumed wants who agreed to it, which the record keeps: --agreed NAME")
	}
	if !sound(agreed) {
		return nil, cannot("%q is not plain text", agreed)
	}
	var out []engine.Assumed
	for _, s := range x.values {
		name, rest, _ := strings.Cut(s, "=")
		name = strings.TrimSpace(name)
		if err := engine.MayAssume(p, name); err != nil {
			return nil, cannot("--assume %q: %w. %s", s, err, mayBeAssumed(p))
		}
		a, err := assumed(p, name, rest, inch)
		if err != nil {
			return nil, err
		}
		a.Agreed = agreed
		out = append(out, a)
	}
	return out, nil
}

// assumed reads VALUE give or take DOUBT: reason.
func assumed(p *procedures.Procedure, name, rest string, inch bool) (a engine.Assumed, err error) {
	first, _, _ := strings.Cut(name, ".")
	var unit quantity.Unit
	for _, g := range p.Givens {
		if g.Name == first {
			unit = *g.Unit
		}
	}
	figures, because, _ := strings.Cut(rest, ":")
	because = strings.TrimSpace(because)
	value, doubt, ok := strings.Cut(figures, "give or take")
	if !ok {
		value, doubt, ok = strings.Cut(figures, "±")
	}
	switch {
	case !ok:
		return a, cannot("--assume %s does not say how far the value may be out, which the verdicts need. Write "+assumeForm, name, name)
	case because == "":
		return a, cannot("--assume %s says no reason. Write it behind a colon: "+assumeForm, name, name)
	case !sound(because):
		return a, cannot("%q is not plain text", because)
	}
	v, err := quantity.ParseOne(strings.TrimSpace(value), quantity.Context{Unit: unit, Inch: inch, One: true})
	if err != nil {
		return a, cannot("--assume %s: %w", name, err)
	}
	d, err := quantity.ParseOne(strings.TrimSpace(doubt), quantity.Context{Unit: unit.Difference(), Inch: inch, One: true})
	switch {
	case err != nil:
		return a, cannot("--assume %s: %w", name, err)
	case d.Value < 0:
		return a, cannot("--assume %s: how far it may be out either way is written without a sign", name)
	}
	u := d.Value / uncert.Coverage(math.Inf(1)) // give or take: 95 of 100
	return engine.Assumed{Name: name, Value: unit.Of(v.Value), Unit: unit.Name, U: u / unit.Factor, Because: because}, nil
}

// mayBeAssumed lists what can be agreed on in a run of p.
func mayBeAssumed(p *procedures.Procedure) string {
	var names []string
	for _, g := range p.Givens {
		if engine.MayAssume(p, g.Name) == nil {
			names = append(names, g.Name)
		}
	}
	if len(names) == 0 {
		return "Nothing in this procedure can be assumed"
	}
	return "It can be said of: " + strings.Join(names, ", ")
}

// whatIsMissing says how a run goes on that waits for an accepted run of another
// procedure.
func (a *app) whatIsMissing(st *engine.State, q engine.Question) {
	first, _, _ := strings.Cut(q.Name, ".")
	for _, g := range st.Procedure().Givens {
		if g.Name != first || g.From == nil {
			continue
		}
		for _, ref := range g.From.Refs() {
			if other, _, ok := strings.Cut(ref.Name, "."); ok && ref.Space == formula.Accepted {
				a.printf("Work first: %s\n", a.withBook("waywright run "+other+" --machine "+st.Begun().Machine.ID))
			}
		}
	}
	if engine.MayAssume(st.Procedure(), q.Name) == nil {
		a.printf("Where that cannot be, agree on a value: add  "+assumeForm+" --agreed NAME\n", q.Name)
	}
}

// assume keeps what was agreed on, where the run has not got it already.
func (a *app) assume(session *drive.Session, list []engine.Assumed) error {
	for _, x := range list {
		if _, err := session.Record(x); err != nil {
			return err
		}
		a.note("Assumed by agreement with %s: %s. %s", x.Agreed, x.Name, strings.TrimRight(x.Because, ".")+".")
	}
	return nil
}
