package proofread_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
	"waywright/procedures/proofread"
)

// Every procedure of the design proofreads without an error, and each warning
// that remains is explained by a comment on its line.
func TestDesignFiles(t *testing.T) {
	dir := filepath.Join(testdata, "design")
	files, err := filepath.Glob(filepath.Join(dir, "*.hcl"))
	if err != nil || len(files) != 9 {
		t.Fatalf("have %d files, %v; want 9", len(files), err)
	}
	for _, f := range files {
		t.Run(filepath.Base(f), func(t *testing.T) {
			r := proofread.File(hclfile.Source{FS: os.DirFS(dir), Path: filepath.Base(f)})
			for _, d := range r.Diagnostics {
				line := strings.Split(string(r.Text(d.Subject.File)), "\n")[d.Subject.Start.Line-1]
				if d.Severity == diagnose.Error || !strings.Contains(line, "# "+d.Code+": ") {
					t.Errorf("%s:%d: %s (%s): %s", d.Subject.File, d.Subject.Start.Line, d.Summary, d.Code, d.Detail)
				}
			}
			if r.Procedure != nil && r.Prompts < 10 {
				t.Errorf("the longest path has %d prompts", r.Prompts)
			}
		})
	}
}

// A definition of the procedure's own file hides the shared one.
func TestOrigins(t *testing.T) {
	r := proofread.File(hclfile.Source{FS: os.DirFS(filepath.Join(testdata, "design")), Path: "tailstock-by-test-cut.hcl"})
	want := []proofread.Origin{{Name: "caution.rotating", File: "shared.hcl"}, {Name: "caution.centres", File: "shared.hcl"}}
	if diff := cmp.Diff(want, r.Origins()); diff != "" {
		t.Error(diff)
	}
}

// A file with twenty mistakes gets twenty diagnostics, and no warning besides.
func TestTwentyMistakes(t *testing.T) {
	r := proofread.File(hclfile.Source{FS: os.DirFS(filepath.Join(testdata, "broken")), Path: "twenty.hcl"})
	if n := r.Diagnostics.Count(diagnose.Error); n != 20 || len(r.Diagnostics) != 20 {
		t.Errorf("%d diagnostics, %d of them errors; want 20", len(r.Diagnostics), n)
	}
	if r.Procedure == nil || len(r.Procedure.Steps) != 3 || r.Prompts != 0 {
		t.Error("what was understood is not returned")
	}
}
