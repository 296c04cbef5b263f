package cli

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"waywright/engine"
	"waywright/procedures"
)

// leaving is which tests a run leaves out by agreement, and with whom.
type leaving struct {
	tests  []string // test: reason
	agreed string
}

func (x *leaving) flags(c *cobra.Command) {
	c.Flags().StringArrayVar(&x.tests, "leave-out", nil, "a test that is not measured, by agreement, and why: \"TEST: reason\"; may be repeated")
	c.Flags().StringVar(&x.agreed, "agreed", "", "who agreed to what is left out or assumed, by name")
}

// of reads what is left out of a run of p. What is wrong is said before anything
// is begun.
func (x leaving) of(p *procedures.Procedure, assumes bool) ([]engine.LeftOut, error) {
	agreed := strings.TrimSpace(x.agreed)
	switch {
	case len(x.tests) == 0 && agreed != "" && !assumes:
		return nil, cannot("--agreed says with whom a test is left out, or a value assumed. Write --leave-out \"TEST: reason\" or --assume too. Nothing was begun")
	case len(x.tests) > 0 && agreed == "":
		return nil, cannot("a test that is left out wants who agreed to it, which the record keeps: --agreed NAME. Nothing was begun")
	case !sound(agreed):
		return nil, cannot("%q is not plain text. Nothing was begun", agreed)
	}
	var out []engine.LeftOut
	var names []string
	for _, s := range x.tests {
		test, because, _ := strings.Cut(s, ":")
		test, because = strings.TrimSpace(test), strings.TrimSpace(because)
		switch {
		case because == "":
			return nil, cannot("--leave-out %q says no reason. Write it behind a colon: --leave-out \"%s: …\". Nothing was begun", s, test)
		case !sound(because):
			return nil, cannot("%q is not plain text. Nothing was begun", because)
		case slices.Contains(names, test):
			return nil, cannot("--leave-out names %s twice. Nothing was begun", test)
		}
		if err := engine.MayLeaveOut(p, test); err != nil {
			return nil, cannot("%w. It has %s. Nothing was begun", err, testsOf(p))
		}
		names = append(names, test)
		out = append(out, engine.LeftOut{Gate: test, Because: because, Agreed: agreed})
	}
	if len(out) > 0 && !engine.Remaining(p, names) {
		return nil, cannot("every test would be left out, and nothing would be accepted. Nothing was begun")
	}
	return out, nil
}

// testsOf lists the tests of a procedure that can be left out.
func testsOf(p *procedures.Procedure) string {
	var out []string
	for _, st := range p.Steps {
		for _, it := range st.Items {
			if g, ok := it.(*procedures.Gate); ok && engine.MayLeaveOut(p, g.Name) == nil {
				out = append(out, g.Name)
			}
		}
	}
	if len(out) == 0 {
		return "no test that can be left out"
	}
	return strings.Join(out, ", ")
}
