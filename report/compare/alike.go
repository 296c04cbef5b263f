package compare

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"waywright/report"
)

// unlike says why two values may not be compared; "" where they may.
func unlike(a, b *entry) string {
	both := a.place.Run + " and " + b.place.Run
	for _, e := range []*entry{a, b} {
		if e.hasValue {
			continue
		}
		if e.finding.Holds != "" {
			return "It asks whether something is so, and has no number to compare."
		}
		return fmt.Sprintf("%s: no number that can be compared (%s).", e.place, e.finding.Said)
	}
	if a.unit.Dim != b.unit.Dim || a.unit.Point != b.unit.Point {
		return fmt.Sprintf("%s are not of one kind: %s in %s, %s in %s.", both, named(a.unit.Symbol), a.place.Run, named(b.unit.Symbol), b.place.Run)
	}
	if x, y := a.finding.Positive, b.finding.Positive; x != y {
		return fmt.Sprintf("Plus does not mean the same: %s in %s, %s in %s.", quoted(x), a.place.Run, quoted(y), b.place.Run)
	}
	if a.test.Lasting == "" || a.test.Lasting != b.test.Lasting {
		if said := reworked(a, b); said != "" {
			return said
		}
	}
	if said := givens(a, b); said != "" && !slope(a.unit) {
		return said
	}
	if len(places(a, b)) == 0 {
		return fmt.Sprintf("%s were measured at other places.", both)
	}
	return ""
}

// besides is what must be known of a pair that is compared.
func besides(a, b *entry) []string {
	var out []string
	pa, pb := a.record.Procedure, b.record.Procedure
	both := a.place.Run + " and " + b.place.Run
	switch {
	case pa.Name != pb.Name:
		out = append(out, fmt.Sprintf("%s are of two procedures, %s and %s; the test has one name in both.", both, pa.Name, pb.Name))
	case reworked(a, b) != "":
		out = append(out, strings.TrimSuffix(reworked(a, b), ".")+"; the test has kept its name, and is compared.")
	case pa.Digest != pb.Digest:
		revisions := ""
		if pa.Revision != pb.Revision {
			revisions = fmt.Sprintf(", revision %s and revision %s", pa.Revision, pb.Revision)
		}
		out = append(out, fmt.Sprintf("The procedure's files changed between %s%s; what this test is worked out from reads the same.", both, revisions))
	}
	if said := givens(a, b); said != "" {
		out = append(out, strings.TrimSuffix(said, ".")+"; the value is a slope, and is compared.")
	}
	if n := max(len(a.numbers), len(b.numbers)); n > 1 && len(places(a, b)) < n {
		out = append(out, fmt.Sprintf("%s have %d places in common, of %d and %d.", both, len(places(a, b)), len(a.numbers), len(b.numbers)))
	}
	for _, e := range []*entry{a, b} {
		if e.finding.Exact {
			out = append(out, fmt.Sprintf("No doubt is stated for %s: it counts as exact.", e.place))
		}
	}
	return out
}

func named(unit string) string {
	if unit == "" {
		return "a plain number"
	}
	return unit
}

func quoted(s string) string {
	if s == "" {
		return "nothing is said"
	}
	return "“" + s + "”"
}

// reworked says where the value is not worked out as it was. Where the files of
// the procedure are the same there is nothing to look for.
func reworked(a, b *entry) string {
	if a.record.Procedure.Name != b.record.Procedure.Name || a.record.Procedure.Digest == b.record.Procedure.Digest && a.record.Procedure.Digest != "" {
		return ""
	}
	said := func(name, x, y string) string {
		return fmt.Sprintf("%s is worked out in another way: %s in %s, %s in %s.", name, x, a.place.Run, y, b.place.Run)
	}
	if x, y := a.test.Of, b.test.Of; x != y && x != "" && y != "" {
		return said("It", x, y)
	}
	x, y := formulas(a), formulas(b)
	for _, name := range a.test.Working {
		if g, ok := y[name]; ok && g != x[name] {
			return said(name, x[name], g)
		}
	}
	if !slices.Equal(a.test.Working, b.test.Working) {
		return fmt.Sprintf("It is worked out by other steps: %s in %s, %s in %s.", steps(a), a.place.Run, steps(b), b.place.Run)
	}
	return ""
}

func steps(e *entry) string {
	if len(e.test.Working) == 0 {
		return "none"
	}
	return strings.Join(e.test.Working, ", ")
}

func formulas(e *entry) map[string]string {
	out := map[string]string{}
	for _, name := range e.test.Working {
		if r, ok := e.record.Result(name); ok {
			out[name] = r.Formula
		}
	}
	return out
}

// givens says which facts behind the two values are not the same: another
// length, another answer. A temperature is no such fact.
func givens(a, b *entry) string {
	for _, name := range a.test.Givens {
		if !slices.Contains(b.test.Givens, name) {
			continue
		}
		x, okX := given(a.record, name)
		y, okY := given(b.record, name)
		if !okX || !okY || sameGiven(x, y) {
			continue
		}
		return fmt.Sprintf("Not measured alike: %s is %s in %s, %s in %s.", name, x.Text, a.place.Run, y.Text, b.place.Run)
	}
	return ""
}

func given(r *report.Record, name string) (report.Given, bool) {
	for _, g := range r.Givens {
		if g.Name == name {
			return g, true
		}
	}
	return report.Given{}, false
}

func sameGiven(x, y report.Given) bool {
	if x.Number == nil || y.Number == nil {
		return x.Text == y.Text
	}
	ux, okX := report.UnitOf(*x.Number)
	uy, okY := report.UnitOf(*y.Number)
	if !okX || !okY || ux.Dim != uy.Dim {
		return x.Text == y.Text
	}
	if ux.Point {
		return true
	}
	p, q := ux.Base(x.Number.Value), uy.Base(y.Number.Value)
	room := alike * math.Max(math.Abs(p), math.Abs(q))
	for _, g := range []report.Given{x, y} {
		if g.U == nil {
			continue
		}
		if u, ok := report.UnitOf(*g.U); ok {
			room = math.Max(room, u.Base(g.U.Value))
		}
	}
	return math.Abs(p-q) <= room
}
