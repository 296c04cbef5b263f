package hclfile

import (
	"io/fs"
	"path"
	"slices"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile/schema"
)

// sharedName is the name of the files that hold shared definitions.
const sharedName = "shared.hcl"

// alsoName stands before the names of files of Source.Also, which have a root
// of their own.
const alsoName = "built-in/"

// home is a file with shared definitions.
type home struct {
	file *file
	tree *node
	defs map[string]map[string]*node // by block type, then by name
	made map[*node]any               // what has been read from them
}

// shareds finds the files of shared definitions, nearest first. The own
// file's are the nearest of all.
func (r *reader) shareds(own *node) {
	r.addHome(r.own, own)
	if r.pinned != nil {
		for _, f := range r.pinned[1:] {
			r.addShared(nil, f.Name, f.Name)
		}
		return
	}
	for dir := path.Dir(r.src.Path); ; dir = path.Dir(dir) {
		p := path.Join(dir, sharedName)
		if p != r.src.Path && exists(r.src.FS, p) {
			r.addShared(r.src.FS, p, p)
		}
		if dir == "." || dir == "/" {
			break
		}
	}
	if r.src.Also != nil && exists(r.src.Also, sharedName) {
		r.addShared(r.src.Also, sharedName, alsoName+sharedName)
	}
}

func exists(fsys fs.FS, p string) bool {
	if fsys == nil || !fs.ValidPath(p) {
		return false
	}
	info, err := fs.Stat(fsys, p)
	return err == nil && !info.IsDir()
}

func (r *reader) addShared(fsys fs.FS, p, shown string) {
	f := r.open(fsys, p, shown)
	if f.body != nil {
		r.addHome(f, r.tree(schema.SharedFile, f.body, f, nil))
	}
}

func (r *reader) addHome(f *file, tree *node) {
	h := &home{file: f, tree: tree, defs: map[string]map[string]*node{}, made: map[*node]any{}}
	for _, n := range tree.kids {
		switch n.kind {
		case schema.Caution, schema.Instrument, schema.Table:
		default:
			if tree.kind != schema.SharedFile || !isPattern(n.kind) && n.kind != schema.SharedRehearsal {
				continue
			}
		}
		byName := h.defs[n.kind.Type]
		if byName == nil {
			byName = map[string]*node{}
			h.defs[n.kind.Type] = byName
		}
		if first := byName[n.label]; first != nil && n.label != "" {
			r.say(n, "E203", n.name, "There is another %s %q in line %d. Give one of them another name.", n.kind.Type, n.label, first.at.Start.Line)
			continue
		}
		byName[n.label] = n
	}
	r.shared = append(r.shared, h)
}

// define finds the nearest definition of a name and what it says. A name that
// is nowhere is told at the reference, with the nearest spelling.
func define[T any](r *reader, n *node, ref reference, typ string, read func(*node) T) (out T, ok bool) {
	var names []string
	for _, h := range r.shared {
		def := h.defs[typ][ref.name]
		if def == nil {
			for name := range h.defs[typ] {
				names = append(names, name)
			}
			continue
		}
		r.used[h.file] = true
		made, have := h.made[def].(T)
		if !have {
			made = read(def)
			h.made[def] = made
		}
		return made, true
	}
	slices.Sort(names)
	r.unknown(n, ref.at, typ, ref.name, slices.Compact(names))
	return out, false
}

func (r *reader) instrument(n *node, name string) *procedures.Instrument {
	ref, ok := r.reference(n, name)
	if !ok {
		return nil
	}
	in, ok := define(r, n, ref, "instrument", r.readInstrument)
	if !ok {
		return nil
	}
	if r.p != nil && !slices.Contains(r.p.Instruments, in) {
		r.p.Instruments = append(r.p.Instruments, in)
	}
	return in
}

func (r *reader) cautions(n *node, name string) []*procedures.Caution {
	var out []*procedures.Caution
	for _, ref := range r.references(n, name) {
		c, ok := define(r, n, ref, "caution", r.readCaution)
		if !ok {
			continue
		}
		if r.p != nil && !slices.Contains(r.p.Cautions, c) {
			r.p.Cautions = append(r.p.Cautions, c)
		}
		out = append(out, c)
	}
	return out
}

// table returns a table by name, or nil. It is used from formulas, which tell
// of unknown names themselves.
func (r *reader) table(name string) *procedures.Table {
	for _, h := range r.shared {
		def := h.defs["table"][name]
		if def == nil {
			continue
		}
		r.used[h.file] = true
		t, have := h.made[def].(*procedures.Table)
		if !have {
			t = r.readTable(def)
			h.made[def] = t
		}
		return t
	}
	return nil
}

func (r *reader) readCaution(n *node) *procedures.Caution {
	return &procedures.Caution{
		Name: n.label, At: n.at,
		Text:   r.sentence(n, "text", &scope{none: true}),
		Hazard: r.oneOf(n, "hazard"),
		Source: r.word(n, "source"),
	}
}

func (r *reader) readInstrument(n *node) *procedures.Instrument {
	in := &procedures.Instrument{
		Name: n.label, At: n.at,
		Kind:        r.word(n, "kind"),
		Source:      r.word(n, "source"),
		Certificate: r.word(n, "certificate"),
	}
	in.RepeatabilityDoF = float64(r.whole(n, "repeatability_dof", 1, 1000, 0))
	if v, t, ok := r.constant(n, "resolution", nil); ok {
		if v.Num <= 0 {
			r.say(n, "E113", rng(n.attr("resolution").Range()), "The resolution is the smallest step that is read: more than nothing.")
		}
		in.Resolution, in.Dim = v.Num, t.Dim
		in.Unit = writtenUnit(n.attr("resolution"), t.Dim)
	}
	positive := func(name string) float64 {
		v, _, ok := r.constant(n, name, &in.Dim)
		if ok && v.Num < 0 {
			r.say(n, "E113", rng(n.attr(name).Range()), "%s is how far it may be out either way: write it without a minus.", name)
			return 0
		}
		return v.Num
	}
	in.Error, in.HasError = positive("error"), n.has("error")
	in.Repeatability = positive("repeatability")
	in.Turn = positive("turn")
	in.Zero, in.HasZero = positive("zero"), n.has("zero")
	if n.has("repeatability_dof") && !n.has("repeatability") {
		r.say(n, "E110", rng(n.attrs["repeatability_dof"].NameRange), "repeatability_dof says how well the repeatability is known, but there is no repeatability. Write it too, or leave this out.")
	}
	return in
}

func (r *reader) readTable(n *node) *procedures.Table {
	t := &procedures.Table{Name: n.label, At: n.at, Title: r.word(n, "title")}
	t.Grades = r.different(n, "grades", r.words(n, "grades"))
	seen := map[string]*node{}
	for _, k := range n.all("row") {
		if first := seen[k.label]; first != nil && k.label != "" {
			r.say(k, "E203", k.name, "There is another row %q in line %d. Give one of them another name.", k.label, first.at.Start.Line)
			continue
		}
		seen[k.label] = k
		t.Rows = append(t.Rows, r.readRow(k, t.Grades))
	}
	return t
}

func (r *reader) readRow(n *node, grades []string) *procedures.Row {
	row := &procedures.Row{Name: n.label, At: n.at, Title: r.word(n, "title"), Source: r.word(n, "source"), Values: map[string]value.Value{}}
	for _, p := range r.object(n, "values") {
		if grades != nil && !slices.Contains(grades, p.key) {
			r.say(n, "E201", p.at, "The table has no grade %q, only %s.%s", p.key, quoted(grades, "and"), didYouMean(p.key, grades))
			continue
		}
		var dim *quantity.Dim
		if row.Type.Kind == value.Number {
			dim = &row.Type.Dim
		}
		v, t, ok := r.constantExpr(n, p.value, "the value for "+p.key, dim)
		if !ok {
			continue
		}
		if row.Type.Kind == 0 {
			row.Type, row.Unit = t, writtenUnit(p.value, t.Dim)
		}
		row.Values[p.key] = v
	}
	if !n.has("values") {
		return row
	}
	for _, g := range grades {
		if _, ok := row.Values[g]; !ok && !r.failed(n) {
			r.say(n, "E103", n.at, "The row has no value for the grade %q. Write one: %s = um(20)", g, keyText(g))
		}
	}
	return row
}

// failed tells whether something was already found wrong with the values of a
// row, so that a value which could not be read is not also missing.
func (r *reader) failed(n *node) bool {
	at := rng(n.attr("values").Range())
	return slices.ContainsFunc(r.diags, func(d diagnose.Diagnostic) bool {
		return d.Severity == diagnose.Error && d.Subject.File == at.File &&
			d.Subject.Start.Byte >= at.Start.Byte && d.Subject.End.Byte <= at.End.Byte
	})
}

func keyText(g string) string {
	if nameForm.MatchString(g) {
		return g
	}
	return `"` + g + `"`
}

// sharedFile reads a file of shared definitions for its own sake. What those in
// the folders above say wrong is told of them.
func (r *reader) sharedFile() {
	tree := r.tree(schema.SharedFile, r.own.body, r.own, nil)
	r.shareds(tree)
	r.diags = slices.DeleteFunc(r.diags, func(d diagnose.Diagnostic) bool { return d.Subject.File != r.own.name })
	for _, n := range tree.kids {
		r.likeIn(n, tree)
	}
	for _, n := range tree.kids {
		ref := reference{word: n.kind.Type, name: n.label, at: n.name}
		switch n.kind {
		case schema.Caution:
			define(r, n, ref, "caution", r.readCaution)
		case schema.Instrument:
			define(r, n, ref, "instrument", r.readInstrument)
		case schema.Table:
			define(r, n, ref, "table", r.readTable)
		case schema.Given, schema.Step, schema.Correction, schema.SharedRehearsal:
			r.alone(n, tree)
		}
	}
}
