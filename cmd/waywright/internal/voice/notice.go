package voice

import (
	"fmt"
	"math"
	"strings"

	"waywright/checks/quantity"
	"waywright/engine"
)

// Told says what happened after an answer.
func (v Voice) Told(n engine.Notice) Screen {
	switch n.Kind {
	case engine.Settled:
		if n.Judgement != nil {
			return append(append(Screen{{}}, v.Judged(*n.Judgement)...), v.Changed(*n.Judgement, n.Change)...)
		}
	case engine.Answers:
		if n.Response != nil {
			return v.Responded(*n.Response)
		}
	case engine.SetVoid:
		return v.void(n)
	case engine.Spoilt:
		if len(n.Titles) > 0 {
			return say("To be done again: " + lowerFirst(list(youAll(n.Titles))) + ".")
		}
	case engine.Restart:
		if len(n.Titles) > 0 {
			return say("No, so once more: " + lowerFirst(list(youAll(n.Titles))) + ".")
		}
	case engine.Resumed:
		return v.resumed(n)
	case engine.Suspect:
		if n.Suspicion != nil {
			x := *n.Suspicion
			x.First = false // nothing is asked about it here
			return Suspected(x)
		}
	case engine.Ended:
		return say(n.Text)
	}
	s := say(You(n.Text))
	if len(n.Titles) > 0 {
		s = append(s, detail(list(youAll(n.Titles))))
	}
	return s
}

// void says that a set cannot be used.
func (v Voice) void(n engine.Notice) Screen {
	d := n.Drift
	if d == nil || d.Reading == nil || d.Reading.Unit == nil {
		return say(You(n.Text))
	}
	u := quantity.InRun(*d.Reading.Unit, v.Inch)
	places := quantity.EnoughDigits(math.Abs(d.Moved), u, quantity.Usual(u), d.Allowed)
	s := say(
		fmt.Sprintf("Moved %s since the start; %s is allowed.", quantity.Format(math.Abs(d.Moved), u.Difference(), places), quantity.Plain(d.Allowed, u.Difference())),
		"Something shifted. These readings cannot be used.",
		"Look: arm, locks, belt pull, dirt, warmth.")
	if d.Voids > 1 {
		s = append(s, Line{Text: fmt.Sprintf("That is the %s set in a row.", ordinal(d.Voids))})
	}
	return s
}

func ordinal(n int) string {
	switch n {
	case 1:
		return "first"
	case 2:
		return "second"
	case 3:
		return "third"
	}
	return fmt.Sprintf("%dth", n)
}

// resumed says what a new sitting begins with.
func (v Voice) resumed(n engine.Notice) Screen {
	s := say(You(n.Text))
	if len(n.Titles) > 0 {
		s = append(s, labelled("Do again", list(youAll(n.Titles))))
	}
	return s
}

// Refused says why an answer was not kept: what was read, what is odd, what
// to do.
func (v Voice) Refused(r engine.Refusal) Screen {
	var parts []string
	for _, p := range []string{r.Understood, r.Wrong} {
		if p != "" {
			parts = append(parts, Sentence(You(p)))
		}
	}
	s := say(strings.Join(parts, " "))
	if r.Keep {
		return s
	}
	mend := Sentence(You(r.Mend))
	if mend == "" {
		mend = "Nothing is kept."
	}
	return append(s, Line{Text: mend})
}

// Insist returns the ways on from an odd value: read again, what may have
// been meant, or the value as it is, with a reason. Of a row the odd value alone
// is read again first, and the whole row is another choice.
func (v Voice) Insist(q engine.Question, r engine.Refusal, typed string) []Option {
	again, reasons := "measure again", keepReasons
	switch {
	case r.Code == "instrument":
		again, reasons = "take another", instrumentReasons
	case stated(q):
		again, reasons = "type it again", statedOddly
	}
	out := []Option{{Label: again, Act: Stays}}
	if n := len(r.Row); n > 0 {
		typed = r.Row[r.At-1]
		out = []Option{
			{Label: v.inRow(q, r.At) + " again, alone: the others stand", Act: Retakes},
			{Label: allOf(n) + " again", Act: Stays},
		}
	}
	for _, c := range r.Suggest {
		label := c.Label
		if label == "" || label == c.Word {
			label = "it was " + c.Word
		}
		out = append(out, Option{Label: label, Word: c.Word})
	}
	return append(out, Option{Label: "keep " + typed + ", and say why", Act: Because, Word: typed, Prompt: "Why is it kept?", Reasons: reasons})
}

func allOf(n int) string {
	if n == 2 {
		return "both"
	}
	return "all " + number(n)
}

// stated tells whether a value is only stated, and not read with anything.
func stated(q engine.Question) bool { return q.Kind == engine.AskGiven && q.Instrument == nil }

// OddInRow names the odd one of the values that were typed in a row, and the
// others: "Take 3 of the row 24.712 24.713 24.812."
func (v Voice) OddInRow(q engine.Question, r engine.Refusal) Line {
	if len(r.Row) == 0 {
		return Line{}
	}
	return Line{Text: Capital(v.inRow(q, r.At)) + " of the row  " + strings.Join(r.Row, "  "), Hang: 2}
}

// inRow names the value n of a row, from 1, that begins at a question's place.
func (v Voice) inRow(q engine.Question, n int) string {
	switch {
	case q.Takes > 1 && len(q.At) == 0:
		return fmt.Sprintf("take %d", max(q.Take, 1)+n-1)
	case len(q.At) > 0 && q.Takes <= 1 && !q.Back:
		return fmt.Sprintf("place %d", q.Station+n-1)
	}
	return fmt.Sprintf("value %d", n)
}

// Held says which values of a row are kept back until the odd one among them is
// there.
func (v Voice) Held(rest []string) Line {
	return Line{Text: "Typed behind it, and added after it: " + strings.Join(rest, "  "), Hang: 2}
}
