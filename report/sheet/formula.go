package sheet

import (
	"regexp"
	"slices"
	"strings"

	"waywright/checks/catalogue"
	"waywright/procedures"
	"waywright/procedures/formula"
	"waywright/report/document"
)

// oneLine is a formula as it is written, on one line.
func oneLine(p *formula.Program) string { return strings.Join(strings.Fields(p.Source()), " ") }

// name is a reference to a value: given.span, reading.top.near, accepted["p"].result.x.
var name = regexp.MustCompile(`\b(given|reading|result|table|hidden|machine)\.([a-z_][a-z0-9_]*)((?:\.[a-z0-9_]+)*)|\baccepted\["([^"]*)"\]\.result\.([a-z0-9_]+)`)

// formulaWords is a formula for a reader: names without the kind of thing they
// are, true signs.
func formulaWords(s string) string { return rewrite(s, func(string) string { return "" }) }

// rewrite puts the number of each field behind what is read or given.
func rewrite(s string, number func(name string) string) string {
	s = strings.Join(strings.Fields(s), " ")
	s = name.ReplaceAllStringFunc(s, func(m string) string {
		p := name.FindStringSubmatch(m)
		switch p[1] {
		case "":
			return strings.ReplaceAll(p[5], "_", " ") + " of " + p[4]
		case "table":
			return strings.TrimPrefix(strings.ReplaceAll(p[3], "_", " "), ".") + " of the table"
		}
		out := strings.ReplaceAll(p[2], "_", " ") + strings.ReplaceAll(strings.ReplaceAll(p[3], ".", " "), "_", " ")
		if p[1] == "given" || p[1] == "reading" {
			if no := number(p[2] + p[3]); no != "" {
				out += " [" + no + "]"
			}
		}
		return out
	})
	s = each.ReplaceAllString(s, "$3 for each $1 of $2")
	s = literal.ReplaceAllString(s, "$2 $1")
	s = strings.NewReplacer("plus_minus(", "± (", "between(", "between (").Replace(s)
	return signs.Replace(minus.ReplaceAllString(s, " − $1"))
}

// each is a list made of another.
var each = regexp.MustCompile(`\[for (?:[a-z_0-9]+, )?([a-z_0-9]+) in ([^:\[\]]+(?:\[[^\]]*\])?) : ([^\[\]]+)\]`)

// minus is one that touches what it is taken from.
var minus = regexp.MustCompile(` -([a-z(])`)

// literal is a number with its unit, as a procedure writes it: mm(300).
var literal = regexp.MustCompile(`\b(` + strings.Join(units(), "|") + `)\((-?[0-9][0-9.]*)\)`)

func units() []string {
	var out []string
	for _, f := range catalogue.All() {
		if f.Theme == "Numbers with units" {
			out = append(out, f.Name)
		}
	}
	slices.SortFunc(out, func(a, b string) int { return len(b) - len(a) })
	return out
}

var signs = strings.NewReplacer(" * ", " · ", " - ", " − ", " % ", " mod ", "<=", "≤", ">=", "≥", "!=", "≠", "==", "=", "&&", "and", "||", "or", " um", " µm")

// formula is a program with the numbers of what it uses, and the functions in it
// as they are worked out. It is by hand where a person can do the sum.
func (b *builder) formula(p *formula.Program) (text string, under []string, byHand bool) {
	text = rewrite(p.Source(), b.numberIn)
	byHand = true
	for _, f := range called(p) {
		words, simple := working(f)
		if words != "" {
			under = append(under, words)
		}
		byHand = byHand && simple
	}
	return text, under, byHand
}

// numberIn is the number of a given or a reading in a formula: with the place of
// its keys, where they are written.
func (b *builder) numberIn(written string) string {
	first, rest, _ := strings.Cut(written, ".")
	no := b.number(first)
	if rest == "" || no == "" {
		return no
	}
	for _, st := range b.w.Steps {
		for _, p := range st.Parts {
			for _, f := range p.Fields {
				if f.Kind != "nudge" && f.Name == written && f.Stations == 0 {
					return f.No
				}
			}
		}
	}
	return no
}

var call = regexp.MustCompile(`\b([a-z_][a-z0-9_]*)\(`)

// called lists the functions of the catalogue that a program calls, numbers with
// units apart, each once.
func called(p *formula.Program) []*catalogue.Func {
	var out []*catalogue.Func
	for _, m := range call.FindAllStringSubmatch(p.Source(), -1) {
		f, ok := catalogue.Lookup(m[1])
		if ok && f.Theme != "Numbers with units" && !slices.Contains(out, f) {
			out = append(out, f)
		}
	}
	return out
}

// everyday are functions that say by their names what they do.
var everyday = map[string]bool{
	"mean": true, "abs": true, "sum": true, "greatest": true, "least": true, "first": true, "last": true, "at": true, "hypot": true, "tan": true, "atan": true,
	"between": true, "plus_minus": true, "count": true, "numbered": true, "percent": true, "radian": true,
}

// working says how a function is worked out. It is simple where that is a sum
// of single numbers.
func working(f *catalogue.Func) (words string, simple bool) {
	if everyday[f.Name] {
		return "", true
	}
	var params []string
	for _, p := range f.Params {
		params = append(params, strings.ReplaceAll(p.Name, "_", " "))
	}
	words = f.Name + "(" + strings.Join(params, ", ") + ")"
	switch rule, _, _ := strings.Cut(f.Source, ";"); {
	case f.Num != nil && isFormula(rule, f):
		return words + " = " + strings.ReplaceAll(strings.TrimSpace(rule), "_", " "), true
	case f.Name == "spread":
		return words + ": the greatest less the least", true
	}
	return words + ": " + f.Doc + ". The program works it out: waywright calc " + f.Name, false
}

// isFormula tells whether a source is a rule that can be followed with a pencil:
// signs, figures, and the names of what the function takes.
func isFormula(s string, f *catalogue.Func) bool {
	if !strings.ContainsAny(s, "·/√²−+") {
		return false
	}
	for _, w := range word.FindAllString(s, -1) {
		known := slices.Contains([]string{"sin", "cos", "tan", "atan", "arctan", "sqrt", "of", "the", "less", "times", "and"}, w)
		for _, p := range f.Params {
			known = known || p.Name == w
		}
		if !known {
			return false
		}
	}
	return true
}

var word = regexp.MustCompile(`[A-Za-z_]{2,}`)

// result is a value that is worked out: its formula, room for the sum, and a box.
func (b *builder) result(r *procedures.Result, p sheetPart) []document.Block {
	text, under, byHand := b.formula(r.Value)
	title := p.Title
	if title == "" {
		title = strings.ReplaceAll(r.Name, "_", " ")
	}
	row := document.Field{Line: strong(title)}
	row.Under = append(row.Under, document.Line{{Text: strings.ReplaceAll(r.Name, "_", " ") + " = " + text}})
	row.Under = appendLines(row.Under, under...)
	if p.Positive != "" && !strings.HasPrefix(p.Positive, "never ") {
		row.Under = appendLines(row.Under, "plus: "+p.Positive)
	}
	if byHand && oneNumber(r.Value) {
		row.Rooms = append(row.Rooms, document.Room{Kind: document.Sum, Lines: sumLines(text)})
	}
	if oneNumber(r.Value) {
		unit := ""
		if r.Unit != nil {
			unit = r.Unit.Symbol
		}
		row.Rooms = append(row.Rooms, document.Room{Unit: unit})
	}
	return []document.Block{document.Fields{Rows: []document.Field{row}}}
}

func sumLines(formula string) int {
	if len(formula) > 90 {
		return 3
	}
	return 2
}
