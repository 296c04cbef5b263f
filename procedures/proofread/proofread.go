// Package proofread says everything that can be proved of a procedure file
// before it is used: what reading it shows, and what vetting the whole shows.
package proofread

import (
	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
	"waywright/procedures/vet"
)

// Result is what was found in a file.
type Result struct {
	hclfile.Loaded
	Diagnostics diagnose.List
	Answered    []Answered // warnings that a comment on their line gives a reason for
	Prompts     int        // on the longest path; 0 where there is no procedure, or it has errors
	Zones       []vet.Zone // of the gates with limits
}

// File proofreads a file of any kind.
func File(src hclfile.Source) Result {
	loaded, ds := hclfile.Parse(src)
	r := Result{Loaded: loaded, Diagnostics: ds}
	p := loaded.Procedure
	switch {
	case p == nil:
	case ds.HasErrors():
		r.Diagnostics = append(r.Diagnostics, vet.Part(p)...)
	default:
		found := vet.Procedure(p)
		r.Diagnostics = append(r.Diagnostics, found.Diagnostics...)
		r.Prompts, r.Zones = found.Prompts, found.Zones
	}
	r.Diagnostics, r.Answered = answered(r.Diagnostics.Sorted(), r.Text)
	return r
}

// Origin says where a definition that is used comes from.
type Origin struct {
	Name string // "instrument.micrometer"
	File string // "lathe/shared.hcl"
}

// Origins returns what the procedure uses from shared files: the nearest
// definition of each name won.
func (r Result) Origins() []Origin {
	p := r.Procedure
	if p == nil {
		return nil
	}
	var out []Origin
	add := func(name, file string) {
		if file != p.At.File {
			out = append(out, Origin{name, file})
		}
	}
	for _, c := range p.Cautions {
		add("caution."+c.Name, c.At.File)
	}
	for _, i := range p.Instruments {
		add("instrument."+i.Name, i.At.File)
	}
	for _, t := range p.Tables {
		add("table."+t.Name, t.At.File)
	}
	return out
}
