package tidy

import (
	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// kind is what a bracket stands for.
type kind uint8

const (
	other  kind = iota // grouping, a template, for
	body               // of a block
	object             // words with a value each
	list               // elements
	call               // of a function
	index              // behind a name
)

// shape is what the tokens alone do not tell: it is known by the byte at which
// a token begins.
type shape struct {
	kinds  map[int]kind // of opening brackets
	sign   map[int]bool // a minus or ! before one value
	whole  map[int]bool // the bracket of a list that is all of an attribute
	commas map[int]bool // the bracket of an object with commas between its words
	expand map[int]bool // the bracket of a call whose last argument is spread out
	broken map[int]bool // lists that are to be broken, an element a line
}

// facts takes them from the parsed file.
func facts(b *hclsyntax.Body) *shape {
	s := &shape{map[int]kind{}, map[int]bool{}, map[int]bool{}, map[int]bool{}, map[int]bool{}, map[int]bool{}}
	hclsyntax.VisitAll(b, func(n hclsyntax.Node) hcl.Diagnostics {
		s.add(n)
		return nil
	})
	return s
}

func (s *shape) add(n hclsyntax.Node) {
	switch n := n.(type) {
	case *hclsyntax.Block:
		s.kinds[n.OpenBraceRange.Start.Byte] = body
	case *hclsyntax.Attribute:
		if t, ok := n.Expr.(*hclsyntax.TupleConsExpr); ok && len(t.Exprs) > 1 {
			s.whole[t.OpenRange.Start.Byte] = true
		}
	case *hclsyntax.ObjectConsExpr:
		s.kinds[n.OpenRange.Start.Byte] = object
	case *hclsyntax.TupleConsExpr:
		s.kinds[n.OpenRange.Start.Byte] = list
	case *hclsyntax.FunctionCallExpr:
		at := n.OpenParenRange.Start.Byte
		s.kinds[at] = call
		s.expand[at] = n.ExpandFinal
	case *hclsyntax.ForExpr:
		s.kinds[n.OpenRange.Start.Byte] = other
	case *hclsyntax.UnaryOpExpr:
		s.sign[n.SymbolRange.Start.Byte] = true
	}
}

// kind returns what an opening bracket stands for. A square bracket that is no
// list stands behind a name.
func (s *shape) kind(p piece) kind {
	k, known := s.kinds[p.at.Start.Byte]
	if p.typ == hclsyntax.TokenOBrack && !known {
		return index
	}
	return k
}
