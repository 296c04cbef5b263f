package engine

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"waywright/checks"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// LeftOut says that a test is not measured in this run, as was agreed before it.
// One that is given up later is not left out: it was not measured.
type LeftOut struct {
	Gate    string `json:"gate"`
	Because string `json:"because"`
	Agreed  string `json:"agreed"` // who agreed to it, by name
}

// Kind implements [Data].
func (LeftOut) Kind() string { return "left_out" }

// Exclusion is a test that was left out by agreement: which, by whom, why and
// when.
type Exclusion struct {
	LeftOut
	Stamp
}

// LeftOut returns what was left out of the run by agreement, in the order of
// saying it.
func (s *State) LeftOut() []Exclusion { return slices.Clone(s.leftOut) }

// MayLeaveOut tells why a gate cannot be left out of a run of p; nil where it
// can.
func MayLeaveOut(p *procedures.Procedure, gate string) error {
	for _, st := range p.Steps {
		for _, it := range st.Items {
			g, ok := it.(*procedures.Gate)
			switch {
			case !ok || g.Name != gate:
			case g.Decision != checks.NoRule:
				return fmt.Errorf("%s checks how the measuring is set up, and what is measured rests on it", gate)
			default:
				return nil
			}
		}
	}
	return fmt.Errorf("the procedure has no test %q", gate)
}

func (s *State) leaveOut(ev Event, d LeftOut) error {
	if err := MayLeaveOut(s.plan.proc, d.Gate); err != nil {
		return err
	}
	switch {
	case len(s.sittings) > 0:
		return errors.New("a test is left out after the work began")
	case d.Because == "" || d.Agreed == "":
		return fmt.Errorf("test %q is left out without who agreed to it and why", d.Gate)
	case s.excluded(d.Gate) != nil:
		return fmt.Errorf("test %q is left out twice", d.Gate)
	}
	gone := []string{d.Gate}
	for _, x := range s.leftOut {
		gone = append(gone, x.Gate)
	}
	if !Remaining(s.plan.proc, gone) {
		return errors.New("no test is left")
	}
	s.leftOut = append(slices.Clip(s.leftOut), Exclusion{d, stamp(ev, d.Because)})
	s.idle = s.plan.idle(s.leftOut)
	return nil
}

// exclude leaves a test out, as was agreed before the work. It is said before
// anybody is at the machine.
func (s *State) exclude(in Input) ([]Data, *Refusal) {
	test, agreed := strings.TrimSpace(in.Name), strings.TrimSpace(in.Text)
	read := fmt.Sprintf("I read %s.", test)
	switch {
	case len(s.sittings) > 0:
		return nil, refuse("verb", "", "The work has begun: a test that is not measured now is given up, and not left out by agreement.",
			"Say of its reading that it cannot be taken, or begin another run without it.")
	case test == "":
		return nil, refuse("name", "", "Which test?", s.mayBeLeftOut())
	}
	if err := MayLeaveOut(s.plan.proc, test); err != nil {
		return nil, refuse("name", read, strings.ToUpper(err.Error()[:1])+err.Error()[1:]+".", s.mayBeLeftOut())
	}
	gone := []string{test}
	for _, x := range s.leftOut {
		gone = append(gone, x.Gate)
	}
	switch {
	case s.excluded(test) != nil:
		return nil, refuse("name", read, "It is left out already.", s.mayBeLeftOut())
	case !Remaining(s.plan.proc, gone):
		return nil, refuse("name", read, "Every test would be left out, and nothing would be accepted.", "Keep one.")
	case agreed == "":
		return nil, refuse("value", read, "Who agreed to it? The record keeps the name.", "Say it with the name of who agreed.")
	case strings.TrimSpace(in.Reason) == "":
		return nil, reasonWanted("Leaving a test out")
	}
	return []Data{LeftOut{Gate: test, Because: strings.TrimSpace(in.Reason), Agreed: agreed}}, nil
}

// LeavesOut lists the tests that can still be left out by agreement, with their
// titles; none once somebody has sat down.
func (s *State) LeavesOut() []Choice {
	if len(s.sittings) > 0 {
		return nil
	}
	var gone []string
	for _, x := range s.leftOut {
		gone = append(gone, x.Gate)
	}
	var out []Choice
	for _, st := range s.plan.proc.Steps {
		for _, it := range st.Items {
			g, ok := it.(*procedures.Gate)
			if ok && !slices.Contains(gone, g.Name) && MayLeaveOut(s.plan.proc, g.Name) == nil && Remaining(s.plan.proc, append(slices.Clip(gone), g.Name)) {
				out = append(out, Choice{g.Name, words(g.Title, s.env().in(st, nil))})
			}
		}
	}
	return out
}

func (s *State) mayBeLeftOut() string {
	cs := s.LeavesOut()
	if len(cs) == 0 {
		return "No test of this procedure can be left out."
	}
	var names []string
	for _, c := range cs {
		names = append(names, c.Word)
	}
	return "It may be one of " + strings.Join(names, ", ") + "."
}

func (s *State) leftOutText(d LeftOut) string {
	title := d.Gate
	for _, st := range s.plan.proc.Steps {
		for _, it := range st.Items {
			if g, ok := it.(*procedures.Gate); ok && g.Name == d.Gate {
				title = words(g.Title, s.env().in(st, nil))
			}
		}
	}
	return fmt.Sprintf("Left out by agreement with %s: %s. %s.", d.Agreed, title, strings.TrimRight(d.Because, "."))
}

// Remaining tells whether a test is left to judge when those gates are left out.
func Remaining(p *procedures.Procedure, gone []string) bool {
	for _, st := range p.Steps {
		for _, it := range st.Items {
			if g, ok := it.(*procedures.Gate); ok && !slices.Contains(gone, g.Name) {
				return true
			}
		}
	}
	return false
}

// excluded returns how a gate was left out, or nil.
func (s *State) excluded(gate string) *Exclusion {
	for i, x := range s.leftOut {
		if x.Gate == gate {
			return &s.leftOut[i]
		}
	}
	return nil
}

// said is why a test was left out, with who agreed to it.
func (x *Exclusion) said() string {
	return fmt.Sprintf("left out by agreement with %s: %s", x.Agreed, x.Because)
}

// idle is what nobody asks for any more once gates are left out: readings,
// whole steps, and givens, by name.
type idle struct{ readings, steps, givens map[string]bool }

// idle finds the readings that served the gates left out and nothing else, and
// the steps that had no other use. What another gate, a correction, a condition or
// a sentence uses is read all the same.
func (pl *Plan) idle(out []Exclusion) idle {
	gone := map[string]bool{}
	d := idle{map[string]bool{}, map[string]bool{}, map[string]bool{}}
	for _, x := range out {
		gone[x.Gate] = true
		for _, r := range pl.feeds[x.Gate] {
			d.readings[r.Name] = true
		}
	}
	for _, st := range pl.proc.Steps {
		if d.served(st, gone) {
			d.steps[st.Name] = true
		}
	}
	for _, st := range slices.Backward(pl.proc.Steps) { // what prepares for another stands before it
		if !reads(st) {
			d.steps[st.Name] = d.steps[st.Name] || onlyFor(pl.proc, st, d.steps)
		}
	}
	for d.keep(pl, gone) { // what is kept may use what seemed to be idle
	}
	if len(gone) > 0 {
		before, after := pl.givensUsed(idle{}, nil), pl.givensUsed(d, gone)
		for _, g := range pl.proc.Givens {
			d.givens[g.Name] = before[g.Name] && !after[g.Name]
		}
	}
	return d
}

// givensUsed finds the givens that something in use stands on. What is used by
// nothing at all is for the record alone, and is asked.
func (pl *Plan) givensUsed(d idle, gone map[string]bool) map[string]bool {
	used := map[string]bool{}
	pl.reach(used, d.inSteps(pl.proc, gone)...)
	for _, st := range pl.proc.Steps {
		for _, it := range st.Items {
			if res, ok := it.(*procedures.Result); ok && !d.steps[st.Name] {
				pl.reach(used, res.Title, res.Positive)
				if res.Kept && !d.misses(pl, res) {
					pl.reach(used, res.Value)
				}
			}
		}
	}
	for more := true; more; { // the range of one given may be that of another
		n := len(used)
		for _, g := range pl.proc.Givens {
			if used[g.Name] {
				pl.reach(used, ofGiven(g)...)
			}
		}
		more = len(used) > n
	}
	return used
}

// misses tells whether a result stands on a reading that is not taken.
func (d idle) misses(pl *Plan, res *procedures.Result) bool {
	stands := map[string]bool{}
	pl.reach(stands, res.Value)
	for name := range d.readings {
		if stands[name] {
			return true
		}
	}
	return false
}

func ofGiven(g *procedures.Given) []*formula.Program {
	out := []*formula.Program{g.Title, g.Ask, g.When, g.From, g.Range[0], g.Range[1]}
	for _, e := range g.Each {
		out = append(out, e.Of)
	}
	return out
}

// served tells whether all that a step judges is left out, and all that it reads
// served that.
func (d idle) served(st *procedures.Step, gone map[string]bool) bool {
	gates, others, idle := 0, 0, 0
	for _, it := range st.Items {
		switch it := it.(type) {
		case *procedures.Gate:
			if !gone[it.Name] {
				return false
			}
			gates++
		case *procedures.Reading:
			if d.readings[it.Name] {
				idle++
			} else {
				others++
			}
		}
	}
	return idle > 0 && others == 0 || gates > 0 && others == 0
}

func reads(st *procedures.Step) bool {
	return slices.ContainsFunc(st.Items, func(it procedures.Item) bool {
		switch it.(type) {
		case *procedures.Reading, *procedures.Gate:
			return true
		}
		return false
	})
}

// onlyFor tells whether a step is needed by others, and by none but those.
func onlyFor(p *procedures.Procedure, st *procedures.Step, those map[string]bool) bool {
	needed := false
	for _, other := range p.Steps {
		if !slices.Contains(other.Needs, st) {
			continue
		}
		if !those[other.Name] {
			return false
		}
		needed = true
	}
	return needed
}

// keep takes back what something in use stands on, and reports whether there
// was any.
func (d idle) keep(pl *Plan, gone map[string]bool) bool {
	used := map[string]bool{}
	pl.reach(used, d.inUse(pl.proc, gone)...)
	before := len(d.readings) + len(d.steps)
	for _, st := range pl.proc.Steps {
		for _, it := range st.Items {
			if r, ok := it.(*procedures.Reading); ok && used[r.Name] {
				delete(d.readings, r.Name)
				delete(d.steps, st.Name)
			}
		}
	}
	for _, st := range pl.proc.Steps {
		if !d.steps[st.Name] {
			for _, n := range st.Needs {
				delete(d.steps, n.Name)
			}
		}
	}
	return len(d.readings)+len(d.steps) < before
}

// inUse lists the formulas and texts of all that is not idle.
func (d idle) inUse(p *procedures.Procedure, gone map[string]bool) []*formula.Program {
	out := d.inSteps(p, gone)
	for _, g := range p.Givens {
		out = append(out, ofGiven(g)...)
	}
	return out
}

// inSteps is the same of the steps and corrections alone.
func (d idle) inSteps(p *procedures.Procedure, gone map[string]bool) []*formula.Program {
	var out []*formula.Program
	each := func(es []*procedures.Each) {
		for _, e := range es {
			out = append(out, e.Of)
		}
	}
	cautions := func(cs []*procedures.Caution) {
		for _, c := range cs {
			out = append(out, c.Text)
		}
	}
	ways := map[*procedures.Correction]bool{}
	for _, st := range p.Steps {
		if d.steps[st.Name] {
			continue
		}
		each(st.Each)
		cautions(st.Cautions)
		out = append(append(append(out, st.Title, st.When, st.GoodFor), st.Tools...), st.Do...)
		for _, it := range st.Items {
			if r, ok := it.(*procedures.Reading); ok && !d.readings[r.Name] {
				each(r.Each)
			}
			out = append(out, d.ofItem(it, gone, ways)...)
		}
	}
	for c := range ways {
		cautions(c.Cautions)
		out = append(append(out, c.Title, c.When, c.Amount, c.Positive, c.Negative, c.Ledger), c.Do...)
		if c.Moved != nil {
			out = append(out, c.Moved.Ask)
		}
		if c.Should != nil {
			out = append(out, c.Should.By, c.Should.Result.Value)
		}
	}
	return out
}

// ofItem lists the formulas of an item in use, and notes the corrections that a
// gate names. A result is used only by what uses it.
func (d idle) ofItem(it procedures.Item, gone map[string]bool, ways map[*procedures.Correction]bool) []*formula.Program {
	switch x := it.(type) {
	case *procedures.Confirm:
		return []*formula.Program{x.Ask}
	case *procedures.Wait:
		out := []*formula.Program{x.Why, x.AtLeast}
		if x.Until != nil {
			out = append(out, x.Until.Ask, x.Until.Every, x.Until.Agree)
		}
		return out
	case *procedures.Reading:
		if !d.readings[x.Name] {
			return []*formula.Program{x.Ask, x.When, x.Along, x.Around, x.Closure, x.Nudge, x.Positive, x.Range[0], x.Range[1]}
		}
	case *procedures.Gate:
		if !gone[x.Name] {
			for _, w := range x.IfFailed {
				if w.Correction != nil {
					ways[w.Correction] = true
				}
			}
			return append(gatePrograms(x), x.Title, x.Positive)
		}
	}
	return nil
}
