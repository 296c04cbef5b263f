package cli

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/cmd/waywright/internal/logbook"
	"waywright/cmd/waywright/internal/voice"
	"waywright/engine"
	"waywright/procedures/diagnose"
	"waywright/report"
)

func (a *app) budgetCommand() *cobra.Command {
	var asJSON bool
	var at, gate string
	c := &cobra.Command{
		Use:   "budget [RUN] [GATE]",
		Short: "Where each part of the doubt comes from, and what would reduce it",
		Long: `Show where the doubt of a test comes from: each source with its standard
uncertainty u, how many times of it reach the value, its share of the whole, and
the degrees of freedom (dof) with which it is known. Then, in words, what would
make the doubt less, and how much less.

Without RUN it is the last run. Without GATE it is a line for each gate. A gate
over many values shows the one that decides; --at, or the key behind the gate's
name and a point, shows another.`,
		Example: `  waywright budget tailstock-by-test-cut-lathe-2 cylindrical
  waywright budget cylindrical
  waywright budget cylindrical --json
  waywright budget lap-bar-lathe-2 one_size --at 100`,
		Args:              takes(0, 2, "at most the name of a run and that of a gate"),
		ValidArgsFunction: a.completeBudget,
		RunE: func(_ *cobra.Command, args []string) error {
			run, name, err := a.budgetArgs(args, gate)
			if err != nil {
				return err
			}
			if text := run.Notice.String(); text != "" {
				a.note("%s", text)
			}
			if name == "" && at != "" {
				return cannot("--at %s: of which gate? Gates of this run: %s", at, strings.Join(gateNames(run.State), ", "))
			}
			if name == "" {
				return a.budgets(run, asJSON)
			}
			return a.budget(run, name, at, asJSON)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "as JSON, with unrounded numbers")
	c.Flags().StringVar(&at, "at", "", "the station, angle or key of a gate over many values")
	c.Flags().StringVar(&gate, "gate", "", "the gate, where its name is also that of a run")
	if err := c.RegisterFlagCompletionFunc("gate", func(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		return names(a.gatesOf(args), typed)
	}); err != nil {
		panic("cli: " + err.Error())
	}
	return c
}

// completeBudget completes runs and gates.
func (a *app) completeBudget(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	switch len(args) {
	case 0:
		runs, _ := a.book().Names()
		return names(append(runs, a.gatesOf(nil)...), typed)
	case 1:
		return names(a.gatesOf(args), typed)
	}
	return nil, cobra.ShellCompDirectiveNoFileComp
}

// gatesOf lists the gates of the run that is named first, or of the last one.
func (a *app) gatesOf(args []string) []string {
	b := a.book()
	name, err := a.runName(b, args)
	if err != nil {
		return nil
	}
	run, err := b.Read(name)
	if err != nil {
		return nil
	}
	return gateNames(run.State)
}

func gateNames(s *engine.State) []string { return s.GateNames() }

// budgetArgs finds the run and the gate that are meant. A single name is that
// of a run where there is one, else of a gate of the last run.
func (a *app) budgetArgs(args []string, gate string) (run *logbook.Run, name string, err error) {
	b := a.book()
	if len(args) == 2 && gate != "" {
		return nil, "", cannot("%q and --gate %s are two gates: name one", args[1], gate)
	}
	name = gate
	if len(args) == 2 {
		name, args = args[1], args[:1]
	}
	if len(args) == 1 && name == "" {
		runs, err := b.Names()
		if err != nil {
			return nil, "", cannot("%w", err)
		}
		if !slices.Contains(runs, args[0]) && len(runs) > 0 {
			name, args = args[0], nil
		}
	}
	which, err := a.runName(b, args)
	if err != nil {
		return nil, "", err
	}
	if run, err = b.Read(which); err != nil {
		return nil, "", err
	}
	return run, name, nil
}

// find finds a gate, with the key of an element behind it or not.
func find(s *engine.State, name, at string) (engine.Budget, error) {
	known := gateNames(s)
	gate, key := name, at
	for at == "" && !slices.Contains(known, gate) && strings.Contains(gate, ".") {
		i := strings.LastIndex(gate, ".")
		gate = gate[:i]
		key = name[i+1:]
	}
	if !slices.Contains(known, gate) {
		return engine.Budget{}, cannot("there is no gate %q in this run. %s", name, meant(name, known))
	}
	b, ok := s.Budget(gate, elementKey(s, gate, key))
	if !ok {
		var keys []string
		whole, _ := s.Budget(gate, "")
		for _, e := range whole.Elements {
			keys = append(keys, e.Key)
		}
		if len(keys) == 0 {
			return engine.Budget{}, cannot("%s judges one value, and there is none at %q. Leave it out", gate, key)
		}
		return engine.Budget{}, cannot("%s has no value at %q. %s", gate, key, meant(key, keys))
	}
	return b, nil
}

// elementKey is the key of an element from what was typed: 100, 100mm, 90°.
func elementKey(s *engine.State, gate, typed string) string {
	b, _ := s.Budget(gate, "")
	for _, e := range b.Elements {
		if e.Key == typed {
			return typed
		}
	}
	for _, name := range []string{"mm", "deg"} {
		u, err := quantity.Lookup(name)
		if err != nil {
			continue
		}
		v, err := quantity.Parse(typed, quantity.Context{Any: true})
		if err != nil || len(v) != 1 || !v[0].HasUnit || v[0].Unit.Dim != u.Dim {
			continue
		}
		for _, e := range b.Elements {
			if at, err := strconv.ParseFloat(e.Key, 64); err == nil && math.Abs(u.Of(v[0].Value)-at) < 1e-6 {
				return e.Key
			}
		}
	}
	return typed
}

// meant names what was meant, or all there is.
func meant(typed string, known []string) string {
	if near := diagnose.Nearest(typed, known); near != "" {
		return fmt.Sprintf("Did you mean %q?", near)
	}
	if len(known) > 12 {
		known = append(known[:12:12], "…")
	}
	return "There is: " + strings.Join(known, ", ")
}

// columns is how wide a table may be.
func (a *app) columns() int {
	if f, ok := a.Out.(*os.File); ok {
		if w, _, err := term.GetSize(int(f.Fd())); err == nil && w > 0 {
			return min(w-1, page)
		}
	}
	return page
}

func (a *app) budget(run *logbook.Run, name, at string, asJSON bool) error {
	b, err := find(run.State, name, at)
	if err != nil {
		return err
	}
	r, reduced := b.Reduce()
	if asJSON {
		return a.json(budgetJSON(run, b, r, reduced))
	}
	v := voice.Voice{Inch: run.State.Inch(), Width: a.columns(), Wide: true}
	a.lay(v, v.Judged(b.Judgement))
	switch {
	case b.Verdict == checks.Open:
		a.par("", "Not judged yet. Missing: "+strings.Join(b.Missing, "; ")+".")
		return exit(paused)
	case b.Holds:
		a.par("", "This test asks whether something is so. It has no value, and so no give or take.")
		return nil
	case b.Verdict == checks.NotMeasured || b.Verdict == checks.NotApplied:
		a.par("", "There is no value, and so no give or take.")
		return nil
	}
	a.printf("\n")
	a.lay(v, v.Doubt(b))
	if len(b.Parts) == 0 {
		return nil
	}
	a.printf("\n")
	a.lay(v, v.BudgetTable(b, 0, v.Width))
	if reduced {
		a.printf("\n")
		a.lay(v, v.Advice(b, r))
	}
	return nil
}

func (a *app) lay(v voice.Voice, s voice.Screen) {
	for _, l := range v.Lay(s) {
		a.printf("%s\n", diagnose.Plain(l))
	}
}

// budgets prints a line for each gate, and the risk of the run.
func (a *app) budgets(run *logbook.Run, asJSON bool) error {
	st := run.State
	risk, n := st.RunRisk()
	if asJSON {
		out := runBudget{Run: run.Name, Gates: []gateBudget{}}
		for _, name := range gateNames(st) {
			if b, ok := st.Budget(name, ""); ok {
				out.Gates = append(out.Gates, budgetJSON(run, b, engine.Reduction{}, false))
			}
		}
		if n > 0 {
			out.Risk, out.Gated = &risk, n
		}
		return a.json(out)
	}
	v := voice.Voice{Inch: st.Inch(), Width: a.columns(), Wide: true}
	for _, name := range gateNames(st) {
		b, ok := st.Budget(name, "")
		if !ok {
			continue
		}
		a.par("", name+": "+report.VerdictWord(b.Verdict)+".", v.Value(b.Judgement))
		if len(b.Parts) > 0 {
			f := report.FiguresOf(b.Parts[0], b.Unit.Difference())
			a.par("  ", "Mostly "+b.Parts[0].Source+" ("+f.Share+").")
		}
		if said := report.RiskSaid(b.Risk); said != "" {
			a.par("  ", "Risk that this verdict is wrong: "+said+".")
		}
	}
	a.par("", report.RunRiskSaid(risk, n))
	return nil
}
