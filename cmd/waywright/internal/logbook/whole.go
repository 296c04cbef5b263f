package logbook

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"waywright/engine"
	"waywright/engine/overhaul"
	"waywright/procedures"
	"waywright/report"
)

// Whole makes the record of a machine from those of its accepted runs, and
// says what is missing: what was rejected, was spoilt, is not signed or never
// ended, is out of date, and the tasks of its overhauls that are still to be
// done.
func (b Book) Whole(machine string, now time.Time) (report.Whole, error) {
	all, err := b.Runs()
	if err != nil {
		return report.Whole{}, err
	}
	w := wholeOf{b: b, all: all, told: carried(all)}
	for _, s := range slices.Backward(all) { // the one worked on last comes last
		if s.Run == nil || s.Run.State.Begun().Machine.ID != machine {
			continue
		}
		w.runs = append(w.runs, s)
	}
	if len(w.runs) == 0 {
		return report.Whole{}, fmt.Errorf("the logbook %s has no run of a machine %q", b.Dir, machine)
	}
	plans := w.plans()
	w.h = b.history(engine.Machine{ID: machine}, all, plans...)
	for _, s := range w.runs {
		if err := w.run(s); err != nil {
			return report.Whole{}, err
		}
	}
	for _, p := range plans {
		w.tasks(p.Name, w.h.Look(p, now))
	}
	w.missing = together(w.missing)
	return report.Join(machine, w.issues, w.missing)
}

// wholeOf gathers what a whole is joined from.
type wholeOf struct {
	b       Book
	all     []Summary
	h       *overhaul.History
	runs    []Summary       // of the machine
	told    map[string]bool // runs that a corrected one tells with its own
	issues  []report.RunIssue
	missing []report.Missing
}

const notEnded = "its run is not ended"

func (w *wholeOf) lacks(kind string, s Summary, why string) {
	w.missing = append(w.missing, report.Missing{Kind: kind, What: s.Run.State.Procedure().Title, Why: why, Run: s.Name})
}

// run takes an accepted run, or says what has become of another one.
func (w *wholeOf) run(s Summary) error {
	if w.told[s.Name] {
		return nil // another run tells its lines: the one that corrects it, or that it is to correct
	}
	switch st := s.Run.State; st.Outcome() {
	case engine.Accepted, engine.Conceded, engine.AsFound:
		return w.accepted(s)
	case engine.Discontinued: // nobody goes on with it: nothing is missing by it
	case engine.Rejected:
		if !w.since(s) {
			w.lacks(report.MissRejected, s, "it was rejected, and no run since was accepted")
		}
	default:
		var open []string
		for _, role := range st.Unsigned() {
			open = append(open, strings.ReplaceAll(role.Name, "_", " "))
		}
		switch {
		case len(st.Unsealable()) > 0 || len(open) == 0:
			w.lacks(report.MissOpen, s, notEnded)
		default:
			w.lacks(report.MissUnsigned, s, "all is settled, and not signed by: "+strings.Join(open, ", "))
		}
	}
	return nil
}

// since tells whether a run of the same procedure was accepted after this one.
func (w *wholeOf) since(s Summary) bool {
	return slices.ContainsFunc(w.runs, func(o Summary) bool {
		return o.Run.State.Procedure().Name == s.Run.State.Procedure().Name && o.Run.State.Outcome().Stands() && o.Last.After(s.Last)
	})
}

func (w *wholeOf) accepted(s Summary) error {
	run := *s.Run
	replaced := w.h.Replaced(s.Name)
	links := supersededBy(w.all, s.Run)
	correcting := ""
	for _, l := range links {
		if w.decided(l.Run) {
			replaced = l.Run
			continue
		}
		correcting = l.Run
		w.lacks(report.MissCorrected, s, "its record is being corrected by run "+l.Run+", which is not signed by everybody yet")
	}
	if run.ReplacedBy = links; replaced == "" {
		for _, c := range w.h.Spoilt(s.Name) {
			run.Since = append(run.Since, report.Spoilt{Said: c.Said(), Time: c.At.UTC().Format(time.RFC3339), Run: c.Run})
		}
	}
	i, err := run.Issue()
	if err != nil {
		return err
	}
	w.issues = append(w.issues, report.RunIssue{Run: s.Name, Issue: i, Replaced: replaced, Correcting: correcting})
	return nil
}

// decided tells whether everybody has signed a run.
func (w *wholeOf) decided(name string) bool {
	return slices.ContainsFunc(w.all, func(s Summary) bool { return s.Name == name && s.Run != nil && decided(s.Run.State) })
}

// together puts the runs of one procedure that never ended on one line, that of
// the one worked on last.
func together(list []report.Missing) []report.Missing {
	var out []report.Missing
	names := map[string][]string{}
	for _, m := range slices.Backward(list) {
		if m.Kind == report.MissOpen && m.Why == notEnded {
			if names[m.What] = append(names[m.What], m.Run); len(names[m.What]) > 1 {
				continue
			}
		}
		out = append(out, m)
	}
	slices.Reverse(out)
	for i, m := range out {
		if runs := names[m.What]; m.Kind == report.MissOpen && m.Why == notEnded && len(runs) > 1 {
			out[i].Why = fmt.Sprintf("%d of its runs are not ended: %s", len(runs), strings.Join(runs, ", "))
		}
	}
	return out
}

// plans are those that the runs were begun for, and the shop's own for a
// machine of its class of which some procedure was begun.
func (w *wholeOf) plans() []*procedures.Overhaul {
	var out []*procedures.Overhaul
	add := func(p *procedures.Overhaul) {
		if p != nil && !slices.ContainsFunc(out, func(q *procedures.Overhaul) bool { return q.Name == p.Name }) {
			out = append(out, p)
		}
	}
	class := ""
	for _, s := range w.runs {
		begun := s.Run.State.Begun()
		class = begun.Machine.Class
		if begun.Overhaul != "" {
			add(w.b.plan(begun.Overhaul))
		}
	}
	begun := func(t *procedures.Task) bool {
		return slices.ContainsFunc(w.runs, func(s Summary) bool { return s.Run.State.Procedure().Name == t.Procedure })
	}
	for _, name := range w.b.Own() {
		if p := w.b.plan(name); p != nil && (p.Machine == class || p.Machine == "any") && slices.ContainsFunc(p.Tasks, begun) {
			add(p)
		}
	}
	return out
}

// tasks says which tasks of a plan are still to be done. What was accepted and
// does not hold any more is said with its record, and a run with itself.
func (w *wholeOf) tasks(plan string, v overhaul.View) {
	words := map[overhaul.State]string{overhaul.NotBegun: "it is not begun yet", overhaul.UnderWay: "it is under way", overhaul.Rejected: "it was rejected"}
	kinds := map[overhaul.State]string{overhaul.NotBegun: report.MissNever, overhaul.UnderWay: report.MissOpen, overhaul.Rejected: report.MissRejected}
	for _, t := range v.Tasks {
		m := report.Missing{Kind: kinds[t.State], What: fmt.Sprintf("task %s of %s", t.Name, plan), Why: words[t.State], Run: t.Run}
		if t.State == overhaul.Again && t.Overdue(v.Now) {
			m.Kind, m.Why = report.MissOverdue, fmt.Sprintf("it was due again on %s", t.Due.UTC().Format(time.DateOnly))
		}
		same := func(o report.Missing) bool { return o.Run == m.Run && m.Run != "" && m.Kind != report.MissOverdue }
		if m.Why != "" && !slices.ContainsFunc(w.missing, same) {
			w.missing = append(w.missing, m)
		}
	}
}
