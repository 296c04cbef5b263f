package outline

import (
	"fmt"
	"math"
	"strings"
)

// writer writes blocks. The layout is tidy's.
type writer struct{ strings.Builder }

func (w *writer) line(format string, args ...any) { fmt.Fprintf(w, format+"\n", args...) }

func (w *writer) list(name string, items []string) {
	if len(items) > 0 {
		w.line("%s = [%s]", name, strings.Join(items, ", "))
	}
}

// source writes the whole procedure.
func (d *draft) source() string {
	var w writer
	d.heading(&w)
	d.givens(&w)
	d.instruments(&w)
	d.cautions(&w)
	d.step(&w)
	if corrected(d.Answers) {
		d.correction(&w)
	}
	d.signoffs(&w)
	d.rehearsals(&w)
	return w.String()
}

func (d *draft) heading(w *writer) {
	a := d.Answers
	w.line("procedure %s {", quote(a["name"]))
	w.line("title = %s", quote(a["title"]))
	w.line("machine = %s", quote(or(a["machine"], "any")))
	w.line("revision = \"1\"")
	w.line("purpose = %s", quote(d.purpose()))
	w.line("decision = \"guarded\"")
	w.line("}\n")
}

func (d *draft) purpose() string {
	s := "Find whether it is so: " + lower(strings.TrimRight(d.Answers["title"], ".")) + "."
	if corrected(d.Answers) {
		s += " Put it right where it is not."
	}
	return s
}

func lower(s string) string {
	if len(s) < 2 || s[1] >= 'A' && s[1] <= 'Z' || s[0] >= 0x80 {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

func (d *draft) givens(w *writer) {
	part := d.Answers["part"]
	given := func(name, ask, lo, hi string) {
		w.line("given %q {", name)
		w.line("ask = %s", quote(ask))
		w.line("unit = \"mm\"")
		w.line("range = [%s, %s]", d.written(lo), d.written(hi))
		w.line("}\n")
	}
	switch {
	case d.is("shape", Profile):
		given("length", part+": length that is read", "length_least", "length_most")
	case spanned(d.Answers):
		given("span", part+": distance, place to place", "span_least", "span_most")
	}
}

func (d *draft) instruments(w *writer) {
	w.line("instrument \"gauge\" {")
	w.line("kind = %s", quote(d.Answers["kind"]))
	w.line("resolution = %s", d.written("resolution"))
	w.line("error = %s", d.written("error"))
	w.line("repeatability = %s", d.written("repeatability"))
	w.line("}\n")
	if moved(d.Answers) && d.has("move_with") {
		w.line("instrument \"mover\" {")
		w.line("kind = %s", quote(d.Answers["move_with"]))
		w.line("resolution = %s", d.written("move_resolution"))
		w.line("}\n")
	}
}

func (d *draft) cautions(w *writer) {
	caution := func(name, text, hazard, source string) {
		w.line("caution %q {", name)
		w.line("text = %s", quote(ended(text)))
		w.line("hazard = %q", hazard)
		w.line("source = %q", source)
		w.line("}\n")
	}
	if d.is("spindle", "turning") {
		caution("turning", "No gloves, rings or loose sleeves near the turning spindle. Chuck key out.", "rotating", "common practice")
	}
	if d.has("hurts") {
		caution("here", d.Answers["hurts"], or(d.Answers["hazard"], "crushing"), "the author")
	}
}

func (d *draft) step(w *writer) {
	a := d.Answers
	w.line("step \"read\" {")
	w.line("title = %s", quote("Read the "+lower(a["part"])))
	if s := a["spindle"]; s != "none" {
		w.line("spindle = %q", s)
	}
	var cs []string
	if d.is("spindle", "turning") {
		cs = append(cs, "caution.turning")
	}
	if d.has("hurts") {
		cs = append(cs, "caution.here")
	}
	w.list("caution", cs)
	w.list("do", sentences(a["do"]))
	w.line("")
	d.reading(w)
	d.result(w)
	d.gate(w)
	w.line("}\n")
}

func (d *draft) quantity() string { return or(d.Answers["quantity"], "reading") }

func (d *draft) reading(w *writer) {
	a := d.Answers
	w.line("reading \"found\" {")
	ask := func(place string) string { return quote(place + ": " + d.quantity()) }
	part := strings.NewReplacer("${", "$${", "%{", "%%{", `"`, `\"`, `\`, `\\`).Replace(a["part"])
	what := strings.NewReplacer("${", "$${", "%{", "%%{", `"`, `\"`, `\`, `\\`).Replace(d.quantity())
	switch a["shape"] {
	case Difference, Square:
		w.line("each \"place\" { of = [%q, %q] }", key(a["first"]), key(a["second"]))
		w.line("ask = each.place == %q ? %s : %s", key(a["first"]), ask(capital(a["first"])), ask(capital(a["second"])))
	case Profile:
		w.line("ask = \"%s, at ${each.station}: %s\"", part, what)
		w.line("along = stations(mm(0), given.length, %s)", a["places"])
	case Turn:
		w.line("ask = \"%s, at ${each.angle}: %s\"", part, what)
		w.line("around = %s", a["angles"])
	default:
		w.line("ask = %s", ask(a["part"]))
	}
	w.line("unit = %q", d.unit.Name)
	if d.takes > 1 {
		w.line("repeat = %d", d.takes)
	}
	w.line("with = instrument.gauge")
	if a.is("shape", Profile) || a.is("shape", Turn) {
		w.line("positive = %s", quote(a["plus"]))
	}
	w.line("range = [%s, %s]", d.written("least"), d.written("most"))
	w.line("}\n")
}

// name is what the result is called in formulas.
func (d *draft) name() string {
	return map[string]string{Difference: "difference", Square: "lean", Profile: "off_straight", Turn: "run_out", Size: "size"}[d.Answers["shape"]]
}

func (d *draft) result(w *writer) {
	a := d.Answers
	one := func(s string) string {
		if d.takes > 1 {
			return "mean(" + s + ")"
		}
		return s
	}
	title, value, positive := "Size found", one("reading.found"), "never below nothing"
	switch a["shape"] {
	case Difference, Square:
		title = capital(a["second"]) + " less " + lower(a["first"])
		value = one("reading.found."+key(a["second"])) + " - " + one("reading.found."+key(a["first"]))
		positive = a["plus"]
	case Profile:
		title, value = "Off a straight line", `straightness(reading.found, "end_points")`
	case Turn:
		title, value = "Run-out, greatest less least", "runout(reading.found)"
	}
	w.line("result %q {", d.name())
	w.line("title = %s", quote(title))
	w.line("value = %s", value)
	w.line("unit = %q", d.out.Name)
	w.line("positive = %s", quote(positive))
	w.line("}\n")
}

// scaled is a size that grows with the span, where the limit does.
func (d *draft) scaled(s string) string {
	if spanned(d.Answers) {
		return s + " * given.span / " + d.written("per")
	}
	return s
}

func (d *draft) gate(w *writer) {
	w.line("gate \"met\" {")
	w.line("title = %s", quote(d.Answers["title"]))
	w.line("of = result.%s", d.name())
	zero := lit(0, d.unit)
	switch {
	case d.is("shape", Size):
		w.line("within = between(%s, %s)", d.written("lower"), d.written("upper"))
	case d.is("shape", Profile), d.is("shape", Turn):
		w.line("at_most = %s", d.written("limit"))
	case d.is("way", "plus"):
		w.line("within = between(%s, %s)", zero, d.scaled(d.written("limit")))
	case d.is("way", "minus"):
		w.line("within = between(-%s, %s)", d.scaled(d.written("limit")), zero)
	default:
		w.line("within = plus_minus(%s)", d.scaled(d.written("limit")))
	}
	w.line("source = %s", quote(d.Answers["source"]))
	var ways []string
	if corrected(d.Answers) {
		ways = append(ways, "correction.mend")
	}
	last := "reject"
	if d.is("second_person", "yes") {
		last = "concession"
	}
	w.list("if_failed", append(ways, last))
	w.line("}")
}

// amount is what is to be moved, as a formula: from what was found to the middle
// of what is allowed.
func (d *draft) amount() string {
	r, more := "result."+d.name(), d.ratio > 0
	half := d.scaled(lit(d.limit/2, d.unit))
	s := ""
	switch {
	case d.is("shape", Size) && more:
		s = "(" + lit(d.target, d.unit) + " - " + r + ")"
	case d.is("shape", Size):
		s = "(" + r + " - " + lit(d.target, d.unit) + ")"
	case d.is("way", "plus") && more:
		s = "(" + half + " - " + r + ")"
	case d.is("way", "plus"):
		s = "(" + r + " - " + half + ")"
	case d.is("way", "minus") && more:
		s = "(-" + half + " - " + r + ")"
	case d.is("way", "minus"):
		s = "(" + r + " + " + half + ")"
	case more:
		s = "-" + r
	default:
		s = r
	}
	return over(s, math.Abs(d.ratio))
}

// over divides by a plain number, where that is not one.
func over(s string, by float64) string {
	if by == 1 {
		if strings.HasPrefix(s, "(") {
			return s[1 : len(s)-1]
		}
		return s
	}
	return s + " / " + figure(by)
}

// times is the change that an amount makes.
func (d *draft) times(of string) string {
	switch k := d.ratio; k {
	case 1:
		return of
	case -1:
		return "-" + of
	default:
		return figure(k) + " * " + of
	}
}

func (d *draft) correction(w *writer) {
	a := d.Answers
	w.line("correction \"mend\" {")
	w.line("title = %s", quote(capital(a["fix"])))
	if moved(a) {
		w.line("amount = %s", d.amount())
		w.line("unit = %q", d.unit.Name)
		w.line("positive = %s", quote(a["move_plus"]))
		if d.has("move_minus") {
			w.line("negative = %s", quote(a["move_minus"]))
		}
	}
	if d.is("spindle", "turning") {
		w.line("spindle = \"stopped\"")
	}
	w.list("do", sentences(a["fix_do"]))
	if moved(a) {
		if d.has("move_with") {
			w.line("\nmoved {")
			w.line("ask = %s", quote("Moved, plus "+a["move_plus"]))
			w.line("with = instrument.mover")
			w.line("}")
		}
		w.line("\nshould_change {")
		w.line("result = result.%s", d.name())
		w.line("by = %s", d.times("amount"))
		w.line("}")
	}
	w.line("}\n")
}

func (d *draft) signoffs(w *writer) {
	w.line("signoff \"fitter\" { title = \"Carried out by\" }\n")
	if d.is("second_person", "yes") {
		w.line("signoff \"inspector\" {\ntitle = \"Accepted by\"\nother_than = signoff.fitter\nconcedes = true\n}\n")
	}
}
