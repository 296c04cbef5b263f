package rehearse_test

import (
	"os"
	"path/filepath"
	"sync"
	"testing"
	"testing/fstest"

	"waywright/engine"
	"waywright/engine/rehearse"
	"waywright/procedures/hclfile"
	"waywright/procedures/library"
)

// fewTrials are enough where no figure is looked at closely.
const fewTrials = 2000

// loaded are the plans that were read, which several tests play.
var loaded sync.Map

func load(t testing.TB, src hclfile.Source) *engine.Plan {
	t.Helper()
	key := [2]any{src.FS, src.Path}
	_, written := src.FS.(fstest.MapFS) // in a test, and nothing that a map could have as its key
	if !written {
		if p, ok := loaded.Load(key); ok {
			return p.(*engine.Plan)
		}
	}
	l, ds := hclfile.Parse(src)
	if ds.HasErrors() || l.Procedure == nil {
		t.Fatalf("%s: %v", src.Path, ds)
	}
	p := engine.NewPlan(l.Procedure).WithTrials(fewTrials)
	if !written {
		loaded.Store(key, p)
	}
	return p
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
