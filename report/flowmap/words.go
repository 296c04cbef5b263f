package flowmap

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/engine"
	"waywright/procedures"
	"waywright/procedures/direction"
	"waywright/procedures/formula"
	"waywright/report"
	"waywright/report/datamap"
)

func words(t procedures.Text) string { return datamap.Words(t) }

func title(t procedures.Text, name string) string {
	if s := words(t); s != "" {
		return s
	}
	return strings.ReplaceAll(name, "_", " ")
}

func list(s []string) string { return strings.Join(s, ", ") }

// conditions are what is to be known of a step before its work.
func (b *builder) conditions(st *procedures.Step) []string {
	var out []string
	if st.When != nil {
		out = append(out, "only where "+b.condition(st.When)+"; otherwise past it")
	}
	for _, e := range st.Each {
		out = append(out, "once for "+keys(e))
	}
	var needs []string
	for _, n := range st.Needs {
		needs = append(needs, title(n.Title, n.Name))
	}
	if len(needs) > 0 {
		out = append(out, "needs: "+list(needs))
	}
	if st.HoldPoint != nil {
		out = append(out, "released first by: "+title(st.HoldPoint.Title, st.HoldPoint.Name))
	}
	if st.Spindle != procedures.AnySpindle {
		out = append(out, "spindle "+st.Spindle.String())
	}
	return out
}

// keys says for what something is repeated: "each seat: marked, turned".
func keys(e *procedures.Each) string {
	name := "each " + strings.ReplaceAll(e.Name, "_", " ")
	if len(e.Key.Words) == 0 || e.Key.Count {
		return name
	}
	return name + ": " + strings.ReplaceAll(list(e.Key.Words), "_", " ")
}

// item says an item in a line; "" where it is nothing to do.
func (b *builder) item(it procedures.Item) string {
	switch it := it.(type) {
	case *procedures.Confirm:
		return "confirm: " + words(it.Ask)
	case *procedures.Wait:
		return "wait" + waited(it)
	case *procedures.Reading:
		return b.reading(it)
	}
	return ""
}

func waited(w *procedures.Wait) string {
	s := ""
	if w.AtLeast != nil {
		s += " " + shown(w.AtLeast, nil)
	}
	if w.Until != nil {
		s += " until it agrees twice within " + shown(w.Until.Agree, &w.Until.Unit)
	}
	if why := words(w.Why); why != "" {
		s += ": " + why
	}
	return s
}

func (b *builder) reading(r *procedures.Reading) string {
	s := "read: " + words(r.Ask)
	var each []string
	for _, e := range r.Each {
		each = append(each, keys(e))
	}
	if len(each) > 0 {
		s += "; for " + strings.Join(each, " and ")
	}
	switch {
	case r.Along != nil:
		s += "; along the stations"
	case r.Around != nil:
		s += "; round the turn"
	}
	if r.Repeat > 1 {
		s += fmt.Sprintf("; %d takes", r.Repeat)
	}
	if r.When != nil {
		s += "; only where " + b.condition(r.When)
	}
	return s
}

// correction says what there is to know of a correction beside its gate.
func (b *builder) correction(c *procedures.Correction, spoilt []*procedures.Step) []string {
	var out []string
	if c.When != nil {
		out = append(out, "only where "+b.condition(c.When))
	}
	if plus := words(c.Positive); plus != "" {
		minus := words(c.Negative)
		switch {
		case minus != "":
			out = append(out, "one way: "+plus, "the other: "+minus)
		case c.Amount != nil:
			out = append(out, plus+"; it cannot be put back")
		}
	}
	times := "at most " + strconv.Itoa(c.Attempts) + " times"
	if c.Attempts == 1 {
		times = "at most once"
	}
	out = append(out, times)
	if len(spoilt) > 0 {
		out = append(out, "then again: "+b.numbers(spoilt))
	}
	var others []string
	for _, t := range c.Disturbs {
		if t.Accepted != "" {
			others = append(others, t.Accepted)
		}
	}
	if len(others) > 0 {
		out = append(out, "spoils what was accepted of: "+list(others))
	}
	return out
}

// numbers says steps by their numbers: "step 3", "steps 2 to 7, 9".
func (b *builder) numbers(steps []*procedures.Step) string {
	var spans []string
	for i := 0; i < len(steps); {
		from := slices.Index(b.proc.Steps, steps[i]) + 1
		n := 1
		for i+n < len(steps) && slices.Index(b.proc.Steps, steps[i+n]) == from-1+n {
			n++
		}
		span := strconv.Itoa(from)
		switch {
		case n == 2:
			span += ", " + strconv.Itoa(from+1)
		case n > 2:
			span += " to " + strconv.Itoa(from+n-1)
		}
		spans = append(spans, span)
		i += n
	}
	if len(steps) == 1 {
		return "step " + list(spans)
	}
	return "steps " + list(spans)
}

// sheetLimits works the limits of all gates out that hang on no reading, and on
// one size at most.
func sheetLimits(plan *engine.Plan) map[*procedures.Gate][]engine.SheetLimit {
	out := map[*procedures.Gate][]engine.SheetLimit{}
	for _, st := range engine.New(plan).WorkSheet().Steps {
		for _, p := range st.Parts {
			if g, ok := p.Item.(*procedures.Gate); ok && out[g] == nil {
				out[g] = p.Limits
			}
		}
	}
	return out
}

// allowed says a gate's limits: under each grade where they differ.
func (b *builder) allowed(g *procedures.Gate) []string {
	if g.Holds != nil {
		return []string{"it must be so that " + b.condition(g.Holds)}
	}
	l := b.limits[g]
	if len(l) == 0 {
		return b.written(g)
	}
	var out, order []string
	if x := l[0]; x.Given != "" {
		last := l[len(l)-1]
		out = append(out, fmt.Sprintf("for “%s” from %s to %s:", x.Given, quantity.Plain(x.At, x.Unit), quantity.Plain(last.At, last.Unit)))
	}
	under := map[string][]string{} // grades, by what is allowed under them
	for len(l) > 0 {
		n := 1
		for n < len(l) && l[n].Grade == l[0].Grade {
			n++
		}
		said := report.LimitWords(l[0].Lo, l[0].Hi, g.Unit, words(g.Positive))
		if n > 1 {
			said += " … " + report.LimitWords(l[n-1].Lo, l[n-1].Hi, g.Unit, words(g.Positive))
		}
		if under[said] == nil {
			order = append(order, said)
		}
		under[said] = append(under[said], l[0].Grade)
		l = l[n:]
	}
	for _, said := range order {
		if grades := list(under[said]); grades != "" && len(order) > 1 {
			said = grades + ": " + said
		}
		out = append(out, said)
	}
	return out
}

// written are limits that are not known before the run.
func (b *builder) written(g *procedures.Gate) []string {
	var s string
	switch {
	case g.Within != nil:
		s = "within " + b.plainly(g.Within)
	case g.AtMost != nil:
		s = "at most " + b.plainly(g.AtMost)
	case g.AtLeast != nil:
		s = "at least " + b.plainly(g.AtLeast)
	}
	if plus := words(g.Positive); plus != "" && !strings.HasPrefix(plus, "never ") {
		s += "; plus: " + plus
		if minus, ok := direction.Opposite(plus); ok {
			s += ", minus: " + minus
		}
	}
	return []string{s}
}

// shown shows what a program gives before the run, or how it is written.
func shown(p *formula.Program, u *quantity.Unit) string {
	v, ok := p.Static()
	if !ok {
		return oneLine(p.Source())
	}
	if p.Type().Kind == value.Number && p.Type().Dim == quantity.Time {
		m := v.Num / 60
		if m >= 90 {
			return strconv.FormatFloat(m/60, 'g', 3, 64) + " hours"
		}
		return strconv.FormatFloat(m, 'g', 3, 64) + " minutes"
	}
	return formula.Show(v, p.Type(), u)
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// condition puts a condition into words: what a name stands for in its place,
// and words in the place of signs.
func (b *builder) condition(p *formula.Program) string { return spoken(b.plainly(p)) }

// spoken has words in the place of signs.
func spoken(s string) string {
	for _, x := range [][2]string{{" == ", " is "}, {" != ", " is not "}, {" && ", " and "}, {" || ", " or "}} {
		s = strings.ReplaceAll(s, x[0], x[1])
	}
	return strings.NewReplacer(`"`, "", "!", "not ").Replace(s)
}

var (
	aChoice = regexp.MustCompile(`^([^?]+?) \? ([^?]+?) : (.+)$`)
	aName   = regexp.MustCompile(`\b(given|reading|result|table|machine)(\.[a-z0-9_]+)+|\baccepted\["[^"]*"\](\.[a-z0-9_]+)+`)
	aSize   = regexp.MustCompile(`\babs\(([^()]*)\)`)
	aUnit   = regexp.MustCompile(`\b([a-z_]+)\((-?[0-9.]+)\)`)
)

// plainly writes a formula with what its names stand for.
func (b *builder) plainly(p *formula.Program) string {
	if _, ok := p.Static(); ok {
		return shown(p, nil)
	}
	return b.inWords(oneLine(p.Source()))
}

// inWords writes a formula with what its names stand for; of one that asks
// which of two holds, what holds in each case.
func (b *builder) inWords(s string) string {
	if m := aChoice.FindStringSubmatch(s); m != nil && !strings.Contains(m[3], " ? ") {
		return b.inWords(m[2]) + " where " + spoken(b.inWords(m[1])) + ", else " + b.inWords(m[3])
	}
	s = aSize.ReplaceAllString(s, "the size of $1")
	s = aName.ReplaceAllStringFunc(s, b.named)
	return aUnit.ReplaceAllStringFunc(s, func(s string) string {
		m := aUnit.FindStringSubmatch(s)
		if u, ok := quantity.LiteralUnit(m[1]); ok {
			return m[2] + " " + u.Symbol
		}
		return s
	})
}

// named is what a name stands for, in quotation marks.
func (b *builder) named(name string) string {
	parts := strings.Split(name, ".")
	t := ""
	switch parts[0] {
	case "given":
		for _, g := range b.proc.Givens {
			if g.Name == parts[1] {
				if t = words(g.Ask); t == "" {
					t = words(g.Title)
				}
			}
		}
	case "table":
		for _, x := range b.proc.Tables {
			for _, r := range x.Rows {
				if len(parts) > 2 && x.Name == parts[1] && r.Name == parts[2] {
					t = r.Title
				}
			}
		}
	case "reading", "result":
		for _, st := range b.proc.Steps {
			for _, it := range st.Items {
				if it.ItemName() != parts[1] {
					continue
				}
				switch it := it.(type) {
				case *procedures.Reading:
					t = words(it.Ask)
				case *procedures.Result:
					t = words(it.Title)
				}
			}
		}
		if len(parts) > 2 && t != "" {
			t += ", " + strings.Join(parts[2:], " ")
		}
	}
	if t == "" {
		return name
	}
	return "“" + strings.TrimRight(t, "?") + "”"
}
