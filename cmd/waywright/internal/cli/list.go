package cli

import (
	"cmp"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"waywright/cmd/waywright/internal/logbook"
	"waywright/procedures"
	"waywright/procedures/diagnose"
	"waywright/procedures/proofread"
)

func (a *app) listCommand() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "list",
		Short: "The procedures at hand, by machine, with length and what is measured",
		Example: `  waywright list
  waywright list --json`,
		Args: takes(0, 0, "nothing"),
		RunE: func(*cobra.Command, []string) error { return a.list(asJSON) },
	}
	c.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	return c
}

// listed is a procedure in the list.
type listed struct {
	Name      string   `json:"name"`
	Title     string   `json:"title,omitempty"`
	Machine   string   `json:"machine,omitempty"`
	Revision  string   `json:"revision,omitempty"`
	Own       bool     `json:"own"` // of the logbook, not of the library
	Plan      bool     `json:"plan,omitempty"`
	Minutes   float64  `json:"minutes,omitempty"` // estimate
	Questions int      `json:"questions_at_most,omitempty"`
	Measures  []string `json:"measures,omitempty"`
	Errors    int      `json:"errors,omitempty"`
}

func (a *app) list(asJSON bool) error {
	b := a.book()
	own := b.Own()
	out := []listed{}
	for _, l := range lookAll(b, own) {
		if l != nil {
			out = append(out, *l)
		}
	}
	slices.SortStableFunc(out, func(x, y listed) int { return cmp.Or(cmp.Compare(x.Machine, y.Machine), cmp.Compare(x.Name, y.Name)) })
	if asJSON {
		return a.json(struct {
			Procedures []listed `json:"procedures"`
		}{out})
	}
	machine := "?"
	for _, l := range out {
		if l.Machine != machine {
			machine = l.Machine
			a.printf("%s\n", heading(machine))
		}
		a.printf("  %s%s\n", l.Name, mark(l.Own))
		if l.Errors > 0 {
			a.printf("    %s. See: waywright proofread %s\n", plural(l.Errors, "error"), l.Name)
			continue
		}
		a.printf("%s", fill(diagnose.Plain(l.Title), "    ", page))
		if len(l.Measures) > 0 {
			a.printf("%s", hanging("    Measures: ", diagnose.Plain(strings.Join(l.Measures, "; ")), page))
		}
		a.printf("    %s\n", length(l))
	}
	return nil
}

// heading is the line above the procedures for a class of machine.
func heading(class string) string {
	if suits(class, "") {
		return "Any machine"
	}
	return capital(class)
}

func mark(own bool) string {
	if own {
		return "  (own)"
	}
	return ""
}

// lookAll reads all procedures, several at a time; nil stands for one that is not
// there.
func lookAll(b logbook.Book, own []string) []*listed {
	names := b.Procedures()
	out := make([]*listed, len(names))
	var next atomic.Int64
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(names); i = int(next.Add(1)) - 1 {
				if l, ok := look(b, names[i], slices.Contains(own, names[i])); ok {
					out[i] = &l
				}
			}
		})
	}
	wg.Wait()
	return out
}

// look reads a procedure for the list.
func look(b logbook.Book, name string, own bool) (listed, bool) {
	src, err := b.Find(name)
	if err != nil {
		return listed{}, false
	}
	src.Brief = !own // what ships has no errors
	r := proofread.File(src)
	l := listed{Name: name, Own: own, Questions: r.Prompts, Errors: len(errorsOf(r))}
	switch {
	case r.Overhaul != nil:
		l.Title, l.Machine, l.Revision, l.Plan = r.Overhaul.Title, r.Overhaul.Machine, r.Overhaul.Revision, true
	case r.Procedure != nil:
		p := r.Procedure
		l.Title, l.Machine, l.Revision = p.Title, p.Machine, p.Revision
		l.Measures, l.Minutes = measures(p), minutes(p)
	}
	return l, true
}

// measures returns the titles of the gates.
func measures(p *procedures.Procedure) []string {
	var out []string
	for _, st := range p.Steps {
		for _, it := range st.Items {
			if g, ok := it.(*procedures.Gate); ok && g.Of != nil {
				out = append(out, text(g.Title))
			}
		}
	}
	return out
}

// fewQuestions is how many questions are worth a number. The longest path through
// a procedure that measures again and again is no length that anybody meets.
const fewQuestions = 200

// length says how long a procedure is.
func length(l listed) string {
	most := ""
	if l.Questions <= fewQuestions {
		most = "at most " + plural(l.Questions, "question")
	}
	switch {
	case l.Plan:
		return "A plan of several procedures."
	case l.Minutes > 0 && most != "":
		return "About " + hours(l.Minutes) + ", " + most
	case l.Minutes > 0:
		return "About " + hours(l.Minutes)
	case most != "":
		return capital(most)
	}
	return "As many rounds as the machine wants"
}

// hanging breaks a text behind its label, with what does not fit below the text.
func hanging(label, text string, width int) string {
	rest := fill(text, strings.Repeat(" ", utf8.RuneCountInString(label)), width)
	return label + strings.TrimLeft(rest, " ")
}
