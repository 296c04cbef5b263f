// Package sketch reads the blocks, attributes and names of a procedure file,
// whatever state it is in: a file that is being typed is broken most of the
// time. Lines are read one by one, so that an open quote costs the rest of its
// line and no more; an open bracket ends where the next attribute or block
// begins, and an open block where one begins that can only stand outside it.
//
// Nothing is proved here, and nothing is said to be wrong.
package sketch

import (
	"path"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/procedures/hclfile/schema"
)

// Span is a piece of a file, in bytes.
type Span struct{ From, To int }

// Holds tells whether a place is in the span or at one of its ends.
func (s Span) Holds(at int) bool { return s.From <= at && at <= s.To }

// Empty tells whether nothing is in the span.
func (s Span) Empty() bool { return s.To <= s.From }

// Token is a token of a file.
type Token struct {
	Type hclsyntax.TokenType
	Span
}

// File is what was read of a file.
type File struct {
	Text   []byte
	Root   *Block // the outermost body
	Tokens []Token
}

// Block is a block, or the outermost body.
type Block struct {
	Kind    *schema.Block // what the schema knows of it; nil where it has no such block here
	Type    string
	TypeAt  Span
	Label   string
	LabelAt Span // without its quotes; zero where there is none
	Body    Span // between the braces
	End     int  // behind the closing brace
	Attrs   []*Attr
	Blocks  []*Block
	Up      *Block // nil for the outermost body
}

// Attr is an attribute.
type Attr struct {
	Name   string
	NameAt Span
	Equals int  // behind the equals sign
	Value  Span // empty where nothing is written yet
	Stop   int  // where the line ends that it ends in
	Tokens []Token
	In     *Block
}

// Attr returns the attribute of that name, or nil.
func (b *Block) Attr(name string) *Attr {
	for _, a := range b.Attrs {
		if a.Name == name {
			return a
		}
	}
	return nil
}

// All returns the blocks of a type that stand directly in the block.
func (b *Block) All(typ string) []*Block {
	var out []*Block
	for _, k := range b.Blocks {
		if k.Type == typ {
			out = append(out, k)
		}
	}
	return out
}

// Walk visits the block and all in it, in the order of the file.
func (b *Block) Walk(visit func(*Block)) {
	visit(b)
	for _, k := range b.Blocks {
		k.Walk(visit)
	}
}

// Is tells whether the block is of that kind.
func (b *Block) Is(kind *schema.Block) bool { return b != nil && b.Kind == kind }

// Within returns the nearest block of one of the kinds, beginning with the
// block itself, or nil.
func (b *Block) Within(kinds ...*schema.Block) *Block {
	for ; b != nil; b = b.Up {
		for _, k := range kinds {
			if b.Kind == k {
				return b
			}
		}
	}
	return nil
}

// String returns the text of a span.
func (f *File) String(s Span) string {
	if s.Empty() {
		return ""
	}
	return string(f.Text[s.From:s.To])
}

// BlockAt returns the innermost block with a place in its body.
func (f *File) BlockAt(at int) *Block {
	b := f.Root
	for {
		inner := (*Block)(nil)
		for _, k := range b.Blocks {
			if k.Body.Holds(at) {
				inner = k
			}
		}
		if inner == nil {
			return b
		}
		b = inner
	}
}

// AttrAt returns the attribute with a place behind its equals sign, or nil.
func (f *File) AttrAt(at int) *Attr {
	var found *Attr
	f.Root.Walk(func(b *Block) {
		for _, a := range b.Attrs {
			if a.Equals <= at && at <= a.Stop {
				found = a
			}
		}
	})
	return found
}

// kindOf tells what kind of file it is, by its name and its blocks.
func kindOf(name string, has func(typ string) bool) *schema.Block {
	switch path.Base(name) {
	case "shared.hcl":
		return schema.SharedFile
	case "machines.hcl":
		return schema.MachinesFile
	case "instruments.hcl":
		return schema.InstrumentsFile
	case "people.hcl":
		return schema.PeopleFile
	case "shop.hcl":
		return schema.ShopFile
	}
	if has(schema.Overhaul.Type) {
		return schema.OverhaulFile
	}
	return schema.ProcedureFile
}
