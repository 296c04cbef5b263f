package proofread_test

import (
	"io/fs"
	"strings"
	"testing"

	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
	"waywright/procedures/hclfile/schema"
	"waywright/procedures/proofread"
)

// The examples that the reference shows of blocks stand in files that nothing
// can be said against.
func TestExamplesOfBlocks(t *testing.T) {
	dir := schema.Examples()
	files, err := fs.Glob(dir, "*.hcl")
	if err != nil || len(files) != 8 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, file := range files {
		r := proofread.File(hclfile.Source{FS: dir, Path: file})
		if len(r.Diagnostics)+len(r.Answered) > 0 {
			var b strings.Builder
			if err := diagnose.WriteText(&b, r.Diagnostics, r.Text); err != nil {
				t.Fatal(err)
			}
			t.Errorf("%s:\n%s", file, b.String())
		}
	}
}
