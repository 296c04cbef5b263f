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

// made are the codes of whole files, which no line earns; the examples of the
// reference make such files.
var made = []string{"E001", "E002", "E003", "E005", "E006", "E007", "E008", "F001"}

// Every code has a line of the corpus that earns it.
func TestEveryCodeHasACase(t *testing.T) {
	earned := map[string]bool{}
	root := os.DirFS(filepath.Join(testdata, "broken"))
	err := fs.WalkDir(root, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		for _, d := range proofread.File(hclfile.Source{FS: root, Path: p}).Diagnostics {
			earned[d.Code] = true
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range diagnose.Codes() {
		if !earned[c] && !slices.Contains(made, c) {
			e, _ := diagnose.Explain(c)
			t.Errorf("%s (%s) is earned by no line of %s", c, e.Summary, filepath.Join(testdata, "broken"))
		}
	}
}
