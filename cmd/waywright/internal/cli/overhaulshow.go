package cli

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"waywright/engine"
	"waywright/engine/overhaul"
	"waywright/procedures"
	"waywright/procedures/diagnose"
)

// overview is a plan as it stands, to be shown.
type overview struct {
	*planned
	view overhaul.View
	anew *engine.Anew // it is about to be begun anew
}

// narrow is how wide a plan is shown: a small screen at the machine.
const narrow = 60 // columns

// standing says in a word or two how a task stands.
func standing(t overhaul.Task) string {
	switch t.State {
	case overhaul.Accepted:
		return "accepted"
	case overhaul.UnderWay:
		return "under way"
	case overhaul.Again:
		return "do again"
	case overhaul.Rejected:
		return "rejected"
	case overhaul.Settled:
		return "not needed"
	}
	if t.Held() {
		return "waits"
	}
	return "next"
}

// text shows the plan on a screen.
func (s overview) text() string {
	var b strings.Builder
	line := func(indent, text string) { b.WriteString(fill(diagnose.Plain(text), indent, narrow)) }
	line("", s.plan.Title)
	line("", fmt.Sprintf("%s on %s, %s", s.plan.Name, s.view.Machine, s.view.Now.UTC().Format(time.DateOnly)))
	if said := s.round(); said != "" {
		line("", said)
	}
	b.WriteString("\n")
	line("", s.progress())
	b.WriteString("\nIN ORDER\n")
	depth := s.depths()
	for i, t := range s.view.Tasks {
		after := ""
		if len(t.After) > 0 {
			after = ", after " + taskNames(t.After)
		}
		if t.State == overhaul.Accepted && t.Conceded {
			after += ", with concessions"
		}
		indent := strings.Repeat(" ", 2*min(depth[t.Task], 8))
		text := fill(diagnose.Plain(t.Name+after), strings.Repeat(" ", 16)+indent, narrow)
		fmt.Fprintf(&b, "%2d  %-10s  %s", i+1, standing(t), indent+strings.TrimLeft(text, " "))
	}
	for _, part := range []struct {
		head string
		is   func(t overhaul.Task) bool
	}{
		{"GO ON", func(t overhaul.Task) bool { return t.State == overhaul.UnderWay }},
		{"DO AGAIN", func(t overhaul.Task) bool { return t.State == overhaul.Again || t.State == overhaul.Rejected }},
		{"NEXT", func(t overhaul.Task) bool { return t.State == overhaul.NotBegun && !t.Held() }},
		{"WAITING", func(t overhaul.Task) bool { return t.State == overhaul.NotBegun && t.Held() }},
		{"MEASURED AGAIN, AND STANDS", func(t overhaul.Task) bool { return t.State == overhaul.Accepted && len(t.Stands) > 0 }},
		{"NOT NEEDED", func(t overhaul.Task) bool { return t.State == overhaul.Settled }},
	} {
		headed := false
		for i, t := range s.view.Tasks {
			if !part.is(t) {
				continue
			}
			if !headed {
				b.WriteString("\n" + part.head + "\n")
				headed = true
			}
			whys := s.whys(t)
			text := t.Name + ": " + s.title(t)
			if part.head == "WAITING" { // what it is will be of interest later
				text, whys = t.Name+": "+strings.Join(whys, "; ")+".", nil
			}
			fmt.Fprintf(&b, "%2d  %s", i+1, strings.TrimLeft(fill(diagnose.Plain(text), "    ", narrow), " "))
			for _, why := range whys {
				line("    ", capital(why)+".")
			}
		}
	}
	s.before(line)
	if s.view.Done() {
		b.WriteString("\n")
		line("", fmt.Sprintf("If the machine comes back worn, all of it is gone through once more with: waywright overhaul %s --machine %s --anew --because \"…\"", s.plan.Name, s.view.Machine))
	}
	return b.String()
}

// round says which round it is, where it is not the first.
func (s overview) round() string {
	r := s.view.Round
	switch because := strings.TrimRight(r.Because, "."); {
	case r.N == 1:
		return ""
	case s.anew != nil:
		return fmt.Sprintf("Round %d, to be begun anew, from %s: %s.", r.N, day(r.Since), because)
	default:
		return fmt.Sprintf("Round %d, begun anew %s: %s.", r.N, day(r.Since), because)
	}
}

// before tells what the tasks came to in the rounds before: of each the newest
// run.
func (s overview) before(line func(indent, text string)) {
	headed := false
	for _, t := range s.view.Tasks {
		if len(t.Before) == 0 {
			continue
		}
		if !headed {
			line("", "")
			line("", "BEFORE THIS ROUND")
			headed = true
		}
		x := t.Before[len(t.Before)-1]
		became := map[engine.Outcome]string{engine.Accepted: "accepted", engine.Conceded: "accepted with concessions", engine.AsFound: "recorded as found", engine.Rejected: "rejected", engine.Discontinued: "abandoned"}[x.Outcome]
		if became == "" {
			became = "left open, begun"
		}
		line("    ", fmt.Sprintf("%s: %s %s, run %s", t.Name, became, day(x.At), x.Run))
	}
}

func day(at time.Time) string { return at.UTC().Format(time.DateOnly) }

// notNow says, in a sentence without its point, why what a run has does not hold
// any more.
func notNow(kind overhaul.Kind, said string) string {
	switch kind {
	case overhaul.NewRound:
		return "this run is of the round before: " + said
	case overhaul.Taken, overhaul.Replaced, overhaul.Renewed:
		return "what it took over does not hold any more: " + said
	}
	return "what was read before does not hold any more: " + said
}

// title is the title of a task's procedure.
func (s overview) title(t overhaul.Task) string {
	if title := s.titles[t.Procedure]; title != "" {
		return title
	}
	return t.Procedure + ", which is not at hand"
}

// whys says, in sentences without their points, why a task stands as it does.
func (s overview) whys(t overhaul.Task) []string {
	var out []string
	switch t.State {
	case overhaul.UnderWay:
		out = append(out, "run "+t.Run)
		for _, c := range plainly(t.Spoilt) {
			out = append(out, notNow(c.Kind, c.Said()))
		}
		over := func(c overhaul.Cause) bool {
			return c.Kind == overhaul.Taken || c.Kind == overhaul.Replaced || c.Kind == overhaul.Renewed
		}
		switch read := func(c overhaul.Cause) bool { return !over(c) }; {
		case slices.ContainsFunc(t.Spoilt, read):
			out = append(out, "read it afresh before it is signed, or it will not count")
		case len(t.Spoilt) > 0:
			out = append(out, "amend that answer with the word offered, when there is a new value, or it will not count")
		}
	case overhaul.Rejected:
		out = append(out, "rejected, run "+t.Run)
	case overhaul.Again:
		out = append(out, fmt.Sprintf("accepted %s, run %s", day(t.At), t.Run))
		for _, c := range plainly(t.Spoilt) {
			out = append(out, "spoilt since: "+c.Said())
		}
		if t.Overdue(s.view.Now) {
			out = append(out, "it was good until "+day(t.Due))
		}
	case overhaul.Accepted:
		for _, x := range t.Stands {
			out = append(out, x.Said())
		}
	case overhaul.Settled:
		return append(out, s.whyNot(t))
	}
	switch before := taskNames(t.Waits); {
	case before == "":
	case t.State == overhaul.UnderWay:
		out = append(out, "still to be done before it: "+before)
		if t.Because != "" {
			out = append(out, "it was begun all the same, because: "+strings.TrimRight(t.Because, "."))
		}
	default:
		out = append(out, "waits for "+before)
	}
	if !t.From.IsZero() {
		out = append(out, "not before "+day(t.From))
	}
	if len(t.Waits) == 0 {
		for _, u := range t.Unknown {
			out = append(out, "whether it is needed is not known: "+u)
		}
	}
	return out
}

// plainly leaves out that a value was taken from a run that was spoilt, where
// what spoilt that run spoilt this one by itself.
func plainly(list []overhaul.Cause) (out []overhaul.Cause) {
	for _, c := range list {
		root := c
		for root.Because != nil {
			root = *root.Because
		}
		known := func(o overhaul.Cause) bool {
			return o.Because == nil && o.Run == root.Run && o.Correction == root.Correction && o.Correction != ""
		}
		if c.Because == nil || !slices.ContainsFunc(list, known) {
			out = append(out, c)
		}
	}
	return out
}

// progress says how far the overhaul has come.
func (s overview) progress() string {
	of := len(s.view.Tasks) - s.view.Count(overhaul.Settled)
	var rest []string
	for _, x := range []struct {
		n    int
		word string
	}{
		{s.view.Count(overhaul.Again), "to be done again"}, {s.view.Count(overhaul.Rejected), "rejected"},
		{s.view.Count(overhaul.UnderWay), "under way"}, {s.view.Count(overhaul.Settled), "not needed"},
	} {
		if x.n > 0 {
			rest = append(rest, fmt.Sprintf("%d %s", x.n, x.word))
		}
	}
	said := fmt.Sprintf("%d of %d accepted", s.view.Count(overhaul.Accepted), of)
	if s.view.Done() {
		said = fmt.Sprintf("All %d accepted", of)
	}
	return strings.Join(append([]string{said}, rest...), ", ") + "."
}

// depths says how many tasks stand before each on the longest way to it.
func (s overview) depths() map[*procedures.Task]int {
	out := map[*procedures.Task]int{}
	for _, t := range s.view.Tasks { // those before it come first
		for _, a := range t.After {
			out[t.Task] = max(out[t.Task], out[a]+1)
		}
	}
	return out
}

// The plan as JSON.
type (
	planJSON struct {
		Plan     string     `json:"plan"`
		Title    string     `json:"title"`
		Revision string     `json:"revision,omitempty"`
		Machine  string     `json:"machine"`
		Round    roundJSON  `json:"round"`
		Progress string     `json:"progress"`
		Done     bool       `json:"done"`
		Tasks    []taskJSON `json:"tasks"`
	}
	roundJSON struct {
		Number  int    `json:"number"`
		Since   string `json:"since,omitempty"`
		Because string `json:"because,omitempty"`
		Run     string `json:"begun_with,omitempty"` // missing: it is about to be begun
	}
	pastJSON struct {
		Run     string `json:"run"`
		Outcome string `json:"outcome"`
		At      string `json:"at"` // when it was decided; not decided: when it was begun
	}
	taskJSON struct {
		Task      string      `json:"task"`
		Procedure string      `json:"procedure"`
		Title     string      `json:"title,omitempty"`
		State     string      `json:"state"` // not_begun, under_way, accepted, again, rejected, settled
		Ready     bool        `json:"ready"` // it can be begun, or gone on with
		Run       string      `json:"run,omitempty"`
		Accepted  string      `json:"accepted_run,omitempty"`
		At        string      `json:"accepted,omitempty"`
		Conceded  bool        `json:"conceded,omitempty"`
		Due       string      `json:"due,omitempty"`
		Overdue   bool        `json:"overdue,omitempty"`
		After     []string    `json:"after,omitempty"`
		Waits     []string    `json:"waits_for,omitempty"`
		From      string      `json:"not_before,omitempty"`
		Unknown   []string    `json:"unknown,omitempty"`
		Spoilt    []causeJSON `json:"spoilt,omitempty"`
		Stands    []standJSON `json:"stands,omitempty"` // on what was measured again since
		Why       []string    `json:"why,omitempty"`    // in sentences
		Before    []pastJSON  `json:"before,omitempty"` // in the rounds before
	}
	causeJSON struct {
		Kind       string `json:"kind"` // named, before, anew, taken, replaced, renewed, round
		At         string `json:"at"`
		Run        string `json:"run"`
		Correction string `json:"correction,omitempty"`
		Task       string `json:"task,omitempty"`
		Value      string `json:"value,omitempty"`
		By         string `json:"replaced_by,omitempty"`
		Said       string `json:"said"`
	}
	standJSON struct {
		At     string `json:"at"`
		Run    string `json:"run"` // that the value was taken from
		Value  string `json:"value"`
		By     string `json:"replaced_by"`
		Change string `json:"change,omitempty"` // missing: it is the same
		Real   bool   `json:"real,omitempty"`   // more than the doubt; every test comes out as before
		Said   string `json:"said"`
	}
)

func (s overview) json() planJSON {
	out := planJSON{Plan: s.plan.Name, Title: s.plan.Title, Revision: s.plan.Revision, Machine: s.view.Machine,
		Round:    roundJSON{s.view.Round.N, instant(s.view.Round.Since), s.view.Round.Because, s.view.Round.Run},
		Progress: s.progress(), Done: s.view.Done(), Tasks: []taskJSON{}}
	for _, t := range s.view.Tasks {
		j := taskJSON{
			Task: t.Name, Procedure: t.Procedure, Title: s.titles[t.Procedure], State: string(t.State), Ready: t.Ready(),
			Run: t.Run, Accepted: t.Accepted, At: instant(t.At), Conceded: t.Conceded, Due: instant(t.Due), Overdue: t.Overdue(s.view.Now),
			From: instant(t.From), Unknown: t.Unknown, Spoilt: causes(t.Spoilt), Stands: standings(t.Stands), Why: s.whys(t),
		}
		for _, x := range t.After {
			j.After = append(j.After, x.Name)
		}
		for _, x := range t.Waits {
			j.Waits = append(j.Waits, x.Name)
		}
		for _, x := range t.Before {
			j.Before = append(j.Before, pastJSON{x.Run, string(x.Outcome), instant(x.At)})
		}
		out.Tasks = append(out.Tasks, j)
	}
	return out
}

func causes(list []overhaul.Cause) []causeJSON {
	var out []causeJSON
	for _, c := range list {
		out = append(out, causeJSON{string(c.Kind), instant(c.At), c.Run, c.Correction, c.Task, c.Value, c.By, c.Said()})
	}
	return out
}

func standings(list []overhaul.Standing) []standJSON {
	var out []standJSON
	for _, x := range list {
		out = append(out, standJSON{instant(x.At), x.Run, x.Value, x.By, x.Change, x.Real, x.Said()})
	}
	return out
}

func instant(at time.Time) string {
	if at.IsZero() {
		return ""
	}
	return at.UTC().Format(time.RFC3339)
}
