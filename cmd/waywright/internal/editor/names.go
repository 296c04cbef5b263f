package editor

import (
	"waywright/cmd/waywright/internal/editor/sketch"
	"waywright/procedures/hclfile/schema"
)

// place is where a name is given.
type place struct {
	page *page
	ref  sketch.Ref
}

// same tells whether two places are one.
func (a place) same(b place) bool { return a.page == b.page && a.ref.At == b.ref.At }

// given returns the place in a page where a name of one of the kinds is given.
func (p *page) given(name string, kinds ...sketch.Kind) (place, bool) {
	for _, k := range kinds {
		if refs := p.gives[string(k)+" "+name]; len(refs) > 0 {
			return place{p, refs[0]}, true
		}
	}
	return place{}, false
}

// refAt returns the name at a place of a page.
func (p *page) refAt(at int) (sketch.Ref, bool) {
	var best sketch.Ref
	ok := false
	for _, r := range p.refs {
		if r.At.Holds(at) {
			return r, true
		}
		if r.Whole.Holds(at) && (!ok || r.Whole.To-r.Whole.From < best.Whole.To-best.Whole.From) {
			best, ok = r, true
		}
	}
	return best, ok
}

// resolve returns the place where a name is given.
func (v *view) resolve(p *page, r sketch.Ref) (place, bool) {
	switch {
	case r.Kind == sketch.Procedure || r.Kind == sketch.Plan:
		return v.procedure(p, r)
	case r.Kind == sketch.Row:
		return v.row(p, r)
	case r.Kind == sketch.Each:
		return v.each(p, r)
	case r.Of != "":
		q := v.peer(p, r.Of)
		if q == nil {
			return place{}, false
		}
		return v.named(q, r.Kind, r.Name)
	case r.Gives:
		return v.first(p, r, 0), true
	case r.Like && r.Kind != sketch.Rehearsal:
		q, b := v.base(p, r.In)
		if b == nil {
			return place{}, false
		}
		return q.giving(b)
	case r.Like:
		return v.likeRehearsal(p, r)
	}
	return v.named(p, r.Kind, r.Name)
}

// named returns the place where a name that a page uses is given.
func (v *view) named(p *page, kind sketch.Kind, name string) (place, bool) {
	switch kind {
	case "instrument", "caution", "table":
		return v.nearest(p, kind, name)
	case sketch.Hidden:
		return v.hidden(p, name)
	case sketch.Rehearsal:
		return p.given(name, kind)
	case sketch.Fact:
		return v.item(p, name, "given", "reading", "confirm", "wait")
	case "said":
		return v.item(p, name, "correction", "reading")
	}
	return v.item(p, name, kind)
}

// nearest looks in the page, then in the shared files.
func (v *view) nearest(p *page, kind sketch.Kind, name string) (place, bool) {
	for _, q := range append([]*page{p}, v.shared(p)...) {
		if at, ok := q.given(name, kind); ok {
			return at, true
		}
	}
	return place{}, false
}

// item looks in the page, and in what its steps are like.
func (v *view) item(p *page, name string, kinds ...sketch.Kind) (place, bool) {
	if at, ok := p.given(name, kinds...); ok {
		return v.first(p, at.ref, 0), true
	}
	for _, step := range p.tree.Root.All("step") {
		for q, b := p, step; b != nil; {
			if q, b = v.base(q, b); b == nil {
				break
			}
			for _, k := range kinds {
				for _, item := range b.All(string(k)) {
					if item.Label == name {
						return q.giving(item)
					}
				}
			}
			if q.name == p.name { // like one in the same file: nothing new in it
				break
			}
		}
	}
	return place{}, false
}

// first returns the place where a name was given first: an item of a step that
// is like another one stands for that one's of the same name.
func (v *view) first(p *page, r sketch.Ref, depth int) place {
	here := place{p, r}
	if r.Kind == sketch.Hidden {
		if at, ok := v.hidden(p, r.Name); ok {
			return at
		}
	}
	if r.In == nil || r.In.Up == nil || !r.In.Up.Is(schema.Step) || depth > 10 {
		return here
	}
	q, base := v.base(p, r.In.Up)
	if base == nil {
		return here
	}
	for _, item := range base.All(r.In.Type) {
		if item.Label == r.Name {
			if at, ok := q.giving(item); ok {
				return v.first(q, at.ref, depth+1)
			}
		}
	}
	return here
}

// giving returns the place of a block's own name.
func (p *page) giving(b *sketch.Block) (place, bool) {
	for _, r := range p.refs {
		if r.Gives && r.In == b && r.At == b.LabelAt {
			return place{p, r}, true
		}
	}
	return place{}, false
}

// base returns what a block is like, with the page it stands in: one above it
// in its own file, or, at the outermost level, one in the nearest shared file.
func (v *view) base(p *page, b *sketch.Block) (*page, *sketch.Block) {
	name := ""
	for _, r := range p.refs {
		if r.Like && r.In == b {
			name = r.Name
		}
	}
	if name == "" || b.Type == "rehearsal" {
		return nil, nil
	}
	var found *sketch.Block
	p.tree.Root.Walk(func(k *sketch.Block) {
		if k.Kind != nil && k.Kind == b.Kind && k != b && k.Label == name && k.TypeAt.From < b.TypeAt.From {
			found = k
		}
	})
	if found != nil {
		return p, found
	}
	if b.Up == nil || b.Up.Up != nil {
		return nil, nil
	}
	for _, q := range v.shared(p) {
		for _, k := range q.tree.Root.All(b.Type) {
			if k.Label == name {
				return q, k
			}
		}
	}
	return nil, nil
}

func (v *view) likeRehearsal(p *page, r sketch.Ref) (place, bool) {
	at, ok := p.given(r.Name, sketch.Rehearsal)
	if ok && at.ref.In != r.In {
		return at, true
	}
	for _, q := range v.shared(p) {
		if at, ok := q.given(r.Name, sketch.Rehearsal); ok {
			return at, true
		}
	}
	return place{}, false
}

// hidden returns where a state is first given. All rehearsals of a file mean
// one by one name, and so do those that they are like.
func (v *view) hidden(p *page, name string) (place, bool) {
	for _, q := range v.shared(p) {
		at, ok := q.given(name, sketch.Hidden)
		if !ok {
			continue
		}
		for _, r := range p.refs {
			if r.Like && r.Kind == sketch.Rehearsal {
				if in, found := v.likeRehearsal(p, r); found && in.page == q {
					return at, true
				}
			}
		}
	}
	return p.given(name, sketch.Hidden)
}

// procedure returns the head of another procedure, or of the one at hand.
func (v *view) procedure(p *page, r sketch.Ref) (place, bool) {
	if r.Gives {
		return place{p, r}, true
	}
	q := v.peer(p, r.Name)
	if q == nil {
		return place{}, false
	}
	for _, b := range q.tree.Root.Blocks {
		if b.Type == string(sketch.Procedure) || b.Type == string(sketch.Plan) {
			return q.giving(b)
		}
	}
	return place{}, false
}

func (v *view) row(p *page, r sketch.Ref) (place, bool) {
	if r.Gives {
		return place{p, r}, true
	}
	table, ok := v.nearest(p, "table", r.Of)
	if !ok {
		return place{}, false
	}
	for _, row := range table.ref.In.All("row") {
		if row.Label == r.Name {
			return table.page.giving(row)
		}
	}
	return place{}, false
}

// each returns the block that gives a key: in the block that uses it, or around
// it, or in what a step around it is like.
func (v *view) each(p *page, r sketch.Ref) (place, bool) {
	if r.Gives {
		return place{p, r}, true
	}
	for b := r.In; b != nil; b = b.Up {
		for q, in := p, b; in != nil; q, in = v.base(q, in) {
			for _, e := range in.All("each") {
				if e.Label == r.Name {
					return q.giving(e)
				}
			}
			if in.Kind == nil {
				break
			}
		}
		if b.Type == schema.Answer.Type { // what is asked there has the keys
			if at, ok := v.named(p, sketch.Fact, r.Attr); ok {
				return v.each(at.page, sketch.Ref{Kind: sketch.Each, Name: r.Name, In: at.ref.In})
			}
		}
	}
	return place{}, false
}

// uses returns every place in the folder where a name is given or used, in the
// order of the files.
func (v *view) uses(of place) []place {
	pages := v.all()
	if in := v.pages[of.page.name]; in != nil && !contains(pages, of.page) {
		pages = append(pages, of.page)
	}
	var out []place
	for _, p := range pages {
		for _, r := range p.refs {
			if r.Name != of.ref.Name {
				continue
			}
			if at, ok := v.resolve(p, r); ok && at.same(of) {
				out = append(out, place{p, r})
			}
		}
	}
	return out
}

func contains(pages []*page, p *page) bool {
	for _, q := range pages {
		if p == q {
			return true
		}
	}
	return false
}
