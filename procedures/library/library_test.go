package library_test

import (
	"bytes"
	"io/fs"
	"path"
	"slices"
	"strings"
	"testing"

	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
	"waywright/procedures/library"
	"waywright/procedures/proofread"
	"waywright/procedures/tidy"
)

// Every file that ships proofreads without an error.
func TestLibraryProofreads(t *testing.T) {
	files := []string{"shared.hcl", "lathe/shared.hcl", "references/shared.hcl", "mill/shared.hcl", "drill/shared.hcl"}
	for _, name := range library.List() {
		files = append(files, name+".hcl")
	}
	for _, f := range files {
		r := proofread.File(hclfile.Source{FS: library.FS(), Path: f})
		if r.Diagnostics.HasErrors() {
			var b strings.Builder
			if err := diagnose.WriteText(&b, r.Diagnostics, r.Text); err != nil {
				t.Fatal(err)
			}
			t.Errorf("%s\n%s", f, b.String())
		}
	}
}

func TestFind(t *testing.T) {
	for _, name := range library.List() {
		for _, as := range []string{name, path.Base(name), name + ".hcl"} {
			if full, ok := library.Find(as); !ok || full != name {
				t.Errorf("Find(%q) = %q, %t; want %q", as, full, ok, name)
			}
		}
		if b, ok := library.Text(name); !ok || len(b) == 0 {
			t.Errorf("Text(%q) has %d bytes, %t", name, len(b), ok)
		}
	}
	for _, as := range []string{"", "shared", "no-such-procedure", "../lathe/shared"} {
		if full, ok := library.Find(as); ok {
			t.Errorf("Find(%q) = %q", as, full)
		}
		if _, ok := library.Source(as); ok {
			t.Errorf("Source(%q) is there", as)
		}
	}
}

// Plans are told from procedures by their text; reading them says the same.
func TestPlans(t *testing.T) {
	plans := 0
	for _, name := range library.List() {
		src, _ := library.Source(name)
		l, _ := hclfile.Parse(src)
		text, _ := library.Text(name)
		if library.IsPlan(text) != (l.Overhaul != nil) || slices.Contains(library.Procedures(), name) != (l.Procedure != nil) {
			t.Errorf("%s: a plan by its text: %t, read: %t", name, library.IsPlan(text), l.Overhaul != nil)
		}
		if l.Overhaul == nil {
			continue
		}
		plans++
		for _, task := range l.Overhaul.Tasks {
			if _, ok := hclfile.Peer(src, task.Procedure); !ok {
				t.Errorf("%s: the procedure %s of task %s does not ship", name, task.Procedure, task.Name)
			}
		}
	}
	if plans == 0 {
		t.Error("no plan ships")
	}
}

// What ships has the layout that tidy gives.
func TestLibraryIsTidy(t *testing.T) {
	files := []string{"shared.hcl", "lathe/shared.hcl", "references/shared.hcl", "mill/shared.hcl", "drill/shared.hcl"}
	for _, name := range library.List() {
		files = append(files, name+".hcl")
	}
	for _, f := range files {
		src, err := fs.ReadFile(library.FS(), f)
		if err != nil {
			t.Fatal(err)
		}
		switch got, err := tidy.Bytes(f, src); {
		case err != nil:
			t.Errorf("%s: %v", f, err)
		case !bytes.Equal(got, src):
			t.Errorf("%s is not tidy: waywright tidy procedures/library/%s", f, f)
		}
	}
}
