package editor

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"waywright/cmd/waywright/internal/editor/lsp"
	"waywright/cmd/waywright/internal/editor/sketch"
	"waywright/procedures/library"
)

// In files without mistakes every name leads to where it is given, and
// something can be told of it; so for all that ship and those of the tests.
func TestEveryNameIsFound(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(filepath.Join(dir, "library"), library.FS()); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"design", "engine", "overhaul"} {
		from := os.DirFS(filepath.Join("..", "..", "..", "..", "testdata", "procedures", name))
		if err := os.CopyFS(filepath.Join(dir, name), from); err != nil {
			t.Fatal(err)
		}
	}
	seen := map[sketch.Kind]int{}
	s := newServer(Options{})
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(name) != ".hcl" {
			return err
		}
		path := filepath.Join(dir, name)
		b, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		uri := s.uriOf(path)
		s.docs[uri] = &doc{uri: uri, path: path, text: lsp.NewText(b)}
		v, p, err := s.look(uri)
		if err != nil {
			return err
		}
		for _, r := range p.refs {
			seen[r.Kind]++
			to, ok := v.resolve(p, r)
			switch {
			case ok && (to.ref.Name != r.Name || !to.ref.Gives):
				t.Errorf("%s: %s leads to %s", name, p.tree.String(r.Whole), written(to.ref))
			case ok && len(v.nameText(p, r, to)) < 20:
				t.Errorf("%s: of %s it tells %q", name, p.tree.String(r.Whole), v.nameText(p, r, to))
			case !ok && !absent(p, r):
				t.Errorf("%s, line %d: %s (%s of %q) is given nowhere", name, p.text.Position(r.At.From).Line+1, p.tree.String(r.Whole), r.Kind, r.Of)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range []sketch.Kind{"given", "reading", "result", "gate", "correction", "step", "instrument", "caution", "table", "task",
		"signoff", sketch.Row, sketch.Each, sketch.Hidden, sketch.Procedure, sketch.Rehearsal, sketch.Fact, "said"} {
		if seen[k] < 3 {
			t.Errorf("only %d names of %s were tried", seen[k], k)
		}
	}
}

// absent tells of names that nothing in a file gives: the keys that attributes
// bring, and procedures that are not at hand.
func absent(p *page, r sketch.Ref) bool {
	switch r.Kind {
	case sketch.Each:
		return r.Name == "station" || r.Name == "angle" || r.Name == "take"
	case sketch.Procedure:
		return true
	}
	return r.Of != "" && r.Kind != sketch.Row
}
