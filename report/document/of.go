package document

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"

	"waywright/report"
)

// Of makes the document of a record, with the signatures that stand beside it.
//
// It is an error if the record cannot be written as JSON, because it holds a
// number that is not finite.
func Of(r report.Record, sigs ...report.Signature) (Document, error) {
	b, err := report.Marshal(r)
	if err != nil {
		return Document{}, err
	}
	return OfIssue(report.Issue{Record: r, JSON: b, Signatures: sigs})
}

// OfIssue makes the document of a record as it is handed out: its digest is
// that of the bytes that are signed, and what came after them stands beside.
func OfIssue(i report.Issue) (Document, error) {
	r := i.Record
	r.Outcome = i.Shown().Outcome
	if i.Sealed {
		r.Spoilt = i.Since
	}
	d, err := of(r, i.JSON, i.Signatures, i.Evidence)
	if err != nil {
		return d, err
	}
	for _, x := range i.ReplacedBy {
		text := "Corrected by record " + cleanText(x.Number)
		if x.Number == "" {
			text = "It is being corrected: the new record is not signed yet, run " + cleanText(x.Run)
		}
		if x.Because != "" {
			text += ": " + cleanText(x.Because)
		}
		d.Head = append(d.Head, Paragraph{Style: Alarm, Line: plain(strings.TrimRight(text, ".") + ".")})
	}
	return d, nil
}

// of makes the document of a record whose bytes, those that are signed, are b.
func of(r report.Record, b []byte, sigs []report.Signature, files func(sha256 string) []byte) (Document, error) {
	copied, err := report.Marshal(r)
	if err != nil {
		return Document{}, err
	}
	sum := sha256.Sum256(b)
	if r, err = report.Parse(copied); err != nil { // a copy, to be cleaned
		return Document{}, err
	}
	clean(&r)
	sigs = append([]report.Signature(nil), sigs...)
	clean(&sigs)
	ss := signers(r, sigs)
	d := Document{
		Title: "Record of acceptance", Number: r.Number, Item: item(r), Digest: hex.EncodeToString(sum[:]),
		Draft: draft(r, ss), Language: "en", Authors: people(r), Subject: r.Title,
		Time: r.Last.Time, Program: named(r.Journal.Program), End: "END OF RECORD", JSON: b,
	}
	d.Short = d.Digest[:8]
	d.Head = append(head(r), corrects(r)...)
	d.Parts = append(d.Parts,
		Part{ID: "outcome", Title: "Outcome", Form: First, Blocks: outcome(r, ss, d.Draft)},
		Part{ID: "sheet", Title: "Test sheet", Form: Lying, Blocks: sheetBlocks(r)},
		Part{ID: "tests", Title: "The tests, one by one", Form: Fresh, Blocks: tests(r)})
	d.Parts = append(d.Parts, parts(r, files)...)
	d.Parts = append(d.Parts,
		Part{ID: "signatures", Title: "Signatures", Form: AtOnce, Blocks: signatures(ss)},
		Part{ID: "check", Title: "To check this record", Blocks: check(r, d.Digest, ss)})
	d.settle()
	return d, nil
}

// corrects says which record this one corrects.
func corrects(r report.Record) []Block {
	x := r.Supersedes
	if x == nil {
		return nil
	}
	text := fmt.Sprintf("It corrects record %s, which stays as it is and whose digest begins %.8s: %s.", x.Number, x.SHA256, strings.TrimRight(x.Because, "."))
	if x.Carried > 0 {
		text += fmt.Sprintf(" What stood in the first %d lines of its journal was taken over as it was.", x.Carried)
	} else {
		text += " All was measured again."
	}
	return []Block{said(text)}
}

// draft tells whether nothing may be concluded from the record yet. A rejection
// stands without signatures.
func draft(r report.Record, ss []signer) bool {
	return r.Outcome.Draft || r.Outcome.Word != report.Rejected && len(unsigned(ss)) > 0
}

// item is the machine in few words.
func item(r report.Record) string {
	if r.Machine.Serial != "" {
		return "serial " + r.Machine.Serial
	}
	return r.Machine.ID
}

func tests(r report.Record) []Block {
	var out []Block
	for _, t := range r.Tests {
		out = append(out, detail(r, t))
	}
	if len(out) == 0 {
		out = append(out, said("None."))
	}
	if r.Risk != nil {
		out = append(out, said(r.Risk.Said))
	}
	return out
}

func sheetBlocks(r report.Record) []Block {
	if len(r.Tests) == 0 {
		return []Block{said("The procedure has no tests.")}
	}
	return []Block{sheet(r)}
}

// said is a plain paragraph.
func said(s string) Paragraph { return Paragraph{Line: plain(s)} }

func plain(s string) Line { return Line{{Text: s}} }

func lines(texts ...string) []Line {
	var out []Line
	for _, s := range present(texts) {
		out = append(out, plain(s))
	}
	return out
}

// settle holds figures and units together in every text, and finds the columns
// of figures.
func (d *Document) settle() {
	settleAll(d.Head)
	for _, p := range d.Parts {
		settleAll(p.Blocks)
	}
}

func settleAll(bs []Block) {
	for i, b := range bs {
		bs[i] = settled(b)
	}
}

func settled(b Block) Block {
	switch b := b.(type) {
	case Paragraph:
		settleLine(b.Line)
	case Facts:
		for _, f := range b.Rows {
			settleLines(f.Lines)
		}
	case List:
		for _, x := range b.Items {
			settleLine(x.Line)
			settleLines(x.Under)
			settleAll(x.Blocks)
		}
	case Table:
		b.settle()
		return b
	case Figure:
		b.Caption = keep(b.Caption)
		if b.Numbers != nil {
			b.Numbers.settle()
		}
		return b
	case Photo:
		settled(b.Facts)
	case Fields:
		b.settle()
	case Test:
		settleAll(b.Blocks)
	}
	return b
}

func settleLines(ls []Line) {
	for _, l := range ls {
		settleLine(l)
	}
}

func settleLine(l Line) {
	for i := range l {
		if !l[i].Code {
			l[i].Text = keep(l[i].Text)
		}
	}
}

func (t *Table) settle() {
	t.markFigures()
	t.Caption = keep(t.Caption)
	for _, r := range t.Rows {
		for i := range r.Cells {
			c := &r.Cells[i]
			c.Text = keep(c.Text)
			for j := range c.Notes {
				c.Notes[j] = keep(c.Notes[j])
			}
		}
	}
}

// groupsOfFour parts a fingerprint so that it can be read out.
func groupsOfFour(fingerprint string) string {
	kind, s, ok := strings.Cut(fingerprint, ":")
	if !ok {
		kind, s = "", fingerprint
	}
	var groups []string
	rs := []rune(s)
	for len(rs) > 4 {
		groups, rs = append(groups, string(rs[:4])), rs[4:]
	}
	return strings.TrimSpace(kind + " " + strings.Join(append(groups, string(rs)), " "))
}
