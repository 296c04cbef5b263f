package hclfile

import (
	"fmt"
	"slices"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile/schema"
	"waywright/procedures/source"
)

// decl is a name that the file gives to something.
type decl struct {
	word  string // given, step, confirm, wait, reading, result, gate, correction, signoff
	name  string
	node  *node
	step  *node // the step it stands in, or nil
	obj   any   // the model's pointer
	inner value.Type
	outer value.Type
	unit  *quantity.Unit
	ready bool // its type is known; never becomes true of what is wrong
	tried bool // it has been read
}

// reserved are the words that a person answers at a gate, or that stand for
// something in formulas (semantics rules 5, 34, 36).
var reserved = []string{"again", "afresh", "concession", "reject", "noted", "amount", "moved", "attempt"}

// declare gathers the names of the file (semantics rules 1 and 2), so that a
// reference may point anywhere.
func (r *reader) declare(own *node) {
	for _, n := range own.kids {
		switch n.kind {
		case schema.Given:
			r.name(n, nil, &procedures.Given{Name: n.label, At: n.at})
		case schema.Step:
			s := &procedures.Step{Name: n.label, At: n.at}
			r.name(n, nil, s)
			r.declareItems(n, s)
		case schema.Correction:
			r.name(n, nil, &procedures.Correction{Name: n.label, At: n.at})
		case schema.Signoff:
			r.name(n, nil, &procedures.Signoff{Name: n.label, At: n.at})
		}
	}
}

func (r *reader) declareItems(step *node, s *procedures.Step) {
	for _, n := range step.kids {
		switch n.kind {
		case schema.Confirm:
			r.name(n, step, &procedures.Confirm{Name: n.label, At: n.at})
		case schema.Wait:
			r.name(n, step, &procedures.Wait{Name: n.label, At: n.at})
		case schema.Reading:
			r.name(n, step, &procedures.Reading{Name: n.label, Step: s, At: n.at})
		case schema.Result:
			r.name(n, step, &procedures.Result{Name: n.label, Step: s, At: n.at})
		case schema.Gate:
			r.name(n, step, &procedures.Gate{Name: n.label, Step: s, At: n.at})
		}
	}
}

// name enters a name. One that is taken already is told; the thing is read
// all the same, so that its own mistakes are told too.
func (r *reader) name(n, step *node, obj any) {
	d := &decl{word: n.kind.Type, name: n.label, node: n, step: step, obj: obj}
	n.decl = d
	if n.label == "" {
		return
	}
	if slices.Contains(reserved, n.label) {
		r.say(n, "E205", n.name, "%q is what a person answers at a gate, or a word of formulas. Choose another name.", n.label)
	}
	if r.decls[d.word] == nil {
		r.decls[d.word] = map[string]*decl{}
	}
	if r.decls[d.word][n.label] == nil {
		r.decls[d.word][n.label] = d
	}
	if first := r.names[n.label]; first != nil {
		r.say(n, "E203", n.name, "%q is the name of a %s in %s already. An answer is given by its name alone, so choose another.",
			n.label, first.word, r.lineOf(first.node.at, n.at.File))
		return
	}
	r.names[n.label] = d
}

// resolve returns what a reference to something of this file names; what is
// not there is told.
func (r *reader) resolve(n *node, ref reference) *decl {
	if d := r.decls[ref.word][ref.name]; d != nil {
		return d
	}
	var names []string
	for name := range r.decls[ref.word] {
		if name != "" { // a block whose name is missing
			names = append(names, name)
		}
	}
	slices.Sort(names)
	r.unknown(n, ref.at, ref.word, ref.name, names)
	return nil
}

// unknown tells of a name that is nowhere, with the nearest one.
func (r *reader) unknown(n *node, at source.Range, word, name string, names []string) {
	r.say(n, "E201", at, "%s", r.unknownText(word, name, names))
}

func (r *reader) unknownText(word, name string, names []string) string {
	text := "There is no " + word + " " + `"` + name + `".`
	if near := diagnose.Nearest(name, names); near != "" {
		return text + " Did you mean " + word + "." + near + "?"
	}
	if other := r.names[name]; other != nil && other.word != word {
		return text + " " + other.word + "." + name + " is there: is that meant?"
	}
	if left, right, ok := strings.Cut(name, "-"); ok && slices.Contains(names, left) {
		return text + " A hyphen is part of a name: for a difference, put blanks round the minus: " + word + "." + left + " - " + right + "."
	}
	switch {
	case len(names) == 0:
		return text + " No " + word + " is defined."
	case len(names) <= 8:
		return text + " There are: " + strings.Join(names, ", ") + "."
	}
	return text
}

// above returns what a reference names, if it stands where a scope sees it
// (semantics rule 3).
func (r *reader) above(n *node, ref reference, sc *scope) *decl {
	d := r.resolve(n, ref)
	if d == nil {
		return nil
	}
	if sc.below != nil && !d.node.before(sc.below) {
		r.say(n, "E202", ref.at, "%s %s. Move one of the two.", ref.written(), r.below(d, sc))
		return nil
	}
	return d
}

// below says why a name cannot be seen.
func (r *reader) below(d *decl, sc *scope) string {
	at, line := r.lineOf(d.node.at, r.own.name), r.lineOf(sc.below.at, r.own.name)
	if sc.gate {
		return fmt.Sprintf("stands in %s, but a correction uses only what stands above the first gate that names it, in %s", at, line)
	}
	return fmt.Sprintf("stands in %s; only what is written above %s can be used here", at, line)
}

// needs returns the steps that must be worked again with this one, which
// stand above.
func (r *reader) needs(n *node) []*procedures.Step {
	var out []*procedures.Step
	for _, ref := range r.references(n, "needs") {
		if d := r.above(n, ref, &scope{below: n}); d != nil {
			out = append(out, d.obj.(*procedures.Step))
		}
	}
	return out
}

func (r *reader) signoff(n *node, name string) *procedures.Signoff {
	ref, ok := r.reference(n, name)
	if !ok {
		return nil
	}
	d := r.resolve(n, ref)
	if d == nil {
		return nil
	}
	if d.node == n {
		r.say(n, "E204", ref.at, "A role cannot be other than itself. Name the other role.")
		return nil
	}
	return d.obj.(*procedures.Signoff)
}

// targets returns gates of this file and accepted runs of others.
func (r *reader) targets(n *node, name string) []procedures.Target {
	var out []procedures.Target
	for _, ref := range r.references(n, name) {
		t := procedures.Target{At: ref.at}
		if ref.word == "accepted" {
			t.Accepted = ref.name
			r.peerAtHand(n, ref)
		} else if d := r.resolve(n, ref); d != nil {
			t.Gate = d.obj.(*procedures.Gate)
		} else {
			continue
		}
		out = append(out, t)
	}
	return out
}
