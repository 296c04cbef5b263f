package engine_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"waywright/engine"
	"waywright/engine/enginetest"
	"waywright/procedures/hclfile"
)

// load reads a procedure from the test procedures.
func load(name string) (*engine.Plan, error) {
	for _, dir := range []string{"design", "engine"} {
		fsys := os.DirFS(filepath.Join("..", "testdata", "procedures", dir))
		if _, err := os.Stat(filepath.Join("..", "testdata", "procedures", dir, name+".hcl")); err != nil {
			continue
		}
		l, diags := hclfile.Parse(hclfile.Source{FS: fsys, Path: name + ".hcl"})
		if diags.HasErrors() {
			return nil, fmt.Errorf("%s: %v", name, diags)
		}
		return engine.NewPlan(l.Procedure), nil
	}
	return nil, fmt.Errorf("no procedure %q", name)
}

func TestScenarios(t *testing.T) {
	files, err := filepath.Glob("../testdata/scenarios/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no scenarios: %v", err)
	}
	for _, f := range files {
		t.Run(filepath.Base(f), func(t *testing.T) { enginetest.Run(t, f, load) })
	}
}
