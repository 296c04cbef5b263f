package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"waywright/checks"
	"waywright/checks/propagate"
	"waywright/checks/quantity"
	"waywright/checks/uncert"
	"waywright/engine"
)

// Advice says in words, a sentence or two each, what would make a value better
// known, and by how much; for what cannot be told, also what would tell it.
func Advice(b engine.Budget, r engine.Reduction) []string {
	a := adviser{b: b, r: r, u: b.Unit}
	for _, p := range b.Parts {
		if p.Unit.Dim == b.Unit.Dim {
			a.u = p.Unit // in the run's system
			break
		}
	}
	a.u = a.u.Difference()
	var out []string
	if s := a.takes(); s != "" {
		out = append(out, s)
	}
	for _, x := range r.Remedies {
		out = append(out, a.remedy(x))
	}
	if len(r.Remedies) == 0 {
		out = append(out, "No single thing would make it much less: no part of the doubt stands out.")
	}
	return append(out, a.needed()...)
}

type adviser struct {
	b engine.Budget
	r engine.Reduction
	u quantity.Unit
}

// takes says that more takes do not help, where they do not.
func (a adviser) takes() string {
	if a.r.TakesHelp {
		return ""
	}
	const no = "More takes will not help: "
	switch a.r.Largest.Kind {
	case uncert.Drift:
		return no + "something moved between the first reading and the last."
	case uncert.Given, uncert.Temperature:
		return no + "the doubt is in what is " + a.r.Largest.Source + "."
	case uncert.Takes:
		return ""
	}
	if a.r.Owner == "" {
		return "More takes will not help."
	}
	return no + "the doubt is " + possessive(a.r.Owner) + " own."
}

func possessive(s string) string {
	if s[len(s)-1] == 's' {
		return s + "'"
	}
	return s + "'s"
}

func (a adviser) remedy(x engine.Remedy) string {
	s := a.what(x) + ": " + a.comes(x.U)
	if a.b.Verdict == checks.Undecided && x.Decided {
		s += ", which decides"
	}
	return s + "."
}

// comes says what would come of a remedy: "give or take 5 µm instead of 7".
func (a adviser) comes(U float64) string {
	places := quantity.RoundedDecimals(a.r.Now.U, a.u)
	if p := quantity.RoundedDecimals(U, a.u); U < a.r.Now.U/10 {
		places = p
	}
	return "give or take " + quantity.Format(U, a.u, places) + " instead of " + quantity.Number(a.r.Now.U, a.u, places)
}

// what says what is to be done.
func (a adviser) what(x engine.Remedy) string {
	u := x.Unit.Difference()
	if u.Dim == a.u.Dim {
		u = a.u // as the give or take beside it
	}
	to, from := rough(x.To, u), rough(x.From, u)
	switch x.Way {
	case uncert.MoreTakes:
		return "Take " + a.each(x) + " " + often(x.To) + " instead of " + strings.TrimSuffix(often(x.From), " times")
	case uncert.Steadier:
		return "With takes that scatter " + part(x) + " as much"
	case uncert.FinerStep:
		return fmt.Sprintf("With a finer scale than that of %s, in steps of %s instead of %s", x.Instrument, to, from)
	case uncert.OneSetting:
		return "Read them all under one zero of " + x.Instrument + ", which was set " + count(int(x.From), "time", "times")
	case uncert.TurnedRound:
		return "Read " + x.Instrument + " both ways round and take the mean, so that its zero drops out"
	case uncert.BetterZero:
		return fmt.Sprintf("Set the zero of %s right to %s instead of %s", x.Instrument, to, from)
	case uncert.SmallerError:
		return fmt.Sprintf("With an instrument right to %s instead of %s, or a certificate of %s that says as much", to, from, x.Instrument)
	case uncert.StatedError:
		return fmt.Sprintf("State how far %s is right; its step, %s, stands for it now. If it is right to %s", x.Instrument, from, to)
	case uncert.CloserReading:
		return fmt.Sprintf("With the readings close together on the scale of %s, where they lie %s apart", x.Instrument, from)
	case uncert.LessDrift:
		return "Find what moved between the first reading and the last, and read again without it"
	}
	if x.Line.Kind == uncert.Temperature {
		return "Measure the temperature " + times(x) + " as well"
	}
	return "Measure " + x.Place + " " + times(x) + " as well"
}

func times(x engine.Remedy) string { return often(math.Max(2, math.Round(x.From/x.To))) }

// often says how many times.
func often(n float64) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return fmt.Sprintf("%.0f times", n)
}

// each names what is read, where there is anything else that is.
func (a adviser) each(x engine.Remedy) string {
	scatters := 0
	for _, p := range a.b.Parts {
		if p.Kind == uncert.Takes {
			scatters++
		}
	}
	switch n := len(x.Line.On); {
	case scatters > 1 && n > 2:
		return "each of " + x.Place
	case scatters > 1:
		return x.Place
	case n > 1:
		return "each"
	}
	return "it"
}

// rough prints a stated figure as it is, and one that was worked out to two
// figures.
func rough(x float64, u quantity.Unit) string {
	if s := quantity.Plain(x, u); len(s) < 8+len(u.Symbol) {
		return s
	}
	return quantity.Format(x, u, quantity.RoundedDecimals(x, u))
}

func part(x engine.Remedy) string {
	switch math.Round(x.From / x.To) {
	case 5:
		return "a fifth"
	case 10:
		return "a tenth"
	}
	return "half"
}

// needed says what would decide a value that no single remedy does.
func (a adviser) needed() []string {
	if a.r.Now.Decided {
		return nil
	}
	for _, x := range a.r.Remedies {
		if x.Decided {
			return nil
		}
	}
	if a.r.Needed == 0 {
		return []string{"The value lies so close to the limit that no instrument could tell."}
	}
	places := quantity.RoundedDecimals(a.r.Needed, a.u)
	limit := quantity.Format(a.r.Needed, a.u, places)
	half, none := quantity.Number(a.r.Halved.U, a.u, places), quantity.Number(a.r.Without.U, a.u, places)
	s := "To decide at this value, give or take " + limit + " is needed. "
	switch {
	case a.r.Halved.Decided:
		return []string{s + "Half of the largest part would do."}
	case a.r.Without.Decided:
		return []string{s + "Half of the largest part would leave " + half + "; nearly all of it has to go."}
	}
	if a.r.Without.U >= a.r.Now.U { // few takes are left to tell by
		return []string{s + "More than one part has to become smaller."}
	}
	return []string{s + "Half of the largest part would leave " + half + ", and none of it " + none + ": more than one part has to become smaller."}
}

// RiskSaid says a risk in words: "at most 3.2 out of 100". It is rounded up. It is
// empty where there is none.
func RiskSaid(risk float64) string {
	switch {
	case math.IsNaN(risk):
		return ""
	case risk < 0.001:
		return "less than 0.1 out of 100"
	}
	n := 100 * risk
	step := math.Pow(10, math.Floor(math.Log10(n))-1)
	n = math.Ceil(steady(n/step)-1e-9) * step
	return "at most " + strconv.FormatFloat(math.Min(steady(n), 100), 'f', -1, 64) + " out of 100"
}

// RunRiskSaid says what the risks of all tests that passed come to (measure
// rule 17). It is empty where there is none.
func RunRiskSaid(risk float64, gates int) string {
	if gates == 0 {
		return ""
	}
	if gates == 1 {
		return "Risk of the run, that its one PASS is wrong: " + RiskSaid(risk) + "."
	}
	return fmt.Sprintf("Risk of the run, that any of its %d PASSes is wrong: %s together, an upper bound, the sum over them.", gates, RiskSaid(risk))
}

// MethodSaid says how the doubt of a value was worked out.
func MethodSaid(d *propagate.Drawn) string {
	if d == nil {
		return "worked out from how much each source moves the value"
	}
	return fmt.Sprintf("the errors of the readings were drawn %s times, because %s", grouped(d.Trials), whyDrawn[d.Why])
}

var whyDrawn = map[propagate.Why]string{
	propagate.Kink:    "the formula has a kink (a greatest, a least, a size without sign)",
	propagate.Curved:  "the formula bends within the doubt of the readings",
	propagate.Divisor: "the formula divides by a value that is poorly known",
}

// grouped prints a count with blanks between thousands.
func grouped(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + " " + s[i:]
	}
	return s
}

// PartFigures are the numbers of a row of a budget as they are printed:
// the source's standard uncertainty with its unit, the sensitivity, the share
// of the whole, and the degrees of freedom.
type PartFigures struct{ U, Sensitivity, Share, DoF string }

// FiguresOf prints a row of a budget of a value in the unit u.
func FiguresOf(p engine.Part, u quantity.Unit) PartFigures {
	f := PartFigures{
		U:           quantity.Format(p.U, p.Unit, quantity.RoundedDecimals(p.U, p.Unit)),
		Sensitivity: significant(sensitivity(p, u)), Share: "< 1 %", DoF: "many",
	}
	if p.Share >= 0.005 {
		f.Share = fmt.Sprintf("%.0f %%", 100*steady(p.Share))
	}
	if p.DoF < 1000 {
		f.DoF = significant(p.DoF)
	}
	return f
}

// sensitivity is how much of a row's U, in its unit, reaches a value in the
// unit u.
func sensitivity(p engine.Part, u quantity.Unit) float64 {
	if p.Unit.Dim == u.Dim {
		return p.Sensitivity
	}
	return p.Sensitivity * p.Unit.Factor / u.Factor
}

// significant prints three figures.
func significant(x float64) string {
	return strconv.FormatFloat(steadyTo(x, 3), 'f', -1, 64)
}

func steadyTo(x float64, figures int) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(steady(x), 'e', figures-1, 64), 64)
	if err != nil {
		return x
	}
	return y
}
