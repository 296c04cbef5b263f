package engine

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"time"

	"waywright/checks/quantity"
	"waywright/checks/response"
	"waywright/checks/uncert"
	"waywright/procedures"
)

// movement is one movement as it was read.
type movement struct {
	n     int
	at    time.Time
	by    string
	typed Taken
	value float64 // base units, as it counts
	bound int     // number of the binding of the indicator

	amends []amend
}

type moveJudgement struct {
	MoveJudged
	n  int
	at time.Time
	by string
}

// uMovement is the standard uncertainty of all an attempt moved, by the
// indicator that showed the last of it.
func (s *State) uMovement(a *attempt) float64 {
	if a.corr.Moved == nil || a.corr.Moved.With == nil || len(a.moves) == 0 {
		return 0
	}
	in := known(a.corr.Moved.With, s.boundAs(a.moves[len(a.moves)-1].bound))
	m, err := uncert.New([]uncert.Instrument{in},
		[]uncert.Observation{{ID: "moved", Value: a.moved(), Setting: "moved", Pool: "moved", Moved: true}}, nil)
	if err != nil {
		return 0
	}
	return m.Combine([]float64{1}).Std
}

func (s *State) judgeMove(a *attempt) response.Move {
	return response.JudgeMove(a.amount(), a.moved(), s.uMovement(a))
}

// divisionsMeant asks back about a bare number that is far more than was asked
// in the question's unit, and about as much in divisions of the indicator, which
// is how the amount was shown.
func (s *State) divisionsMeant(q Question, asked float64, in Input) *Refusal {
	typed, err := quantity.Parse(in.Text, s.context(q))
	if err != nil || len(typed) != 1 || typed[0].HasUnit || q.Instrument == nil || q.Instrument.Resolution <= 0 {
		return nil
	}
	t, step := typed[0], q.Instrument.Resolution
	n := math.Abs(t.Unit.Of(t.Value))
	if whole := math.Abs(asked); math.Abs(t.Value) <= 10*whole || n*step < whole/3 || n*step > 3*whole {
		return nil
	}
	way := ""
	if t.Way != "" {
		way = " " + t.Way
	}
	figure := strconv.FormatFloat(n, 'f', -1, 64)
	if t.Way == "" && t.Value < 0 {
		figure = "-" + figure
	}
	div, unit := figure+" div"+way, figure+" "+t.Unit.Symbol+way
	return &Refusal{Code: "unit", Understood: "I read " + quantity.Plain(t.Value, t.Unit) + ".",
		Wrong:   fmt.Sprintf("To be moved are %s, which are %s divisions.", quantity.Format(math.Abs(asked), t.Unit, q.Decimals), strconv.FormatFloat(math.Round(math.Abs(asked)/step), 'f', -1, 64)),
		Mend:    fmt.Sprintf("Type %s if you counted divisions, or %s with its unit.", div, unit),
		Suggest: []Choice{{div, "it was " + figure + " divisions"}}}
}

// toMove is the amount of the attempt whose report is asked for.
func (s *State) toMove(q Question) float64 {
	for _, a := range slices.Backward(s.attempts) {
		if a.corr.Name+".moved" == q.Name {
			return a.amount()
		}
	}
	return 0
}

// movedAmiss reports whether a movement is plainly not what was asked: the
// other way, short of it, or far beyond it. The other way is said of small
// amounts too, where the doubt of the indicator leaves it plain. A part of what
// cannot be put back is a first pass.
func (s *State) movedAmiss(a *attempt) bool {
	m := s.judgeMove(a)
	if a.amount() == 0 || m.Band == response.BandPart && noReturn(a.corr) {
		return false
	}
	return m.Band == response.BandMinus || m.Plain && m.Band != response.BandOne
}

// moveJudged keeps the answer to a movement that was not as asked, or what
// the needle did when it was tested.
func (s *State) moveJudged(ev Event, d MoveJudged) error {
	i := s.moveOpen
	if i < 0 {
		i = s.nudgeOpen
	}
	if i < 0 || s.attempts[i].corr.Name != d.Correction {
		return fmt.Errorf("it judges a movement of %q that nobody asked about", d.Correction)
	}
	a := &s.attempts[i]
	a.judgements = append(slices.Clip(a.judgements), moveJudgement{d, ev.N, ev.Time, ev.By})
	during := s.moveOpen >= 0
	switch d.How {
	case "carry_on":
		s.moveOpen = -1
	case "sign":
		s.nudgeOpen = i // the test comes before anything else is said of the movement
		return nil
	case "wrong_way":
		a.turnLast()
	case "minus":
		s.turn(a)
	case "plus", "nowhere":
	default:
		return fmt.Errorf("it judges a movement as %q, which is not a word for that", d.How)
	}
	if d.How == "nowhere" && s.nudgeOpen >= 0 && !(d.Skipped && during) {
		return nil // it tells nothing yet: the tip is set, and the test is asked again
	}
	s.nudgeOpen = -1
	switch {
	case during && !s.movedAmiss(a):
		s.moveOpen = -1
	case !during:
		a.nudged, a.tested = true, d.How
		if d.How == "minus" && a.told {
			s.find(a)
		}
	}
	return nil
}

// turnLast turns the sign of the last movement: it was typed the wrong way.
func (a *attempt) turnLast() {
	a.moves = slices.Clone(a.moves)
	a.moves[len(a.moves)-1].value *= -1
}

// turns reports whether a movement that is typed now has its sign turned: the
// needle is known to read reversed. A direction typed in words is where the
// part went, whatever the needle showed.
func (s *State) turns(c *procedures.Correction, k Taken) bool {
	return s.signs[c.Name] < 0 && k.Way == ""
}

// turn turns the signs of the movement's indicator: it reads reversed.
func (s *State) turn(a *attempt) {
	if s.signs[a.corr.Name] < 0 {
		s.signs[a.corr.Name] = 1
	} else {
		s.signs[a.corr.Name] = -1
	}
	a.moves = slices.Clone(a.moves)
	for i := range a.moves {
		a.moves[i].value *= -1
	}
}
