// Package datamap shows what depends on what in a procedure: from the readings
// through the results to the gates, to the corrections of these, and to what a
// correction spoils. As a picture for [waywright/report/draw], and as lines of
// text for a screen: both say the same.
//
// The map is of the procedure alone and knows no run. Texts with values in
// them have the names of these in brackets: "Bar, (station) station".
package datamap

import (
	"slices"
	"strings"

	"waywright/checks/value"
	"waywright/engine"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// Kind is a kind of thing on the map. They follow one another in this order.
type Kind uint8

// The kinds.
const (
	Reading Kind = iota + 1
	Given        // once for the run, or a row of a table of limits
	Result
	Gate
	Correction
	Step  // worked again, after a correction
	Other // accepted runs of another procedure
)

// Node is a thing on the map.
type Node struct {
	Kind  Kind
	Name  string // as it is written in the procedure
	Title string // as a person is asked or told
	Step  string // in which it is taken, in words
	Note  string // of a gate its limits, of a correction what its amount comes from
	depth int    // of a result: how many results stand before it
}

// Link joins two nodes, by their places: the second depends on the first.
type Link struct {
	From, To int
	Kind     LinkKind
}

// LinkKind is what a link means.
type LinkKind uint8

// The kinds of links.
const (
	Feeds  LinkKind = iota + 1 // is used for
	Leads                      // where it fails, this is done
	Spoils                     // this is to be measured again
)

// Map is what depends on what.
type Map struct {
	Title string
	Nodes []Node
	Links []Link
}

// Of makes the map of a procedure, which must have been proofread without
// errors.
func Of(p *procedures.Procedure) Map {
	b := &builder{plan: engine.NewPlan(p), at: map[string]int{}}
	b.m.Title = p.Title
	b.inputs(p)
	for _, st := range p.Steps {
		for _, it := range st.Items {
			switch it := it.(type) {
			case *procedures.Result:
				b.result(it)
			case *procedures.Gate:
				b.gate(it)
			}
		}
	}
	loose := b.loose()
	for _, c := range p.Corrections {
		b.correction(c, loose)
	}
	return b.m.used()
}

type builder struct {
	plan *engine.Plan
	m    Map
	at   map[string]int // place of a node, by its name
}

func (b *builder) add(n Node) int {
	if i, ok := b.at[n.Name]; ok {
		return i
	}
	b.at[n.Name] = len(b.m.Nodes)
	b.m.Nodes = append(b.m.Nodes, n)
	return len(b.m.Nodes) - 1
}

func (b *builder) link(from, to int, kind LinkKind) {
	if l := (Link{from, to, kind}); !slices.Contains(b.m.Links, l) {
		b.m.Links = append(b.m.Links, l)
	}
}

// inputs enters the readings and givens, which stand on nothing.
func (b *builder) inputs(p *procedures.Procedure) {
	for _, st := range p.Steps {
		for _, it := range st.Items {
			if r, ok := it.(*procedures.Reading); ok {
				b.add(Node{Kind: Reading, Name: "reading." + r.Name, Title: words(r.Ask), Step: words(st.Title)})
			}
		}
	}
	for _, g := range p.Givens {
		title := words(g.Ask)
		if title == "" {
			title = words(g.Title)
		}
		b.add(Node{Kind: Given, Name: "given." + g.Name, Title: title})
	}
	for _, t := range p.Tables {
		for _, r := range t.Rows {
			title := r.Title
			if title == "" {
				title = t.Title
			}
			b.add(Node{Kind: Given, Name: "table." + t.Name + "." + r.Name, Title: title})
		}
	}
}

func (b *builder) result(r *procedures.Result) {
	i := b.add(Node{Kind: Result, Name: "result." + r.Name, Title: words(r.Title), Step: words(r.Step.Title)})
	b.feed(i, r.Value)
}

// feed joins a node with all that a program uses.
func (b *builder) feed(to int, programs ...*formula.Program) {
	for _, p := range programs {
		if p == nil {
			continue
		}
		for _, r := range p.Refs() {
			from, ok := b.at[r.String()]
			if !ok || from == to {
				continue
			}
			b.link(from, to, Feeds)
			if n := &b.m.Nodes[to]; n.Kind == Result && b.m.Nodes[from].Kind == Result {
				n.depth = max(n.depth, b.m.Nodes[from].depth+1)
			}
		}
	}
}

func (b *builder) gate(g *procedures.Gate) {
	i := b.add(Node{Kind: Gate, Name: "gate." + g.Name, Title: words(g.Title), Step: words(g.Step.Title), Note: limits(g)})
	b.feed(i, g.Of, g.Within, g.AtMost, g.AtLeast, g.Holds)
}

// loose are the readings and results that nothing is worked out of, and
// nothing held against: what they are for is said by the corrections alone.
func (b *builder) loose() map[int]bool {
	out := map[int]bool{}
	for i, n := range b.m.Nodes {
		if n.Kind == Reading || n.Kind == Result {
			out[i] = !slices.ContainsFunc(b.m.Links, func(l Link) bool { return l.From == i })
		}
	}
	return out
}

func (b *builder) correction(c *procedures.Correction, loose map[int]bool) {
	note := ""
	if c.Amount != nil {
		note = "amount from " + c.Amount.Source()
	}
	i := b.add(Node{Kind: Correction, Name: "correction." + c.Name, Title: words(c.Title), Note: note})
	for _, st := range b.plan.Procedure().Steps {
		for _, it := range st.Items {
			if g, ok := it.(*procedures.Gate); ok && slices.ContainsFunc(g.IfFailed, func(w procedures.Way) bool { return w.Correction == c }) {
				b.link(b.at["gate."+g.Name], i, Leads)
			}
		}
	}
	for _, p := range append([]*formula.Program{c.When, c.Amount, c.Title, c.Positive, c.Negative}, c.Do...) {
		if p == nil {
			continue
		}
		for _, r := range p.Refs() {
			from, ok := b.at[r.String()]
			if given := ok && b.m.Nodes[from].Kind == Given && (p == c.Amount || p == c.When); ok && (loose[from] || given) {
				b.link(from, i, Feeds)
			}
		}
	}
	for _, st := range b.plan.SpoiltBy(c) {
		b.link(i, b.add(Node{Kind: Step, Name: "step." + st.Name, Title: words(st.Title)}), Spoils)
	}
	for _, t := range c.Disturbs {
		if t.Accepted != "" {
			b.link(i, b.add(Node{Kind: Other, Name: `accepted["` + t.Accepted + `"]`, Title: "accepted runs of " + t.Accepted}), Spoils)
		}
	}
}

func limits(g *procedures.Gate) string {
	switch {
	case g.Within != nil:
		return "within " + g.Within.Source()
	case g.AtMost != nil:
		return "at most " + g.AtMost.Source()
	case g.AtLeast != nil:
		return "at least " + g.AtLeast.Source()
	case g.Holds != nil:
		return g.Holds.Source()
	}
	return ""
}

// used leaves out what nothing depends on: givens that only words or keys
// use, and readings that are kept as they are.
func (m Map) used() Map {
	place := make([]int, len(m.Nodes))
	out := Map{Title: m.Title}
	for i, n := range m.Nodes {
		joined := slices.ContainsFunc(m.Links, func(l Link) bool { return l.From == i || l.To == i })
		place[i] = -1
		if joined || n.Kind == Gate || n.Kind == Correction {
			place[i] = len(out.Nodes)
			out.Nodes = append(out.Nodes, n)
		}
	}
	for _, l := range m.Links {
		out.Links = append(out.Links, Link{place[l.From], place[l.To], l.Kind})
	}
	return out
}

// nothing is an environment in which nothing was answered yet.
type nothing struct{}

func (nothing) Value(formula.Ref) value.Value { return value.NotYet() }

// Named implements [formula.Namer].
func (nothing) Named(r formula.Ref) string {
	if r.Space == formula.Each && r.Name == "take" {
		return "n"
	}
	name := r.Name[strings.LastIndexByte(r.Name, '.')+1:]
	return "(" + strings.ReplaceAll(name, "_", " ") + ")"
}

// Words says a text of a procedure before anything is known of a run: what has
// no value yet is named in brackets.
func Words(t procedures.Text) string {
	if t == nil {
		return ""
	}
	return t.Words(nothing{})
}

func words(t procedures.Text) string { return Words(t) }
