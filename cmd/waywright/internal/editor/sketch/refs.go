package sketch

import (
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/procedures/hclfile/schema"
)

// Kind is what a name names. Most are the type of the block that gives it.
type Kind string

// The kinds of name that no block of that type gives, or not that alone.
const (
	Row       Kind = "row"       // of a table
	Each      Kind = "each"      // a key
	Hidden    Kind = "hidden"    // a state of a rehearsal
	Procedure Kind = "procedure" // a procedure, by its name
	Plan      Kind = "overhaul"
	Rehearsal Kind = "rehearsal"
	// Fact is the name of something that is asked: given, reading, confirm or
	// wait, which share one space of names.
	Fact Kind = "fact"
)

// Ref is the use of a name, or the place where it is given.
type Ref struct {
	Kind  Kind
	Name  string
	Of    string // the table of a row; the procedure that the name is of, where that is another one
	At    Span   // of the name alone, without quotes
	Whole Span   // with the word before it
	In    *Block // the block that it stands in, or that it names
	Attr  string // the attribute in whose value it is used
	Gives bool   // the name is given here
	// Quoted is true where the name stands in quotes, and Like where it says
	// what a block is like.
	Quoted, Like bool
}

// spaces are the words before the point of a name, with what they name.
var spaces = map[string]Kind{
	"given": "given", "reading": "reading", "result": "result", "hidden": Hidden, "each": Each, "table": "table",
	"step": "step", "gate": "gate", "correction": "correction", "signoff": "signoff", "instrument": "instrument",
	"caution": "caution", "task": "task",
}

// Spaces returns the words that stand before the point of a name.
func Spaces() []string {
	out := []string{"accepted", "machine"}
	for w := range spaces {
		out = append(out, w)
	}
	slices.Sort(out)
	return out
}

// Refs returns all names of the file, given and used, in the order of the file.
func (f *File) Refs() []Ref {
	var out []Ref
	f.Root.Walk(func(b *Block) {
		out = append(out, f.label(b)...)
		for _, a := range b.Attrs {
			out = append(out, f.name(a)...)
			out = append(out, f.used(a)...)
		}
	})
	slices.SortStableFunc(out, func(a, b Ref) int { return a.At.From - b.At.From })
	return out
}

// label is the name in the head of a block.
func (f *File) label(b *Block) []Ref {
	if b.Kind == nil || b.Label == "" {
		return nil
	}
	r := Ref{Name: b.Label, At: b.LabelAt, Whole: b.LabelAt, In: b, Quoted: true}
	switch {
	case b.Is(schema.PlanPart):
		r.Kind = Procedure
	case b.Is(schema.PlanReacts):
		r.Kind, r.Of = "correction", of(b)
	case b.Kind.Label == schema.Existing:
		r.Kind = "correction"
	case b.Is(schema.Row):
		r.Kind, r.Gives = Row, true
		if b.Up != nil {
			r.Of = b.Up.Label
		}
	default:
		r.Kind, r.Gives = Kind(b.Type), true
	}
	return []Ref{r}
}

// of is the procedure that a part of a plan's rehearsal speaks of.
func of(b *Block) string {
	if part := b.Within(schema.PlanPart); part != nil {
		return part.Label
	}
	return ""
}

// name is the name of an attribute, where it is one of the procedure's.
func (f *File) name(a *Attr) []Ref {
	b := a.In
	if b.Kind == nil || !b.Kind.Free || b.Within(schema.Machine) != nil {
		return nil
	}
	r := Ref{Name: a.Name, At: a.NameAt, Whole: a.NameAt, In: b}
	switch {
	case b.Type == "hidden" && !b.Is(schema.PlanBound):
		r.Kind, r.Gives = Hidden, true
	case b.Is(schema.PlanBound):
		r.Kind, r.Of = Hidden, of(b)
	case b.Type == "reacts" && a.Name == "moved":
		return nil
	case b.Type == "noise":
		r.Kind = "reading"
	case b.Type == "answer":
		r.Kind = Fact
	default:
		r.Kind = Hidden // reacts, spread
	}
	return []Ref{r}
}

// used are the names that a value uses.
func (f *File) used(a *Attr) []Ref {
	var out []Ref
	t := a.Tokens
	for i := range t {
		if t[i].Type != hclsyntax.TokenIdent || i > 0 && t[i-1].Type == hclsyntax.TokenDot {
			continue
		}
		word := f.String(t[i].Span)
		switch {
		case word == "accepted":
			out = append(out, f.accepted(a, t[i:])...)
		case word == "table":
			out = append(out, f.table(a, t[i:])...)
		case spaces[word] != "" && f.dotted(t, i):
			out = append(out, Ref{Kind: spaces[word], Name: f.String(t[i+2].Span), At: t[i+2].Span,
				Whole: Span{t[i].From, t[i+2].To}, In: a.In, Like: a.Name == "like"})
		}
	}
	out = append(out, f.written(a)...)
	for i := range out {
		out[i].Attr = a.Name
	}
	return out
}

// dotted tells whether a point and a name follow.
func (f *File) dotted(t []Token, i int) bool {
	return i+2 < len(t) && t[i+1].Type == hclsyntax.TokenDot && t[i+2].Type == hclsyntax.TokenIdent
}

// table reads table.t.row.
func (f *File) table(a *Attr, t []Token) []Ref {
	if !f.dotted(t, 0) {
		return nil
	}
	table := Ref{Kind: "table", Name: f.String(t[2].Span), At: t[2].Span, Whole: Span{t[0].From, t[2].To}, In: a.In}
	if !f.dotted(t, 2) {
		return []Ref{table}
	}
	return []Ref{table, {Kind: Row, Of: table.Name, Name: f.String(t[4].Span), At: t[4].Span, Whole: Span{t[0].From, t[4].To}, In: a.In}}
}

// accepted reads accepted["p"] and accepted["p"].result.x.
func (f *File) accepted(a *Attr, t []Token) []Ref {
	types := []hclsyntax.TokenType{hclsyntax.TokenIdent, hclsyntax.TokenOBrack, hclsyntax.TokenOQuote, hclsyntax.TokenQuotedLit, hclsyntax.TokenCQuote, hclsyntax.TokenCBrack}
	if len(t) < len(types) {
		return nil
	}
	for i, typ := range types {
		if t[i].Type != typ {
			return nil
		}
	}
	p := Ref{Kind: Procedure, Name: f.String(t[3].Span), At: t[3].Span, Whole: Span{t[0].From, t[5].To}, In: a.In, Quoted: true}
	if len(t) < 10 || t[6].Type != hclsyntax.TokenDot || f.String(t[7].Span) != "result" || !f.dotted(t, 7) {
		return []Ref{p}
	}
	return []Ref{p, {Kind: "result", Of: p.Name, Name: f.String(t[9].Span), At: t[9].Span, Whole: Span{t[0].From, t[9].To}, In: a.In}}
}

// written are names that are written as words, alone or in an object.
func (f *File) written(a *Attr) []Ref {
	b := a.In
	whole := func(kind Kind, of string) []Ref {
		if len(a.Tokens) != 3 || a.Tokens[1].Type != hclsyntax.TokenQuotedLit {
			return nil
		}
		at := a.Tokens[1].Span
		return []Ref{{Kind: kind, Of: of, Name: f.String(at), At: at, Whole: at, In: b, Quoted: true, Like: a.Name == "like"}}
	}
	switch {
	case b.Is(schema.Task) && a.Name == "procedure":
		return whole(Procedure, "")
	case b.Is(schema.PlanPart) && a.Name == "like":
		return whole(Rehearsal, b.Label)
	case b.Type == "rehearsal" && a.Name == "like":
		return whole(Rehearsal, "")
	case b.Is(schema.Ends) && a.Name == "rounds":
		return f.keys(a, "correction")
	case b.Is(schema.Ends) && a.Name == "said":
		return f.keys(a, "said")
	case b.Is(schema.PlanEnds) && a.Name == "runs":
		return f.keys(a, "task")
	}
	return nil
}

// keys are the words of an object.
func (f *File) keys(a *Attr, kind Kind) []Ref {
	var out []Ref
	depth := 0
	for i, t := range a.Tokens {
		switch t.Type {
		case hclsyntax.TokenOBrace, hclsyntax.TokenOBrack, hclsyntax.TokenOParen:
			depth++
		case hclsyntax.TokenCBrace, hclsyntax.TokenCBrack, hclsyntax.TokenCParen:
			depth--
		case hclsyntax.TokenEqual:
			if depth != 1 || i == 0 {
				continue
			}
			at, quoted := a.Tokens[i-1].Span, false
			if a.Tokens[i-1].Type == hclsyntax.TokenCQuote && i > 1 {
				at, quoted = a.Tokens[i-2].Span, true
			}
			if name := f.String(at); !strings.ContainsAny(name, `" `) {
				out = append(out, Ref{Kind: kind, Name: name, At: at, Whole: at, In: a.In, Quoted: quoted})
			}
		}
	}
	return out
}
