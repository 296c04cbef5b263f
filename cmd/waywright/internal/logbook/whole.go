package logbook

import (
	"fmt"
	"slices"
	"time"

	"waywright/engine"
	"waywright/engine/overhaul"
	"waywright/report"
)

// Whole makes the record of a machine from those of its accepted runs that
// still count, of each procedure the newest, and says what is missing: what
// was rejected or never ended, and the tasks of its overhauls that are still to
// be done.
func (b Book) Whole(machine string, now time.Time) (report.Whole, error) {
	all, err := b.Runs()
	if err != nil {
		return report.Whole{}, err
	}
	w := wholeOf{all: all, h: b.history(engine.Machine{ID: machine}, all), done: map[string]bool{}}
	var plans []string
	for _, s := range all {
		if s.Run == nil || s.Run.State.Begun().Machine.ID != machine {
			continue
		}
		if err := w.procedure(b, s); err != nil {
			return report.Whole{}, err
		}
		if p := s.Run.State.Begun().Overhaul; p != "" && !slices.Contains(plans, p) {
			plans = append(plans, p)
		}
	}
	if len(w.done) == 0 {
		return report.Whole{}, fmt.Errorf("the logbook %s has no run of a machine %q", b.Dir, machine)
	}
	for _, name := range plans {
		if p := b.plan(name); p != nil {
			w.tasks(name, w.h.Look(p, now))
		}
	}
	return report.Join(machine, w.issues, w.missing)
}

// wholeOf gathers what a whole is joined from.
type wholeOf struct {
	all     []Summary
	h       *overhaul.History
	done    map[string]bool // procedures that were looked at
	issues  []report.RunIssue
	missing []report.Missing
}

// procedure takes the newest accepted run of the procedure of a run, or says
// that there is none.
func (w *wholeOf) procedure(b Book, s Summary) error {
	p := s.Run.State.Procedure()
	if w.done[p.Name] {
		return nil
	}
	w.done[p.Name] = true
	newest, _, spoilt, ok := w.h.Newest(p.Name)
	if !ok {
		why := "its run is not ended"
		if s.Run.State.Outcome() == engine.Rejected {
			why = "it was rejected"
		}
		w.missing = append(w.missing, report.Missing{What: p.Title, Why: why, Run: s.Name})
		return nil
	}
	for _, x := range w.all {
		if x.Name != newest.Name {
			continue
		}
		run := *x.Run
		for _, c := range spoilt {
			run.Since = append(run.Since, report.Spoilt{Said: c.Said(), Time: c.At.UTC().Format(time.RFC3339), Run: c.Run})
		}
		var err error
		if run.ReplacedBy, err = b.SupersededBy(x.Run); err != nil {
			return err
		}
		i, err := run.Issue()
		if err != nil {
			return err
		}
		w.issues = append(w.issues, report.RunIssue{Run: x.Name, Issue: i})
		for _, l := range run.ReplacedBy {
			w.missing = append(w.missing, report.Missing{What: p.Title, Why: "its record is corrected by another one, which is not ended", Run: l.Run})
		}
	}
	return nil
}

// tasks says which tasks of a plan are still to be done. What was accepted and
// does not hold any more is said with its record.
func (w *wholeOf) tasks(plan string, v overhaul.View) {
	words := map[overhaul.State]string{overhaul.NotBegun: "it is not begun yet", overhaul.UnderWay: "it is under way", overhaul.Rejected: "it was rejected"}
	for _, t := range v.Tasks {
		if why := words[t.State]; why != "" {
			w.missing = append(w.missing, report.Missing{What: fmt.Sprintf("task %s of %s", t.Name, plan), Why: why, Run: t.Run})
		}
	}
}
