package proofread_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
	"waywright/procedures/proofread"
)

// newer are the codes of rules about the words of a question that these files
// are older than; records of theirs have the words.
var newer = []string{"W605", "W614"}

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
				if slices.Contains(newer, d.Code) {
					continue
				}
				t.Errorf("%s:%d: %s (%s): %s", d.Subject.File, d.Subject.Start.Line, d.Summary, d.Code, d.Detail)
			}
			for _, d := range r.Answered {
				line := strings.Split(string(r.Text(d.Subject.File)), "\n")[d.Subject.Start.Line-1]
				if d.Severity != diagnose.Warning || d.Reason == "" || !strings.HasSuffix(line, "# "+d.Code+": "+d.Reason) {
					t.Errorf("%s:%d: %s is answered by %q", d.Subject.File, d.Subject.Start.Line, d.Code, d.Reason)
				}
			}
			if r.Procedure != nil && r.Prompts < 10 {
				t.Errorf("the longest path has %d prompts", r.Prompts)
			}
		})
	}
}

// A comment answers a warning of its own line and code with a reason; not an
// error, and not by standing inside a text.
func TestAnswered(t *testing.T) {
	const plan = "overhaul \"p\" {\n  title = \"P\"\n  machine = \"any\"\n  revision = \"1\"\n}\ntask \"a\" {\n  procedure = \"nowhere\"%s\n}\n"
	for _, tt := range []struct {
		comment string
		left    int
	}{
		{" # W502: written in spring", 0},
		{" // W101, W502: written in spring", 0},
		{"", 1},
		{" # W502:", 1},
		{" # W502 written in spring", 1},
		{" # W604: too coarse", 1},
		{"\n  # W502: on the next line", 1},
	} {
		r := proofread.File(hclfile.Source{FS: fstest.MapFS{"p.hcl": {Data: fmt.Appendf(nil, plan, tt.comment)}}, Path: "p.hcl"})
		if len(r.Diagnostics) != tt.left || len(r.Answered) != 1-tt.left {
			t.Errorf("%q: %d diagnostics and %d answered; want %d left", tt.comment, len(r.Diagnostics), len(r.Answered), tt.left)
		}
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
