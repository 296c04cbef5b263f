package picture

import (
	"fmt"
	"slices"
	"strings"

	"waywright/report"
	"waywright/report/draw"
)

// sight is a plane in which a direction lies, as somebody before the machine
// sees it: from above the operator stands below.
type sight struct {
	seen     string
	plusDown bool     // plus is drawn downward where the words say the first way
	first    []string // words of one way
	second   []string // and of the other
}

var sights = []sight{
	{"seen from above", true, []string{"towards", "toward"}, []string{"away"}},
	{"seen from the front", false, []string{"high", "up", "rising", "rises", "higher", "upwards"}, []string{"low", "down", "falling", "falls", "lower", "downwards"}},
}

// lies is how an end lies in a plane: which end, in which plane, and whether
// its words say the second way.
type lies struct {
	end    string
	sight  int
	turned bool
	found  bool
}

// liesOf reads a direction: "free end towards the operator", "free end high".
func liesOf(words string) lies {
	parts := strings.Fields(strings.ToLower(words))
	for s, x := range sights {
		for i, p := range parts {
			second := slices.Contains(x.second, p)
			if !second && !slices.Contains(x.first, p) {
				continue
			}
			if s == 0 && !slices.ContainsFunc(parts[i:], func(w string) bool { return w == "operator" || w == "you" || w == "tool" }) {
				continue // towards the headstock is neither plane
			}
			return lies{end: strings.Join(parts[:i], " "), sight: s, turned: second, found: true}
		}
	}
	return lies{}
}

// axis draws how an end lies, in both planes where another test of the record
// tells of the same end in the other one.
func (v view) axis() []draw.Picture {
	own, ok := v.liesIn(v.t)
	if !ok {
		return nil
	}
	tests := []report.Test{v.t}
	for _, t := range v.r.Tests {
		if l, ok := v.liesIn(t); ok && l.end == own.end && l.sight != own.sight && t.Step == v.t.Step && slices.Equal(t.Keys, v.t.Keys) {
			tests = append(tests, t)
			break
		}
	}
	slices.SortStableFunc(tests, func(a, b report.Test) int {
		return liesOf(a.Found.Positive).sight - liesOf(b.Found.Positive).sight
	})
	p := draw.TwoPlanes{Title: "How the " + cmpEnd(own.end) + " lies", Desc: "The bar from its near end to its far end, the deviation drawn far larger than life, with the zone that the limits leave"}
	n := draw.Numbers{Head: []string{"Plane", "Found", "Give or take", "Allowed", "Verdict"}}
	var said []string
	for _, t := range tests {
		pl := plane(t)
		p.Planes = append(p.Planes, pl)
		f := t.Found
		said = append(said, fmt.Sprintf("%s: %s, %s", pl.Seen, f.Said, t.Word))
		n.Rows = append(n.Rows, []string{fmt.Sprintf("%s (test %d)", pl.Seen, t.No), f.Said, withUnit(f.U), t.Allowed.Said, t.Word})
	}
	p.Desc += ". " + capital(strings.Join(said, "; ")) + ". " + strings.Replace(marksSaid, "upright line", "line beside it", 1)
	return []draw.Picture{called("axis", p.Draw(), n)}
}

func cmpEnd(end string) string {
	if end == "" {
		return "far end"
	}
	return end
}

// liesIn tells how the end that a test speaks of lies. It must speak of an end,
// or stand on readings at a near and a far place.
func (v view) liesIn(t report.Test) (lies, bool) {
	if t.Found == nil || t.Found.Value == nil || len(t.Elements) > 0 {
		return lies{}, false
	}
	l := liesOf(t.Found.Positive)
	if !l.found {
		return l, false
	}
	of := strings.HasSuffix(l.end, "end") && !strings.HasPrefix(l.end, "tailstock") && !strings.HasPrefix(l.end, "headstock") // those are of a bed
	return l, of || view{v.r, t}.nearAndFar()
}

func (v view) nearAndFar() bool {
	for _, rd := range v.readings() {
		near, far := false, false
		for _, p := range rd.Places {
			near = near || slices.Contains(p.Keys, "near")
			far = far || slices.Contains(p.Keys, "far")
		}
		if near && far {
			return true
		}
	}
	return false
}

func plane(t report.Test) draw.Plane {
	f := t.Found
	l := liesOf(f.Positive)
	s := sights[l.sight]
	minus := f.Negative
	if minus == "" {
		minus = against(f.Positive)
	}
	p := draw.Plane{
		Seen: s.seen, Near: "near", Far: cmpEnd(l.end), PlusDown: s.plusDown != l.turned,
		Unit: f.Value.Unit, Value: f.Value.Value, U: doubt(f.U), Lo: lower(t.Allowed.Lower), Hi: upper(t.Allowed.Upper), Shape: shape(t.Verdict),
	}
	p.Up, p.Down = way(f.Positive, l.end), way(minus, l.end)
	if p.PlusDown {
		p.Up, p.Down = p.Down, p.Up
	}
	p.Text = []string{f.Said}
	if f.U != nil {
		p.Text = append(p.Text, "give or take "+f.U.WithUnit())
	}
	p.Text = append(p.Text, t.Word)
	return p
}

// way is a direction without the end that it is said of.
func way(words, end string) string {
	return strings.TrimSpace(strings.TrimPrefix(words, end))
}
