package diagnose

import "waywright/procedures/source"

// Report is the form of a list for other programs: one JSON object.
//
//	{
//	  "errors": 1,
//	  "warnings": 0,
//	  "diagnostics": [
//	    {
//	      "code": "E304", "severity": "error",
//	      "summary": "Limit has the wrong dimension",
//	      "detail": "result.bow is a length, …",
//	      "in": "gate \"level\"",
//	      "file": "bed.hcl",
//	      "start": {"line": 24, "column": 15, "byte": 612},
//	      "end": {"line": 24, "column": 25, "byte": 622}
//	    }
//	  ]
//	}
//
// Lines and columns count from 1, columns in characters as a reader sees
// them; bytes count from 0. Fields may be added; none will change.
type Report struct {
	Errors      int    `json:"errors"`
	Warnings    int    `json:"warnings"`
	Diagnostics []Item `json:"diagnostics"`
}

// Item is one diagnostic of a [Report].
type Item struct {
	Code     string `json:"code"`
	Severity string `json:"severity"`
	Summary  string `json:"summary"`
	Detail   string `json:"detail"`
	In       string `json:"in,omitempty"`
	File     string `json:"file"`
	Start    Place  `json:"start"`
	End      Place  `json:"end"`
}

// Place is a place in a file.
type Place struct {
	Line   int `json:"line"`
	Column int `json:"column"`
	Byte   int `json:"byte"`
}

// Report returns the list in its form for other programs.
func (l List) Report() Report {
	r := Report{Errors: l.Count(Error), Warnings: l.Count(Warning), Diagnostics: []Item{}}
	for _, d := range l {
		r.Diagnostics = append(r.Diagnostics, Item{
			Code: d.Code, Severity: d.Severity.String(), Summary: d.Summary, Detail: d.Detail,
			In: d.In, File: d.Subject.File, Start: place(d.Subject.Start), End: place(d.Subject.End),
		})
	}
	return r
}

func place(p source.Pos) Place { return Place{Line: p.Line, Column: p.Column, Byte: p.Byte} }
