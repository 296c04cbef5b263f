package voice

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/response"
	"waywright/engine"
)

// Responded says what a correction did to its result.
func (v Voice) Responded(r engine.Response) Screen {
	if r.Cannot != "" {
		return say("What the move did cannot be told: " + You(r.Cannot) + ".")
	}
	f := r.Finding
	if f.Word == response.WrongSign && r.Rightly {
		return say("STOP. MOVE NOTHING.", v.wasIs(r), "The needle reads rightly. Then it is the readings: two places taken for one another, or a sign.",
			"Read them again by the names of their places, first to last.")
	}
	s := v.told(r, f.Word)
	if f.Neighbour != "" && f.Neighbour != f.Word {
		s = append(s, Line{Text: "It is a near thing. It may also be that " + meaning(f.Neighbour) + "."})
	}
	return s
}

func (v Voice) told(r engine.Response, w response.Word) Screen {
	way, went := strings.ToUpper(You(r.Direction)), strings.ToUpper(You(r.MovedWay))
	switch w {
	case response.AsExpected:
		return say("The move did what it should.")
	case response.WrongWay:
		s := say("WRONG WAY.", v.wasIs(r))
		if r.HasMoved && went != "" {
			s = append(s, Line{Text: "Asked " + way + "; it moved " + went + "."})
		} else if r.Finding.BothCauses {
			s = append(s, Line{Text: "It moved against what was asked, or the readings are swapped. Look at both."})
		}
		return append(s, Line{Text: "What follows is counted from where it stands now."})
	case response.WrongSign, response.Reversed:
		return v.doubt(r)
	case response.Undone:
		return say("NO EFFECT. "+v.wasIs(r), "The move was undone in clamping, or this is not the cause.",
			"Lock first, then read the needle. If it comes again, look for another cause.")
	case response.NotMoved:
		return say("NOTHING MOVED. "+v.wasIs(r), "Slacken until the needle answers, move, lock, then read.")
	case response.Part:
		return say("PART OF THE WAY: it moved less than asked. "+v.wasIs(r), "What is left is asked again. Move what is asked, no more.")
	case response.Weak:
		return say("The machine answers weakly: " + v.answered(r) + ". The next amount is scaled.")
	case response.Strong:
		s := say("The machine answers strongly: "+v.answered(r)+". The next amount is scaled.", "Look at the lengths that were typed.")
		if r.Finding.SomethingElse {
			s = append(s, Line{Text: "Something else moved too."})
		}
		return s
	case response.Better:
		return say("Better. " + v.wasIs(r))
	case response.Worse:
		return say("WORSE. " + v.wasIs(r))
	case response.NoDifference:
		by, doubt := v.differs(r.After-r.Before, r.UDelta, r.Unit)
		return say(noDifference(by, doubt),
			"Another round would show no more. Stop here, or take a finer instrument.")
	}
	s := say("NOT CLEAR. " + v.wasIs(r))
	if r.HasMoved {
		s = append(s, Line{Text: fmt.Sprintf("It moved %s of what was asked; %s of what was expected came of it.", shareOf(r.Finding.Kappa), shareOf(r.Finding.Rho))})
	}
	return append(s, Line{Text: "No single cause fits. Measure again, before anything is moved."})
}

// Suspected says what readings look like besides what they say.
func Suspected(x engine.Suspicion) Screen {
	head := "LOOK AT THIS. "
	if x.First {
		head = "MOVE NOTHING YET. "
	}
	return say(head+You(x.Said), You(x.Mend))
}

// meaning says what a word of the response table stands for, within a
// sentence.
func meaning(w response.Word) string {
	switch w {
	case response.AsExpected:
		return "the move did what it should"
	case response.WrongWay:
		return "it moved the wrong way"
	case response.WrongSign:
		return "the needle's sign is wrong or the readings are swapped"
	case response.Reversed:
		return "the needle reads reversed"
	case response.Undone:
		return "the move was undone in clamping"
	case response.NotMoved:
		return "nothing moved"
	case response.Part:
		return "it moved less than asked"
	case response.Weak:
		return "the machine answers weakly"
	case response.Strong:
		return "the machine answers strongly"
	}
	return "something else is the matter"
}

// doubt is said where the needle and the result contradict each other.
func (v Voice) doubt(r engine.Response) Screen {
	s := say("STOP. MOVE NOTHING.", v.wasIs(r))
	switch {
	case !r.HasMoved || r.MovedWay == "":
	case r.Finding.Word == response.Reversed:
		s = append(s, Line{Text: "It went as it should, but the needle said " + strings.ToUpper(You(r.MovedWay)) + ". It seems to read the other way round."})
	default:
		s = append(s, Line{Text: "The needle said " + strings.ToUpper(You(r.MovedWay)) + ". Both cannot be right."})
	}
	return s
}

// wasIs says a result before and after, and what was expected of it.
func (v Voice) wasIs(r engine.Response) string {
	expected := r.Before + r.Expected
	about := "about " + v.result(r, expected)
	if math.Abs(expected) < r.UDelta {
		about = "about 0"
	}
	what := r.Title
	if what == "" {
		what = "It"
	}
	said := what + " was " + v.side(r, r.Before) + ", is now " + v.side(r, r.After) + ". Expected: " + about + "."
	if !r.Shown {
		by, doubt := v.differs(r.After-r.Before, r.UDelta, r.Unit)
		said += " " + noDifference(by, doubt)
	}
	return said
}

// side says a result with its side, where it is now on the other one.
func (v Voice) side(r engine.Response, x float64) string {
	said := v.result(r, x)
	plus, minus, ok := polar(r.Positive)
	if !ok || r.Before*r.After >= 0 {
		return said
	}
	said = strings.TrimPrefix(said, "-")
	if x < 0 {
		return said + " " + minus
	}
	return said + " " + plus
}

func (v Voice) result(r engine.Response, x float64) string {
	u := quantity.InRun(r.Unit, v.Inch)
	return hold(quantity.Format(x, u.Difference(), max(0, quantity.RoundedDecimals(r.UDelta, u))))
}

// answered says how much of what was moved arrived: "0.62 of what was moved".
func (v Voice) answered(r engine.Response) string {
	if r.Finding.Gain != 0 {
		return shareOf(r.Finding.Gain) + " of what was moved"
	}
	return shareOf(r.Finding.Rho) + " of what was asked"
}

func shareOf(x float64) string {
	return strings.Replace(strconv.FormatFloat(x, 'f', 2, 64), "-0.00", "0.00", 1)
}
