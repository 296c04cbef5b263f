package logbook

import (
	"fmt"
	"io/fs"
	"slices"

	"waywright/engine"
	"waywright/engine/overhaul"
	"waywright/procedures"
	"waywright/procedures/hclfile"
	"waywright/procedures/library"
	"waywright/procedures/proofread"
)

// NotNamed stands for the machine in a run that was begun without one. Two such
// runs need not be of one machine, so neither spoils the other or gives it
// values.
const NotNamed = "not-named"

// Plans returns the names of the plans at hand: the shop's own, then the
// library's.
func (b Book) Plans() []string {
	var out []string
	for _, name := range b.Procedures() {
		if _, ok := b.planSource(name); ok {
			out = append(out, name)
		}
	}
	return out
}

func (b Book) planSource(name string) (hclfile.Source, bool) {
	src, err := b.Find(name)
	if err != nil {
		return src, false
	}
	text, err := fs.ReadFile(src.FS, src.Path)
	return src, err == nil && library.IsPlan(text)
}

// plan reads a plan without telling its mistakes; nil where it has any.
func (b Book) plan(name string) *procedures.Overhaul {
	src, ok := b.planSource(name)
	if !ok {
		return nil
	}
	src.Brief = true
	r := proofread.File(src)
	if r.Diagnostics.HasErrors() {
		return nil
	}
	return r.Overhaul
}

// BrokenPlans returns the names of the shop's own plans that have mistakes.
// What they say of the order does not count.
func (b Book) BrokenPlans() []string {
	var out []string
	for _, name := range b.Own() {
		if _, ok := b.planSource(name); ok && b.plan(name) == nil {
			out = append(out, name)
		}
	}
	return out
}

// History reads what the runs of a machine did to one another. What comes
// after what is said by the shop's own plans for its class, by those that its
// runs were begun for, and by those given.
func (b Book) History(m engine.Machine, given ...*procedures.Overhaul) (*overhaul.History, error) {
	runs, err := b.Runs()
	if err != nil {
		return nil, err
	}
	return b.history(m, runs, given...), nil
}

func (b Book) history(m engine.Machine, all []Summary, given ...*procedures.Overhaul) *overhaul.History {
	var runs []overhaul.Run
	var named []string
	told := carried(all)
	for _, s := range all {
		if told[s.Name] || s.Run == nil || s.Run.State.Begun().Machine.ID != m.ID || m.ID == NotNamed {
			continue
		}
		begun := s.Run.State.Begun()
		if m.Class == "" {
			m.Class = begun.Machine.Class
		}
		if begun.Overhaul != "" && !slices.Contains(named, begun.Overhaul) {
			named = append(named, begun.Overhaul)
		}
		runs = append(runs, overhaul.Run{Name: s.Name, State: s.Run.State})
	}
	plans := given
	add := func(p *procedures.Overhaul) {
		same := func(q *procedures.Overhaul) bool { return q.Name == p.Name }
		if p != nil && !slices.ContainsFunc(plans, same) {
			plans = append(plans, p)
		}
	}
	for _, name := range b.Own() {
		if p := b.plan(name); p != nil && (p.Machine == m.Class || p.Machine == "any" || m.Class == "") {
			add(p)
		}
	}
	for _, name := range named {
		add(b.plan(name))
	}
	return overhaul.Read(m, runs, plans...)
}

// Histories reads them for the machines of several runs at once, by the id of
// the machine.
func (b Book) Histories(all []Summary) map[string]*overhaul.History {
	out := map[string]*overhaul.History{}
	for _, s := range all {
		if s.Run == nil {
			continue
		}
		if m := s.Run.State.Begun().Machine; out[m.ID] == nil {
			out[m.ID] = b.history(m, all)
		}
	}
	return out
}

// Spoilt returns what has spoilt an accepted run since, in sentences, and
// which run has taken its place.
func (b Book) Spoilt(r *Run) (spoilt []overhaul.Cause, replaced string, err error) {
	if !r.State.Outcome().Stands() {
		return nil, "", nil
	}
	h, err := b.History(r.State.Begun().Machine)
	if err != nil {
		return nil, "", fmt.Errorf("run %s: what was done since: %w", r.Name, err)
	}
	return h.Spoilt(r.Name), h.Replaced(r.Name), nil
}
