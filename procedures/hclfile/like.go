package hclfile

import (
	"maps"
	"regexp"
	"slices"
	"strconv"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"waywright/procedures"
	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile/schema"
	"waywright/procedures/source"
)

// patterns are the blocks that may be like another one. Those at the outermost
// level of a file may stand in a shared.hcl too, where they do nothing until a
// procedure has one that is like them.
var patterns = []*schema.Block{schema.Given, schema.Step, schema.Correction, schema.Reading, schema.Result, schema.Gate}

func isPattern(b *schema.Block) bool { return slices.Contains(patterns, b) }

// instead groups attributes of which only one can stand: the one that is
// written puts those of its group aside that come from elsewhere.
var instead = [][]string{
	{"within", "at_most", "at_least", "holds"},
	{"unit", "choose", "count", "text", "evidence"},
	{"along", "around"},
}

// maxLike bounds what likes take over, in bytes of the files.
const maxLike = maxBytes

// likes gives every block that is like another one what that has and it has
// not, so that whoever reads the tree afterwards sees plain blocks. Shared files
// come first, the farthest before those that may build on it.
func (r *reader) likes(own *node) {
	for _, h := range slices.Backward(r.shared) {
		if h.tree == own {
			continue
		}
		for _, k := range h.tree.kids {
			r.likeIn(k, h.tree)
		}
	}
	for _, k := range own.kids {
		r.likeIn(k, own)
		r.requiredIn(k)
	}
	n := 0
	own.number(&n)
}

// number puts the nodes into the order in which they stand, what was taken over
// where it was taken to.
func (n *node) number(next *int) {
	*next++
	n.seq = *next
	for _, k := range n.kids {
		k.number(next)
	}
}

// likeIn takes over what a block and those in it are like.
func (r *reader) likeIn(n, tree *node) {
	r.take(n, tree)
	for _, k := range n.kids {
		r.take(k, tree)
	}
}

// take gives a block what the one that it is like has besides.
func (r *reader) take(n, tree *node) {
	if !isPattern(n.kind) || !n.has("like") {
		return
	}
	var base *node
	ref, ok := r.reference(n, "like")
	if ok {
		base = r.pattern(n, ref, tree)
	}
	if n.lost = base == nil; !n.lost {
		n.takeFrom(base, &taking{r: r, to: n, at: ref.at})
	}
}

// pattern finds what a block is like: above it in its own file, or, what stands
// at the outermost level, in the nearest shared file.
func (r *reader) pattern(n *node, ref reference, tree *node) *node {
	var names []string
	var below *node
	seen := false
	for _, k := range tree.alike(n.kind) {
		switch {
		case k == n:
			seen = true
			continue
		case k.label != ref.name:
		case seen:
			below = k
			continue
		case n.kind == schema.Step:
			r.say(n, "E204", ref.at, "%s is of this file, and its names would stand twice. Put what both have in common into a shared.hcl, as a step of its own.", ref.written())
			return nil
		default:
			return k
		}
		if !seen {
			names = append(names, k.label)
		}
	}
	if n.up == tree {
		for _, h := range r.shared[r.homeOf(tree)+1:] {
			if base := h.defs[n.kind.Type][ref.name]; base != nil {
				r.used[h.file] = true
				return base
			}
			names = slices.AppendSeq(names, maps.Keys(h.defs[n.kind.Type]))
		}
	}
	slices.Sort(names)
	if below != nil {
		r.say(n, "E202", ref.at, "%s stands in line %d, below. What another one is like stands above it. Move one of the two.", ref.written(), below.at.Start.Line)
	} else {
		r.unknown(n, ref.at, ref.word, ref.name, slices.Compact(names))
	}
	return nil
}

// alike lists the blocks of a kind in a tree: at its outermost level, or in its
// steps.
func (n *node) alike(kind *schema.Block) []*node {
	var out []*node
	for _, k := range n.kids {
		if k.kind == kind {
			out = append(out, k)
		}
		for _, in := range k.kids {
			if in.kind == kind {
				out = append(out, in)
			}
		}
	}
	return out
}

// homeOf is the number of a tree's file among the shared ones.
func (r *reader) homeOf(tree *node) int {
	return slices.IndexFunc(r.shared, func(h *home) bool { return h.tree == tree })
}

// taking is the taking over of one block by another.
type taking struct {
	r  *reader
	to *node
	at source.Range
}

// enough tells, once, when more has been taken over than anybody can follow.
func (t *taking) enough(bytes int) bool {
	if t.r.liked += bytes; t.r.liked <= maxLike {
		return false
	}
	if t.r.liked-bytes <= maxLike {
		t.r.say(t.to, "E007", t.at, "More than 1 MiB is taken over by like. Split it into several procedures, and name them in an overhaul.")
	}
	return true
}

// takeFrom gives n what base has and n has not: attributes by their names; in a
// step what stands in it by kind and name, what is new behind it; of other blocks
// in it all of a kind, where n has none of that kind.
func (n *node) takeFrom(base *node, t *taking) {
	var more []*hclsyntax.Attribute
	for _, a := range base.order {
		if a.Name != "like" && n.attrs[a.Name] == nil && base.attrs[a.Name] != nil && !n.displaced(a.Name) && !t.enough(sizeOf(a)) {
			more = append(more, a)
		}
	}
	for _, a := range more {
		n.attrs[a.Name] = a
	}
	n.order = slices.Concat(n.order, more)
	var kids []*node
	had := slices.Clone(n.kids)
	for _, k := range base.kids {
		own := slices.IndexFunc(had, func(o *node) bool { return o.kind == k.kind && (!isItem(k.kind) || o.label == k.label) })
		switch {
		case own < 0:
			kids = append(kids, k.copyInto(n, t))
		case !isItem(k.kind): // n has its own of that kind
		default:
			o := had[own]
			had = slices.Delete(had, own, own+1)
			if o.attrs["like"] == nil {
				o.takeFrom(k, t)
			}
			kids = append(kids, o)
		}
	}
	n.kids = slices.Concat(kids, had)
	n.taken = true
}

// isItem tells whether a block has a name of its own in a step.
func isItem(b *schema.Block) bool {
	return b == schema.Confirm || b == schema.Wait || b == schema.Reading || b == schema.Result || b == schema.Gate
}

// displaced tells whether another attribute of the block's own stands instead.
func (n *node) displaced(name string) bool {
	own := func(a string) bool { return n.attrs[a] != nil }
	if name == "of" && own("holds") {
		return true
	}
	return slices.ContainsFunc(instead, func(g []string) bool { return slices.Contains(g, name) && slices.ContainsFunc(g, own) })
}

// copyInto returns the block as a part of another one.
func (n *node) copyInto(up *node, t *taking) *node {
	out := &node{kind: n.kind, label: n.label, at: n.at, name: n.name, body: n.body, file: n.file, up: up, taken: true, attrs: map[string]*hclsyntax.Attribute{}}
	for _, a := range n.order {
		if a.Name == "like" || n.attrs[a.Name] == nil || t.enough(sizeOf(a)) {
			continue
		}
		out.attrs[a.Name] = a
		out.order = append(out.order, a)
	}
	for _, k := range n.kids {
		out.kids = append(out.kids, k.copyInto(out, t))
	}
	return out
}

func sizeOf(a *hclsyntax.Attribute) int { return a.SrcRange.End.Byte - a.SrcRange.Start.Byte }

// requiredIn tells what is still missing in a block and those in it, now that
// all is taken over.
func (r *reader) requiredIn(n *node) {
	seen := map[string]*node{}
	for _, k := range n.kids {
		seen[k.kind.Type] = k
		r.requiredIn(k)
	}
	if n.later() {
		r.required(n, seen)
	}
}

// later tells whether what is missing in a block may come from another one: what
// it or the block around it is like, or whoever is like it.
func (n *node) later() bool {
	for b := n; b != nil; b = b.up {
		if isPattern(b.kind) && (b.attrs["like"] != nil || b.up != nil && b.up.kind == schema.SharedFile) {
			return true
		}
	}
	return false
}

// lostIn tells whether a block, or one around it, is like something that is not
// there: then nobody knows what it has.
func (n *node) lostIn() bool { return n != nil && (n.lost || n.up.lostIn()) }

// takenBy says by which block of the own file a place elsewhere was taken over.
func (r *reader) takenBy(n *node, at source.Range) string {
	for b := n; b != nil; b = b.up {
		in := rng(b.body.SrcRange)
		if b.attrs["like"] == nil || !isPattern(b.kind) || at == rng(b.attrs["like"].Expr.Range()) {
			continue
		}
		if at.File == in.File && b.at.Start.Byte <= at.Start.Byte && at.Start.Byte < in.End.Byte {
			return ""
		}
		return " It is taken over by like in " + b.String() + ", " + r.lineOf(b.at, at.File) + "."
	}
	return ""
}

// lineOf names the line of a place, with its file where that is another one.
func (r *reader) lineOf(at source.Range, file string) string {
	line := "line " + strconv.Itoa(at.Start.Line)
	if at.File != file {
		line += " of " + at.File
	}
	return line
}

// elsewhere is what is said of a name that the procedure brings which takes the
// block over.
var elsewhere = regexp.MustCompile(`^There is no (given|reading|result|step|gate|correction|signoff)\b|^each\.\w+ is not known`)

// alone reads a block of a shared file as far as can be told without a procedure
// that has one like it: with the givens that stand there, and nothing else.
func (r *reader) alone(n, tree *node) {
	x := *r
	x.p, x.brief = &procedures.Procedure{}, true
	x.names, x.decls = map[string]*decl{}, map[string]map[string]*decl{}
	x.diags, x.full = nil, false
	part := &node{kind: tree.kind, file: tree.file, body: tree.body}
	for _, k := range tree.all("given") {
		if k != n {
			part.kids = append(part.kids, k)
		}
	}
	part.kids = append(part.kids, n)
	seq := 0
	part.number(&seq)
	x.declare(part)
	for _, k := range part.all("given") {
		x.given(k)
	}
	x.firstGates(part)
	switch n.kind {
	case schema.Step:
		x.step(n)
	case schema.Correction:
		x.correction(n)
	case schema.SharedRehearsal:
		x.machineAlone(n)
	}
	for _, d := range x.diags {
		told := slices.ContainsFunc(r.diags, func(o diagnose.Diagnostic) bool { return o.Code == d.Code && o.Subject == d.Subject })
		if !told && d.Code != "E103" && d.Code != "E104" && !elsewhere.MatchString(d.Detail) {
			r.diags = append(r.diags, d)
		}
	}
}

// machineAlone reads a machine that several procedures share.
func (r *reader) machineAlone(n *node) {
	r.word(n, "grade")
	sc := &scope{hidden: map[string]sym{}}
	if k := n.child("hidden"); k != nil {
		r.hidden(k, sc)
	}
	for _, typ := range []string{"noise", "answer", "reacts"} {
		for _, k := range n.all(typ) {
			each := sc.with()
			each.own = map[string]sym{"amount": {}, "moved": {}, "attempt": {}}
			for _, a := range k.order {
				r.expr(k, a.Expr, each, want{any: true, what: a.Name})
			}
		}
	}
}

// bytesOf returns the file that an expression stands in.
func (r *reader) bytesOf(e hcl.Expression) []byte {
	name := e.Range().Filename
	for _, f := range r.read {
		if f.name == name {
			return f.bytes
		}
	}
	return r.own.bytes
}
