package rehearse

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/engine"
	"waywright/procedures"
	"waywright/procedures/formula"
	"waywright/procedures/source"
)

// FailureKind says what a rehearsal failed by.
type FailureKind string

// The kinds of failure.
const (
	WrongOutcome FailureKind = "outcome" // it did not end as stated
	WrongRounds  FailureKind = "rounds"  // a correction was reported too often, or too seldom
	NotSaid      FailureKind = "said"    // a word did not come
	WrongOut     FailureKind = "out"     // other gates than those stated do not pass
	NoAnswer     FailureKind = "answer"  // an answer cannot be worked out
	Refused      FailureKind = "refused" // an answer is not taken
	Stuck        FailureKind = "stuck"   // a value must come from elsewhere
	Endless      FailureKind = "endless" // there is no end
)

// Failure is where a rehearsal went otherwise than it says, and what was
// there.
type Failure struct {
	Kind     FailureKind
	Seed     int
	At       source.Range // of what is not met
	Of       string       // the correction or reading that it is about, or ""
	Answer   int          // number of the last answer
	Question string       // that it answered
	Typed    string
	From     source.Range // where the rehearsal gives that answer
	Asked    source.Range // where the procedure asks it; the zero Range where it does not
	Last     []Typed      // the last answers, that one included
	Outcome  string       // of the run as far as it went, in words
	Rounds   []string     // "press once"
	Mistakes []string     // made on purpose: "wrong_way at press, number 1"
	Want     string       // what the author states, in words
	Got      string       // what was
	Hidden   []string     // the state of the machine: "offset = −0.12 mm"
	Gates    []string     // those that were judged: "cylindrical: fail, −80.0 ± 3.1 um"
	Said     []string     // "set_over: wrong_way, as_expected"
	Stated   []string     // how the rehearsal says that it ends: "accepted", "press at most twice"
	Looks    []Look       // what may have led to it
}

// Sentence says what went otherwise, in one sentence.
func (f *Failure) Sentence() string {
	switch f.Kind {
	case WrongOutcome:
		return fmt.Sprintf("It ends %s, not %s.", f.Got, f.Want)
	case WrongRounds:
		return fmt.Sprintf("%s was reported %s, not %s.", f.Of, f.Got, f.Want)
	case NotSaid:
		return fmt.Sprintf("Of %s was said: %s. Wanted, in this order: %s.", f.Of, f.Got, f.Want)
	case WrongOut:
		return strings.TrimSpace(f.Got + " " + f.Want)
	case NoAnswer:
		return fmt.Sprintf("The answer to %s cannot be worked out: %s.", f.Question, f.Got)
	case Stuck:
		return fmt.Sprintf("%s comes from elsewhere, and the rehearsal does not give it. %s", f.Question, f.Got)
	case Endless:
		return fmt.Sprintf("There is no end: %s is asked again and again.", f.Question)
	}
	return fmt.Sprintf("The answer %s to %s is not taken. %s", f.Typed, f.Question, f.Got)
}

// fail keeps the first failure, with what stood then.
func (p *play) fail(f *Failure) {
	if p.failure != nil {
		return
	}
	f.Answer = p.answers
	if f.Question == "" {
		f.Question, f.Typed = p.asks, p.last
	}
	f.From, f.Asked = p.stated(f.Question), asking(p.plan.Procedure(), f.Question)
	f.Outcome, f.Rounds, f.Mistakes, f.Last = outcomeWord(string(p.outcome())), p.reported(), p.made(), p.list()
	f.Hidden = p.stateOfThings()
	if p.explains {
		f.Gates = p.gates()
	}
	for _, name := range sorted(p.said) {
		f.Said = append(f.Said, name+": "+counted(p.said[name]))
	}
	f.Stated, f.Looks = p.ends(), p.looks()
	p.failure = f
}

func sorted[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

func (p *play) stateOfThings() []string {
	var out []string
	for _, a := range p.r.Hidden {
		if v, ok := p.m.hidden[a.Name]; ok {
			out = append(out, a.Name+" = "+formula.Show(v, a.Value.Type(), slope(v, a.Value.Type())))
		}
	}
	return out
}

// slope is the unit in which a small ratio is told: 6 µm/m says more than
// 0.000006. A factor has none.
func slope(v value.Value, t value.Type) *quantity.Unit {
	if t.Dim != quantity.Ratio || v.Kind != value.Number || v.Num == 0 || math.Abs(v.Num) >= leastFactor {
		return nil
	}
	u, err := quantity.Lookup("um/m")
	if err != nil {
		return nil
	}
	return &u
}

// leastFactor is what a ratio has to be to be taken for a factor, such as a gain.
const leastFactor = 1e-3

func (p *play) gates() []string {
	var out []string
	for _, j := range p.read() {
		if j.U == 0 && !j.Holds {
			continue // not judged
		}
		text := j.Name + ": " + j.Verdict.String()
		if !j.Holds {
			y, u := quantity.Rounded(j.Value, j.U, j.Unit)
			text += fmt.Sprintf(", %s ± %s, allowed %s", y, u, allowed(j))
		}
		out = append(out, text)
	}
	return out
}

func allowed(j engine.Judgement) string {
	lo, hi := shownLimit(j.Lo, j.Unit), shownLimit(j.Hi, j.Unit)
	switch {
	case math.IsInf(j.Lo, -1):
		return "at most " + hi
	case math.IsInf(j.Hi, 1):
		return "at least " + lo
	}
	return lo + " to " + hi
}

// holdRounds fails as soon as a correction was reported more often than is
// stated.
func (p *play) holdRounds(name string) {
	for _, r := range p.r.Rounds {
		if !p.openEnd && r.Correction.Name == name && r.Most >= 0 && p.rounds[name] > r.Most {
			p.fail(p.roundsFailure(r))
		}
	}
}

func (p *play) roundsFailure(r procedures.Rounds) *Failure {
	n := p.rounds[r.Correction.Name]
	return &Failure{Kind: WrongRounds, At: r.At, Of: r.Correction.Name, Want: bounds(r), Got: timesWord(n)}
}

func bounds(r procedures.Rounds) string {
	switch {
	case r.Most < 0:
		return "at least " + timesWord(r.Least)
	case r.Least == r.Most:
		return timesWord(r.Least)
	}
	return "at most " + timesWord(r.Most)
}

func timesWord(n int) string {
	switch n {
	case 0:
		return "never"
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return fmt.Sprintf("%d times", n)
}

// holdEnds holds the end of the run against what is stated.
func (p *play) holdEnds() {
	if p.openEnd || p.failure != nil {
		p.number()
		return
	}
	if got := p.outcome(); string(got) != p.r.Outcome {
		p.fail(&Failure{Kind: WrongOutcome, At: p.r.EndsAt, Want: outcomeWord(p.r.Outcome), Got: outcomeWord(string(got))})
	}
	p.holdOut()
	for _, r := range p.r.Rounds {
		if p.rounds[r.Correction.Name] < r.Least {
			p.fail(p.roundsFailure(r))
		}
	}
	for _, s := range p.r.Said {
		name := ""
		if s.Reading != nil {
			name = s.Reading.Name
		} else {
			name = s.Correction.Name
		}
		if !inOrder(s.Words, p.said[name]) {
			got := counted(p.said[name])
			if got == "" {
				got = "nothing"
			}
			p.fail(&Failure{Kind: NotSaid, At: s.At, Of: name, Want: strings.Join(s.Words, ", "), Got: got})
		}
	}
	p.number()
}

// holdOut holds the gates that do not pass at the end against those stated.
func (p *play) holdOut() {
	if p.r.OutAt == nil {
		return
	}
	var want, got []string
	for _, g := range p.r.Out {
		want = append(want, g.Name)
	}
	for _, j := range p.s.Judgements() {
		out := j.Verdict != checks.Pass && j.Verdict != checks.NotApplied
		if out && !slices.Contains(got, j.Gate.Name) {
			got = append(got, j.Gate.Name)
		}
	}
	slices.Sort(want)
	slices.Sort(got)
	if slices.Equal(want, got) {
		return
	}
	why := p.notPassed()
	f := &Failure{Kind: WrongOut, At: *p.r.OutAt}
	if more := without(got, want); len(more) > 0 {
		f.Got = "Not passed at the end, and not stated to be out: " + strings.Join(more, ", ") + "."
	}
	lacking := without(want, got)
	for i, name := range lacking {
		switch reason, judged := why[name]; {
		case !judged:
			lacking[i] += " (it passed)"
		case reason != "":
			lacking[i] += " (" + reason + ")"
		}
	}
	if len(lacking) > 0 {
		f.Want = "Stated to be out, and not so: " + strings.Join(lacking, ", ") + "."
	}
	p.fail(f)
}

// without returns the names that are not among others.
func without(names, others []string) []string {
	return slices.DeleteFunc(slices.Clone(names), func(n string) bool { return slices.Contains(others, n) })
}

// ends is how the rehearsal says that it ends.
func (p *play) ends() []string {
	out := []string{outcomeWord(p.r.Outcome)}
	for _, r := range p.r.Rounds {
		out = append(out, r.Correction.Name+" "+bounds(r))
	}
	return out
}

func (p *play) number() {
	if p.failure != nil {
		p.failure.Seed = p.seed
	}
}

func outcomeWord(o string) string {
	switch engine.Outcome(o) {
	case engine.NotDecided:
		return "not decided"
	case engine.Conceded:
		return "accepted with concessions"
	case engine.AsFound:
		return "recorded as found"
	}
	return o
}

// shownLimit prints a limit without what working it out left in its last digits.
func shownLimit(x float64, u quantity.Unit) string {
	if math.IsInf(x, 0) {
		return quantity.Plain(x, u)
	}
	return quantity.TrimNoughts(quantity.Number(x, u, 9)) + strings.TrimPrefix(quantity.Format(0, u, 0), "0")
}

// inOrder tells whether the words came in their order, others between them.
func inOrder(words, came []string) bool {
	for _, c := range came {
		if len(words) > 0 && words[0] == c {
			words = words[1:]
		}
	}
	return len(words) == 0
}
