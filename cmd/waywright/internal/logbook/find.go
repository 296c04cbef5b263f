package logbook

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
	"waywright/procedures/library"
)

// Find returns where a procedure is: a file, named by its path; a procedure of
// the logbook; or one of the library, by its name or the last part of it. The
// shop's own stand before the library's.
func (b Book) Find(name string) (hclfile.Source, error) {
	if strings.HasSuffix(name, ".hcl") {
		return FileSource(name)
	}
	if own, ok := b.ownSource(name); ok {
		return own, nil
	}
	if src, ok := library.Source(name); ok {
		return src, nil
	}
	if info, err := os.Stat(name); err == nil {
		if info.IsDir() {
			return hclfile.Source{}, fmt.Errorf("%s is a folder. Name a file in it that ends in .hcl", name)
		}
		return FileSource(name)
	}
	names := b.Procedures()
	for _, n := range names {
		names = append(names, path.Base(n))
	}
	mend := "All are listed by: waywright list"
	if near := diagnose.Nearest(name, names); near != "" {
		mend = fmt.Sprintf("Did you mean %q?", near)
	}
	return hclfile.Source{}, fmt.Errorf("there is no procedure %q: not in the logbook %s, not in the library, and no file of that name. %s", name, b.Dir, mend)
}

// FileSource returns the source of a procedure in a file. Shared definitions
// are looked for beside it, then in the folders above it as long as they have
// a shared.hcl, then in the library.
func FileSource(name string) (hclfile.Source, error) {
	abs, err := filepath.Abs(name)
	if err != nil {
		return hclfile.Source{}, fmt.Errorf("%s: %w", name, err)
	}
	root := filepath.Dir(abs)
	for up := filepath.Dir(root); up != root; up = filepath.Dir(up) {
		if _, err := os.Stat(filepath.Join(up, "shared.hcl")); err != nil {
			break
		}
		root = up
	}
	rel, err := filepath.Rel(root, abs)
	if err != nil {
		return hclfile.Source{}, fmt.Errorf("%s: %w", name, err)
	}
	return hclfile.Source{FS: os.DirFS(root), Path: filepath.ToSlash(rel), Also: library.FS()}, nil
}

func (b Book) ownSource(name string) (hclfile.Source, bool) {
	dir := filepath.Join(b.Dir, proceduresName)
	p := name + ".hcl"
	if !fs.ValidPath(p) || path.Base(p) == "shared.hcl" {
		return hclfile.Source{}, false
	}
	if info, err := os.Stat(filepath.Join(dir, filepath.FromSlash(p))); err != nil || info.IsDir() {
		return hclfile.Source{}, false
	}
	return hclfile.Source{FS: os.DirFS(dir), Path: p, Also: library.FS()}, true
}

// Own returns the names of the shop's own procedures.
func (b Book) Own() []string {
	var out []string
	fsys := os.DirFS(filepath.Join(b.Dir, proceduresName))
	// What cannot be read is not offered.
	_ = fs.WalkDir(fsys, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			if d != nil && d.IsDir() && !errors.Is(err, fs.ErrNotExist) {
				return fs.SkipDir
			}
			return nil
		}
		if !d.IsDir() && path.Ext(p) == ".hcl" && path.Base(p) != "shared.hcl" {
			out = append(out, strings.TrimSuffix(p, ".hcl"))
		}
		return nil
	})
	slices.Sort(out)
	return out
}

// Procedures returns the names of all procedures at hand: the shop's own, then
// the library's.
func (b Book) Procedures() []string {
	own := b.Own()
	for _, n := range library.List() {
		if !slices.Contains(own, n) {
			own = append(own, n)
		}
	}
	return own
}
