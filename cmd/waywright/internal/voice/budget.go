package voice

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/engine"
	"waywright/report"
)

// The widths of a budget's columns of figures, with the blanks before them.
const (
	uWidth, timesWidth, shareWidth, dofWidth = 10, 8, 7, 6

	figuresWidth = uWidth + timesWidth + shareWidth + dofWidth
	leastSource  = 16 // columns left for a source; on a narrower screen each row is a sentence
	mostSource   = 44
)

// BudgetTable is where the doubt of a value comes from, a row a source, the
// greatest first, in lines no wider than width. Of more than most rows those
// that follow are one; 0 is all of them.
func (v Voice) BudgetTable(b engine.Budget, most, width int) Screen {
	parts, rest := b.Parts, []engine.Part(nil)
	if most > 0 && len(parts) > most+1 {
		parts, rest = parts[:most], parts[most:]
	}
	source := min(width-figuresWidth, mostSource)
	rows := [][]string{}
	for _, p := range parts {
		f := report.FiguresOf(p, b.Unit.Difference())
		rows = append(rows, []string{p.Source, f.U, f.Sensitivity, f.Share, f.DoF})
	}
	if len(rest) > 0 {
		share := 0.0
		for _, p := range rest {
			share += p.Share
		}
		rows = append(rows, []string{fmt.Sprintf("%d others", len(rest)), "", "", fmt.Sprintf("%.0f %%", 100*share), ""})
	}
	if source < leastSource {
		return sentences(rows)
	}
	s := Screen{{Text: columns("Source", source, "u", "times", "share", "dof")}}
	for _, r := range rows {
		lines := wrap(Line{Text: r[0], Hang: 1}, source)
		s = append(s, Line{Text: columns(lines[0], source, r[1:]...)})
		for _, l := range lines[1:] {
			s = append(s, Line{Text: l})
		}
	}
	return s
}

// columns sets figures to the right of a source.
func columns(source string, width int, figures ...string) string {
	s := source + strings.Repeat(" ", max(0, width-utf8.RuneCountInString(source)))
	for i, w := range []int{uWidth, timesWidth, shareWidth, dofWidth} {
		s += strings.Repeat(" ", max(1, w-utf8.RuneCountInString(figures[i]))) + figures[i]
	}
	return strings.TrimRight(s, " ")
}

// sentences says the rows where there is no room for columns.
func sentences(rows [][]string) Screen {
	var s Screen
	for _, r := range rows {
		text := upperFirst(r[0]) + ": share " + r[3]
		if r[1] != "" {
			text += ", u " + hold(r[1]) + ", times " + r[2] + ", degrees of freedom " + r[4]
		}
		s = append(s, Line{Text: text, Hang: 1})
	}
	return s
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// Doubt says how the doubt of a value was worked out, how probable it is that
// the limit is kept, and what the risk of the verdict is.
func (v Voice) Doubt(b engine.Budget) Screen {
	if len(b.Parts) == 0 {
		return say("No doubt is stated of this value: it counts as exact.")
	}
	u := quantity.InRun(b.Unit, v.Inch).Difference()
	std := b.U
	if b.K > 0 {
		std = b.U / b.K
	}
	d := quantity.RoundedDecimals(b.U, u)
	text := "Give or take " + hold(quantity.Format(b.U, u, d)) + " is " + fmt.Sprintf("%.2f", b.K) + " times u, " +
		hold(quantity.Format(std, u, quantity.RoundedDecimals(std, u)))
	if b.Dof > 0 && b.Dof < 1000 {
		text += ", known with " + checks.FreedomSaid(fmt.Sprintf("%.0f", math.Floor(b.Dof*(1+1e-9))))
	}
	s := Screen{{Text: text + ".", Hang: 2}, {Text: upperFirst(report.MethodSaid(b.Drawn)) + ".", Hang: 2}}
	if n := b.Unmoving; n > 0 {
		s = append(s, Line{Text: unmoving(n), Hang: 2})
	}
	if !math.IsNaN(b.P) {
		least := map[checks.Bound]string{checks.AtLeast: "at least ", checks.AtMost: "at most "}[b.Bound]
		p := strings.NewReplacer("> ", "more than ", "< ", "less than ").Replace(checks.FormatBound(b.P, b.Bound))
		if strings.Contains(p, "than") {
			least = ""
		}
		pass, _ := checks.Level(b.Rule)
		s = append(s, Line{Text: fmt.Sprintf("The limit is kept with a probability of %s%s. The rule %s asks for %g.", least, p, b.Rule, pass), Hang: 2})
	}
	if b.Noise {
		s = append(s, Line{Text: "The value is no more than the readings scatter.", Hang: 2})
	}
	if said := report.RiskSaid(b.Risk); said != "" {
		s = append(s, Line{Text: "Risk that this verdict is wrong: " + said + ".", Hang: 2})
	}
	return s
}

// unmoving says why some readings stand in no row.
func unmoving(n int) string {
	if n == 1 {
		return "One reading stands in no row: as it is, it does not move the value. Its errors were drawn all the same."
	}
	return fmt.Sprintf("%d readings stand in no row: as they are, they do not move the value. Their errors were drawn all the same.", n)
}

// Advice says what would make a value better known.
func (v Voice) Advice(b engine.Budget, r engine.Reduction) Screen {
	var s Screen
	for _, a := range report.Advice(b, r) {
		s = append(s, Line{Text: You(a), Hang: 2})
	}
	return s
}

// How many rows of a budget are shown at a gate, and how much advice where the
// verdict does not wait for it.
const (
	mostShort  = 3
	mostAdvice = 2
)

// Explained says at a gate where its doubt comes from: the greatest parts, then
// what would make it less.
func (v Voice) Explained(b engine.Budget) Screen {
	s := v.Doubt(b)
	if len(b.Parts) == 0 {
		return s
	}
	s = append(s, v.BudgetTable(b, mostShort, v.columns())...)
	if r, ok := b.Reduce(); ok {
		a := v.Advice(b, r)
		if b.Verdict != checks.Undecided {
			a = a[:min(len(a), mostAdvice)]
		}
		s = append(s, a...)
	}
	return s
}

// RunRisk says what the risks of a run come to.
func (v Voice) RunRisk(risk float64, gates int) Screen {
	return say(report.RunRiskSaid(risk, gates))
}
