package cli

import (
	"fmt"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"waywright/cmd/waywright/internal/logbook"
	"waywright/cmd/waywright/internal/voice"
	"waywright/engine"
	"waywright/engine/overhaul"
	"waywright/procedures/diagnose"
	"waywright/report"
)

func (a *app) logbookCommand() *cobra.Command {
	var asJSON, all bool
	c := &cobra.Command{
		Use:   "logbook",
		Short: "The runs of the logbook, their state, what each waits for",
		Long: `List the runs of the logbook, the one worked on last first: what became of each,
what it waits for, what has spoilt it since. Runs that were abandoned are left out;
--all shows them too.`,
		Example: `  waywright logbook
  waywright logbook --all
  waywright logbook --json`,
		Args: takes(0, 0, "nothing"),
		RunE: func(*cobra.Command, []string) error { return a.runs(asJSON, all) },
	}
	c.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	c.Flags().BoolVar(&all, "all", false, "runs that were abandoned, too")
	return c
}

// summary is a run in the list.
type summary struct {
	Run       string `json:"run"`
	Procedure string `json:"procedure,omitempty"`
	Machine   string `json:"machine,omitempty"`
	Outcome   string `json:"outcome,omitempty"` // accepted, conceded, as_found, rejected, not_decided
	Waits     string `json:"waits_for,omitempty"`
	Ask       string `json:"ask,omitempty"`
	Last      string `json:"last,omitempty"` // of its last event
	By        string `json:"operator,omitempty"`
	Task      string `json:"task,omitempty"`    // of an overhaul that it was begun for
	Trouble   string `json:"trouble,omitempty"` // why it cannot be read

	Spoilt   []causeJSON `json:"spoilt,omitempty"`      // what has spoilt it since it was read
	Replaced string      `json:"replaced_by,omitempty"` // a newer accepted run

	Unsignable []string `json:"unsignable,omitempty"` // why it cannot be signed, as it stands
	Abandoned  string   `json:"abandoned,omitempty"`  // why nobody goes on with it

	Supersedes   string `json:"supersedes,omitempty"`    // the run whose signed record this one corrects
	SupersededBy string `json:"superseded_by,omitempty"` // the run that corrects this one's
}

func (a *app) runs(asJSON, all bool) error {
	b := a.book()
	list, err := b.Runs()
	if err != nil {
		return cannot("%w", err)
	}
	out := []summary{}
	since := b.Histories(list)
	a.brokenPlans(b)
	hidden := 0
	for _, s := range list {
		if !all && s.Run != nil && s.Run.State.Abandoned() != nil {
			hidden++
			continue
		}
		out = append(out, a.summary(s, since))
	}
	chain(out)
	if asJSON {
		return a.json(struct {
			Runs []summary `json:"runs"`
		}{out})
	}
	defer func() {
		if hidden > 0 {
			a.printf("%s", fill(fmt.Sprintf("%s not shown: waywright logbook --all", abandonedRuns(hidden)), "", page))
		}
	}()
	if len(out) == 0 && hidden > 0 {
		return nil
	}
	if len(out) == 0 {
		a.printf("No runs in %s yet. Begin one: waywright run PROCEDURE\n", b.Dir)
		return nil
	}
	for _, s := range out {
		a.printf("%s\n", s.Run)
		if s.Trouble != "" {
			a.printf("  cannot be read: %s\n", diagnose.Plain(s.Trouble))
			continue
		}
		a.printf("  %s\n", outcome(engine.Outcome(s.Outcome)))
		if s.Abandoned != "" {
			a.printf("%s", fill("because "+diagnose.Plain(s.Abandoned), "  ", page))
		}
		if s.Supersedes != "" {
			a.printf("%s", fill("corrects "+s.Supersedes, "  ", page))
		}
		if s.SupersededBy != "" {
			a.printf("%s", fill("corrected by "+s.SupersededBy, "  ", page))
		} else if s.Replaced != "" {
			a.printf("%s", fill("replaced by "+s.Replaced, "  ", page))
		}
		for i, c := range s.telling() {
			if s.Replaced != "" || i == fewCauses {
				break // the newer run counts; the plan has them all
			}
			a.printf("%s", fill(diagnose.Plain(s.against(c)), "  ", page))
		}
		if n := len(s.Unsignable); n > 0 {
			said := "CANNOT BE SIGNED: " + s.Unsignable[0]
			if n > 1 {
				said += fmt.Sprintf("; and %d more", n-1)
			}
			a.printf("%s", fill(diagnose.Plain(said), "  ", page))
		}
		if s.Waits != "" {
			a.printf("%s", fill("waits for "+s.Waits+": "+diagnose.Plain(s.Ask), "  ", page))
		}
		a.printf("  last worked on %s by %s\n", minute(s.Last), diagnose.Plain(byWhom(s.By)))
	}
	return nil
}

func abandonedRuns(n int) string {
	if n == 1 {
		return "1 abandoned run is"
	}
	return fmt.Sprintf("%d abandoned runs are", n)
}

// minute is a time of a journal as it is read.
func minute(stamp string) string {
	t, err := time.Parse(time.RFC3339, stamp)
	if err != nil {
		return stamp
	}
	return t.UTC().Format("2006-01-02 15:04 UTC")
}

// chain says of the runs that were corrected by which.
func chain(list []summary) {
	for _, s := range list {
		for i := range list {
			if s.Supersedes != "" && list[i].Run == s.Supersedes {
				list[i].SupersededBy = s.Run
			}
		}
	}
}

// brokenPlans tells of plans that do not count because of their mistakes.
func (a *app) brokenPlans(b logbook.Book) {
	for _, name := range b.BrokenPlans() {
		a.note("The plan %s has mistakes, so what it says of the order does not count. See: waywright proofread %s", name, name)
	}
}

// fewCauses is how many of the causes that spoilt a run are listed with it.
const fewCauses = 2

// telling are the causes that matter: of what is history only that it is.
func (s summary) telling() []causeJSON {
	round := func(c causeJSON) bool { return c.Kind == string(overhaul.NewRound) }
	if i := slices.IndexFunc(s.Spoilt, round); i >= 0 {
		return s.Spoilt[i : i+1]
	}
	return s.Spoilt
}

// against says what became of a run by a cause.
func (s summary) against(c causeJSON) string {
	switch {
	case s.Outcome == string(engine.NotDecided):
		return notNow(overhaul.Kind(c.Kind), c.Said)
	case c.Kind == string(overhaul.NewRound):
		return "HISTORY: " + c.Said
	}
	return "SPOILT since: " + c.Said
}

func (a *app) summary(s logbook.Summary, since map[string]*overhaul.History) summary {
	out := summary{Run: s.Name}
	if s.Err != nil {
		out.Trouble = s.Err.Error()
		return out
	}
	st := s.Run.State
	out.Procedure, out.Machine = st.Begun().Procedure, st.Begun().Machine.ID
	out.Task = st.Begun().Task
	if h := since[out.Machine]; h != nil && st.Outcome() != engine.Rejected {
		out.Spoilt, out.Replaced = causes(h.Spoilt(s.Name)), h.Replaced(s.Name)
	}
	out.Outcome, out.By = string(st.Outcome()), st.Operator()
	if x := st.Supersedes(); x != nil {
		out.Supersedes = or(x.Run, x.Number)
	}
	if x := st.Abandoned(); x != nil {
		out.Abandoned = x.Reason
	} else if st.Outcome() == engine.NotDecided {
		out.Unsignable = st.Obstacles()
	}
	out.Last = s.Last.UTC().Format(time.RFC3339)
	if q := seated(st, a.Now()); q.Kind != engine.End {
		out.Waits, out.Ask = q.Name, waitsFor(q)
	}
	return out
}

// waitsFor says what a run waits for: of a gate, what it came to.
func waitsFor(q engine.Question) string {
	switch {
	case q.Kind == engine.AskWay && q.Gate != nil:
		return report.VerdictWord(q.Gate.Verdict) + ", " + voice.You(q.Gate.Title) + ". What now?"
	case q.Kind == engine.AskMove && q.Move != nil && !q.Move.Nudge:
		return "it did not move as asked. " + voice.Sentence(q.Ask)
	case q.Kind == engine.AskWait && q.Why != "":
		return "a wait, " + voice.Sentence(voice.You(q.Why))
	}
	return voice.Sentence(q.Ask)
}

// seated returns what a run asks once somebody sits down at it.
func seated(s *engine.State, now time.Time) engine.Question {
	q := s.Next(now)
	if q.Kind != engine.AskOperator {
		return q
	}
	after, err := s.With(engine.Event{N: s.Len() + 1, Time: now, Data: engine.Sat{Operator: s.Operator()}})
	if err != nil {
		return q
	}
	return after.Next(now)
}

// byWhom names the operator of a run.
func byWhom(operator string) string {
	switch operator {
	case "":
		return "nobody yet"
	case engine.NotNamed: // an answers file may leave the name out
		return "somebody not named"
	}
	return operator
}

// outcome says what has become of a run.
func outcome(o engine.Outcome) string {
	switch o {
	case engine.Accepted:
		return "ACCEPTED"
	case engine.Conceded:
		return "ACCEPTED with concessions"
	case engine.AsFound:
		return "RECORDED AS FOUND"
	case engine.Rejected:
		return "REJECTED"
	case engine.Discontinued:
		return "ABANDONED"
	}
	return "not decided"
}

func or(s, other string) string {
	if s == "" {
		return other
	}
	return s
}
