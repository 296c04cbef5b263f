package hclfile

import (
	"slices"
	"strings"

	"waywright/checks"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
	"waywright/procedures/hclfile/schema"
)

// procedure reads a procedure from the own file.
func (r *reader) procedure() *procedures.Procedure {
	own := r.tree(schema.ProcedureFile, r.own.body, r.own, nil)
	r.p = &procedures.Procedure{Decision: checks.Guarded}
	r.shareds(own)
	r.likes(own)
	r.declare(own)
	for _, n := range own.kids {
		switch n.kind {
		case schema.Procedure:
			r.head(n)
		case schema.Given:
			r.p.Givens = append(r.p.Givens, r.given(n))
		}
	}
	r.firstGates(own)
	for _, n := range own.all("step") {
		r.p.Steps = append(r.p.Steps, r.step(n))
	}
	for _, n := range own.all("correction") {
		r.p.Corrections = append(r.p.Corrections, r.correction(n))
	}
	for _, n := range own.all("signoff") {
		r.p.Signoffs = append(r.p.Signoffs, r.readSignoff(n))
	}
	if !r.brief {
		r.rehearsals(own)
		r.unusedDefinitions(own)
		r.waitsForItself()
	}
	r.grades()
	r.p.Files = r.files()
	return r.p
}

func (r *reader) head(n *node) {
	r.p.Name, r.p.At = n.label, n.at
	r.p.Title = r.word(n, "title")
	r.p.Machine = r.word(n, "machine")
	r.p.Revision = r.word(n, "revision")
	r.p.Purpose = r.word(n, "purpose")
	r.p.Sources = r.words(n, "sources")
	r.p.Duration = r.time(n, "duration", &scope{none: true})
	if rule, ok := checks.ParseRule(r.oneOf(n, "decision")); ok {
		r.p.Decision = rule
	}
	r.p.IfFailed = r.ways(n)
	r.fileName(n)
}

// each reads the each blocks of a given, step or reading and puts their keys
// into the scope, one after another.
func (r *reader) each(n *node, sc *scope) ([]*procedures.Each, []value.Key) {
	var out []*procedures.Each
	var keys []value.Key
	for _, k := range n.all("each") {
		e := &procedures.Each{Name: k.label, At: k.at}
		inner := sc.with()
		inner.only = eachOnly
		e.Of = r.formula(k, "of", inner, want{any: true, what: "of"})
		e.Key = value.Key{Name: k.label}
		if e.Of != nil && e.Of.Type().Kind != value.List {
			r.say(k, "E115", rng(k.attr("of").Range()), "Keys are a list, but this is %s. Write, for example, of = [\"near\", \"far\"]", e.Of.Type())
			e.Of = nil
		}
		elem := value.Type{}
		if e.Of != nil && e.Of.Type().Elem != nil {
			elem = *e.Of.Type().Elem
			e.Key.Count, e.Key.Words = elem.Count, elem.Words
			r.keysAreBounded(k, elem)
		}
		if slices.Contains(impliedKeys(n), k.label) {
			r.say(k, "E203", k.name, "each.%s is there already, from the attribute of this reading. Choose another name.", k.label)
		} else if _, taken := sc.each[k.label]; taken {
			r.say(k, "E203", k.name, "There is an each %q already. Choose another name.", k.label)
		}
		sc.each = sc.eachPlus(k.label, sym{typ: keyType(e.Key), ready: e.Of != nil})
		out, keys = append(out, e), append(keys, e.Key)
	}
	return out, keys
}

// impliedKeys are the keys that attributes of a reading give (semantics rule
// 19).
func impliedKeys(n *node) []string {
	var out []string
	for attr, key := range map[string]string{"along": "station", "around": "angle", "repeat": "take"} {
		if n.has(attr) {
			out = append(out, key)
		}
	}
	return out
}

func keyType(k value.Key) value.Type {
	if k.Count {
		return value.CountType()
	}
	return value.TextType(k.Words...)
}

// keysAreBounded sees to it that the keys are words known from the file, or
// numbered(n) with a bound (semantics rule 17).
func (r *reader) keysAreBounded(k *node, elem value.Type) {
	at := rng(k.attr("of").Range())
	switch {
	case elem.Kind == value.Text && elem.Words == nil || elem.Kind != value.Text && !elem.Count:
		r.say(k, "E115", at, "Keys are words that stand in the file, or numbered(n). Write, for example, of = [\"near\", \"far\"]")
	case elem.Count:
		r.numberedBounded(k, k.attr("of"))
	case slices.ContainsFunc(elem.Words, func(w string) bool { return !keyForm.MatchString(w) }):
		r.say(k, "E115", at, "Keys are words of lower-case letters, figures and underscores, since an answer is named after them.")
	}
}

// keyed wraps a type in keys, the first outermost.
func keyed(keys []value.Key, t value.Type) value.Type {
	for _, k := range slices.Backward(keys) {
		t = value.KeyedType(k, t)
	}
	return t
}

// answer reads what may be answered to a question. scalar is the type of one
// value.
func (r *reader) answer(n *node, a *procedures.Answer, sc *scope) (scalar value.Type, ok bool) {
	if scalar, ok = r.answerType(n, a); !ok {
		r.interval(n, "range", sc, want{any: true}) // its own mistakes are told all the same
		return scalar, false
	}
	numeric := scalar.Kind == value.Number || scalar.Kind == value.Point
	for _, attr := range []string{"range", "closure", "nudge", "repeat", "along", "around", "both_ways", "turned", "positive", "with"} {
		if n.has(attr) && !numeric {
			r.say(n, "E109", rng(n.attrs[attr].NameRange), "%s belongs to readings of a number, but this one is %s. Leave it out.", attr, scalar)
		}
	}
	if numeric {
		a.Range = r.interval(n, "range", sc, want{typ: &scalar, what: "the range"})
	}
	return scalar, true
}

// answerType reads which of the kinds of answer it is.
func (r *reader) answerType(n *node, a *procedures.Answer) (scalar value.Type, ok bool) {
	var kinds []string
	for _, k := range []string{"unit", "choose", "count", "text", "evidence"} {
		if n.has(k) {
			kinds = append(kinds, k)
		}
	}
	switch {
	case len(kinds) == 0:
		r.say(n, "E103", n.at, "A %s says what may be answered: unit, choose, count, text or evidence. Write, for example, unit = \"mm\"", n.kind.Type)
		return value.Type{}, false
	case len(kinds) > 1:
		r.say(n, "E109", rng(n.attrs[kinds[1]].NameRange), "%s and %s cannot both be written: they say what may be answered. Keep one.", kinds[0], kinds[1])
		return value.Type{}, false
	}
	return r.answerKind(n, a, kinds[0])
}

func (r *reader) answerKind(n *node, a *procedures.Answer, kind string) (value.Type, bool) {
	switch kind {
	case "unit":
		a.Unit = r.unit(n, "unit")
		if a.Unit == nil {
			return value.Type{}, false
		}
		if a.Unit.Point {
			return value.PointType(), true
		}
		return value.NumberType(a.Unit.Dim), true
	case "choose":
		a.Choose = r.different(n, "choose", r.words(n, "choose"))
		if len(a.Choose) < 2 {
			if len(a.Choose) == 0 && r.troubled(n, "choose") {
				return value.Type{}, false
			}
			r.say(n, "E112", rng(n.attr("choose").Range()), "A choice has two words or more.")
		}
		return value.TextType(a.Choose...), len(a.Choose) > 0
	case "count":
		a.Count = r.truth(n, "count")
		return value.CountType(), r.mustBeTrue(n, kind)
	case "text":
		a.Text = r.truth(n, "text")
		return value.TextType(), r.mustBeTrue(n, kind)
	}
	a.File = r.truth(n, "evidence")
	return value.TextType(), r.mustBeTrue(n, kind)
}

func (r *reader) mustBeTrue(n *node, name string) bool {
	if r.truth(n, name) || r.troubled(n, name) {
		return true
	}
	r.say(n, "E112", rng(n.attr(name).Range()), "%s = false says nothing. Leave it out, and write what may be answered.", name)
	return false
}

func (r *reader) given(n *node) *procedures.Given {
	d := n.decl
	g := d.obj.(*procedures.Given)
	sc := &scope{below: n, only: givensOnly}
	var keys []value.Key
	g.Each, keys = r.each(n, sc)
	g.Title = r.sentence(n, "title", sc)
	g.Ask = r.sentence(n, "ask", sc)
	g.When = r.condition(n, "when", sc)
	scalar, ok := r.answer(n, &g.Answer, sc)
	g.With = r.instrument(n, "with")
	g.Fresh = r.time(n, "fresh", &scope{none: true})
	g.Type = keyed(keys, scalar)
	r.givenFrom(n, g, sc, scalar, ok)
	d.inner, d.outer, d.unit, d.ready, d.tried = g.Type, g.Type, g.Unit, ok, true
	r.sameDimension(n, g.With, scalar, ok)
	return g
}

func (r *reader) givenFrom(n *node, g *procedures.Given, sc *scope, scalar value.Type, ok bool) {
	if n.has("from") {
		from := sc.with()
		from.only, from.outside = fromOnly, true
		w := want{any: true}
		if ok {
			w = want{typ: &scalar, what: "what it comes from"}
		}
		from.guess = &scalar
		g.From = r.formula(n, "from", from, w)
		r.outsideAtHand(n, g.From)
	}
	accepted := g.From != nil && slices.ContainsFunc(g.From.Refs(), func(f formula.Ref) bool { return f.Space == formula.Accepted })
	switch {
	case !n.has("ask") && !n.has("from") && !r.misspelt(n, "ask") && !r.misspelt(n, "from"):
		r.say(n, "E103", n.at, "A given needs ask, or, where it cannot be typed, from and title. Write, for example, ask = \"Distance between the collars\"")
	case !n.has("ask") && !n.has("title") && !r.misspelt(n, "title"):
		r.say(n, "E103", n.at, "A given without ask cannot be typed; it needs a title. Write, for example, title = \"Change of roll along the bed\"")
	case n.has("fresh") && g.From != nil && !accepted:
		r.say(n, "E110", rng(n.attrs["fresh"].NameRange), "fresh is the age of an accepted run, but from does not name one.")
	case n.has("fresh") && !n.has("from"):
		r.say(n, "E110", rng(n.attrs["fresh"].NameRange), "fresh is the age of an accepted run, but there is no from that names one.")
	}
}

// sameDimension sees to it that an instrument reads what it is used for.
func (r *reader) sameDimension(n *node, in *procedures.Instrument, t value.Type, ok bool) {
	if in == nil || !ok || in.Resolution == 0 {
		return
	}
	d := t.Dim
	if t.Kind == value.Point {
		d, _ = pointDifference(t)
	}
	if t.Kind != value.Text && in.Dim != d {
		r.say(n, "E301", rng(n.attr("with").Range()), "The reading is %s, but the resolution of instrument.%s is %s. Name another instrument, or mend the unit.", t, in.Name, in.Dim)
	}
}

func pointDifference(t value.Type) (d dim, ok bool) {
	diff, ok := t.Difference()
	return diff.Dim, ok
}

func (r *reader) readSignoff(n *node) *procedures.Signoff {
	s := n.decl.obj.(*procedures.Signoff)
	s.Title = r.sentence(n, "title", &scope{only: givensOnly})
	s.OtherThan = r.signoff(n, "other_than")
	s.Concedes = r.truth(n, "concedes")
	return s
}

// unusedDefinitions tells of cautions, instruments and tables of the
// procedure's own file that it never uses.
func (r *reader) unusedDefinitions(own *node) {
	h := r.shared[0]
	for _, n := range own.kids {
		switch n.kind {
		case schema.Caution, schema.Instrument, schema.Table:
		default:
			continue
		}
		t, isTable := h.made[n].(*procedures.Table)
		if h.made[n] != nil && (!isTable || slices.Contains(r.p.Tables, t)) {
			continue
		}
		if h.made[n] == nil { // its own mistakes are told all the same
			switch n.kind {
			case schema.Caution:
				r.readCaution(n)
			case schema.Instrument:
				r.readInstrument(n)
			case schema.Table:
				r.readTable(n)
			}
		}
		if n.label != "" && h.defs[n.kind.Type][n.label] == n {
			r.say(n, "W501", n.at, "Nothing uses this %s. Take it out, or move it to shared.hcl if others use it.", n.kind.Type)
		}
	}
}

// grades finds the grades that a run may be begun with: those that all tables
// used have.
func (r *reader) grades() {
	for i, t := range r.p.Tables {
		if i == 0 {
			r.p.Grades = slices.Clone(t.Grades)
			continue
		}
		both := slices.DeleteFunc(slices.Clone(r.p.Grades), func(g string) bool { return !slices.Contains(t.Grades, g) })
		if len(both) == 0 && len(t.Grades) > 0 {
			first := r.p.Tables[0]
			r.diags = append(r.diags, newAt("E209", r.p.At,
				"A run has one grade, but table.%s has %s and table.%s has %s. Give them a grade in common.",
				first.Name, strings.Join(first.Grades, ", "), t.Name, strings.Join(t.Grades, ", ")))
			return
		}
		r.p.Grades = both
	}
}
