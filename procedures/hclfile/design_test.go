package hclfile_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
)

const testdata = "../../testdata/procedures"

// show prints diagnostics as a person would see them.
func show(l hclfile.Loaded, ds diagnose.List) string {
	var b strings.Builder
	if err := diagnose.WriteText(&b, ds, l.Text); err != nil {
		return err.Error()
	}
	return b.String()
}

// Every procedure of the design is read without an error.
func TestDesignFilesAreRead(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(testdata, "design", "*.hcl"))
	if err != nil || len(files) != 9 {
		t.Fatalf("have %d files, %v; want 9", len(files), err)
	}
	for _, f := range files {
		t.Run(filepath.Base(f), func(t *testing.T) {
			l, ds := hclfile.Parse(hclfile.Source{FS: os.DirFS(filepath.Dir(f)), Path: filepath.Base(f)})
			if ds.HasErrors() {
				t.Errorf("%s", show(l, ds))
			}
		})
	}
}
