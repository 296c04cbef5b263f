package reference

import (
	"slices"
	"strings"

	"waywright/procedures/hclfile/schema"
	"waywright/procedures/register"
)

// fileKind is a kind of file and the blocks that are described with it.
type fileKind struct {
	ID, Title, Doc string
	Attrs          []attribute
	May            []use
	Blocks         []block
	Example        string
}

// block is a block of the language.
type block struct {
	ID, Heading, Head string
	Doc, Label, Free  string
	In                []use // what it stands in
	Attrs             []attribute
	May               []use // what may stand in it
	Sizes             []size
	Example           string
}

// size is a size of a machine that procedures ask for by name.
type size struct{ Name, Doc, Unit string }

// sizes are those that stand in a block of machines.hcl.
func sizes(b *schema.Block) []size {
	var out []size
	for _, k := range register.Sizes() {
		in, name := schema.Machine, k.Path
		if inner, ok := strings.CutPrefix(k.Path, schema.TestBar.Type+"."); ok {
			in, name = schema.TestBar, inner
		}
		if in != b || b.Attr(name) != nil {
			continue
		}
		x := size{Name: name, Doc: capitalSentence(k.Doc), Unit: k.Type.String()}
		if k.Unit != nil {
			x.Unit = k.Unit.What()
		}
		out = append(out, x)
	}
	return out
}

// use is a block inside another.
type use struct {
	ID, Heading string
	Note        string // once; at least one
}

// attribute of a block.
type attribute struct {
	ID, Name, Doc, Form, Default, Example string
	Required                              bool
	Words                                 []meaning
	To                                    []string
}

type meaning struct{ Word, Means string }

func blockID(b *schema.Block) string { return "block-" + slug(b.Heading()) }

// files describes all kinds of file. A block that stands in several is
// described once, with the first.
func files() []fileKind {
	titles := map[*schema.Block]string{
		schema.ProcedureFile: "Blocks of a procedure", schema.SharedFile: "Blocks of a shared.hcl", schema.OverhaulFile: "Blocks of a plan",
		schema.MachinesFile: "machines.hcl", schema.InstrumentsFile: "instruments.hcl", schema.PeopleFile: "people.hcl", schema.ShopFile: "shop.hcl",
	}
	in := map[*schema.Block][]use{}
	for _, b := range schema.All() {
		for _, u := range b.Blocks {
			in[u.Block] = append(in[u.Block], useOf(b, schema.Use{}))
		}
	}
	kinds := append(schema.Files(), schema.Registers()...)
	done := map[*schema.Block]bool{}
	var out []fileKind
	for _, k := range kinds {
		f := fileKind{ID: blockID(k), Title: titles[k], Doc: k.Doc, Attrs: attributes(k), May: uses(k), Example: k.Example()}
		done[k] = true
		walk(k, func(b *schema.Block) {
			if done[b] {
				return
			}
			done[b] = true
			f.Blocks = append(f.Blocks, blockOf(b, in[b]))
		})
		out = append(out, f)
	}
	return out
}

// walk visits the blocks that may stand in a block, at any depth, each behind
// the one that it stands in.
func walk(b *schema.Block, visit func(*schema.Block)) {
	for _, u := range b.Blocks {
		visit(u.Block)
		walk(u.Block, visit)
	}
}

func blockOf(b *schema.Block, in []use) block {
	out := block{
		ID: blockID(b), Heading: b.Heading(), Head: b.Type + " { … }", Doc: b.Doc, In: in,
		Attrs: attributes(b), May: uses(b), Sizes: sizes(b), Example: strings.TrimRight(b.Example(), "\n"),
	}
	if b.Label != schema.NoLabel {
		out.Head, out.Label = b.Type+` "…" { … }`, capitalSentence(b.Label.String())
	}
	if b.Free {
		out.Free = capitalSentence(b.FreeDoc)
	}
	return out
}

func uses(b *schema.Block) []use {
	var out []use
	for _, u := range b.Blocks {
		out = append(out, useOf(u.Block, u))
	}
	return out
}

func useOf(b *schema.Block, u schema.Use) use {
	out := use{ID: blockID(b), Heading: b.Heading()}
	switch {
	case u.Required && u.Once:
		out.Note = "exactly one"
	case u.Required:
		out.Note = "at least one"
	case u.Once:
		out.Note = "at most one"
	}
	return out
}

func attributes(b *schema.Block) []attribute {
	var out []attribute
	for _, a := range b.Attrs {
		x := attribute{
			ID: blockID(b) + "-" + slug(a.Name), Name: a.Name, Doc: a.Doc, Form: a.Form.String(), Required: a.Required, Default: a.Default,
			Example: a.Name + " = " + a.Example, To: slices.Clone(a.To),
		}
		for _, w := range a.Words {
			x.Words = append(x.Words, meaning{w, a.Meaning(w)})
		}
		out = append(out, x)
	}
	// What must be written stands first.
	slices.SortStableFunc(out, func(a, b attribute) int {
		switch {
		case a.Required == b.Required:
			return 0
		case a.Required:
			return -1
		}
		return 1
	})
	return out
}
