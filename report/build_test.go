package report_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"waywright/engine"
	"waywright/engine/enginetest"
	"waywright/procedures/hclfile"
	"waywright/report"
	"waywright/report/html"
)

func load(name string) (*engine.Plan, error) {
	l, diags := hclfile.Parse(hclfile.Source{FS: os.DirFS("../testdata/procedures/design"), Path: name + ".hcl"})
	if diags.HasErrors() {
		return nil, fmt.Errorf("%s: %v", name, diags)
	}
	return engine.NewPlan(l.Procedure), nil
}

func play(t testing.TB, name string) *enginetest.Runner {
	t.Helper()
	script, err := os.ReadFile(filepath.Join("testdata", "runs", name+".txt"))
	if err != nil {
		t.Fatal(err)
	}
	return enginetest.Play(t, string(script), load)
}

func TestTmp(t *testing.T) {
	for _, name := range strings.Fields(os.Getenv("RUNS")) {
		r := play(t, name)
		q := r.Next()
		t.Logf("%s %s %v %v", q.Name, q.Ask, q.Choices, q.Open)
		rec := report.Build(r.State(), strings.Repeat("ab", 32), r.State().Len())
		b, err := report.Marshal(rec)
		if err != nil {
			t.Fatal(err)
		}
		os.WriteFile("/tmp/wk/rep/"+name+".json", b, 0o644)
		if err := validate(t, compile(t), b); err != nil {
			t.Error(err)
		}
		var h bytes.Buffer
		if err := html.Write(&h, rec); err != nil {
			t.Fatal(err)
		}
		os.WriteFile("/tmp/wk/rep/"+name+".html", h.Bytes(), 0o644)
	}
}
