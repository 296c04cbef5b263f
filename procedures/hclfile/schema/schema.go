// Package schema lists the blocks and attributes of procedure files, each with
// a line that says what it is for. The reader of the files, the reference page
// and the editor's completion are all driven by these tables, so that they
// cannot say different things.
package schema

// Form is how the value of an attribute is written.
type Form uint8

// The forms.
const (
	Word       Form = iota + 1 // a plain text in quotes
	OneOf                      // one of a few words in quotes
	Truth                      // true or false
	Whole                      // a whole number
	Words                      // a list of plain texts
	Sentence                   // a text that may have values in it: "Screw ${each.screw}"
	Sentences                  // a list of such texts
	Quantity                   // a number with its unit, known from the file alone: um(20)
	Formula                    // an expression over the facts of the run
	Interval                   // a list of two formulas, the lower first
	Reference                  // one name: step.cut
	References                 // a list of names
	Object                     // words with a value each: { normal = um(20) }
	Decimal                    // a number without a unit: 2.13
	Span                       // a list of two quantities, the lower first
)

func (f Form) String() string {
	return [...]string{"", "a text in quotes", "one of a few words", "true or false", "a whole number",
		"a list of texts", "a text", "a list of texts", "a number with its unit", "a formula",
		"a list of two formulas", "a name", "a list of names", "names with a value each", "a number without a unit", "a list of two numbers with their units"}[f]
}

// Attr is an attribute of a block.
type Attr struct {
	Name     string
	Doc      string
	Form     Form
	Required bool
	Words    []string // of OneOf
	Means    []string // what each of the Words means, in their order
	To       []string // of Reference and References: what may be named
	Default  string   // what holds where it is not written, in words
	Example  string   // as it is written
}

// Meaning returns what one of the attribute's words means; "" where it is none
// of them.
func (a *Attr) Meaning(word string) string {
	for i, w := range a.Words {
		if w == word && i < len(a.Means) {
			return a.Means[i]
		}
	}
	return ""
}

// Label says what stands between a block's type and its brace.
type Label uint8

// The kinds of label.
const (
	NoLabel   Label = iota // none
	Name                   // lower case, digits, underscores
	Hyphened               // the same, with hyphens too: a procedure's name
	FreeWords              // any words: a rehearsal's
	Existing               // the name of something defined elsewhere
	Identity               // what the shop calls a thing: "M-3", "lathe-2"
)

func (l Label) String() string {
	return [...]string{"no name", "a name: lower-case letters, figures, underscores",
		"a name: lower-case letters, figures, underscores, hyphens", "a few words of your own",
		"the name of something that is defined elsewhere", "what the shop calls it: letters, figures, points and hyphens"}[l]
}

// Block is a kind of block.
type Block struct {
	Type   string
	Of     string // tells blocks of one type apart: "a plan"
	Doc    string
	Label  Label
	Attrs  []Attr
	Blocks []Use
	// Free is true where attributes of any name may stand: names of the
	// procedure, or of a rehearsal's own state. FreeDoc says which.
	Free    bool
	FreeDoc string
}

// Use is a block that may stand inside another.
type Use struct {
	*Block
	Required bool
	Once     bool
}

// Attr returns the attribute with that name, or nil.
func (b *Block) Attr(name string) *Attr {
	for i := range b.Attrs {
		if b.Attrs[i].Name == name {
			return &b.Attrs[i]
		}
	}
	return nil
}

// Block returns how a block of that type may be used inside, or nil.
func (b *Block) Block(typ string) *Use {
	for i := range b.Blocks {
		if b.Blocks[i].Type == typ {
			return &b.Blocks[i]
		}
	}
	return nil
}

// Heading returns the type with what tells it apart: "rehearsal (of a plan)".
func (b *Block) Heading() string {
	if b.Of == "" {
		return b.Type
	}
	return b.Type + " (of " + b.Of + ")"
}

// Example returns the block as it stands in one of the [Examples], which all
// proofread; the body of a file is the whole file.
func (b *Block) Example() string { return examples[b] }

// All returns every block of all kinds of file, each once: what may stand in a
// block comes behind it.
func All() []*Block {
	var out []*Block
	seen := map[*Block]bool{}
	var walk func(b *Block)
	walk = func(b *Block) {
		if seen[b] {
			return
		}
		seen[b] = true
		out = append(out, b)
		for _, u := range b.Blocks {
			walk(u.Block)
		}
	}
	for _, f := range append(Files(), Registers()...) {
		walk(f)
	}
	return out
}

// Files returns the kinds of procedure file: the outermost bodies.
func Files() []*Block { return []*Block{ProcedureFile, SharedFile, OverhaulFile} }

// Registers returns the kinds of file that say what a shop has.
func Registers() []*Block { return []*Block{MachinesFile, InstrumentsFile, PeopleFile, ShopFile} }
