package proofread_test

import (
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"

	"waywright/procedures/hclfile"
	"waywright/procedures/proofread"
)

// FuzzFile holds that proofreading never panics, and that what is said is
// about a place in the file.
func FuzzFile(f *testing.F) {
	for _, dir := range []string{"design", "broken"} {
		files, err := filepath.Glob(filepath.Join(testdata, dir, "*.hcl"))
		if err != nil || len(files) == 0 {
			f.Fatal("no files to begin with: ", err)
		}
		for _, name := range files {
			b, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(b)
		}
	}
	shared, err := os.ReadFile(filepath.Join(testdata, "design", "shared.hcl"))
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		r := proofread.File(hclfile.Source{FS: fstest.MapFS{"p.hcl": {Data: b}, "shared.hcl": {Data: shared}}, Path: "p.hcl"})
		for _, d := range r.Diagnostics {
			n := max(len(b), len(r.Text(d.Subject.File)))
			if s, e := d.Subject.Start.Byte, d.Subject.End.Byte; s < 0 || e < s || e > n {
				t.Errorf("%s is about bytes %d to %d of %d", d.Code, s, e, n)
			}
		}
		if r.Procedure != nil && !r.Diagnostics.HasErrors() && r.Prompts < 1 {
			t.Errorf("the longest path has %d prompts", r.Prompts)
		}
		for _, z := range r.Zones {
			_ = z.String()
		}
	})
}
