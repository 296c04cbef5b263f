package prompt

import (
	"os"
	"testing"

	"waywright/cmd/waywright/internal/voice"
	"waywright/engine"
	"waywright/engine/enginetest"
	"waywright/procedures/hclfile"
)

// begin starts a run of a test procedure on the lathe of the tests.
func begin(t testing.TB, name string) *enginetest.Runner {
	t.Helper()
	l, diags := hclfile.Parse(hclfile.Source{FS: os.DirFS("../../../../testdata/procedures/design"), Path: name + ".hcl"})
	if diags.HasErrors() {
		t.Fatalf("%s: %v", name, diags)
	}
	r, err := enginetest.Begin(engine.NewPlan(l.Procedure), engine.Begun{Machine: engine.Machine{ID: "lathe-2", Class: "centre lathe"}})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func options(r *enginetest.Runner) Options {
	return Options{Voice: voice.Voice{Title: r.Plan.Procedure().Title, Machine: "lathe-2"}}
}
