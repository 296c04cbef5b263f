package cli

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"waywright/engine"
	"waywright/engine/rehearse"
	"waywright/procedures"
	places "waywright/procedures/source"
)

// rehearsedFiles is what rehearse --json says.
type rehearsedFiles struct {
	Files []*rehearsedFile `json:"files"`
}

type rehearsedFile struct {
	Path       string        `json:"path"` // as it was named
	Procedure  string        `json:"procedure,omitempty"`
	Overhaul   string        `json:"overhaul,omitempty"` // of a plan, instead
	Holds      bool          `json:"holds"`
	Rehearsals []*rehearsed  `json:"rehearsals,omitempty"`
	Coverage   *coverage     `json:"coverage,omitempty"`
	Risks      []*risk       `json:"risks,omitempty"`
	Plan       []*courseSeen `json:"plan_rehearsals,omitempty"`
}

// rehearsed is what became of one rehearsal over its seeds.
type rehearsed struct {
	Rehearsal string        `json:"rehearsal"`
	At        string        `json:"at"` // file:line:column
	Seeds     int           `json:"seeds"`
	Failed    int           `json:"failed"`
	Answers   int           `json:"answers"` // in all
	Outcomes  []outcomeSeen `json:"outcomes"`
	Rounds    []roundsSeen  `json:"rounds"`
	Said      []saidSeen    `json:"said"`
	Failures  []failureSeen `json:"failures"` // the first few
}

type outcomeSeen struct {
	Outcome string `json:"outcome"`
	N       int    `json:"n"`
}

type roundsSeen struct {
	Correction string `json:"correction"`
	Least      int    `json:"least"`
	Most       int    `json:"most"`
}

type saidSeen struct {
	Of   string `json:"of"`
	Word string `json:"word"`
	N    int    `json:"n"`
}

type failureSeen struct {
	Seed     int         `json:"seed"`
	Kind     string      `json:"kind"`
	At       string      `json:"at"`
	Sentence string      `json:"sentence"`
	Answer   int         `json:"answer"`
	Question string      `json:"question"`
	Typed    string      `json:"typed"`
	From     string      `json:"answered_at"`        // in the rehearsal
	Asked    string      `json:"asked_at,omitempty"` // in the procedure
	Wanted   string      `json:"wanted,omitempty"`
	Got      string      `json:"got,omitempty"`
	Outcome  string      `json:"outcome"` // as far as the run went
	Rounds   []string    `json:"rounds"`
	Mistakes []string    `json:"mistakes"` // made on purpose
	Hidden   []string    `json:"hidden"`
	Gates    []string    `json:"gates"`
	Said     []string    `json:"said"`
	Stated   []string    `json:"stated"` // how it is to end
	Looks    []lookSeen  `json:"look_at"`
	Last     []typedSeen `json:"last_answers"`
}

// lookSeen is what may have led to a failure.
type lookSeen struct {
	Said string   `json:"said"`
	At   []string `json:"at"`
}

// typedSeen is an answer on the way to a failure.
type typedSeen struct {
	N        int    `json:"answer"`
	Question string `json:"question"`
	Typed    string `json:"typed"`
	Refused  string `json:"refused,omitempty"` // why it was not taken
	From     string `json:"answered_at"`
	Asked    string `json:"asked_at,omitempty"`
}

func placeIn(r places.Range) string {
	if r.File == "" {
		return ""
	}
	return r.String()
}

// mostFailures is how many failures of one rehearsal are told.
const mostFailures = 20

func rehearsedOf(r *procedures.Rehearsal, ended []rehearse.Ended) *rehearsed {
	x := &rehearsed{Rehearsal: r.Name, At: r.At.String(), Seeds: len(ended), Outcomes: []outcomeSeen{}, Rounds: []roundsSeen{}, Said: []saidSeen{}, Failures: []failureSeen{}}
	rounds := map[string]roundsSeen{}
	for _, e := range ended {
		x.Answers += e.Answers
		x.outcome(e.Outcome)
		for c := range e.Rounds {
			if _, ok := rounds[c]; !ok {
				rounds[c] = roundsSeen{c, math.MaxInt, 0}
			}
		}
		for of, words := range e.Said {
			for _, w := range words {
				x.said(of, w)
			}
		}
		if f := e.Failure; f != nil {
			if x.Failed++; x.Failed <= mostFailures {
				x.Failures = append(x.Failures, failureOf(f))
			}
		}
	}
	for c, n := range rounds {
		for _, e := range ended {
			n.Least, n.Most = min(n.Least, e.Rounds[c]), max(n.Most, e.Rounds[c])
		}
		x.Rounds = append(x.Rounds, n)
	}
	slices.SortFunc(x.Outcomes, func(a, b outcomeSeen) int { return cmp.Or(b.N-a.N, strings.Compare(a.Outcome, b.Outcome)) })
	slices.SortFunc(x.Rounds, func(a, b roundsSeen) int { return strings.Compare(a.Correction, b.Correction) })
	slices.SortFunc(x.Said, func(a, b saidSeen) int { return strings.Compare(a.Of+" "+a.Word, b.Of+" "+b.Word) })
	return x
}

func (x *rehearsed) outcome(o engine.Outcome) {
	for i := range x.Outcomes {
		if x.Outcomes[i].Outcome == string(o) {
			x.Outcomes[i].N++
			return
		}
	}
	x.Outcomes = append(x.Outcomes, outcomeSeen{string(o), 1})
}

func (x *rehearsed) said(of, word string) {
	for i := range x.Said {
		if x.Said[i].Of == of && x.Said[i].Word == word {
			x.Said[i].N++
			return
		}
	}
	x.Said = append(x.Said, saidSeen{of, word, 1})
}

func failureOf(f *rehearse.Failure) failureSeen {
	some := func(s []string) []string { return append([]string{}, s...) }
	x := failureSeen{
		Seed: f.Seed, Kind: string(f.Kind), At: f.At.String(), Sentence: f.Sentence(), Answer: f.Answer, Question: f.Question, Typed: f.Typed,
		From: placeIn(f.From), Asked: placeIn(f.Asked), Wanted: f.Want, Got: f.Got, Outcome: f.Outcome,
		Rounds: some(f.Rounds), Mistakes: some(f.Mistakes), Hidden: some(f.Hidden), Gates: some(f.Gates), Said: some(f.Said), Last: []typedSeen{},
		Stated: some(f.Stated), Looks: []lookSeen{},
	}
	for _, l := range f.Looks {
		y := lookSeen{Said: l.Said, At: []string{}}
		for _, at := range l.At {
			y.At = append(y.At, placeIn(at))
		}
		x.Looks = append(x.Looks, y)
	}
	for _, t := range f.Last {
		x.Last = append(x.Last, typedSeen{t.N, t.Question, t.Text, t.Refused, placeIn(t.From), placeIn(t.Asked)})
	}
	return x
}

// coverage is what all rehearsals of a file went through.
type coverage struct {
	Gates       []gateSeen       `json:"gates"`
	Corrections []correctionSeen `json:"corrections"`
	Conditions  []conditionSeen  `json:"conditions"`
	Missing     []missing        `json:"never_reached"`
	Lines       []lineSeen       `json:"lines"`
}

type gateSeen struct {
	Gate      string `json:"gate"`
	Pass      bool   `json:"pass"`
	Fail      bool   `json:"fail"`
	Undecided bool   `json:"undecided"`
}

type correctionSeen struct {
	Correction string `json:"correction"`
	N          int    `json:"n"`
}

type conditionSeen struct {
	Of    string `json:"of"` // given, step, reading or correction
	At    string `json:"at"`
	True  bool   `json:"true"`
	False bool   `json:"false"`
}

type missing struct {
	At   string `json:"at"`
	What string `json:"what"`
}

func coverageOf(c rehearse.Coverage) coverage {
	out := coverage{[]gateSeen{}, []correctionSeen{}, []conditionSeen{}, []missing{}, []lineSeen{}}
	for _, g := range c.Gates {
		out.Gates = append(out.Gates, gateSeen{g.Name, g.Pass, g.Fail, g.Undecided})
	}
	for _, x := range c.Corrections {
		out.Corrections = append(out.Corrections, correctionSeen{x.Name, x.N})
	}
	for _, b := range c.Branches {
		out.Conditions = append(out.Conditions, conditionSeen{b.Name, b.At.String(), b.True, b.False})
	}
	for _, m := range c.Missing {
		out.Missing = append(out.Missing, missing{m.At.String(), m.What})
	}
	return out
}
