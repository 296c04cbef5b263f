package cli

import (
	"fmt"
	"math"
	"runtime"

	"waywright/checks"
	"waywright/engine"
	"waywright/engine/rehearse"
	"waywright/procedures"
	"waywright/procedures/diagnose"
)

// risk is what the decisions on the machines of one rehearsal are worth.
type risk struct {
	Rehearsal        string        `json:"rehearsal"`
	At               string        `json:"at"`
	Machines         int           `json:"machines"`
	Outcomes         []outcomeSeen `json:"outcomes"`
	Consumer         share         `json:"accepted_and_out"`
	Producer         share         `json:"good_and_not_accepted"`
	BadAmongAccepted share         `json:"out_among_accepted"`
	Promised         *float64      `json:"out_among_accepted_promised_at_most,omitempty"`
	Gates            []gateRisk    `json:"gates"`
	Brought          share         `json:"out_at_first_brought_to_acceptance"`
	Touched          share         `json:"good_at_first_but_corrected"`
	MostRounds       int           `json:"corrections_at_most"`
	Unknown          int           `json:"not_to_be_told"`
	Failures         []failureSeen `json:"failures"`
	Kept             bool          `json:"rule_kept"`
}

// share is k of n with its exact interval of 95 %.
type share struct {
	K  int     `json:"k"`
	N  int     `json:"n"`
	Lo float64 `json:"lo"`
	Hi float64 `json:"hi"`
}

type gateRisk struct {
	Gate     string   `json:"gate"`
	Rule     string   `json:"rule"`
	Out      share    `json:"out_among_accepted"`
	Promised *float64 `json:"promised_at_most,omitempty"`
}

func shareOf(p checks.Proportion) share {
	lo, hi := p.Interval()
	return share{p.K, p.N, lo, hi}
}

// String is the share in percent, with its interval: none of n is below 3/n.
func (s share) String() string {
	p := checks.Proportion{K: s.K, N: s.N}
	of := fmt.Sprintf("%d of %d", s.K, s.N)
	if s.N == 0 {
		return of
	}
	if below, ok := p.Below(); ok {
		return fmt.Sprintf("%s: below %s %%", of, inPercent(below))
	}
	return fmt.Sprintf("%s: %s %%, from %s to %s", of, inPercent(p.Share()), inPercent(s.Lo), inPercent(s.Hi))
}

// inPercent writes a share to three figures; one close to the whole to two
// figures of what is lacking, so that nothing but the whole reads 100.
func inPercent(x float64) string {
	if lacks := 100 * (1 - x); lacks > 0 && lacks < 1 {
		return fmt.Sprintf("%.*f", 2+int(-math.Log10(lacks)), 100*x)
	}
	return fmt.Sprintf("%.3g", 100*x)
}

func (a *app) drawMachines(f *rehearsedFile, plan *engine.Plan, o rehearsing) {
	p := plan.Procedure()
	if !o.json {
		a.printf("%s\n", diagnose.Plain(f.Path))
	}
	for _, r := range p.Rehearsals {
		if !rehearse.Spreads(r) {
			continue
		}
		watch := a.count(diagnose.Plain(r.Name), o.risk)
		x := riskOf(p, r, rehearse.Machines(plan, r, o.risk, runtime.GOMAXPROCS(0), watch.tell()))
		watch.over()
		f.Risks = append(f.Risks, x)
		f.Holds = f.Holds && x.Kept && len(x.Failures) == 0
		if !o.json {
			a.riskText(x)
		}
	}
}

func riskOf(p *procedures.Procedure, r *procedures.Rehearsal, drawn []rehearse.Drawn) *risk {
	s := rehearse.Sum(p, drawn)
	x := &risk{
		Rehearsal: r.Name, At: r.At.String(), Machines: len(drawn), Outcomes: []outcomeSeen{}, Gates: []gateRisk{}, Failures: []failureSeen{},
		Consumer: shareOf(s.Consumer()), Producer: shareOf(s.Producer()), BadAmongAccepted: shareOf(s.BadAmongAccepted()), Promised: s.Promised,
		Brought: shareOf(s.OutAtFirst), Touched: shareOf(s.Touched), MostRounds: s.Rounds, Unknown: s.Unknown, Kept: s.Kept(),
	}
	for _, o := range []engine.Outcome{engine.Accepted, engine.Conceded, engine.AsFound, engine.Rejected, engine.NotDecided} {
		if n := s.Outcomes[o]; n > 0 {
			x.Outcomes = append(x.Outcomes, outcomeSeen{string(o), n})
		}
	}
	for _, g := range s.Gates {
		x.Gates = append(x.Gates, gateRisk{g.Gate.Name, g.Rule.String(), shareOf(g.Bad), g.Promised})
	}
	for i := range s.Failed {
		if i < mostFailures {
			x.Failures = append(x.Failures, failureOf(s.Failed[i].Failure))
		}
	}
	return x
}

func (a *app) riskText(x *risk) {
	a.printf("  %s: %s drawn\n", diagnose.Plain(x.Rehearsal), plural(x.Machines, "machine"))
	line := func(what string, s share) { a.printf("    %-50s %s\n", what, s) }
	for _, o := range x.Outcomes {
		a.printf("    %-50s %d\n", o.word(), o.N)
	}
	line("out of tolerance at first, brought to be accepted", x.Brought)
	line("good at first, corrected all the same", x.Touched)
	a.printf("    %-50s %d\n", "corrections on one machine, at most", x.MostRounds)
	line("accepted though out (consumer's risk)", x.Consumer)
	line("not accepted though good (producer's risk)", x.Producer)
	line("out among those accepted", x.BadAmongAccepted)
	if x.Promised != nil {
		a.printf("    %-50s %s %% at most\n", "the rule promises", inPercent(*x.Promised))
	}
	for _, g := range x.Gates {
		promise := "which promises nothing"
		if g.Promised != nil {
			promise = "which promises " + inPercent(*g.Promised) + " % at most"
		}
		a.item("    ", "gate", fmt.Sprintf("%s, by %s, %s: out %s", g.Gate, g.Rule, promise, g.Out))
	}
	if x.Unknown > 0 {
		a.printf("    Of %s it cannot be told what they truly are; they are left out.\n", plural(x.Unknown, "machine"))
	}
	for i, f := range x.Failures {
		if i == 0 {
			a.printf("    %s: machine %d, answer %d: %s\n", f.At, f.Seed, f.Answer, diagnose.Plain(f.Sentence))
		}
	}
	if !x.Kept {
		a.printf("    More are out than the rule promises.\n")
	}
}
