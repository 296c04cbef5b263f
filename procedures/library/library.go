// Package library holds the procedures that ship with the program, embedded:
// one folder a class of machine, and a shared.hcl for what they have in
// common.
//
// A procedure is called by its folder and its name, "lathe/headstock-align",
// or by its name alone where that says enough.
package library

import (
	"embed"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"

	"waywright/procedures/hclfile"
)

//go:embed *.hcl */*.hcl
var files embed.FS

// FS returns the library's files, from its root.
func FS() fs.FS { return files }

// planHead begins a plan of an overhaul.
var planHead = regexp.MustCompile(`(?m)^\s*overhaul\s+"`)

// IsPlan tells whether a file holds a plan of an overhaul, by its text alone.
func IsPlan(text []byte) bool { return planHead.Match(text) }

// Procedures returns the names of the procedures, without the plans.
func Procedures() []string {
	return slices.DeleteFunc(List(), func(name string) bool {
		b, _ := Text(name)
		return IsPlan(b)
	})
}

// List returns the names of the procedures and plans, in order.
func List() []string {
	var out []string
	// The error is always nil: the files are embedded.
	_ = fs.WalkDir(files, ".", func(p string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && path.Ext(p) == ".hcl" && path.Base(p) != "shared.hcl" {
			out = append(out, strings.TrimSuffix(p, ".hcl"))
		}
		return err
	})
	slices.Sort(out)
	return out
}

// Find returns the full name of a procedure from its full name or its last
// part; ok is false where there is none, or more than one.
func Find(name string) (full string, ok bool) {
	name = strings.TrimSuffix(name, ".hcl")
	for _, n := range List() {
		if n == name {
			return n, true
		}
		if path.Base(n) == name {
			if full != "" {
				return "", false
			}
			full = n
		}
	}
	return full, full != ""
}

// Source returns where a procedure of the library is, for reading it; ok is
// false where there is none of that name.
func Source(name string) (src hclfile.Source, ok bool) {
	full, ok := Find(name)
	if !ok {
		return hclfile.Source{}, false
	}
	return hclfile.Source{FS: files, Path: full + ".hcl"}, true
}

// Text returns the source of a procedure as it ships.
func Text(name string) ([]byte, bool) {
	src, ok := Source(name)
	if !ok {
		return nil, false
	}
	b, err := files.ReadFile(src.Path)
	return b, err == nil
}
