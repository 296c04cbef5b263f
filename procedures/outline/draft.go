package outline

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"waywright/checks/quantity"
)

// draft is the answers, understood.
type draft struct {
	Answers
	unit, out        quantity.Unit // in which it is read, and what is found is shown
	least, most      float64
	limit, target    float64 // what is allowed; where the middle of it lies
	lower, upper     float64
	per, span        float64 // a span that rehearsals have
	length           float64
	ratio            float64
	takes            int
	res, err, repeat float64
	far              float64 // how far out a rehearsed machine is
}

func (a Answers) draft() (draft, error) {
	d := draft{Answers: a, ratio: 1, takes: 1}
	u, err := quantity.Lookup(a["unit"])
	if err != nil {
		return d, fmt.Errorf("unit: %w", err)
	}
	d.unit, d.out = u, u
	for _, x := range []struct {
		name string
		to   *float64
	}{{"least", &d.least}, {"most", &d.most}, {"limit", &d.limit}, {"lower", &d.lower}, {"upper", &d.upper}, {"per", &d.per},
		{"resolution", &d.res}, {"error", &d.err}, {"repeatability", &d.repeat}} {
		if !a.has(x.name) {
			continue
		}
		v, err := parse(a[x.name])
		if err != nil {
			return d, fmt.Errorf("%s: %w", x.name, err)
		}
		*x.to = v.base
	}
	if a.has("takes") {
		d.takes, _ = strconv.Atoi(a["takes"]) // checked when it was answered
	}
	if a.has("ratio") {
		if x, err := strconv.ParseFloat(strings.Replace(a["ratio"], ",", ".", 1), 64); err == nil {
			d.ratio = x
		}
	}
	if a.is("follows", "less") {
		d.ratio = -d.ratio
	}
	return d, d.settle()
}

// settle chooses the sizes that rehearsals have, and tells where answers do not
// go together.
func (d *draft) settle() error {
	d.span, d.length = d.within("span_least", "span_most", d.per), d.within("length_least", "length_most", 0)
	limit := d.limit
	if d.is("shape", Size) {
		limit = (d.upper - d.lower) / 2
		d.target = (d.upper + d.lower) / 2
	} else if d.per > 0 {
		limit *= d.span / d.per
	}
	switch d.Answers["way"] {
	case "plus":
		d.target, limit = limit/2, limit/2
	case "minus":
		d.target, limit = -limit/2, limit/2
	}
	room := (d.most - d.least) / 2
	middle := (d.most + d.least) / 2
	if d.is("shape", Size) {
		room -= math.Abs(d.target - middle)
	} else {
		room -= math.Abs(d.target)
	}
	// Out by far, and moved the wrong way by as much again, all must still be
	// plausible to read.
	d.far = math.Min(4*limit, 0.45*room)
	if d.far < 2.5*limit {
		return fmt.Errorf("what is plausible to read, %s to %s, reaches hardly beyond what is allowed. Let it reach further: a machine that is out must be read too",
			d.Answers["least"], d.Answers["most"])
	}
	if d.res > limit {
		return errors.New("the smallest step of the instrument is more than what is allowed. Name a finer instrument")
	}
	return nil
}

// within is a size that rehearsals have, from lo to hi: the one that limits are
// stated for where it lies there.
func (d *draft) within(lo, hi string, wanted float64) float64 {
	a, errA := parse(d.Answers[lo])
	b, errB := parse(d.Answers[hi])
	if errA != nil || errB != nil {
		return 0
	}
	if wanted >= a.base && wanted <= b.base {
		return wanted
	}
	return (a.base + b.base) / 2
}

// written is a size as a procedure writes it: as it was typed, in its own unit.
func (d *draft) written(name string) string {
	v, err := parse(d.Answers[name])
	if err != nil {
		return lit(0, d.unit)
	}
	return lit(v.base, v.unit)
}

// lit writes a size in a unit: um(20).
func lit(base float64, u quantity.Unit) string {
	for _, l := range quantity.Literals() {
		if l.Unit.Name == u.Name {
			return l.Name + "(" + figure(u.Of(base)) + ")"
		}
	}
	def := u.Dim.Default()
	for _, l := range quantity.Literals() {
		if l.Unit.Name == def.Name {
			return l.Name + "(" + figure(def.Of(base)) + ")"
		}
	}
	return figure(base)
}

// figure writes a number without the noise of binary fractions.
func figure(x float64) string {
	if x == 0 {
		return "0"
	}
	s := strconv.FormatFloat(x, 'g', 9, 64)
	if strings.ContainsAny(s, "e") {
		s = strconv.FormatFloat(x, 'f', 12, 64)
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// quote writes a text as a procedure has it.
func quote(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "${", "$${", "%{", "%%{").Replace(s) + `"`
}

// sentences are texts parted by semicolons.
func sentences(s string) []string {
	var out []string
	for _, t := range strings.Split(s, ";") {
		if t = strings.TrimSpace(t); t != "" {
			out = append(out, quote(ended(t)))
		}
	}
	return out
}

func ended(s string) string {
	s = capital(s)
	if strings.ContainsAny(s[len(s)-1:], ".?:") {
		return s
	}
	return s + "."
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func or(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// sample is a procedure of a shape that is in order, for words to be tried in.
func sample(shape string, corrected bool) Answers {
	a := Answers{
		"name": "trial", "title": "Trial", "shape": or(shape, Size), "part": "Part", "unit": "um", "least": "-1000 um", "most": "1000 um",
		"limit": "50 um", "plus": "high", "way": "both", "source": "shop rule", "kind": "dial indicator", "resolution": "1 um", "error": "1 um",
		"repeatability": "0.5 um", "takes": "3", "spindle": "none", "correct": "no", "second_person": "no",
		"first": "near end", "second": "far end", "span_least": "100 mm", "span_most": "300 mm",
		"length_least": "200 mm", "length_most": "600 mm", "places": "7", "angles": "8",
		"fix": "Move it", "fix_do": "Move it", "move_plus": "up", "move_minus": "down", "ratio": "1", "follows": "more", "move_with": "dial indicator", "move_resolution": "1 um",
	}
	if corrected {
		a["correct"] = "yes"
	}
	if a["shape"] == Size {
		a["lower"], a["upper"] = "-50 um", "50 um"
	}
	for name := range a {
		if i := slices.IndexFunc(all, func(q asked) bool { return q.Name == name }); i >= 0 && all[i].when != nil && !all[i].when(a) {
			delete(a, name)
		}
	}
	return a
}
