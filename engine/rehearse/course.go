package rehearse

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"waywright/checks/montecarlo"
	"waywright/checks/value"
	"waywright/engine"
	"waywright/engine/overhaul"
	"waywright/procedures"
	"waywright/procedures/formula"
	"waywright/procedures/source"
)

// Course is how one seed of a plan's rehearsal went.
type Course struct {
	Seed    int // from 1
	Outcome engine.Outcome
	Runs    []Run // in the order in which they were worked
	Answers int
	Days    int      // from the first answer to the last
	Before  []string // the state of the machine at the start: "head_level = −0.15 mm"
	After   []string // and at the end
	Failure *Astray  // nil where it ended as it says
}

// Run is one run of a course.
type Run struct {
	Name      string
	Task      *procedures.Task
	Nth       int // of its task, from 1
	Rehearsal string
	Outcome   engine.Outcome
	Answers   int
	Rounds    []Times // in the order of the procedure
	Spoilt    []Spoil // what was accepted before, and does not hold any more
}

// Times is how often a correction was reported.
type Times struct {
	Correction string
	N          int
}

// Spoil is a run that another one spoilt, and how.
type Spoil struct {
	Run  string
	Task *procedures.Task
	By   overhaul.Cause
}

// Astray is where a course went otherwise than it says.
type Astray struct {
	Kind FailureKind
	At   source.Range // of what is not met
	Said string       // in a sentence
	Run  string       // in which it happened; "" where it is of the whole
	In   *Failure     // what was amiss in that run, or nil
}

// A plan that comes to no end is ended.
const (
	mostRuns  = 12  // of one task
	mostIdles = 100 // times that the clock was set forward in a row
)

// Through plays a rehearsal of an overhaul plan with one seed, from 1. Each
// task is a run of its own, begun when the plan says that it can be, with what
// the runs before it were accepted with. The runs are those that a logbook
// would have: what was spoilt by what is worked out from their events alone.
//
// The plans are those of the procedures that tasks name. Where one is missing,
// the course fails at it.
func Through(plan *procedures.Overhaul, r *procedures.PlanRehearsal, plans map[string]*engine.Plan, seed int) Course {
	c := &course{plan: plan, r: r, plans: plans, seed: seed, clock: begin,
		machine: engine.Machine{ID: "the-machine", Class: plan.Machine},
		hidden:  map[string]value.Value{}, own: map[string]map[string]value.Value{}, times: map[string]int{}, spoilt: map[string]bool{}}
	c.h = overhaul.Read(c.machine, nil, plan)
	c.set(r.Hidden, nil)
	c.out.Seed, c.out.Outcome, c.out.Before = seed, engine.NotDecided, c.state()
	c.work()
	c.out.After, c.out.Days = c.state(), int(c.clock.Sub(begin)/(24*time.Hour))
	c.holdEnds()
	return c.out
}

// Courses plays a plan's rehearsal with the seeds from 1 to n on so many
// workers, and returns how each went, in order.
func Courses(plan *procedures.Overhaul, r *procedures.PlanRehearsal, plans map[string]*engine.Plan, n, workers int, done func(int)) []Course {
	out := make([]Course, n)
	share(n, workers, done, func(i int) { out[i] = Through(plan, r, plans, i+1) })
	return out
}

// course is a plan's rehearsal under way.
type course struct {
	plan    *procedures.Overhaul
	r       *procedures.PlanRehearsal
	plans   map[string]*engine.Plan // by the name of the procedure
	seed    int
	clock   time.Time
	machine engine.Machine

	hidden map[string]value.Value            // of the plan
	own    map[string]map[string]value.Value // of each procedure: what it was left with
	h      *overhaul.History
	times  map[string]int  // runs of a task
	spoilt map[string]bool // runs that were told to be
	out    Course
}

// set puts values in the place of those that a course has; own are the words of
// a correction.
func (c *course) set(to []procedures.Assign, own map[string]value.Value) {
	e := &planScene{c.hidden, own}
	after := map[string]value.Value{}
	for _, a := range to {
		if own == nil { // one state may use those above it
			c.hidden[a.Name] = a.Value.Eval(e)
		} else if v := a.Value.Eval(e); v.State == value.Present {
			after[a.Name] = v
		}
	}
	maps.Copy(c.hidden, after)
}

// planScene gives the formulas of a plan's rehearsal what they may use.
type planScene struct{ hidden, own map[string]value.Value }

// Value implements formula.Env.
func (e *planScene) Value(r formula.Ref) value.Value {
	from := e.hidden
	if r.Space == formula.Own {
		from = e.own
	}
	if v, ok := from[r.Name]; ok && (r.Space == formula.Hidden || r.Space == formula.Own) {
		return v
	}
	return value.Value{State: value.Missing}
}

func (c *course) state() []string {
	var out []string
	for _, a := range c.r.Hidden {
		out = append(out, a.Name+" = "+formula.Show(c.hidden[a.Name], a.Value.Type(), nil))
	}
	return out
}

// work begins the first task that can be begun, until none is left.
func (c *course) work() {
	idle := 0
	for c.out.Failure == nil && c.out.Outcome != engine.Rejected {
		c.noteSpoilt()
		v := c.h.Look(c.plan, c.clock)
		if v.Done() {
			c.out.Outcome = engine.Accepted
			for _, t := range v.Tasks {
				if t.Conceded {
					c.out.Outcome = engine.Conceded
				}
			}
			return
		}
		i := slices.IndexFunc(v.Tasks, overhaul.Task.Ready)
		if i >= 0 {
			idle = 0
			c.begin(v.Tasks[i].Task)
			continue
		}
		from := next(v)
		if idle++; from.IsZero() || idle > mostIdles {
			c.astray(Stuck, c.r.At, "No task can be begun. "+waiting(v))
			return
		}
		c.clock = from
	}
}

// next is when a task can first be begun that waits for a day; zero: none does.
func next(v overhaul.View) (from time.Time) {
	for _, t := range v.Tasks {
		if !t.From.IsZero() && len(t.Waits) == 0 && len(t.Unknown) == 0 && (from.IsZero() || t.From.Before(from)) {
			from = t.From
		}
	}
	return from
}

// waiting says of each task that is left what it waits for.
func waiting(v overhaul.View) string {
	var out []string
	for _, t := range v.Tasks {
		for _, u := range t.Unknown {
			out = append(out, fmt.Sprintf("%s waits: %s.", t.Name, u))
		}
		if len(t.Waits) > 0 && len(t.Unknown) == 0 {
			out = append(out, fmt.Sprintf("%s waits for %s.", t.Name, t.Waits[0].Name))
		}
	}
	return strings.Join(out, " ")
}

// begin works a task, from its first question to its end.
func (c *course) begin(t *procedures.Task) {
	c.times[t.Name]++
	if n := c.times[t.Name]; n > mostRuns {
		c.astray(Endless, c.r.At, fmt.Sprintf("Task %s was worked %d times and is to be worked again. %s", t.Name, mostRuns, c.lastSpoilt(t)))
		return
	}
	plan := c.plans[t.Procedure]
	if plan == nil {
		c.astray(Stuck, t.At, fmt.Sprintf("The procedure %s of task %s cannot be played.", t.Procedure, t.Name))
		return
	}
	p := c.playOf(plan, t)
	if p == nil {
		c.astray(Stuck, t.At, fmt.Sprintf("%s has no rehearsal, so nobody knows what the machine answers in task %s.", t.Procedure, t.Name))
		return
	}
	var notes []string
	p.begun.Accepted, notes = c.h.Accepted(plan.Procedure(), c.clock)
	p.work()
	c.clock = p.clock
	if d := plan.Procedure().Duration; d != nil {
		if v := d.Eval(nil); v.State == value.Present && p.clock.Sub(p.began).Seconds() < v.Num {
			c.clock = p.began.Add(time.Duration(v.Num * float64(time.Second)))
		}
	}
	c.clock = c.clock.Add(pace)
	c.take(p, t)
	switch {
	case p.failure != nil:
		p.number()
		c.astray(p.failure.Kind, p.failure.At, strings.TrimSpace(p.failure.Sentence()+" "+strings.Join(notes, " ")))
		c.out.Failure.In = p.failure
	case p.outcome() == engine.Rejected:
		c.out.Outcome = engine.Rejected
	case p.outcome() == engine.NotDecided:
		c.astray(WrongOutcome, c.r.EndsAt, "The run comes to no decision.")
	}
}

// playOf makes the play of a task on the machine as it is now.
func (c *course) playOf(plan *engine.Plan, t *procedures.Task) *play {
	proc := plan.Procedure()
	part := c.r.Part(t.Procedure)
	if part == nil {
		part = &procedures.PlanPart{Procedure: t.Procedure}
	}
	var r *procedures.Rehearsal
	for _, x := range slices.Backward(proc.Rehearsals) {
		if x.Name == part.Like || part.Like == "" {
			r = x
		}
	}
	if r == nil {
		return nil
	}
	like := *r
	like.Mistakes, like.Rounds, like.Said, like.Spread = nil, nil, nil, nil
	if slices.Contains(proc.Grades, c.r.Grade) {
		like.Grade = c.r.Grade
	}
	p := newPlay(plan, &like, c.seed)
	name := fmt.Sprintf("%s-%d", t.Name, c.times[t.Name])
	p.m.rng = montecarlo.NewStream(uint64(c.seed), number(c.plan.Name+"\x00"+c.r.Name, name))
	p.openEnd, p.explains, p.offered = true, false, true
	p.clock, p.began = c.clock, c.clock
	p.begun = engine.Begun{Procedure: proc.Name, Revision: proc.Revision, Machine: c.machine, Overhaul: c.plan.Name, Task: t.Name}
	maps.Copy(p.m.hidden, c.own[t.Procedure])
	c.meet(part, p.m)
	p.reacted = func(done *procedures.Correction, own map[string]value.Value) {
		for _, b := range part.Hidden {
			if v, ok := p.m.hidden[b.Name]; ok && b.Same != "" {
				c.hidden[b.Same] = v
			}
		}
		for _, re := range part.Reacts {
			if re.Correction.Name == done.Name {
				c.set(re.Hidden, own)
			}
		}
		c.meet(part, p.m)
	}
	return p
}

// meet lets a procedure's machine be the plan's.
func (c *course) meet(part *procedures.PlanPart, m *model) {
	e := &planScene{hidden: c.hidden}
	for _, b := range part.Hidden {
		if v := b.Value.Eval(e); v.State == value.Present {
			m.hidden[b.Name] = v
		}
	}
}

// take keeps what a run came to.
func (c *course) take(p *play, t *procedures.Task) {
	c.own[t.Procedure] = p.m.hidden
	run := Run{Name: fmt.Sprintf("%s-%d", t.Name, c.times[t.Name]), Task: t, Nth: c.times[t.Name], Rehearsal: p.r.Name, Outcome: p.outcome(), Answers: p.answers}
	for _, x := range p.plan.Procedure().Corrections {
		if n := p.rounds[x.Name]; n > 0 {
			run.Rounds = append(run.Rounds, Times{x.Name, n})
		}
	}
	c.h.Add(overhaul.Run{Name: run.Name, State: p.s})
	c.out.Runs = append(c.out.Runs, run)
	c.out.Answers += p.answers
}

// noteSpoilt notes with the last run what does not hold any more since.
func (c *course) noteSpoilt() {
	if len(c.out.Runs) == 0 {
		return
	}
	last := &c.out.Runs[len(c.out.Runs)-1]
	for i := range c.out.Runs {
		r := &c.out.Runs[i]
		if c.spoilt[r.Name] || r == last && r.Outcome == engine.NotDecided {
			continue
		}
		if by := c.h.Spoilt(r.Name); len(by) > 0 {
			c.spoilt[r.Name] = true
			if c.h.Replaced(r.Name) == "" {
				last.Spoilt = append(last.Spoilt, Spoil{r.Name, r.Task, by[0]})
			}
		}
	}
}

// lastSpoilt says what spoilt a task last.
func (c *course) lastSpoilt(t *procedures.Task) string {
	for _, r := range slices.Backward(c.out.Runs) {
		for _, s := range r.Spoilt {
			if s.Task == t {
				return fmt.Sprintf("Last by task %s: %s.", r.Task.Name, s.By.Said())
			}
		}
	}
	return ""
}

func (c *course) astray(kind FailureKind, at source.Range, said string) {
	if c.out.Failure != nil {
		return
	}
	c.out.Failure = &Astray{Kind: kind, At: at, Said: said}
	if n := len(c.out.Runs); n > 0 {
		c.out.Failure.Run = c.out.Runs[n-1].Name
	}
}

// holdEnds holds the course against what is stated.
func (c *course) holdEnds() {
	if f := c.out.Failure; f != nil {
		if f.Kind != Endless || f.In != nil || c.r.Outcome != string(engine.NotDecided) {
			return
		}
		c.out.Failure = nil // it goes round and round, as it says
	}
	if got := c.out.Outcome; string(got) != c.r.Outcome {
		c.astray(WrongOutcome, c.r.EndsAt, fmt.Sprintf("It ends %s, not %s.", outcomeWord(string(got)), outcomeWord(c.r.Outcome)))
	}
	for _, x := range c.r.Runs {
		n := c.times[x.Task.Name]
		if n < x.Least || x.Most >= 0 && n > x.Most {
			c.astray(WrongRounds, x.At, fmt.Sprintf("Task %s was worked %s, not %s.", x.Task.Name, timesWord(n), bounds(procedures.Rounds{Least: x.Least, Most: x.Most})))
		}
	}
}
