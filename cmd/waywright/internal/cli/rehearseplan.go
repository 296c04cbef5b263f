package cli

import (
	"fmt"
	"runtime"
	"strings"

	"waywright/engine"
	"waywright/engine/rehearse"
	"waywright/procedures"
	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
)

// courseSeen is what became of one rehearsal of a plan.
type courseSeen struct {
	Rehearsal string       `json:"rehearsal"`
	At        string       `json:"at"` // file:line:column
	Seeds     int          `json:"seeds"`
	Failed    int          `json:"failed"`
	Courses   []coursePass `json:"courses"` // a seed each
}

// coursePass is how one seed of it went.
type coursePass struct {
	Seed    int         `json:"seed"`
	Outcome string      `json:"outcome"`
	Answers int         `json:"answers"`
	Days    int         `json:"days"`
	Before  []string    `json:"machine_before"`
	After   []string    `json:"machine_after"`
	Runs    []courseRun `json:"runs"` // in the order in which they were worked
	Failure *courseFail `json:"failure,omitempty"`
}

type courseRun struct {
	Run       string       `json:"run"`
	Task      string       `json:"task"`
	Nth       int          `json:"nth"` // of its task
	Procedure string       `json:"procedure"`
	Rehearsal string       `json:"rehearsal"`
	Outcome   string       `json:"outcome"`
	Answers   int          `json:"answers"`
	Rounds    []timesSeen  `json:"rounds"`
	Spoilt    []courseHurt `json:"spoilt"` // what was accepted before and does not hold any more
}

type timesSeen struct {
	Correction string `json:"correction"`
	N          int    `json:"n"`
}

type courseHurt struct {
	Run   string `json:"run"`
	Task  string `json:"task"`
	Cause string `json:"cause"`
}

type courseFail struct {
	Kind     string       `json:"kind"`
	At       string       `json:"at"`
	Sentence string       `json:"sentence"`
	Run      string       `json:"run,omitempty"`
	In       *failureSeen `json:"in,omitempty"`
}

// rehearsePlan plays the rehearsals of a plan, and returns false where it
// cannot.
func (a *app) rehearsePlan(f *rehearsedFile, plan *procedures.Overhaul, src hclfile.Source, o rehearsing) bool {
	plans, ok := a.taskPlans(plan, src)
	if !ok {
		return false
	}
	if !o.json {
		a.printf("%s\n", diagnose.Plain(f.Path))
	}
	width := 0
	for _, r := range plan.Rehearsals {
		width = max(width, len([]rune(r.Name)))
	}
	for _, r := range plan.Rehearsals {
		seeds := r.Seeds
		if o.seeds > 0 {
			seeds = o.seeds
		}
		watch := a.count(diagnose.Plain(r.Name), seeds)
		courses := rehearse.Courses(plan, r, plans, seeds, runtime.GOMAXPROCS(0), watch.tell())
		watch.over()
		x := courseOf(r, courses)
		f.Holds = f.Holds && x.Failed == 0
		f.Plan = append(f.Plan, x)
		if !o.json {
			a.printf("  %s  %-*s  %s\n", map[bool]string{true: "holds", false: "FAILS"}[x.Failed == 0], width, diagnose.Plain(r.Name), x.line())
			a.course(x.shown())
		}
	}
	return true
}

// taskPlans reads the procedures of a plan's tasks.
func (a *app) taskPlans(plan *procedures.Overhaul, src hclfile.Source) (map[string]*engine.Plan, bool) {
	out := map[string]*engine.Plan{}
	whole := true
	for _, t := range plan.Tasks {
		if out[t.Procedure] != nil {
			continue
		}
		at, ok := hclfile.Peer(src, t.Procedure)
		if !ok {
			a.note("waywright: the procedure %s of task %s is not at hand, so %s cannot be rehearsed", t.Procedure, t.Name, plan.Name)
			whole = false
			continue
		}
		l, ds := hclfile.Parse(at)
		if l.Procedure == nil || ds.HasErrors() {
			a.note("waywright: %s has errors, so %s cannot be rehearsed. See: waywright proofread %s", t.Procedure, plan.Name, t.Procedure)
			whole = false
			continue
		}
		out[t.Procedure] = engine.NewPlan(l.Procedure).WithTrials(rehearsalTrials)
	}
	return out, whole
}

func courseOf(r *procedures.PlanRehearsal, courses []rehearse.Course) *courseSeen {
	x := &courseSeen{Rehearsal: r.Name, At: r.At.String(), Seeds: len(courses)}
	for _, c := range courses {
		p := coursePass{Seed: c.Seed, Outcome: string(c.Outcome), Answers: c.Answers, Days: c.Days,
			Before: append([]string{}, c.Before...), After: append([]string{}, c.After...), Runs: []courseRun{}}
		for _, run := range c.Runs {
			y := courseRun{Run: run.Name, Task: run.Task.Name, Nth: run.Nth, Procedure: run.Task.Procedure, Rehearsal: run.Rehearsal,
				Outcome: string(run.Outcome), Answers: run.Answers, Rounds: []timesSeen{}, Spoilt: []courseHurt{}}
			for _, n := range run.Rounds {
				y.Rounds = append(y.Rounds, timesSeen(n))
			}
			for _, s := range run.Spoilt {
				y.Spoilt = append(y.Spoilt, courseHurt{s.Run, s.Task.Name, s.By.Said()})
			}
			p.Runs = append(p.Runs, y)
		}
		if f := c.Failure; f != nil {
			x.Failed++
			p.Failure = &courseFail{Kind: string(f.Kind), At: f.At.String(), Sentence: f.Said, Run: f.Run}
			if f.In != nil {
				in := failureOf(f.In)
				p.Failure.In = &in
			}
		}
		x.Courses = append(x.Courses, p)
	}
	return x
}

// shown is the seed that is told at length: the first that failed, or the
// first.
func (x *courseSeen) shown() coursePass {
	for _, c := range x.Courses {
		if c.Failure != nil {
			return c
		}
	}
	return x.Courses[0]
}

func (x *courseSeen) line() string {
	if x.Failed > 0 {
		return fmt.Sprintf("%d of %s", x.Failed, plural(x.Seeds, "seed"))
	}
	runs, answers := "", ""
	least, most, lo, hi := 1<<30, 0, 1<<30, 0
	for _, c := range x.Courses {
		least, most = min(least, len(c.Runs)), max(most, len(c.Runs))
		lo, hi = min(lo, c.Answers), max(hi, c.Answers)
	}
	runs, answers = between(least, most), between(lo, hi)
	return fmt.Sprintf("%s, %s, %s runs, %s answers", plural(x.Seeds, "seed"), strings.ReplaceAll(x.Courses[0].Outcome, "_", " "), runs, answers)
}

func between(lo, hi int) string {
	if lo == hi {
		return fmt.Sprint(lo)
	}
	return fmt.Sprintf("%d to %d", lo, hi)
}

// course lists the runs of one seed in their order: what each came to, and what
// it spoilt.
func (a *app) course(c coursePass) {
	a.printf("  The tasks as they were worked (seed %d, %s)\n", c.Seed, plural(c.Days, "day"))
	wide := 0
	for _, r := range c.Runs {
		wide = max(wide, len([]rune(r.label())))
	}
	for i, r := range c.Runs {
		rounds := ""
		for _, n := range r.Rounds {
			rounds += fmt.Sprintf(", %s %d×", n.Correction, n.N)
		}
		a.printf("    %2d  %-*s  %s%s\n", i+1, wide, r.label(), strings.ReplaceAll(r.Outcome, "_", " "), rounds)
		for _, s := range r.Spoilt {
			a.item("        ", "spoils", s.Task+": "+diagnose.Plain(s.Cause))
		}
	}
	for i, b := range c.Before {
		if i == 0 {
			a.printf("  The machine\n")
		}
		after := ""
		if _, v, ok := strings.Cut(c.After[i], " = "); ok {
			after = ", in the end " + v
		}
		a.printf("    %s\n", diagnose.Plain(b+after))
	}
	if c.Failure == nil {
		return
	}
	a.printf("%s: the plan went astray\n", c.Failure.At)
	a.par("  ", diagnose.Plain(c.Failure.Sentence))
	if in := c.Failure.In; in != nil {
		a.item("  ", "In", c.Failure.Run+fmt.Sprintf(", answer %d: %s = %s", in.Answer, in.Question, diagnose.Plain(or(in.Typed, "nothing"))))
		a.item("  ", "Hidden:", strings.Join(in.Hidden, "; "))
		a.trail(*in)
	}
}

func (r courseRun) label() string {
	if r.Nth > 1 {
		return fmt.Sprintf("%s, number %d", r.Task, r.Nth)
	}
	return r.Task
}
