// Package hclfile reads procedure files: source to model, with a diagnostic
// for every mistake that one file alone can show. What takes the whole
// procedure to prove is proved by package vet.
//
// A file is read from a file system, so that embedded procedures and folders
// on disk are the same thing. What several procedures share stands in a
// shared.hcl beside them or in a folder above, up to the root of the file
// system; the nearest definition wins.
//
// Reading goes on after a mistake: twenty mistakes give twenty diagnostics.
// What depends on a wrong definition is not told again. Files are held
// against bounds before they are parsed, so that no file, however made, costs
// more than a little memory.
package hclfile

import (
	"io/fs"
	"path"

	"waywright/procedures"
	"waywright/procedures/diagnose"
	"waywright/procedures/formula/compile"
	"waywright/procedures/hclfile/schema"
	"waywright/procedures/source"
)

// Source says where a file is.
type Source struct {
	FS   fs.FS  // the folder of procedures: the library's root
	Path string // the file, below the root, with slashes: "lathe/headstock-align.hcl"
	// Also is looked into after FS, for other procedures that are named and
	// for shared definitions at its root; nil: nowhere.
	Also fs.FS
	// Brief leaves out rehearsals, and what else only an author wants to be
	// told: for those of a plan all its procedures are read.
	Brief bool
}

// Loaded is what a file holds: one of the three.
type Loaded struct {
	Procedure *procedures.Procedure
	Overhaul  *procedures.Overhaul
	Shared    bool   // a shared.hcl, which holds definitions only
	Register  string // machines, instruments, people, shop: a register of a logbook; else empty
	Entries   int    // of the register
	Files     []procedures.File
}

// Text returns the bytes of a file that was read, for showing its lines.
func (l Loaded) Text(file string) []byte {
	for _, f := range l.Files {
		if f.Name == file {
			return f.Bytes
		}
	}
	return nil
}

// Parse reads a file of any kind. What was understood is returned along with
// the diagnostics; a model is fit to be used only where none is an error.
func Parse(src Source) (Loaded, diagnose.List) {
	r := newReader(src, nil)
	switch path.Base(src.Path) {
	case "machines.hcl":
		return loaded(r, "machines", schema.MachinesFile, (*reader).machine)
	case "instruments.hcl":
		return loaded(r, "instruments", schema.InstrumentsFile, (*reader).realInstrument)
	case "people.hcl":
		return loaded(r, "people", schema.PeopleFile, (*reader).person)
	case "shop.hcl":
		r.shopFile()
		return Loaded{Register: "shop", Files: r.allRead()}, r.diags.Sorted()
	}
	return r.parse()
}

// Pinned reads a procedure or plan from files kept as they were when a run
// began: the procedure's own first, then the shared ones, nearest first, as
// [procedures.Procedure] lists them.
func Pinned(files []procedures.File) (Loaded, diagnose.List) {
	if len(files) == 0 {
		return Loaded{}, diagnose.List{diagnose.New("E001", source.Range{}, "There is no procedure file.")}
	}
	r := newReader(Source{Path: files[0].Name}, nil)
	r.pinned = files
	return r.parse()
}

// reader is the reading of one file.
type reader struct {
	src    Source
	pinned []procedures.File
	diags  diagnose.List
	full   bool // so much has been found that no more is told
	blocks int  // so many have been read
	own    *file
	shared []*home // the own file's definitions first, then nearest first
	read   []*file // all that were read, for showing lines

	p     *procedures.Procedure
	names map[string]*decl // semantics rule 1: one name space
	decls map[string]map[string]*decl
	used  map[*file]bool
	brief bool // the procedure is read on behalf of another one: no rehearsals
	peers *peers

	rows      map[string]compile.Symbol // of all tables in sight, by "t.row"
	firstGate map[string]*node          // the first gate that names a correction
	liked     int                       // so many bytes were taken over by like
}

func newReader(src Source, ps *peers) *reader {
	r := &reader{src: src, brief: src.Brief, names: map[string]*decl{}, decls: map[string]map[string]*decl{}, used: map[*file]bool{}, peers: ps}
	if r.peers == nil {
		r.peers = &peers{known: map[string]*peer{}}
	}
	return r
}

func (r *reader) parse() (Loaded, diagnose.List) {
	r.own = r.open(r.src.FS, r.src.Path, r.src.Path)
	var out Loaded
	if r.own.body != nil {
		switch kind := kindOf(r.own); kind {
		case schema.SharedFile:
			out.Shared = true
			r.sharedFile()
		case schema.OverhaulFile:
			out.Overhaul = r.overhaul()
		default:
			out.Procedure = r.procedure()
		}
	}
	out.Files = r.allRead()
	return out, r.diags.Sorted()
}

func (r *reader) allRead() (out []procedures.File) {
	for _, f := range r.read {
		out = append(out, procedures.File{Name: f.name, Bytes: f.bytes})
	}
	return out
}

// open reads a file and keeps it with its diagnostics.
func (r *reader) open(fsys fs.FS, p, shown string) *file {
	var f *file
	var ds diagnose.List
	if r.pinned != nil {
		f, ds = parse(shown, r.pinnedBytes(shown))
	} else {
		f, ds = load(fsys, p, shown)
	}
	r.diags = append(r.diags, ds...)
	r.read = append(r.read, f)
	return f
}

func (r *reader) pinnedBytes(name string) []byte {
	for _, f := range r.pinned {
		if f.Name == name {
			return f.Bytes
		}
	}
	return nil
}

// kindOf tells what kind of file it is, by its name and its blocks.
func kindOf(f *file) *schema.Block {
	if path.Base(f.name) == sharedName {
		return schema.SharedFile
	}
	for _, b := range f.body.Blocks {
		switch b.Type {
		case schema.Procedure.Type:
			return schema.ProcedureFile
		case schema.Overhaul.Type:
			return schema.OverhaulFile
		}
	}
	return schema.ProcedureFile
}

// files returns the files that the model is made from.
func (r *reader) files() []procedures.File {
	out := []procedures.File{{Name: r.own.name, Bytes: r.own.bytes}}
	for _, h := range r.shared {
		if h.file != r.own && r.used[h.file] {
			out = append(out, procedures.File{Name: h.file.name, Bytes: h.file.bytes})
		}
	}
	return out
}
