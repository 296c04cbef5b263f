package hclfile

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile/schema"
	"waywright/procedures/source"
)

// node is a block, or the outermost body of a file, that has been held
// against the schema: what it has is known to it.
type node struct {
	kind  *schema.Block
	label string
	at    source.Range // of the type and the labels
	name  source.Range // of the label, or of the type
	body  *hclsyntax.Body
	attrs map[string]*hclsyntax.Attribute // those that the schema knows; all of a free block
	order []*hclsyntax.Attribute          // the same, as written
	kids  []*node                         // as written
	up    *node
	decl  *decl // the name it gives, or nil
	file  *file
	seq   int  // its place in the order of the own file, what was taken over included
	taken bool // it has something that stands elsewhere (like)
	lost  bool // what it is like is not there
}

// attr returns the expression of an attribute, or nil where it is not written.
func (n *node) attr(name string) hclsyntax.Expression {
	if a := n.attrs[name]; a != nil {
		return a.Expr
	}
	return nil
}

// has tells whether an attribute is written.
func (n *node) has(name string) bool { return n.attrs[name] != nil }

// child returns the first block of a type, or nil.
func (n *node) child(typ string) *node {
	for _, k := range n.kids {
		if k.kind.Type == typ {
			return k
		}
	}
	return nil
}

// all returns the blocks of a type, as written.
func (n *node) all(typ string) []*node {
	var out []*node
	for _, k := range n.kids {
		if k.kind.Type == typ {
			out = append(out, k)
		}
	}
	return out
}

func (n *node) String() string {
	if n.label != "" {
		return fmt.Sprintf("%s %q", n.kind.Type, n.label)
	}
	return n.kind.Type
}

// before tells whether n stands above another block of the own file.
func (n *node) before(other *node) bool { return n.seq < other.seq }

// say adds a diagnostic about a place in a block.
//
// What is missing in a block of which part could not be read is not told: it
// may stand there.
func (r *reader) say(n *node, code string, at source.Range, format string, args ...any) {
	if (code == "E103" || code == "E104") && (r.unread(n) || n.lostIn()) || r.full {
		return
	}
	if code != "E101" && code != "E102" && r.slipIn(at) {
		return
	}
	d := diagnose.New(code, at, format, args...)
	if by := r.takenBy(n, at); by != "" {
		if slices.ContainsFunc(r.diags, func(o diagnose.Diagnostic) bool { return o.Code == code && o.Subject == at }) {
			return // told of another block that has it too
		}
		d.Detail += by
	}
	for b := n; b != nil; b = b.up {
		if b.at.File != "" && (b.label != "" || b.up == nil || b.up.at.File == "") {
			d = d.Within(b.String(), diagnose.Over(b.at, at))
			break
		}
	}
	if r.diags = append(r.diags, d); len(r.diags) >= maxSaid {
		r.full = true
		r.diags = append(r.diags, diagnose.New("E008", source.Range{File: d.Subject.File, Start: firstPos, End: firstPos},
			"The first %d are told; mend them and look again.", maxSaid))
	}
}

var (
	nameForm     = regexp.MustCompile(`^[a-z][a-z0-9_]*$`)
	hyphenedForm = regexp.MustCompile(`^[a-z][a-z0-9_-]*$`)
	identityForm = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._-]*$`)
)

// tree holds a body against the schema and returns it with its blocks. What
// does not belong is told and left out.
func (r *reader) tree(kind *schema.Block, body *hclsyntax.Body, f *file, up *node) *node {
	n := &node{kind: kind, body: body, file: f, up: up, attrs: map[string]*hclsyntax.Attribute{}}
	return r.fill(n)
}

func (r *reader) fill(n *node) *node {
	for _, a := range n.body.Attributes {
		n.order = append(n.order, a)
	}
	slices.SortFunc(n.order, func(a, b *hclsyntax.Attribute) int { return a.SrcRange.Start.Byte - b.SrcRange.Start.Byte })
	for _, a := range n.order {
		switch {
		case n.kind.Free || n.kind.Attr(a.Name) != nil:
			n.attrs[a.Name] = a
		case n.kind.Block(a.Name) != nil:
			r.say(n, "E102", rng(a.NameRange), "%s is a block here, not an attribute: write %s without the equals sign.", a.Name, blockHead(n.kind.Block(a.Name).Block))
			r.asBlock(n, a)
		default:
			r.say(n, "E101", rng(a.NameRange), "%s has no attribute %q.%s", capital(n.kind.Type), a.Name, r.instead(a.Name, n.kind))
		}
	}
	seen := map[string]*node{}
	for _, b := range n.body.Blocks {
		if r.blocks++; r.blocks > maxBlocks {
			if r.blocks == maxBlocks+1 {
				r.say(n, "E007", rng(b.TypeRange), "There are more than %d blocks. Split it into several procedures, and name them in an overhaul.", maxBlocks)
			}
			break
		}
		use := n.kind.Block(b.Type)
		if use == nil {
			r.unknownBlock(n, b)
			continue
		}
		kid := &node{kind: use.Block, at: over(b.TypeRange, b.LabelRanges), name: rng(b.TypeRange), body: b.Body, file: n.file, up: n, attrs: map[string]*hclsyntax.Attribute{}}
		if first := seen[b.Type]; first != nil && use.Once {
			r.say(n, "E105", kid.at, "One %s block is enough here; the first is in line %d. Put both into one.", b.Type, first.at.Start.Line)
			continue
		}
		r.labels(kid, b)
		seen[b.Type] = kid
		n.kids = append(n.kids, r.fill(kid))
	}
	if !n.later() {
		r.required(n, seen)
	}
	return n
}

// asBlock takes { … } behind an equals sign for the block that is meant, so that
// what stands in it is known to the rest.
func (r *reader) asBlock(n *node, a *hclsyntax.Attribute) {
	at := a.Expr.Range()
	if n.kind.Block(a.Name).Block.Label != schema.NoLabel || !at.CanSliceBytes(n.file.bytes) {
		return
	}
	text := at.SliceBytes(n.file.bytes)
	if len(text) < 2 || text[0] != '{' {
		return
	}
	start := at.Start
	start.Byte, start.Column = start.Byte+1, start.Column+1
	f, ds := hclsyntax.ParseConfig(text[1:len(text)-1], at.Filename, start)
	if ds.HasErrors() {
		return
	}
	n.body.Blocks = append(n.body.Blocks, &hclsyntax.Block{Type: a.Name, TypeRange: a.NameRange, Body: f.Body.(*hclsyntax.Body)})
}

func over(first hcl.Range, rest []hcl.Range) source.Range {
	out := rng(first)
	for _, x := range rest {
		out = diagnose.Over(out, rng(x))
	}
	return out
}

func (r *reader) unknownBlock(n *node, b *hclsyntax.Block) {
	at := over(b.TypeRange, b.LabelRanges)
	if n.kind.Attr(b.Type) != nil {
		r.say(n, "E101", at, "%s is an attribute here, not a block: write %s = … with an equals sign.", b.Type, b.Type)
		return
	}
	where := article(n.kind.Type)
	if n.up == nil && n.at.File == "" {
		where = "the outermost level of " + where
	}
	r.say(n, "E102", at, "%s block has no place in %s.%s", capital(b.Type), where, r.instead(b.Type, n.kind))
}

// instead names the nearest attribute or block, or where the word belongs.
func (r *reader) instead(word string, kind *schema.Block) string {
	var names []string
	for _, a := range kind.Attrs {
		names = append(names, a.Name)
	}
	for _, b := range kind.Blocks {
		names = append(names, b.Type)
	}
	if near := diagnose.Nearest(word, names); near != "" {
		return fmt.Sprintf(" Did you mean %s?", near)
	}
	if homes := homesOf(word); len(homes) > 0 {
		return fmt.Sprintf(" It belongs in %s.", orList(homes))
	}
	if kind.Free {
		return ""
	}
	return fmt.Sprintf(" It may have: %s.", strings.Join(names, ", "))
}

// orList writes words with commas, and or before the last.
func orList(words []string) string {
	last := len(words) - 1
	if last == 0 {
		return words[0]
	}
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// homesOf lists the blocks in which a word is an attribute or a block.
func homesOf(word string) []string {
	var out []string
	seen := map[*schema.Block]bool{}
	var walk func(b *schema.Block)
	walk = func(b *schema.Block) {
		if seen[b] {
			return
		}
		seen[b] = true
		if b.Attr(word) != nil || b.Block(word) != nil {
			out = append(out, article(b.Type))
		}
		for _, u := range b.Blocks {
			walk(u.Block)
		}
	}
	for _, f := range schema.Files() {
		walk(f)
	}
	return out
}

// labels takes the block's label, as the schema has it.
func (r *reader) labels(n *node, b *hclsyntax.Block) {
	want := 1
	if n.kind.Label == schema.NoLabel {
		want = 0
	}
	if len(b.Labels) != want {
		if want == 0 {
			r.say(n, "E107", rng(b.LabelRanges[0]), "%s block has no name: write %s { … }.", capital(b.Type), b.Type)
		} else {
			r.say(n, "E107", n.at, "%s block has one name: write %s.", capital(b.Type), blockHead(n.kind))
		}
	}
	if want == 0 || len(b.Labels) == 0 {
		return
	}
	n.label, n.name = b.Labels[0], rng(b.LabelRanges[0])
	form, words := nameForm, "lower-case letters, figures and underscores, and begins with a letter"
	switch n.kind.Label {
	case schema.Hyphened:
		form, words = hyphenedForm, "lower-case letters, figures, underscores and hyphens, and begins with a letter"
	case schema.Identity:
		form, words = identityForm, "letters, figures, underscores, points and hyphens"
	case schema.FreeWords:
		r.plain(n, n.label, n.name)
		return
	}
	if !form.MatchString(n.label) {
		r.say(n, "E108", n.name, "A name is made of %s. Write %q.", words, r.mendName(n.label, n.kind.Label))
	}
}

// mendName turns any words into a name.
func (r *reader) mendName(s string, label schema.Label) string {
	s = strings.Map(func(c rune) rune {
		switch {
		case c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '_':
			return c
		case c == '-' && label == schema.Hyphened:
			return c
		}
		return '_'
	}, strings.ToLower(s))
	s = strings.Trim(s, "_")
	if s == "" || s[0] < 'a' {
		s = "x" + s
	}
	return s
}

// required tells what is missing.
func (r *reader) required(n *node, seen map[string]*node) {
	at := n.at
	if at.File == "" {
		at = source.Range{File: n.file.name, Start: firstPos, End: firstPos}
	}
	for _, a := range n.kind.Attrs {
		if a.Required && n.attrs[a.Name] == nil && !r.misspelt(n, a.Name) {
			r.say(n, "E103", at, "%s needs %s, %s: %s Write, for example, %s = %s", capital(n.kind.Type), a.Name, a.Form, a.Doc, a.Name, a.Example)
		}
	}
	for _, u := range n.kind.Blocks {
		if u.Required && seen[u.Type] == nil && !r.misspelt(n, u.Type) {
			r.say(n, "E104", at, "%s needs %s block: %s Write %s.", capital(n.kind.Type), article(u.Type), u.Doc, blockHead(u.Block))
		}
	}
}

// unread tells whether part of a block could not be read as HCL.
func (r *reader) unread(n *node) bool {
	body := rng(n.body.SrcRange)
	for _, d := range r.diags {
		if d.Code == "E010" && d.Subject.File == n.file.name && d.Subject.Start.Byte >= body.Start.Byte &&
			d.Subject.Start.Byte <= body.End.Byte {
			return true
		}
	}
	return false
}

// slipIn tells whether a line could not be read as it is written: what else is
// odd in it follows from that, or is told when it is mended.
func (r *reader) slipIn(at source.Range) bool {
	return slices.ContainsFunc(r.diags, func(d diagnose.Diagnostic) bool {
		return d.Code == "E010" && d.Subject.File == at.File && d.Subject.Start.Line == at.Start.Line
	})
}

// misspelt tells whether something unknown in the body is near to the name, so
// that one slip gives one diagnostic.
func (r *reader) misspelt(n *node, name string) bool {
	for a := range n.body.Attributes {
		if n.attrs[a] == nil && (a == name || diagnose.Nearest(a, []string{name}) != "") {
			return true
		}
	}
	for _, b := range n.body.Blocks {
		if b.Type == name || n.kind.Block(b.Type) == nil && diagnose.Nearest(b.Type, []string{name}) != "" {
			return true
		}
	}
	return false
}

func blockHead(b *schema.Block) string {
	switch b.Label {
	case schema.NoLabel:
		return b.Type + " { … }"
	case schema.FreeWords:
		return b.Type + ` "in a few words" { … }`
	}
	return b.Type + ` "name" { … }`
}

func article(noun string) string {
	if noun != "" && strings.ContainsRune("aeiou", rune(noun[0])) && !strings.HasPrefix(noun, "un") {
		return "an " + noun
	}
	return "a " + noun
}

// capital is the noun with its article, at the beginning of a sentence.
func capital(noun string) string {
	a := article(noun)
	return "A" + a[1:]
}
