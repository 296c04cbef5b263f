package cli

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"waywright/checks"
	"waywright/checks/montecarlo"
	"waywright/checks/propagate"
	"waywright/checks/quantity"
	"waywright/checks/uncert"
	"waywright/checks/value"
	"waywright/cmd/waywright/internal/voice"
	"waywright/procedures/diagnose"
	"waywright/procedures/formula"
)

// calculated is what calc --json says. Numbers are unrounded and in Unit.
type calculated struct {
	Expression string `json:"expression"`
	Text       string `json:"text"`
	numberJSON
	Unit   string       `json:"unit,omitempty"`
	Code   string       `json:"ucum,omitempty"`
	Level  float64      `json:"level,omitempty"`
	Values []numberJSON `json:"values,omitempty"` // where there are several
	Parts  []piecesJSON `json:"parts,omitempty"`  // of values that belong together
	Plus   string       `json:"sign,omitempty"`
	Source string       `json:"source,omitempty"`
	Tables []string     `json:"values_from,omitempty"` // of standard tables
}

// piecesJSON is one of several values that belong together.
type piecesJSON struct {
	Name  string   `json:"name"`
	Text  string   `json:"text"`
	Value *float64 `json:"value,omitempty"` // in Unit, where it is one number
	Unit  string   `json:"unit,omitempty"`
	Code  string   `json:"ucum,omitempty"`
}

// piecesOf are those of an object that are there.
func piecesOf(v value.Value, t value.Type) []piecesJSON {
	var out []piecesJSON
	for i, name := range t.Key.Words {
		if t.Kind != value.Object || i >= len(v.Elems) || v.Elems[i].State != value.Present {
			continue
		}
		e, et := v.Elems[i], t.Parts[i]
		p := piecesJSON{Name: name, Text: diagnose.Plain(formula.Show(e, et, nil))}
		if et.Kind == value.Number {
			u := et.Dim.Default()
			x := u.Of(e.Num)
			p.Value, p.Unit, p.Code = &x, u.Symbol, u.UCUM
		}
		out = append(out, p)
	}
	return out
}

// numberJSON is one number and how well it is known.
type numberJSON struct {
	Key      string        `json:"key,omitempty"`
	Value    *float64      `json:"value,omitempty"`
	U        *float64      `json:"U,omitempty"`
	K        *float64      `json:"k,omitempty"`
	Std      *float64      `json:"u,omitempty"`
	DoF      *float64      `json:"dof,omitempty"`    // none where there is no end of them
	Method   string        `json:"method,omitempty"` // exact, linear, drawn
	Interval *intervalJSON `json:"interval,omitempty"`

	// Of drawn errors.
	Shortest   *intervalJSON   `json:"shortest,omitempty"`
	Mean       *float64        `json:"mean,omitempty"`
	Trials     int             `json:"trials,omitempty"`
	Undefined  int             `json:"undefined,omitempty"`
	Seed       uint64          `json:"seed,omitempty"`
	Why        string          `json:"why,omitempty"`
	Stable     *bool           `json:"stable,omitempty"`
	Linear     *linearJSON     `json:"linear,omitempty"`
	Validation *validationJSON `json:"validation,omitempty"`

	Budget []rowJSON `json:"budget,omitempty"`
}

type intervalJSON struct {
	Low  *float64 `json:"low"`
	High *float64 `json:"high"`
}

// linearJSON is what sensitivities alone give.
type linearJSON struct {
	U        *float64      `json:"U"`
	K        *float64      `json:"k"`
	Std      *float64      `json:"u"`
	DoF      *float64      `json:"dof,omitempty"`
	Interval *intervalJSON `json:"interval"`
}

// validationJSON holds the linear way against the trials (JCGM 101:2008, 8).
type validationJSON struct {
	Digits    int      `json:"digits"` // figures of u that matter
	Tolerance *float64 `json:"tolerance"`
	Symmetric agreed   `json:"symmetric"`
	Shortest  agreed   `json:"shortest"`
}

// agreed is how far the ends of two intervals are apart.
type agreed struct {
	Low  *float64 `json:"low"`
	High *float64 `json:"high"`
	OK   bool     `json:"ok"`
}

// rowJSON is a row of a budget. Value and u are in the row's own unit.
type rowJSON struct {
	Input        string   `json:"input"`
	Distribution string   `json:"distribution"`
	Value        *float64 `json:"value,omitempty"`
	Std          *float64 `json:"u"`
	Unit         string   `json:"unit"`
	Code         string   `json:"ucum,omitempty"`
	DoF          *float64 `json:"dof,omitempty"`
	Sensitivity  *float64 `json:"sensitivity"` // in units of the result by units of the row
	Gives        *float64 `json:"gives"`       // in units of the result
	Share        *float64 `json:"share"`
}

// drawnBecause says why errors were drawn.
var drawnBecause = map[propagate.Why]string{
	propagate.Kink:    "the formula has a kink (a greatest, a least, a size without sign)",
	propagate.Curved:  "the formula bends within the doubt of its inputs",
	propagate.Divisor: "the formula divides by a value that is poorly known",
	propagate.Asked:   "that was asked for",
}

func interval(iv montecarlo.Interval, u quantity.Unit) *intervalJSON {
	return &intervalJSON{num(u.Of(iv.Low)), num(u.Of(iv.High))}
}

// around is the interval y ± U.
func around(e propagate.Estimate) montecarlo.Interval {
	return montecarlo.Interval{Low: e.Value - e.U, High: e.Value + e.U}
}

// numberOf is one number for JSON.
func (s *sheet) numberOf(w worth, k int, u quantity.Unit) numberJSON {
	e, d := w.est[k], u.Difference()
	if e.Undefined() {
		return numberJSON{}
	}
	out := numberJSON{Value: num(u.Of(e.Value)), U: num(d.Of(e.U)), K: num(e.K), Std: num(d.Of(e.Std)), DoF: num(e.DoF), Method: "linear",
		Interval: interval(around(e), u)}
	for _, l := range e.Budget {
		out.Budget = append(out.Budget, s.rowOf(l, d))
	}
	if len(s.inputs) == 0 {
		out.Method = "exact"
	}
	t := e.Drawn
	if t == nil {
		return out
	}
	l := w.linear[k]
	out.Method, out.Why = "drawn", drawnBecause[t.Why]
	out.Interval, out.Shortest, out.Mean = interval(t.Symmetric, u), interval(t.Shortest, u), num(u.Of(e.Value+t.Bias))
	out.Trials, out.Undefined, out.Seed = t.Trials, t.Undefined, t.Seed
	if w.adaptive {
		out.Stable = &t.Stable
	}
	out.Linear = &linearJSON{U: num(d.Of(l.U)), K: num(l.K), Std: num(d.Of(l.Std)), DoF: num(l.DoF), Interval: interval(around(l), u)}
	v := validationJSON{Digits: w.digits}
	for _, x := range []struct {
		iv montecarlo.Interval
		to *agreed
	}{{t.Symmetric, &v.Symmetric}, {t.Shortest, &v.Shortest}} {
		a := w.validated(k, x.iv)
		v.Tolerance = num(d.Of(a.Tolerance))
		*x.to = agreed{num(d.Of(a.Low)), num(d.Of(a.High)), a.OK}
	}
	out.Validation = &v
	return out
}

// inputOf returns the input of a line of a budget.
func (s *sheet) inputOf(l uncert.Line) *input { return s.inputs[l.On[0]] }

// unitIn is the unit that an input is shown in: that of the result where it
// can be.
func (in *input) unitIn(d quantity.Unit) quantity.Unit {
	switch {
	case in.typ.Kind == value.Point:
		u, err := quantity.Lookup("celsius")
		if err != nil {
			panic("cli: " + err.Error())
		}
		return u
	case in.typ.Dim == d.Dim:
		return d
	}
	return in.typ.Dim.Default()
}

func (s *sheet) rowOf(l uncert.Line, d quantity.Unit) rowJSON {
	in := s.inputOf(l)
	u := in.unitIn(d)
	own := u.Difference()
	out := rowJSON{Input: in.said(), Distribution: in.name, Std: num(own.Of(l.U)), Unit: own.Symbol, Code: own.UCUM, DoF: num(l.DoF),
		Sensitivity: num(l.Sensitivity * own.Factor / d.Factor), Gives: num(d.Of(l.Sensitivity * l.U)), Share: num(l.Share)}
	if in.cell != nil {
		out.Value = num(u.Of(in.cell.v.Num))
	}
	return out
}

// percent is a level in words.
func percent(level float64) string {
	return strconv.FormatFloat(steadyTo(100*level, 9), 'f', -1, 64) + " %"
}

// said is a number with its uncertainty in words.
func (w worth) said(k int, u quantity.Unit) string {
	e := w.est[k]
	if e.Undefined() {
		return "no value"
	}
	y, U := quantity.Rounded(e.Value, e.U, u)
	out := quantity.WithSymbol(y, u)
	if e.U == 0 {
		return out + ", give or take 0"
	}
	out += ", give or take " + quantity.WithSymbol(U, u.Difference()) + fmt.Sprintf(" (k = %.2f", e.K)
	if w.level != propagate.Level {
		out += ", " + percent(w.level)
	}
	return out + ")"
}

// stdSaid says u and its degrees of freedom.
func stdSaid(e propagate.Estimate, u quantity.Unit) string {
	_, std := quantity.Rounded(e.Value, e.Std, u)
	out := "standard uncertainty u = " + quantity.WithSymbol(std, u.Difference())
	if e.DoF < 1000 {
		out += ", " + checks.FreedomSaid(figures(e.DoF, 3))
	}
	return out
}

func figures(x float64, n int) string {
	return strconv.FormatFloat(steadyTo(x, n), 'f', -1, 64)
}

// ends says an interval, to the place that its length asks for.
func ends(iv montecarlo.Interval, U float64, u quantity.Unit) string {
	d := quantity.RoundedDecimals(U, u)
	return quantity.Number(iv.Low, u, d) + " to " + quantity.WithSymbol(quantity.Number(iv.High, u, d), u)
}

// drawnSaid says what the trials gave.
func (w worth) drawnSaid(k int, u quantity.Unit) []string {
	e := w.est[k]
	t := e.Drawn
	d := u.Difference()
	places := quantity.RoundedDecimals(e.Std, u)
	out := []string{fmt.Sprintf("The errors of the inputs were drawn %s times, because %s. Seed %d.", thousands(t.Trials), drawnBecause[t.Why], t.Seed)}
	if w.adaptive && !t.Stable {
		out[0] += fmt.Sprintf(" That was not enough for %s of u.", plural(w.digits, "figure"))
	}
	if t.Undefined > 0 {
		out = append(out, fmt.Sprintf("In %s of them the formula has no value.", thousands(t.Undefined)))
	}
	out = append(out,
		"Mean of the trials "+quantity.WithSymbol(quantity.Number(e.Value+t.Bias, u, places), u)+", standard deviation "+quantity.Format(t.Std, d, places)+".",
		fmt.Sprintf("The middle %s of them are from %s; the shortest such interval is from %s.", percent(w.level), ends(t.Symmetric, e.U, u), ends(t.Shortest, e.U, u)))
	l := w.linear[k]
	_, lU := quantity.Rounded(l.Value, l.U, u)
	alone := fmt.Sprintf("By sensitivities alone: give or take %s (k = %.2f), from %s; %s.",
		quantity.WithSymbol(lU, d), l.K, ends(around(l), e.U, u), stdSaid(l, u))
	if w.draw {
		sym, short := w.validated(k, t.Symmetric), w.validated(k, t.Shortest)
		alone += fmt.Sprintf(" Its ends are off by %s and %s from the middle interval, by %s and %s from the shortest; up to %s is allowed for %s of u (JCGM 101:2008, 8): %s.",
			off(sym.Low, sym.Tolerance, d), off(sym.High, sym.Tolerance, d), off(short.Low, short.Tolerance, d), off(short.High, short.Tolerance, d),
			quantity.Plain(sym.Tolerance, d), plural(w.digits, "figure"), verdictOf(sym.OK, short.OK))
	}
	out = append(out, alone)
	return out
}

func verdictOf(symmetric, shortest bool) string {
	switch {
	case symmetric && shortest:
		return "that is good enough"
	case symmetric:
		return "that is good enough for the middle interval only"
	case shortest:
		return "that is good enough for the shortest interval only"
	}
	return "that is not good enough"
}

// off prints a small difference to a tenth of what is allowed.
func off(x, tolerance float64, u quantity.Unit) string {
	return quantity.Format(x, u, quantity.RoundedDecimals(tolerance, u))
}

func thousands(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + " " + s[i:]
	}
	return s
}

// print prints the expression's numbers.
func (s *sheet) print(a *app, w worth, u quantity.Unit, budget bool) {
	keys := keysOf(&s.last().v, "")
	for k, e := range w.est {
		before := ""
		if keys[k] != "" {
			before = keys[k] + ": "
		}
		a.printf("%s%s\n", diagnose.Plain(before), diagnose.Plain(w.said(k, u)))
		if e.Undefined() || e.Std == 0 {
			continue
		}
		if len(keys) == 1 {
			a.par("", voice.Sentence(stdSaid(e, u)))
		}
		if e.Drawn != nil && (len(keys) == 1 || k == 0) {
			for _, p := range w.drawnSaid(k, u) {
				a.par("", p)
			}
		}
		if budget {
			s.table(a, e, u.Difference())
		}
	}
}

// table prints the budget of a number.
func (s *sheet) table(a *app, e propagate.Estimate, d quantity.Unit) {
	rows := [][]string{{"Input", "u", "sensitivity", "gives", "share", "dof"}}
	for _, l := range e.Budget {
		in := s.inputOf(l)
		own := in.unitIn(d).Difference()
		_, std := quantity.Rounded(0, l.U, own)
		gives := quantity.Format(math.Abs(l.Sensitivity)*l.U, d, quantity.RoundedDecimals(math.Abs(l.Sensitivity)*l.U, d))
		dof := "many"
		if l.DoF < 1000 {
			dof = figures(l.DoF, 3)
		}
		share := "< 1 %"
		if l.Share >= 0.005 {
			share = fmt.Sprintf("%.0f %%", 100*l.Share)
		}
		rows = append(rows, []string{cutTo(diagnose.Plain(in.said()), 40), quantity.WithSymbol(std, own),
			strconv.FormatFloat(l.Sensitivity*own.Factor/d.Factor, 'g', 4, 64), gives, share, dof})
	}
	widths := make([]int, len(rows[0]))
	for _, r := range rows {
		for i, c := range r {
			widths[i] = max(widths[i], utf8.RuneCountInString(c))
		}
	}
	a.printf("\n")
	for _, r := range rows {
		line := r[0] + strings.Repeat(" ", widths[0]-utf8.RuneCountInString(r[0]))
		for i, c := range r[1:] {
			line += strings.Repeat(" ", 2+widths[i+1]-utf8.RuneCountInString(c)) + c
		}
		a.printf("%s\n", line)
	}
}

func cutTo(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n-1]) + "…"
	}
	return s
}
