package overhaul

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"waywright/engine"
	"waywright/procedures"
)

// Kind says how a run was spoilt.
type Kind string

// The ways in which a run is spoilt (semantics rule 46).
const (
	Named    Kind = "named"    // a correction says that it disturbs runs of this procedure
	Before   Kind = "before"   // a correction of a task that this one comes after
	Anew     Kind = "anew"     // a correction of a later run of the same task
	Taken    Kind = "taken"    // a run that it took a value from was spoilt
	Replaced Kind = "replaced" // a run that it took a value from was replaced
	Renewed  Kind = "renewed"  // a run that it took a value from stands, but comes to another value now
	NewRound Kind = "round"    // its plan was begun anew
)

// Cause is what spoilt a run, and when.
type Cause struct {
	Kind       Kind
	At         time.Time
	Run        string // in which it happened; with Taken, Replaced and Renewed the run that the value is from
	Correction string // its name
	Title      string // of the correction
	Task       string // with Before, the earlier task
	Value      string // with Taken, Replaced and Renewed: "lathe-level-twist.twist"
	By         string // with Replaced and Renewed, the run that took the place
	Change     string // with Replaced and Renewed: "12 µm/m less, give or take 4 µm/m"; "" where that cannot be told
	Because    *Cause // with Taken, what spoilt that run
	Plan       string // with NewRound, what was begun anew with the run
	Why        string // with NewRound
}

// Origin returns the run that is at the bottom of it: the one with the
// correction, or the one that took another's place.
func (c Cause) Origin() string {
	switch {
	case c.Because != nil:
		return c.Because.Origin()
	case c.By != "":
		return c.By
	}
	return c.Run
}

// Said says it in a sentence, without its point.
func (c Cause) Said() string {
	work := fmt.Sprintf("%q (run %s, %s)", c.Title, c.Run, c.At.UTC().Format(time.DateOnly))
	_, result, _ := strings.Cut(c.Value, ".")
	result = strings.ReplaceAll(result, "_", " ")
	switch c.Kind {
	case NewRound:
		with := ""
		if c.Run != "" {
			with = " with run " + c.Run
		}
		return fmt.Sprintf("%s was begun anew on %s%s: %s", c.Plan, c.At.UTC().Format(time.DateOnly), with, strings.TrimRight(c.Why, "."))
	case Named:
		return work + " disturbs it"
	case Before:
		return fmt.Sprintf("%s is a correction of %s, which comes before it", work, c.Task)
	case Anew:
		return work + " was done when it was measured again"
	case Taken:
		return fmt.Sprintf("%s was taken from run %s, and that was spoilt: %s", result, c.Run, c.Because.Said())
	}
	on, other := c.At.UTC().Format(time.DateOnly), ""
	if c.Change != "" {
		other = " with " + c.Change
	}
	if c.Kind == Renewed {
		return fmt.Sprintf("%s was taken from run %s, and with what run %s found on %s it comes to%s", result, c.Run, c.By, on, strings.TrimPrefix(other, " with"))
	}
	return fmt.Sprintf("%s was taken from run %s, and run %s took its place on %s%s", result, c.Run, c.By, on, other)
}

// Spoilt returns what has spoilt a run since its oldest present reading, the
// first of each kind and place, oldest first. Of a run that is not decided it
// is what will have spoilt it when it is accepted as it is.
func (h *History) Spoilt(name string) []Cause {
	p := h.find(name)
	if p == nil {
		return nil
	}
	var out []Cause
	for _, c := range h.causes(p) {
		same := func(o Cause) bool {
			return o.Kind == c.Kind && o.Run == c.Run && o.Correction == c.Correction && o.Value == c.Value
		}
		if !slices.ContainsFunc(out, same) {
			out = append(out, c)
		}
	}
	return out
}

// causes lists every time at which a run was spoilt.
func (h *History) causes(p *past) []Cause {
	if known, ok := h.spoils[p]; ok {
		return known
	}
	out := h.leftBehind(p)
	for _, other := range h.runs {
		out = append(out, h.corrected(p, other)...)
	}
	for _, v := range p.taken {
		out = append(out, h.took(p, v)...)
	}
	out = append(out, h.replaced(p)...)
	slices.SortStableFunc(out, func(a, b Cause) int { return a.At.Compare(b.At) })
	h.spoils[p] = out
	return out
}

// corrected lists the corrections of another run that spoilt this one.
func (h *History) corrected(p, other *past) []Cause {
	if other == p || p.oldest.IsZero() {
		return nil
	}
	before := h.earlier(p, other)
	anew := other.procedure() == p.procedure() && h.sameTask(p, other)
	var out []Cause
	for _, r := range other.reports {
		if !r.at.After(p.oldest) {
			continue
		}
		c := Cause{At: r.at, Run: other.Name, Correction: r.corr.Name, Title: title(other, r)}
		names := func(t procedures.Target) bool { return t.Accepted == p.procedure() }
		switch {
		case slices.ContainsFunc(r.corr.Disturbs, names):
			c.Kind = Named
		case before != nil:
			c.Kind, c.Task = Before, before.Name
		case anew:
			c.Kind = Anew
		default:
			continue
		}
		out = append(out, c)
	}
	return out
}

// title is the title of a correction as it was shown.
func title(p *past, r report) string {
	for _, a := range p.State.Corrections() {
		if a.Correction == r.corr && a.Report.N <= r.n && a.Title != "" {
			return a.Title
		}
	}
	return r.corr.Name
}

// earlier returns the task of the other run where this one's comes after it,
// at any depth, in one of the plans.
func (h *History) earlier(p, other *past) *procedures.Task {
	for _, plan := range h.plans {
		mine, its := h.tasks[plan][p], h.tasks[plan][other]
		if mine != nil && its != nil && after(mine, its) {
			return its
		}
	}
	return nil
}

// after reports whether a comes after b, at any depth. Plans have no circles.
func after(a, b *procedures.Task) bool {
	return slices.ContainsFunc(a.After, func(t *procedures.Task) bool { return t == b || after(t, b) })
}

// took lists when a run that a value was taken from was spoilt.
// Only a run that was decided before is looked into, so that this ends also
// with journals that were tampered with, in which runs took values from one
// another in a circle.
func (h *History) took(p *past, v engine.TakenValue) []Cause {
	from := h.find(v.Run)
	if from == nil || !from.ended.Before(v.At) {
		return nil
	}
	var out []Cause
	for _, c := range h.causes(from) {
		if c.At.After(p.since(v)) {
			out = append(out, Cause{Kind: Taken, At: c.At, Run: v.Run, Value: v.Name, Because: &c})
		}
	}
	return out
}

// since is the time from which on a value that was taken over counts: that of the
// oldest reading, or, where nothing is read yet, when it was taken over.
func (p *past) since(v engine.TakenValue) time.Time {
	if p.oldest.IsZero() {
		return v.At
	}
	return p.oldest
}
