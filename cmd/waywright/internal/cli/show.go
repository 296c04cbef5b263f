package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/engine"
	"waywright/procedures"
	"waywright/procedures/formula"
	"waywright/procedures/proofread"
)

func (a *app) showCommand() *cobra.Command {
	var source bool
	c := &cobra.Command{
		Use:   "show PROCEDURE",
		Short: "What a procedure needs, its steps, gates and sources, to read at the machine",
		Example: `  waywright show lathe/tailstock-by-test-cut
  waywright show lathe/tailstock-by-test-cut --source > my-procedure.hcl`,
		Args:              takes(1, 1, "the name of a procedure, or a file"),
		ValidArgsFunction: a.completeProcedure,
		RunE: func(c *cobra.Command, args []string) error {
			b := a.book()
			proc, err := a.procedure(b, args[0], "")
			if err != nil {
				return err
			}
			if source {
				_, err := a.Out.Write(proc.Files[0].Bytes)
				return err
			}
			src, err := b.Find(args[0])
			if err != nil {
				return cannot("%w", err)
			}
			shop, err := b.Shop()
			if err != nil {
				return err
			}
			a.show(proc, proofread.File(src).Prompts, shop.Decision)
			return nil
		},
	}
	c.Flags().BoolVar(&source, "source", false, "the file itself")
	return c
}

const page = 78 // columns

// par prints a paragraph.
func (a *app) par(indent string, words ...string) {
	s := strings.TrimSpace(strings.Join(words, " "))
	if s != "" {
		a.printf("%s", fill(s, indent, page))
	}
}

// item prints a paragraph behind a mark.
func (a *app) item(indent, mark string, words ...string) {
	s := strings.TrimSpace(strings.Join(words, " "))
	if s == "" {
		return
	}
	body := fill(s, indent+strings.Repeat(" ", len([]rune(mark))+1), page)
	a.printf("%s%s %s", indent, mark, strings.TrimLeft(body, " "))
}

func (a *app) show(p *procedures.Procedure, prompts int, shop checks.Rule) {
	a.par("", p.Title)
	a.par("", p.Name+", revision "+or(p.Revision, "not given")+". For a "+class(p)+".")
	a.printf("\n")
	a.par("", p.Purpose)
	if m := minutes(p); m > 0 {
		a.par("", "Takes about "+hours(m)+".")
	}
	a.par("", "The longest way through it, with every correction tried as often as it may be, asks "+plural(prompts, "question")+".")
	rule, _ := engine.RuleFor(p, nil, shop)
	a.par("", "Decision rule: "+rule.String()+".", ruleWords(rule), shopRule(p, shop))
	a.needs(p)
	for i, st := range p.Steps {
		a.step(p, i+1, st)
	}
	for _, c := range p.Corrections {
		a.correction(c)
	}
	if len(p.Signoffs) > 0 {
		a.printf("\nSigned by\n")
		for _, s := range p.Signoffs {
			more := ""
			if s.OtherThan != nil {
				more += ", another person than the " + s.OtherThan.Name
			}
			if s.Concedes {
				more += ", grants or refuses concessions"
			}
			a.item("  ", "-", or(text(s.Title), s.Name)+" ("+s.Name+more+")")
		}
	}
	if len(p.Sources) > 0 {
		a.printf("\nSources\n")
		for _, s := range p.Sources {
			a.item("  ", "-", s)
		}
	}
}

func ruleWords(r checks.Rule) string {
	switch r {
	case checks.Simple:
		return "A value inside its limits passes."
	case checks.Guarded:
		return "A test passes when it conforms with 95 % probability."
	case checks.Strict:
		return "A test passes when it conforms with 97.7 % probability."
	}
	return ""
}

// shopRule says what becomes of the shop's own decision rule in a procedure; it
// is empty where there is none, or both are the same.
func shopRule(p *procedures.Procedure, shop checks.Rule) string {
	own, _ := engine.RuleFor(p, nil, checks.NoRule)
	switch {
	case shop == checks.NoRule || shop == own:
		return ""
	case shop < own:
		return fmt.Sprintf("The shop's own rule, %s, asks for less than the procedure's, %s, and has no effect here.", shop, own)
	}
	pass, _ := checks.Level(shop)
	said := fmt.Sprintf("The shop's own rule counts: %s, a probability of %g. The procedure asks for %s.", shop, pass, own)
	if slices.ContainsFunc(gates(p), func(g *procedures.Gate) bool { return g.Decision != checks.NoRule }) {
		said += " Gates with a rule of their own keep it."
	}
	return said
}

func gates(p *procedures.Procedure) (out []*procedures.Gate) {
	for _, st := range p.Steps {
		for _, it := range st.Items {
			if g, ok := it.(*procedures.Gate); ok {
				out = append(out, g)
			}
		}
	}
	return out
}

// needs prints what has to be at hand.
func (a *app) needs(p *procedures.Procedure) {
	a.printf("\nHave ready\n")
	for _, in := range p.Instruments {
		s := in.Kind
		if in.Resolution > 0 {
			s += ", reading " + quantity.Plain(in.Resolution, in.Unit.Difference())
		}
		if in.HasError {
			s += ", error within " + quantity.Plain(in.Error, in.Unit.Difference())
		}
		if in.Source != "" {
			s += " (" + in.Source + ")"
		}
		a.item("  ", "-", s)
	}
	seen := map[string]bool{}
	for _, st := range p.Steps {
		for _, t := range st.Tools {
			if s := text(t); !seen[s] {
				seen[s] = true
				a.item("  ", "-", s)
			}
		}
	}
	if len(p.Givens) == 0 && len(p.Grades) == 0 {
		return
	}
	a.printf("\nKnow beforehand\n")
	if len(p.Grades) > 0 {
		a.item("  ", "-", "the grade: "+strings.Join(p.Grades, ", "))
	}
	for _, g := range p.Givens {
		for _, s := range append(asks(g.Ask, g.Each), asks(g.Title, g.Each)...) {
			if g.Unit != nil {
				s += ", " + g.Unit.Symbol
			}
			a.item("  ", "-", s)
		}
	}
}

func (a *app) step(p *procedures.Procedure, n int, st *procedures.Step) {
	head := or(strings.Join(asks(st.Title, st.Each), " / "), st.Name)
	if st.Spindle != procedures.AnySpindle {
		head += ". Spindle " + st.Spindle.String()
	}
	a.printf("\n%d  %s\n", n, head)
	if st.HoldPoint != nil {
		a.par("   ", "Hold point: the "+st.HoldPoint.Name+" releases it.")
	}
	if st.When != nil {
		a.par("   ", "Only when "+st.When.Source()+".")
	}
	for _, c := range st.Cautions {
		a.item("   ", "!", text(c.Text))
	}
	for _, d := range st.Do {
		a.item("   ", "-", strings.Join(asks(d, st.Each), " / "))
	}
	for _, it := range st.Items {
		a.itemOf(p, it)
	}
}

func (a *app) itemOf(p *procedures.Procedure, it procedures.Item) {
	switch it := it.(type) {
	case *procedures.Confirm:
		a.item("   ", "?", text(it.Ask))
	case *procedures.Wait:
		s := "Wait: " + text(it.Why)
		if it.AtLeast != nil {
			s += ", at least " + shown(it.AtLeast, nil)
		}
		if it.Until != nil {
			s += ", until " + text(it.Until.Ask) + " agrees twice within " + shown(it.Until.Agree, &it.Until.Unit)
		}
		a.item("   ", "…", s+".")
	case *procedures.Reading:
		for _, s := range asks(it.Ask, slices.Concat(it.Step.Each, it.Each)) {
			a.item("   ", ">", s+reading(it))
		}
	case *procedures.Result:
		a.item("   ", "=", or(text(it.Title), it.Name)+": "+it.Value.Source())
	case *procedures.Gate:
		a.item("   ", "|", or(text(it.Title), it.Name)+": "+limits(it)+". "+capital(or(it.Source, "no source given"))+".")
		if w := ways(it); w != "" {
			a.par("     ", "If not: "+w+".")
		}
	}
}

// reading says in which unit, how often and with what something is read.
func reading(r *procedures.Reading) string {
	s := ""
	if r.Unit != nil {
		s += ", " + r.Unit.Symbol
	}
	if r.Repeat > 1 {
		s += ", " + plural(r.Repeat, "take")
	}
	if r.With != nil {
		s += ", with the " + r.With.Kind
	}
	return s
}

// shown shows what a program gives before the run, or how it is written.
func shown(p *formula.Program, u *quantity.Unit) string {
	if v, ok := p.Static(); ok {
		if p.Type().Kind == value.Number && p.Type().Dim == quantity.Time {
			return hours(v.Num / 60)
		}
		return formula.Show(v, p.Type(), u)
	}
	return p.Source()
}

func limits(g *procedures.Gate) string {
	switch {
	case g.Within != nil:
		return "within " + g.Within.Source()
	case g.AtMost != nil:
		return "at most " + shown(g.AtMost, &g.Unit)
	case g.AtLeast != nil:
		return "at least " + shown(g.AtLeast, &g.Unit)
	case g.Holds != nil:
		return g.Holds.Source()
	}
	return ""
}

func ways(g *procedures.Gate) string {
	var out []string
	for _, w := range g.IfFailed {
		switch w.Kind {
		case procedures.Correct:
			out = append(out, strings.ToLower(or(text(w.Correction.Title), w.Correction.Name)))
		case procedures.Concede:
			out = append(out, "a concession")
		case procedures.Note:
			out = append(out, "noted as found")
		case procedures.Reject:
			out = append(out, "rejected")
		}
	}
	return strings.Join(out, ", or ")
}

func (a *app) correction(c *procedures.Correction) {
	a.printf("\nCorrection: %s\n", or(text(c.Title), c.Name))
	if c.Amount != nil {
		a.item("   ", "=", "how much: "+c.Amount.Source())
		a.item("   ", "=", "plus: "+or(text(c.Positive), "…"))
		if c.Negative == nil {
			a.item("   ", "!", "It cannot be put back.")
		}
	}
	for _, t := range c.Cautions {
		a.item("   ", "!", text(t.Text))
	}
	for _, d := range c.Do {
		a.item("   ", "-", text(d))
	}
	a.par("   ", "At most "+plural(c.Attempts, "time")+".")
}
