package rehearse_test

import (
	"os"
	"path/filepath"
	"testing"

	"waywright/engine"
	"waywright/engine/rehearse"
	"waywright/procedures/hclfile"
	"waywright/procedures/library"
)

// fewTrials are enough where no figure is looked at closely.
const fewTrials = 2000

func load(t testing.TB, src hclfile.Source) *engine.Plan {
	t.Helper()
	l, ds := hclfile.Parse(src)
	if ds.HasErrors() || l.Procedure == nil {
		t.Fatalf("%s: %v", src.Path, ds)
	}
	return engine.NewPlan(l.Procedure).WithTrials(fewTrials)
}

func fromLibrary(t testing.TB, name string) *engine.Plan {
	t.Helper()
	src, ok := library.Source(name)
	if !ok {
		t.Fatalf("the library has no %s", name)
	}
	return load(t, src)
}

// hold plays every rehearsal of a plan and wants each seed to end as stated.
func hold(t *testing.T, plan *engine.Plan) *rehearse.Seen {
	t.Helper()
	var seen *rehearse.Seen
	for _, r := range plan.Procedure().Rehearsals {
		for _, e := range rehearse.Seeds(plan, r, r.Seeds, 2, nil) {
			if f := e.Failure; f != nil {
				t.Errorf("rehearsal %q, seed %d, answer %d, %s = %s: %s\n%v\n%v\n%v", r.Name, f.Seed, f.Answer, f.Question, f.Typed, f.Sentence(), f.Hidden, f.Gates, f.Said)
				break
			}
			if seen == nil {
				seen = e.Seen
			} else {
				seen.Add(e.Seen)
			}
		}
	}
	return seen
}

// The rehearsals of the design's own procedures end as they say.
func TestDesignRehearsals(t *testing.T) {
	dir := "../../testdata/procedures/design"
	files, err := filepath.Glob(filepath.Join(dir, "*.hcl"))
	if err != nil || len(files) < 8 {
		t.Fatalf("have %d files, %v", len(files), err)
	}
	for _, f := range files {
		src := hclfile.Source{FS: os.DirFS(dir), Path: filepath.Base(f)}
		if l, _ := hclfile.Parse(src); l.Procedure == nil {
			continue // a plan, or what procedures share
		}
		t.Run(filepath.Base(f), func(t *testing.T) { hold(t, load(t, src)) })
	}
}
