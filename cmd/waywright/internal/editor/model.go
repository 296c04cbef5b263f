package editor

import (
	"slices"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
)

// model is what is known of the values of a file: from its present text, and,
// of what that does not tell because it is being typed, from before.
type model struct {
	edits int // of the server, when it was read
	facts map[string]fact
}

// fact is what is known of a name.
type fact struct {
	typ  value.Type
	unit *quantity.Unit
}

// known returns what is known of a given, reading or result of a page.
func (v *view) known(p *page, kind, name string) (fact, bool) {
	f, ok := v.model(p).facts[kind+" "+name]
	return f, ok && f.typ.Kind != 0
}

// model reads a page, if anything changed since it was read last.
func (v *view) model(p *page) *model {
	key := v.root + "\x00" + p.name
	m := v.s.models[key]
	if m != nil && m.edits == v.s.edits {
		return m
	}
	src := v.source(p.name)
	src.Brief = true
	loaded, ds := hclfile.Parse(src)
	now := &model{edits: v.s.edits, facts: factsOf(loaded.Procedure)}
	if m != nil && unsettled(ds) {
		for name, f := range m.facts {
			if now.facts[name].typ.Kind == 0 {
				now.facts[name] = f
			}
		}
	}
	v.s.models[key] = now
	return now
}

// unsettled tells whether a file cannot be read, or not all of it.
func unsettled(ds diagnose.List) bool {
	return slices.ContainsFunc(ds, func(d diagnose.Diagnostic) bool { return d.Severity == diagnose.Error })
}

func factsOf(p *procedures.Procedure) map[string]fact {
	out := map[string]fact{}
	if p == nil {
		return out
	}
	for _, g := range p.Givens {
		out["given "+g.Name] = fact{g.Type, g.Unit}
	}
	for _, st := range p.Steps {
		for _, item := range st.Items {
			switch x := item.(type) {
			case *procedures.Reading:
				out["reading "+x.Name] = fact{x.Outer, x.Unit}
			case *procedures.Result:
				out["result "+x.Name] = fact{x.Outer, x.Unit}
			}
		}
	}
	for _, in := range p.Instruments {
		u := in.Unit
		out["instrument "+in.Name] = fact{value.NumberType(in.Dim), &u}
	}
	for _, t := range p.Tables {
		for _, row := range t.Rows {
			u := row.Unit
			out["row "+t.Name+"."+row.Name] = fact{row.Type, &u}
		}
	}
	return out
}

// dimOf is the dimension of the numbers in a value; ok is false where there is
// none.
func dimOf(t value.Type) (d quantity.Dim, ok bool) {
	for t.Collection() && t.Elem != nil {
		t = *t.Elem
	}
	t = t.Scalar()
	return t.Dim, t.Kind == value.Number && !t.Count || t.Kind == value.Net
}
