// Package printed makes a document of a comparison of records, so that it can
// be written in every form that a record has. The words are those of the
// comparison; what differs stands first.
package printed

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"waywright/report"
	"waywright/report/compare"
	"waywright/report/document"
)

// Of makes the document of a comparison.
func Of(c compare.Comparison) (document.Document, error) {
	b, err := compare.Marshal(c)
	if err != nil {
		return document.Document{}, err
	}
	var own compare.Comparison // a copy, to be cleaned
	if err := json.Unmarshal(b, &own); err != nil {
		return document.Document{}, fmt.Errorf("printed: %w", err)
	}
	document.Clean(&own)
	c = own
	sum := sha256.Sum256(b)
	d := document.Document{
		Title: "Comparison of records", Digest: hex.EncodeToString(sum[:]), Item: strings.Join(c.Machines(), ", "), Language: "en",
		Subject: c.About(), Time: latest(c), End: "END OF COMPARISON",
	}
	d.Short = d.Digest[:8]
	d.Number = "compared-" + d.Short
	d.Head = []document.Block{document.Paragraph{Style: document.Lead, Line: line(c.About())}}
	d.Parts = []document.Part{
		{ID: "outcome", Title: "What differs", Form: document.First, Blocks: outcome(c)},
		{ID: "runs", Title: "The runs", Blocks: []document.Block{runs(c)}},
		{ID: "tests", Title: "The tests, one by one", Form: document.Fresh, Blocks: tests(c)},
		{ID: "how", Title: "How it was compared", Blocks: []document.Block{sentences(c.Notes)}},
	}
	return document.Settled(d), nil
}

func line(s string) document.Line { return document.Line{{Text: s}} }

func latest(c compare.Comparison) string {
	out := ""
	for _, r := range c.Runs {
		out = max(out, r.To)
	}
	return out
}

func sentences(ss []string) document.List {
	var l document.List
	for _, s := range ss {
		l.Items = append(l.Items, document.Item{Line: line(s)})
	}
	return l
}

// outcome lists the tests by what was found, what differs first.
func outcome(c compare.Comparison) []document.Block {
	var out []document.Block
	for _, word := range compare.Words {
		var l document.List
		l.Style = document.Falls
		for i, t := range c.Tests {
			if t.Word() != word {
				continue
			}
			item := document.Item{No: i + 1, Line: document.Line{{Text: t.Title, Ref: id(i)}}}
			switch word {
			case compare.Different:
				for _, s := range t.Real() {
					item.Under = append(item.Under, line(s))
				}
			case compare.Same:
				for _, s := range t.Same() {
					item.Under = append(item.Under, line(s))
				}
			case compare.NotCompared:
				for _, s := range t.Cannot {
					item.Under = append(item.Under, line(s))
				}
			}
			l.Items = append(l.Items, item)
		}
		if len(l.Items) > 0 || word == compare.Different {
			out = append(out, document.Heading{Level: 3, Text: fmt.Sprintf("%s: %d", word, len(l.Items))})
		}
		if len(l.Items) > 0 {
			out = append(out, l)
		}
	}
	return out
}

func id(i int) string { return fmt.Sprintf("test-%d", i+1) }

func runs(c compare.Comparison) document.Table {
	t := table("The runs that are compared", "Run", "Of", "Machine", "Measured", "Outcome", "Called")
	for _, r := range c.Runs {
		serial := ""
		if r.Serial != "" {
			serial = "serial " + r.Serial
		}
		revision := ""
		if r.Revision != "" {
			revision = "revision " + r.Revision
		}
		t.Rows = append(t.Rows, document.Row{Cells: []document.Cell{
			{Text: r.Letter, Strong: true}, {Text: r.Title, Notes: some(revision)}, {Text: r.Machine, Notes: some(serial)},
			{Text: day(r.To), Time: r.To}, {Text: r.Text, Notes: r.But}, {Text: r.Name, Notes: some("No. " + r.Number)},
		}})
	}
	return t
}

func table(caption string, heads ...string) document.Table {
	t := document.Table{Caption: caption}
	for _, h := range heads {
		t.Columns = append(t.Columns, document.Column{Head: h})
	}
	return t
}

func some(ss ...string) []string {
	var out []string
	for _, s := range ss {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

// day is a time as it is printed: the day alone.
func day(s string) string {
	t, err := time.Parse(time.RFC3339, s)
	if err != nil {
		return s
	}
	return t.UTC().Format("2 January 2006")
}

func tests(c compare.Comparison) []document.Block {
	var out []document.Block
	for i, t := range c.Tests {
		out = append(out, document.Test{No: i + 1, ID: id(i), Title: t.Title, Word: t.Word(), Blocks: test(c, i)})
	}
	return out
}

func test(c compare.Comparison, i int) []document.Block {
	t := c.Tests[i]
	out := []document.Block{document.Paragraph{Style: document.Verdict, Line: document.Line{{Text: t.Word(), Strong: true}}}}
	if f := facts(t); len(f.Rows) > 0 {
		out = append(out, f)
	}
	if v := values(c, t); len(v.Rows) > 0 {
		out = append(out, v)
	}
	if f, ok := picture(c, i); ok {
		out = append(out, f)
	}
	notes := append(some(t.Limits), append(append([]string(nil), t.Cannot...), t.Notes...)...)
	if len(notes) > 0 {
		out = append(out, sentences(notes))
	}
	return out
}

func facts(t compare.Test) document.Facts {
	var f document.Facts
	for _, d := range t.Differences {
		f.Rows = append(f.Rows, document.Fact{Name: d.Between(), Lines: []document.Line{line(d.Said)}})
	}
	for _, d := range t.Drifts {
		f.Rows = append(f.Rows, document.Fact{Name: "Drift of " + d.Machine, Lines: []document.Line{line(d.Said)}})
	}
	return f
}

func values(c compare.Comparison, t compare.Test) document.Table {
	out := table("What was found: "+t.Title, "Run", "As found", "As left", "Permissible", "Verdict", "With")
	for i, v := range t.Values {
		if v.State == compare.NoTest {
			continue
		}
		row := []document.Cell{{Text: v.Run, Strong: true, Notes: some(day(c.Runs[i].To))}, {Text: "not read"}, {Text: v.StateSaid()}, {}, {}, {Text: strings.Join(v.Instruments, ", ")}}
		if v.AsFound != nil {
			row[1] = found(v.AsFound)
		}
		if v.AsLeft != nil {
			row[0].Notes = some(day(v.AsLeft.At))
			row[2] = found(v.AsLeft)
			row[4] = document.Cell{Text: v.AsLeft.Word, Strong: v.AsLeft.Verdict != report.Pass}
		}
		if v.Allowed != nil {
			row[3] = document.Cell{Text: v.Allowed.Said}
		}
		out.Rows = append(out.Rows, document.Row{Cells: row})
	}
	return out
}

func found(e *compare.Entry) document.Cell {
	c := document.Cell{Text: e.Said}
	if e.U != nil {
		c.Notes = append(c.Notes, "give or take "+e.U.WithUnit())
	}
	if e.Worst != "" {
		c.Notes = append(c.Notes, "at "+e.Worst)
	}
	return c
}
