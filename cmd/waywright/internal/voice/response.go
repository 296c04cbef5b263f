package voice

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/checks/response"
	"waywright/engine"
)

// Responded says what a correction did to its result, and what follows while
// the gate that it was made for is not passed.
func (v Voice) Responded(r engine.Response) Screen {
	if r.Cannot != "" {
		return say("What the move did cannot be told: " + You(r.Cannot) + ".")
	}
	f := r.Finding
	switch {
	case len(r.Looks) > 0 && r.Looks[0].Kind == engine.Swapped:
		return v.lookedLike(r, r.Looks[0])
	case contrary(f) && r.Rightly:
		return v.rightly(r)
	case contrary(f):
		return v.doubt(r)
	}
	s := v.told(r, f.Word)
	if f.Neighbour != "" && f.Neighbour != f.Word {
		s = append(s, Line{Text: "It is a near thing. It may also be that " + meaning(f.Neighbour) + "."})
	}
	for _, x := range r.Looks {
		s = append(s, whileOpen(r, Suspected(x))...)
	}
	return s
}

// contrary tells whether the needle and the result contradict each other.
func contrary(f response.Finding) bool {
	return f.Word == response.WrongSign || f.Word == response.Reversed || f.HasMoved && f.CheckSign
}

// told says what the word of a response stands for.
func (v Voice) told(r engine.Response, w response.Word) Screen {
	switch w {
	case response.AsExpected:
		return say("The move did what it should.")
	case response.WrongWay:
		return v.wrongWay(r)
	case response.Undone:
		return append(say("NO EFFECT. "+v.wasIs(r), "The move was undone in clamping, or this is not the cause."),
			stillOpen(r, "Lock first, then read the needle. If it comes again, look for another cause.")...)
	case response.NotMoved:
		return append(say("NOTHING MOVED. "+v.wasIs(r)), stillOpen(r, "Slacken until the needle answers, move, lock, then read.")...)
	case response.Part:
		return append(say("PART OF THE WAY: it moved less than asked. "+v.wasIs(r)), stillOpen(r, "What is left is asked again. Move what is asked, no more.")...)
	case response.TooFar:
		return append(say("FURTHER THAN ASKED: it moved "+shareOf(r.Finding.Kappa)+" times as far, and as much came of it.", v.wasIs(r)),
			stillOpen(r, "The machine answers as it should. Move what is asked, no more.")...)
	case response.Weak:
		return append(say("The machine answers weakly: "+v.answered(r)+"."), v.allowedFor(r)...)
	case response.Strong:
		s := append(say("The machine answers strongly: "+v.answered(r)+"."), v.allowedFor(r)...)
		if len(r.Looks) > 0 && whileOpen(r, s) != nil {
			return s // one thing to look at is enough
		}
		if r.Finding.SomethingElse {
			return append(s, Line{Text: "Look at the lengths that were typed. If they are right, something else may have moved too."})
		}
		return append(s, Line{Text: "Look at the lengths that were typed."})
	case response.Better:
		return say("Better. " + v.wasIs(r))
	case response.Worse:
		return append(say("WORSE. "+v.wasIs(r)), stillOpen(r, "What follows is counted from where it stands now.")...)
	case response.NoDifference:
		return v.noneShown(r)
	}
	return v.unclear(r)
}

// stillOpen is said while the gate is not passed: there is something left to do.
func stillOpen(r engine.Response, texts ...string) Screen { return whileOpen(r, say(texts...)) }

func whileOpen(r engine.Response, s Screen) Screen {
	switch r.Verdict {
	case checks.Fail, checks.Undecided, checks.NotMeasured:
		return s
	}
	return nil
}

// allowedFor says that the amount to come goes by the gain that was found.
func (v Voice) allowedFor(r engine.Response) Screen {
	if f := r.Finding; !f.Teaches() && f.HasMoved {
		return nil
	}
	return stillOpen(r, "The amount allows for it.")
}

func (v Voice) wrongWay(r engine.Response) Screen {
	way, went := strings.ToUpper(You(r.Direction)), strings.ToUpper(You(r.MovedWay))
	s := say("WRONG WAY.", v.wasIs(r))
	if r.HasMoved && went != "" {
		s = append(s, Line{Text: "Asked " + way + "; it moved " + went + "."})
	} else if r.Finding.BothCauses {
		s = append(s, Line{Text: "It moved against what was asked, or the readings are swapped. Look at both."})
	}
	return append(s, stillOpen(r, "What follows is counted from where it stands now.")...)
}

// noneShown says that what a correction did is lost in the doubt, and what
// follows: it depends on how the result stands.
func (v Voice) noneShown(r engine.Response) Screen {
	by, doubt := v.differs(r.After-r.Before, r.UDelta, r.Unit)
	s := say(noDifference(by, doubt))
	switch {
	case r.Verdict == checks.Fail && r.Reread:
		return append(s, Line{Text: "The move did nothing that shows. Move again: lock first, then read the needle."})
	case r.Verdict == checks.Fail:
		return append(s, Line{Text: "The move did nothing that shows, and it still fails. Read it once more. If it stands as it did, move again: lock first, then read the needle."})
	case r.Verdict == checks.Undecided:
		return append(s, Line{Text: "Another round would show no more. Stop here, or take a finer instrument."})
	}
	return s
}

// unclear says what is known where no cause fits: both figures, and where they do
// not go together.
func (v Voice) unclear(r engine.Response) Screen {
	f := r.Finding
	s := say("NOT CLEAR. " + v.wasIs(r))
	if r.HasMoved {
		s = append(s, Line{Text: fmt.Sprintf("It moved %s of what was asked; %s of what was expected came of it.", shareOf(f.Kappa), shareOf(f.Rho))})
		s = append(s, Line{Text: apart(f)})
	}
	if r.Reread {
		return append(s, stillOpen(r, "It was read again since: go by what stands now.")...)
	}
	return append(s, stillOpen(r, "No single cause fits. Measure again, before anything is moved.")...)
}

// apart says where what was moved and what came of it do not go together.
func apart(f response.Finding) string {
	moved, came := response.BandOf(f.Kappa, f.UKappa), response.BandOf(f.Rho, f.URho)
	switch {
	case moved == response.BandNought:
		return "The needle shows no movement, yet the result changed: look whether its tip touches."
	case came == response.BandNought:
		return "It moved, yet the result stayed."
	case math.Abs(f.Rho) < math.Abs(f.Kappa):
		return "Less came of it than it moved."
	}
	return "More came of it than it moved."
}

// lookedLike says what explains a response better than the machine does.
func (v Voice) lookedLike(r engine.Response, x engine.Suspicion) Screen {
	s := say("NOT AS EXPECTED. "+v.wasIs(r), You(x.Said))
	if x.First && whileOpen(r, s) != nil {
		s[0].Text = "MOVE NOTHING YET. " + v.wasIs(r)
	}
	return append(s, stillOpen(r, You(x.Mend))...)
}

// rightly is said where the needle was tested and is right, and yet went against
// the result.
func (v Voice) rightly(r engine.Response) Screen {
	if r.Finding.Word == response.Reversed {
		return say("It went as it should, though the needle said "+strings.ToUpper(You(r.MovedWay))+".",
			"The needle reads rightly. Then the way was typed wrong, or the readings are mistaken: look at both.")
	}
	s := Screen{}
	if !r.Reread {
		s = stillOpen(r, "STOP. MOVE NOTHING.")
	}
	s = append(s, say(v.wasIs(r), "The needle reads rightly. Then it is the readings: two places taken for one another, or a sign.")...)
	if r.Reread {
		return append(s, stillOpen(r, "They were read again since: go by what stands now.")...)
	}
	return append(s, stillOpen(r, "Read them again by the names of their places, first to last.")...)
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
	case response.TooFar:
		return "it moved further than asked"
	case response.Weak:
		return "the machine answers weakly"
	case response.Strong:
		return "the machine answers strongly"
	}
	return "something else is the matter"
}

// doubt is said where the needle and the result contradict each other, and the
// needle is to be tested.
func (v Voice) doubt(r engine.Response) Screen {
	s := say("STOP. MOVE NOTHING.", v.wasIs(r))
	if r.Verdict == checks.Pass {
		s = s[1:] // there is nothing to be moved
	}
	switch {
	case !r.HasMoved || r.MovedWay == "":
	case r.Finding.Word == response.Reversed:
		s = append(s, Line{Text: "It went as it should, but the needle said " + strings.ToUpper(You(r.MovedWay)) + ". It seems to read the other way round."})
	default:
		s = append(s, Line{Text: "The needle said " + strings.ToUpper(You(r.MovedWay)) + ". Both cannot be right."})
	}
	return s
}

// wasIs says a result before and after, and what was expected of it, each with
// its side in words.
func (v Voice) wasIs(r engine.Response) string {
	expected := r.Before + r.Expected
	about := "about " + v.side(r, expected)
	if math.Abs(expected) < r.UDelta {
		about = "about 0"
	}
	what := r.Title
	if what == "" {
		what = "It"
	}
	was := v.side(r, r.Before)
	if _, _, ok := polar(r.Positive); ok && r.Before*r.After > 0 {
		was = v.result(r, math.Abs(r.Before)) // of the same side: it is said once
	}
	said := what + " was " + was + ", is now " + v.side(r, r.After) + ". Expected: " + about + "."
	if !r.Shown {
		by, doubt := v.differs(r.After-r.Before, r.UDelta, r.Unit)
		said += " " + noDifference(by, doubt)
	}
	return said
}

// side says a result with the side that it lies on; with a sign only where no
// words are known for the other side.
func (v Voice) side(r engine.Response, x float64) string {
	said := v.result(r, math.Abs(x))
	plus, minus, ok := polar(r.Positive)
	switch {
	case !strings.ContainsAny(said, "123456789"):
		return said
	case ok && x < 0:
		return said + " " + minus
	case ok:
		return said + " " + plus
	}
	return v.result(r, x)
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
