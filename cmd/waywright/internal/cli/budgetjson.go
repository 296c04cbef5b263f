package cli

import (
	"math"
	"strconv"

	"waywright/checks"
	"waywright/checks/propagate"
	"waywright/checks/quantity"
	"waywright/cmd/waywright/internal/logbook"
	"waywright/engine"
	"waywright/report"
)

// runBudget is what budget --json says of a run.
type runBudget struct {
	Run   string       `json:"run"`
	Gates []gateBudget `json:"gates"`
	Risk  *float64     `json:"risk_at_most,omitempty"` // that any pass is wrong, the sum over them
	Gated int          `json:"passes,omitempty"`       // over how many
}

// gateBudget is what budget --json says of a gate. Numbers are unrounded and,
// where nothing else is said, in Unit.
type gateBudget struct {
	Run       string       `json:"run"`
	Gate      string       `json:"gate"`
	Title     string       `json:"title"`
	Element   string       `json:"element,omitempty"`
	Verdict   string       `json:"verdict"`
	Why       string       `json:"why,omitempty"`
	Missing   []string     `json:"missing,omitempty"`
	Unit      string       `json:"unit,omitempty"`
	Code      string       `json:"ucum,omitempty"`
	Value     *float64     `json:"value,omitempty"`
	Lo        *float64     `json:"at_least,omitempty"`
	Hi        *float64     `json:"at_most,omitempty"`
	Std       *float64     `json:"u,omitempty"`
	U         *float64     `json:"U,omitempty"`
	K         *float64     `json:"k,omitempty"`
	DoF       *float64     `json:"dof,omitempty"` // none where there is no end of them
	P         *float64     `json:"p,omitempty"`
	PIs       string       `json:"p_is,omitempty"` // at_least, at_most, where p is a bound
	Rule      string       `json:"rule,omitempty"`
	Level     float64      `json:"level,omitempty"`
	Risk      *float64     `json:"risk_at_most,omitempty"`
	Method    *methodJSON  `json:"method,omitempty"`
	Budget    []partJSON   `json:"budget,omitempty"`
	Remedies  []remedyJSON `json:"remedies,omitempty"`
	TakesHelp *bool        `json:"takes_help,omitempty"`
	Needed    *float64     `json:"U_needed,omitempty"` // to decide, where no remedy does
	Words     []string     `json:"words,omitempty"`
}

type methodJSON struct {
	Name   string   `json:"name"` // sensitivities, drawn
	Said   string   `json:"said"`
	Trials int      `json:"trials,omitempty"`
	Seed   string   `json:"seed,omitempty"` // hexadecimal
	Bias   *float64 `json:"bias,omitempty"`
	From   *float64 `json:"from,omitempty"` // the middle 95 % of the trials
	To     *float64 `json:"to,omitempty"`
}

type partJSON struct {
	Source      string   `json:"source"`
	Kind        string   `json:"kind"`
	U           *float64 `json:"u"` // in its own unit
	Unit        string   `json:"unit"`
	Code        string   `json:"ucum"`
	Sensitivity *float64 `json:"sensitivity"` // in units of the value by units of the source
	Gives       *float64 `json:"gives"`       // in units of the value
	Share       *float64 `json:"share"`
	DoF         *float64 `json:"dof,omitempty"`
}

type remedyJSON struct {
	Way        string   `json:"way"`
	Source     string   `json:"source,omitempty"`
	Instrument string   `json:"instrument,omitempty"`
	From       *float64 `json:"from,omitempty"`
	To         *float64 `json:"to,omitempty"`
	Unit       string   `json:"unit,omitempty"` // of from and to
	Code       string   `json:"ucum,omitempty"`
	U          *float64 `json:"U"`
	Decides    bool     `json:"decides"`
}

// num is a number for JSON: none where it is not finite.
func num(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	if x == 0 {
		x = 0 // not −0
	}
	return &x
}

func budgetJSON(run *logbook.Run, b engine.Budget, r engine.Reduction, reduced bool) gateBudget {
	u := quantity.InRun(b.Unit, run.State.Inch())
	d := u.Difference()
	out := gateBudget{Run: run.Name, Gate: b.Name, Title: b.Title, Element: b.Element, Verdict: b.Verdict.String(), Why: b.Why, Missing: b.Missing}
	if b.Holds || b.Verdict != checks.Pass && b.Verdict != checks.Fail && b.Verdict != checks.Undecided {
		return out
	}
	out.Unit, out.Code = u.Symbol, u.UCUM
	out.Value, out.Lo, out.Hi, out.U = num(u.Of(b.Value)), num(u.Of(b.Lo)), num(u.Of(b.Hi)), num(d.Of(b.U))
	out.K, out.DoF, out.P, out.Risk = num(b.K), num(b.Dof), num(b.P), num(b.Risk)
	if b.K > 0 {
		out.Std = num(d.Of(b.U / b.K))
	}
	out.PIs = map[checks.Bound]string{checks.AtLeast: "at_least", checks.AtMost: "at_most"}[b.Bound]
	out.Rule = b.Rule.String()
	out.Level, _ = checks.Level(b.Rule)
	out.Method = methodOf(b.Drawn, u)
	for _, p := range b.Parts {
		c := p.Sensitivity
		if p.Unit.Dim != d.Dim {
			c *= p.Unit.Factor / d.Factor
		}
		out.Budget = append(out.Budget, partJSON{
			Source: p.Source, Kind: p.Kind.String(), U: num(p.Unit.Of(p.U)), Unit: p.Unit.Symbol, Code: p.Unit.UCUM,
			Sensitivity: num(c), Gives: num(d.Of(p.Gives)), Share: num(p.Share), DoF: num(p.DoF),
		})
	}
	if !reduced {
		return out
	}
	out.TakesHelp, out.Words = &r.TakesHelp, report.Advice(b, r)
	if r.Needed > 0 {
		out.Needed = num(d.Of(r.Needed))
	}
	for _, x := range r.Remedies {
		out.Remedies = append(out.Remedies, remedyOf(x, d))
	}
	return out
}

func methodOf(m *propagate.Drawn, u quantity.Unit) *methodJSON {
	out := &methodJSON{Name: "sensitivities", Said: report.MethodSaid(m)}
	if m != nil {
		out.Name, out.Trials, out.Seed = "drawn", m.Trials, strconv.FormatUint(m.Seed, 16)
		out.Bias, out.From, out.To = num(u.Difference().Of(m.Bias)), num(u.Of(m.Symmetric.Low)), num(u.Of(m.Symmetric.High))
	}
	return out
}

func remedyOf(x engine.Remedy, u quantity.Unit) remedyJSON {
	out := remedyJSON{Way: x.Way.String(), Source: x.Place, Instrument: x.Instrument, U: num(u.Of(x.U)), Decides: x.Decided}
	switch {
	case x.Counts():
		out.From, out.To = num(x.From), num(x.To)
	case x.From > 0:
		out.From, out.Unit, out.Code = num(x.Unit.Of(x.From)), x.Unit.Symbol, x.Unit.UCUM
		if x.To > 0 {
			out.To = num(x.Unit.Of(x.To))
		}
	}
	if x.To == 0 {
		out.To = nil
	}
	return out
}
