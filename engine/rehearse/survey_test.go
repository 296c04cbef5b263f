package rehearse_test

import (
	"os"
	"testing"

	"waywright/engine/rehearse"
	"waywright/procedures"
	"waywright/procedures/hclfile"
)

// A gate over what is chosen or counted is never undecided, and is not asked to
// have been; a gate over what is measured is (semantics rule 15). A way that is
// only noted is no way to be taken.
func TestRule15CountedIsNeverUndecided(t *testing.T) {
	plan := load(t, hclfile.Source{FS: os.DirFS("../../testdata/procedures/engine"), Path: "survey.hcl"})
	p := plan.Procedure()
	for _, m := range rehearse.Cover(p, hold(t, plan)).Missing {
		t.Errorf("%s: %s", m.At, m.What)
	}
	for _, st := range p.Steps {
		for _, it := range st.Items {
			if g, ok := it.(*procedures.Gate); ok {
				if got, want := p.Counted(g), g.Name == "clean"; got != want {
					t.Errorf("gate %s counted: %t, want %t", g.Name, got, want)
				}
			}
		}
	}
}
