package cli

import (
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"waywright/checks"
	"waywright/engine"
	"waywright/procedures"
	"waywright/procedures/diagnose"
	"waywright/procedures/proofread"
	"waywright/procedures/vet"
)

func (a *app) proofreadCommand() *cobra.Command {
	var how proofHow
	c := &cobra.Command{
		Use:   "proofread FILE…",
		Short: "Everything that can be proved of a procedure before it is used",
		Long: `Say everything that can be proved of procedure files: names, dimensions, limits,
ways on, what is left unused. For each gate it prints what must be read for a
pass, and it prints how many questions the longest path has. The registers of a
logbook, such as instruments.hcl, are looked through too.

A warning that is meant to stay is answered by a comment on its line with its
code and a reason, "# W604: a finer indicator comes in spring". It is counted
and not shown again, but for --all.

Every message has a code. --explain CODE tells why it matters and shows a
procedure that earns it, and the same one mended; --explain all lists the codes.

--json is for programs of your own, --sarif for editors and services that show
messages beside the lines: SARIF 2.1.0, an open standard.

The code is 0 where nothing is wrong (there may be warnings), 1 where there are
errors, 2 where a file cannot be read.`,
		Example: `  waywright proofread my-procedure.hcl
  waywright proofread lathe/headstock-align
  waywright proofread --explain W604
  waywright proofread --json logbook/procedures/*.hcl
  waywright proofread --sarif logbook/procedures/*.hcl > proofread.sarif`,
		Args: func(c *cobra.Command, args []string) error {
			if how.explain != "" {
				return takes(0, 0, "no file beside --explain")(c, args)
			}
			return takes(1, -1, "a file, or several")(c, args)
		},
		ValidArgsFunction: a.completeProcedure,
		RunE: func(c *cobra.Command, args []string) error {
			switch {
			case how.json && how.sarif:
				return cannot("--json and --sarif are two forms of one list: leave one out")
			case how.explain != "":
				return a.explain(how.explain, how.json)
			}
			return a.proofread(args, how)
		},
	}
	c.Flags().StringVar(&how.explain, "explain", "", "what a code stands for, with an example; all lists them")
	c.Flags().BoolVar(&how.all, "all", false, "show warnings that a comment answers, too")
	c.Flags().BoolVar(&how.json, "json", false, "diagnostics, pass zones and longest path as JSON")
	c.Flags().BoolVar(&how.sarif, "sarif", false, "diagnostics as SARIF 2.1.0, for editors and services")
	_ = c.RegisterFlagCompletionFunc("explain", completeCode)
	return c
}

// proofHow is how proofread is called.
type proofHow struct {
	explain          string
	all, json, sarif bool
}

// proofFile is what proofread --json says of a file.
type proofFile struct {
	Procedure string      `json:"procedure,omitempty"`
	Register  string      `json:"register,omitempty"` // machines, instruments, people, shop
	Entries   int         `json:"entries,omitempty"`
	Path      string      `json:"path"` // as it was named
	Prompts   int         `json:"prompts,omitempty"`
	Zones     []proofZone `json:"zones"`
	diagnose.Report
	Answered []proofAnswer `json:"answered"`
}

// proofAnswer is a warning that a comment on its line answers.
type proofAnswer struct {
	diagnose.Item
	Reason string `json:"reason"`
}

// proofZone is what must be read at a gate for a pass, in words.
type proofZone struct {
	Gate    string `json:"gate"`
	Text    string `json:"text"`
	CanPass *bool  `json:"can_pass,omitempty"` // absent where it depends on the run
	// Perfect is how often a machine without fault passes what cannot be negative.
	Perfect *float64 `json:"perfect_passes,omitempty"`
}

// unread are the codes of files that could not be read at all.
var unread = map[string]bool{"E001": true, "E002": true, "E003": true}

func (a *app) proofread(args []string, how proofHow) error {
	code := done
	b := a.book()
	// A shop.hcl with mistakes is told of when it is looked through itself.
	shop, _ := b.Shop()
	var out []proofFile
	var log sarifLog
	for _, name := range args {
		src, err := b.Find(name)
		if err != nil {
			a.note("waywright: %s", diagnose.Plain(err.Error()))
			code = unable
			continue
		}
		r := proofread.File(src)
		underShop(&r, shop.Decision)
		code = max(code, codeOfProof(r.Diagnostics))
		switch {
		case how.json:
			out = append(out, proofOf(name, r))
			continue
		case how.sarif:
			log.add(name, src, r)
			continue
		}
		shown := r.Diagnostics
		if how.all {
			for _, d := range r.Answered {
				shown = append(shown, d.Diagnostic)
			}
		}
		a.diagnostics(shown.Sorted(), r.Text)
		a.proofText(name, r)
		if r.Procedure != nil && len(r.Zones) > 0 {
			a.par("  ", shopRule(r.Procedure, shop.Decision))
		}
	}
	var err error
	switch {
	case how.json:
		err = a.json(struct {
			Files []proofFile `json:"files"`
		}{out})
	case how.sarif:
		err = diagnose.WriteSARIF(a.Out, version(), log.files, log.found)
	}
	if err != nil {
		return err
	}
	return exit(code)
}

// underShop works the pass zones out under the shop's own decision rule, where
// it is the stricter one: as a run here will judge.
func underShop(r *proofread.Result, shop checks.Rule) {
	if r.Procedure == nil || r.Diagnostics.HasErrors() || len(r.Zones) == 0 {
		return
	}
	if own, _ := engine.RuleFor(r.Procedure, nil, checks.NoRule); shop <= own {
		return
	}
	var gates []*procedures.Gate
	for _, z := range r.Zones {
		gates = append(gates, z.Gate)
	}
	r.Zones = vet.Zones(r.Procedure, gates, vet.Circumstances{Rule: func(g *procedures.Gate) checks.Rule {
		rule, _ := engine.RuleFor(r.Procedure, g, shop)
		return rule
	}})
}

func codeOfProof(ds diagnose.List) int {
	code := done
	for _, d := range ds {
		if d.Severity == diagnose.Error {
			code = max(code, no)
			if unread[d.Code] {
				code = unable
			}
		}
	}
	return code
}

func proofOf(path string, r proofread.Result) proofFile {
	f := proofFile{Register: r.Register, Entries: r.Entries, Path: path, Prompts: r.Prompts, Zones: []proofZone{}, Report: r.Diagnostics.Report(), Answered: []proofAnswer{}}
	for _, d := range r.Answered {
		f.Answered = append(f.Answered, proofAnswer{diagnose.List{d.Diagnostic}.Report().Diagnostics[0], d.Reason})
	}
	if r.Procedure != nil {
		f.Procedure = r.Procedure.Name
	}
	for _, z := range r.Zones {
		pz := proofZone{Gate: z.Gate.Name, Text: z.String()}
		if z.Known {
			pz.CanPass = &z.CanPass
			if !math.IsNaN(z.Perfect) {
				pz.Perfect = &z.Perfect
			}
		}
		f.Zones = append(f.Zones, pz)
	}
	return f
}

// entries counts what stands in a register.
func entries(register string, n int) string {
	one := map[string]string{"machines": "machine", "instruments": "instrument", "people": "person"}[register]
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, register)
}

// proofText prints what was proved of a file.
func (a *app) proofText(name string, r proofread.Result) {
	verdict := "no errors"
	if len(r.Diagnostics) > 0 {
		verdict = counted(r.Diagnostics)
	}
	if n := len(r.Answered); n > 0 {
		verdict += ", " + plural(n, "warning") + " answered in the file"
	}
	a.printf("%s: %s\n", diagnose.Plain(name), verdict)
	if r.Register != "" && r.Register != "shop" && !r.Diagnostics.HasErrors() {
		a.printf("  %s\n", entries(r.Register, r.Entries))
	}
	if r.Diagnostics.HasErrors() || r.Procedure == nil {
		return
	}
	if len(r.Zones) > 0 {
		a.printf("  What must be read for a pass:\n")
	}
	for _, z := range r.Zones {
		a.item("    ", "-", diagnose.Plain(z.String()))
		if z.Known && !z.CanPass {
			a.printf("      A perfect machine could not pass with this instrument.\n")
		}
	}
	a.printf("  Longest path: %s\n", plural(r.Prompts, "question"))
}
