package proofread_test

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
	"waywright/procedures/proofread"
)

const testdata = "../../testdata/procedures"

var expected = regexp.MustCompile(`"([^"]+)"`)

// Every bad line of the corpus carries the summaries that it earns, after
// ###, and no other line earns any.
func TestBrokenFiles(t *testing.T) {
	root := filepath.Join(testdata, "broken")
	err := fs.WalkDir(os.DirFS(root), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		t.Run(p, func(t *testing.T) { broken(t, root, p) })
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func broken(t *testing.T, root, p string) {
	r := proofread.File(hclfile.Source{FS: os.DirFS(root), Path: p})
	var want, got []string
	for i, line := range strings.Split(string(r.Text(p)), "\n") {
		if _, marks, ok := strings.Cut(line, "###"); ok && !strings.HasPrefix(line, "#") {
			for _, m := range expected.FindAllStringSubmatch(marks, -1) {
				want = append(want, fmt.Sprintf("%s:%d %s", p, i+1, m[1]))
			}
		}
	}
	for _, d := range r.Diagnostics {
		got = append(got, fmt.Sprintf("%s:%d %s", d.Subject.File, d.Subject.Start.Line, d.Summary))
	}
	slices.Sort(want)
	slices.Sort(got)
	if diff := cmp.Diff(want, got); diff != "" {
		var b strings.Builder
		if err := diagnose.WriteText(&b, r.Diagnostics, r.Text); err != nil {
			t.Fatal(err)
		}
		t.Errorf("want −, got +:\n%s\n%s", diff, b.String())
	}
}
