package cli

import (
	"fmt"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"waywright/engine"
	"waywright/engine/rehearse"
	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
	"waywright/procedures/proofread"
)

// rehearsalTrials is how many errors are drawn where a result is found by
// drawing: for thousands of runs of which nobody keeps a figure, few are enough.
const rehearsalTrials = 2000

// mostSeeds bounds what is kept of the runs at once; a rehearsal may state as
// many.
const mostSeeds = 100_000

// heap is how far the heap may grow between two collections, in percent: runs
// leave much behind and keep little, so collecting seldom saves a third of the
// time.
const heap = 400

func (a *app) rehearseCommand() *cobra.Command {
	var o rehearsing
	c := &cobra.Command{
		Use:   "rehearse FILE|PROCEDURE…",
		Short: "Run the rehearsals of procedures; which branches they took",
		Long: `Play the rehearsals of procedures: a small model of the machine answers the
readings and reacts to the corrections, and how each run ends is held against
what the rehearsal says. Then it tells what was seen of the gates, the
corrections and the conditions over all of them, and what none reached; with
--coverage beside the lines of the procedure itself.

With --risk it draws so many machines instead, for every rehearsal that states
a spread: hidden states from their spreads, instruments from the procedure's
figures, each played to its end. It tells how often a machine out of tolerance
was accepted and a good one was not, with exact intervals of 95 %, beside what
the decision rule promises.

A rehearsal of a plan takes one machine with its faults through the whole plan:
tasks are begun as soon as they can be, and worked again where a later one
spoilt them. The tasks are listed as they were worked.

With --json the same comes as one object: files, each with its path, whether it
holds, and rehearsals (outcomes, rounds, said, failures) and coverage, or with
--risk risks, whose shares are k of n from lo to hi. Its exact form is
rehearsal.schema.json, beside the source of this command.

The code is 0 where all hold, 1 where a rehearsal failed or a rule kept less
than it promises, 2 where it cannot be carried out.`,
		Example: `  waywright rehearse lathe/tailstock-by-test-cut
  waywright rehearse --seeds 1000 my-procedure.hcl
  waywright rehearse --coverage my-procedure.hcl
  waywright rehearse --risk 2000 lathe/tailstock-by-test-cut`,
		Args:              takes(1, -1, "a procedure, or several"),
		ValidArgsFunction: a.completeProcedures,
		RunE:              func(_ *cobra.Command, args []string) error { return a.rehearse(args, o) },
	}
	c.Flags().IntVar(&o.seeds, "seeds", 0, "play every rehearsal with so many seeds, instead of its own number")
	c.Flags().IntVar(&o.risk, "risk", 0, "draw so many machines, and tell what the decisions are worth")
	c.Flags().BoolVar(&o.coverage, "coverage", false, "show beside the lines of the procedure what was seen of each")
	c.Flags().BoolVar(&o.json, "json", false, "as JSON")
	return c
}

// rehearsing is what was asked of rehearse.
type rehearsing struct {
	seeds, risk    int
	coverage, json bool
}

func (a *app) rehearse(args []string, o rehearsing) error {
	for _, n := range []struct {
		flag string
		n    int
	}{{"seeds", o.seeds}, {"risk", o.risk}} {
		if n.n < 0 || n.n > mostSeeds {
			return cannot("--%s is a number from 1 to %d, not %d", n.flag, mostSeeds, n.n)
		}
	}
	if o.seeds > 0 && o.risk > 0 {
		return cannot("--seeds plays the rehearsals as they are, --risk draws machines: give one of the two")
	}
	defer debug.SetGCPercent(debug.SetGCPercent(heap))
	code := done
	out := rehearsedFiles{Files: []*rehearsedFile{}}
	for _, name := range args {
		r, src, ok := a.toRehearse(name, o)
		if !ok {
			code = max(code, unable)
			continue
		}
		f := &rehearsedFile{Path: name, Holds: true}
		switch {
		case r.Overhaul != nil:
			f.Overhaul = r.Overhaul.Name
			if !a.rehearsePlan(f, r.Overhaul, src, o) {
				code = max(code, unable)
				continue
			}
		case o.risk > 0:
			f.Procedure = r.Procedure.Name
			a.drawMachines(f, engine.NewPlan(r.Procedure).WithTrials(rehearsalTrials), o)
		default:
			f.Procedure = r.Procedure.Name
			a.playRehearsals(f, engine.NewPlan(r.Procedure).WithTrials(rehearsalTrials), o)
		}
		if !f.Holds {
			code = max(code, no)
		}
		out.Files = append(out.Files, f)
	}
	if o.json {
		if err := a.json(out); err != nil {
			return err
		}
	}
	return exit(code)
}

// toRehearse reads a procedure or a plan; ok is false where there is nothing to
// play, which has been said.
func (a *app) toRehearse(name string, o rehearsing) (r proofread.Result, src hclfile.Source, ok bool) {
	src, err := a.book().Find(name)
	if err != nil {
		a.note("waywright: %s", diagnose.Plain(err.Error()))
		return r, src, false
	}
	r = proofread.File(src)
	shown := diagnose.Plain(name)
	switch {
	case r.Diagnostics.HasErrors():
		a.diagnostics(slices.DeleteFunc(slices.Clone(r.Diagnostics), func(d diagnose.Diagnostic) bool { return d.Severity != diagnose.Error }), r.Text)
		a.note("waywright: %s has errors. Mend them, then rehearse it.", shown)
	case r.Overhaul != nil && o.risk > 0:
		a.note("waywright: %s is a plan. Machines are drawn for a procedure, one at a time.", shown)
	case r.Overhaul != nil && len(r.Overhaul.Rehearsals) == 0:
		a.note("waywright: the plan %s has no rehearsals. One takes a machine with its faults through the whole plan: waywright show bench-lathe --source has some.", shown)
	case r.Overhaul != nil:
		return r, src, true
	case r.Procedure == nil:
		a.note("waywright: %s is neither a procedure nor a plan, so it has no rehearsals", shown)
	case len(r.Procedure.Rehearsals) == 0:
		a.note("waywright: %s has no rehearsals. A rehearsal is a block of the procedure: waywright show lathe/tailstock-by-test-cut --source has some.", shown)
	case o.risk > 0 && !slices.ContainsFunc(r.Procedure.Rehearsals, rehearse.Spreads):
		a.note("waywright: no rehearsal of %s states how machines differ, so there is no risk to tell. State it beside hidden, such as spread { offset = um(80) }.", shown)
	default:
		return r, src, true
	}
	return r, src, false
}

func (a *app) playRehearsals(f *rehearsedFile, plan *engine.Plan, o rehearsing) {
	p := plan.Procedure()
	seen := rehearse.NewSeen()
	if !o.json {
		a.printf("%s\n", diagnose.Plain(f.Path))
	}
	width := 0
	for _, r := range p.Rehearsals {
		width = max(width, len([]rune(r.Name)))
	}
	for _, r := range p.Rehearsals {
		seeds := r.Seeds
		if o.seeds > 0 {
			seeds = o.seeds
		}
		watch := a.count(diagnose.Plain(r.Name), seeds)
		ended := rehearse.Seeds(plan, r, seeds, runtime.GOMAXPROCS(0), watch.tell())
		watch.over()
		x := rehearsedOf(r, ended)
		for i := range ended {
			seen.Add(ended[i].Seen)
		}
		f.Holds = f.Holds && x.Failed == 0
		f.Rehearsals = append(f.Rehearsals, x)
		if !o.json {
			a.printf("  %s  %-*s  %s\n", map[bool]string{true: "holds", false: "FAILS"}[x.Failed == 0], width, diagnose.Plain(r.Name), x.line())
		}
	}
	c := coverageOf(rehearse.Cover(p, seen))
	c.Lines = linesOf(p, seen)
	f.Coverage = &c
	if o.json {
		return
	}
	a.coverage(c)
	if o.coverage {
		a.listing(p, c.Lines)
	}
	a.failures(f)
}

// line says of a rehearsal how many seeds there were and how they ended.
func (x *rehearsed) line() string {
	s := plural(x.Seeds, "seed")
	if x.Failed > 0 {
		s = fmt.Sprintf("%d of %s", x.Failed, s)
	}
	parts := []string{s}
	for _, o := range x.Outcomes {
		if len(x.Outcomes) == 1 {
			parts = append(parts, o.word())
			break
		}
		parts = append(parts, fmt.Sprintf("%d %s", o.N, o.word()))
	}
	for _, r := range x.Rounds {
		if r.Least == r.Most {
			parts = append(parts, fmt.Sprintf("%s %d×", r.Correction, r.Least))
		} else {
			parts = append(parts, fmt.Sprintf("%s %d to %d×", r.Correction, r.Least, r.Most))
		}
	}
	return strings.Join(parts, ", ")
}

func (o outcomeSeen) word() string { return strings.ReplaceAll(o.Outcome, "_", " ") }

func (a *app) coverage(c coverage) {
	a.printf("  Seen\n")
	for _, g := range c.Gates {
		var v []string
		for _, x := range []struct {
			saw  bool
			word string
		}{{g.Pass, "pass"}, {g.Fail, "fail"}, {g.Undecided, "undecided"}} {
			if x.saw {
				v = append(v, x.word)
			}
		}
		a.item("    ", "gate", g.Gate+": "+or(strings.Join(v, ", "), "nothing"))
	}
	for _, x := range c.Corrections {
		a.item("    ", "correction", x.Correction+": "+plural(x.N, "time"))
	}
	for _, b := range c.Conditions {
		a.item("    ", "condition of", b.Of+": "+or(strings.Join(b.words(), ", "), "not told"))
	}
	if len(c.Missing) == 0 {
		a.printf("  Nothing was left unreached.\n")
		return
	}
	a.printf("  Never reached\n")
	for _, m := range c.Missing {
		a.printf("    %s: %s\n", m.At, diagnose.Plain(m.What))
	}
}

func (b *conditionSeen) words() []string {
	var out []string
	if b.True {
		out = append(out, "true")
	}
	if b.False {
		out = append(out, "false")
	}
	return out
}
