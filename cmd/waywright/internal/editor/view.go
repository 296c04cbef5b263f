package editor

import (
	"bytes"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"waywright/cmd/waywright/internal/editor/lsp"
	"waywright/cmd/waywright/internal/editor/sketch"
	"waywright/cmd/waywright/internal/logbook"
	"waywright/procedures/hclfile"
	"waywright/procedures/library"
)

// builtIn stands before the names of files that ship with the program.
const builtIn = "built-in/"

// view is a folder of procedures with what is open in the editor, as it is
// while one message is answered.
type view struct {
	s      *server
	root   string // on disk
	fsys   fs.FS
	pages  map[string]*page
	listed []string // all pages in the folder, once they were looked for
}

// page is a file in view.
type page struct {
	name  string // below the root; built-in/… where it ships
	text  *lsp.Text
	tree  *sketch.File
	refs  []sketch.Ref
	gives map[string][]sketch.Ref // by kind and name
}

// look returns the folder that an open file stands in, and the file in it.
func (s *server) look(uri string) (*view, *page, error) {
	d := s.docs[uri]
	if d == nil {
		return nil, nil, errNoFile
	}
	v, name := s.viewOf(d.path)
	p := v.page(name)
	if p == nil {
		return nil, nil, errNoFile
	}
	return v, p, nil
}

// viewOf returns the folder of a file, which begins where the procedures that
// share definitions with it do.
func (s *server) viewOf(file string) (v *view, name string) {
	root, name := filepath.Dir(file), filepath.Base(file)
	if src, err := logbook.FileSource(file); err == nil {
		name = src.Path
		root = filepath.Clean(strings.TrimSuffix(file, filepath.FromSlash(name)))
	}
	open := map[string][]byte{}
	for _, d := range s.docs {
		open[d.path] = d.text.Bytes
	}
	return &view{s: s, root: root, fsys: overlay{os.DirFS(root), root, open}, pages: map[string]*page{}}, name
}

// source returns a page as the reader of procedures wants it.
func (v *view) source(name string) hclfile.Source {
	if rest, ok := strings.CutPrefix(name, builtIn); ok {
		return hclfile.Source{FS: library.FS(), Path: rest}
	}
	return hclfile.Source{FS: v.fsys, Path: name, Also: library.FS()}
}

// page returns a file, or nil.
func (v *view) page(name string) *page {
	if p, ok := v.pages[name]; ok {
		return p
	}
	src := v.source(name)
	b, err := fs.ReadFile(src.FS, src.Path)
	if err != nil || len(b) > 1<<20 {
		v.pages[name] = nil
		return nil
	}
	p := &page{name: name, text: lsp.NewText(b), tree: sketch.Read(name, b), gives: map[string][]sketch.Ref{}}
	p.refs = p.tree.Refs()
	for _, r := range p.refs {
		if r.Gives {
			key := string(r.Kind) + " " + r.Name
			p.gives[key] = append(p.gives[key], r)
		}
	}
	v.pages[name] = p
	return p
}

// uri returns the URI of a page. One that ships is written to the cache; ""
// where it cannot be.
func (v *view) uri(p *page) string {
	rest, ships := strings.CutPrefix(p.name, builtIn)
	if !ships {
		return v.s.uriOf(filepath.Join(v.root, filepath.FromSlash(p.name)))
	}
	if v.s.opts.Cache == "" {
		return ""
	}
	file := filepath.Join(v.s.opts.Cache, filepath.FromSlash(rest))
	if b, err := os.ReadFile(file); err != nil || !bytes.Equal(b, p.text.Bytes) {
		_ = os.Remove(file)
		if os.MkdirAll(filepath.Dir(file), 0o777) != nil || os.WriteFile(file, p.text.Bytes, 0o444) != nil {
			return ""
		}
	}
	return v.s.uriOf(file)
}

// shared returns the files of shared definitions that a page sees, nearest
// first.
func (v *view) shared(p *page) []*page {
	var out []*page
	prefix, at := "", p.name
	if rest, ok := strings.CutPrefix(p.name, builtIn); ok {
		prefix, at = builtIn, rest
	}
	for dir := path.Dir(at); ; dir = path.Dir(dir) {
		if q := v.page(prefix + path.Join(dir, "shared.hcl")); q != nil && q != p {
			out = append(out, q)
		}
		if dir == "." || dir == "/" {
			break
		}
	}
	if q := v.page(builtIn + "shared.hcl"); q != nil && prefix == "" {
		out = append(out, q)
	}
	return out
}

// peer returns the file of another procedure that a page names, or nil.
func (v *view) peer(p *page, name string) *page {
	src := v.source(p.name)
	other, ok := hclfile.Peer(src, name)
	if !ok || name == "" {
		return nil
	}
	ships := strings.HasPrefix(p.name, builtIn) || other.Also == nil
	if ships {
		return v.page(builtIn + other.Path)
	}
	return v.page(other.Path)
}

// The bounds of a folder that is looked through whole.
const (
	maxFiles = 1000
	maxDeep  = 5
)

// all returns the procedure files of the folder, without those that runs keep.
func (v *view) all() []*page {
	if v.listed == nil {
		v.listed = v.find()
	}
	var out []*page
	for _, name := range v.listed {
		if p := v.page(name); p != nil {
			out = append(out, p)
		}
	}
	return out
}

func (v *view) find() []string {
	var out []string
	seen := 0
	// What cannot be read is left out.
	_ = fs.WalkDir(v.fsys, ".", func(name string, d fs.DirEntry, err error) error {
		seen++
		switch {
		case seen > 20*maxFiles || len(out) >= maxFiles:
			return fs.SkipAll
		case err != nil:
			return nil
		case d.IsDir():
			hidden := name != "." && strings.HasPrefix(d.Name(), ".")
			if hidden || d.Name() == "runs" || strings.Count(name, "/") >= maxDeep {
				return fs.SkipDir
			}
		case path.Ext(name) == ".hcl":
			out = append(out, name)
		}
		return nil
	})
	for _, d := range v.s.docs { // never saved
		rel, err := filepath.Rel(v.root, d.path)
		name := filepath.ToSlash(rel)
		if err == nil && filepath.IsLocal(rel) && !slices.Contains(out, name) && !strings.Contains("/"+name, "/runs/") {
			out = append(out, name)
		}
	}
	slices.Sort(out)
	return out
}

// overlay is a folder with what is open in the editor in the place of what is
// on disk.
type overlay struct {
	disk fs.FS
	root string
	open map[string][]byte // by path on disk
}

// Open opens a file.
func (o overlay) Open(name string) (fs.File, error) {
	if b, ok := o.open[filepath.Join(o.root, filepath.FromSlash(name))]; ok && fs.ValidPath(name) {
		return &buffer{bytes.NewReader(b), path.Base(name), int64(len(b))}, nil
	}
	return o.disk.Open(name)
}

// ReadDir lists a folder as it is on disk.
func (o overlay) ReadDir(name string) ([]fs.DirEntry, error) { return fs.ReadDir(o.disk, name) }

// buffer is an open file of an [overlay].
type buffer struct {
	io.Reader
	name string
	size int64
}

func (b *buffer) Stat() (fs.FileInfo, error) { return b, nil }
func (b *buffer) Close() error               { return nil }
func (b *buffer) Name() string               { return b.name }
func (b *buffer) Size() int64                { return b.size }
func (b *buffer) Mode() fs.FileMode          { return 0o444 }
func (b *buffer) ModTime() time.Time         { return time.Time{} }
func (b *buffer) IsDir() bool                { return false }
func (b *buffer) Sys() any                   { return nil }
