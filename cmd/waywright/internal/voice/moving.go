package voice

import (
	"math"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/response"
	"waywright/engine"
)

// moved asks how far a correction that was chosen went.
func (v Voice) moved(q engine.Question, a *Asked) {
	a.Head = nil
	if len(q.Ways) > 0 && q.Ways[0].Advice != nil {
		a.Body = v.Advised(*q.Ways[0].Advice)[1:]
	}
	a.Ask = append(say(v.howFar(q)), detail(lowerFirst(You(q.Ask))))
	if len(q.Ways) > 0 && q.Ways[0].Advice != nil && q.Ways[0].Advice.Reversed {
		a.Ask[len(a.Ask)-1] = detail("figures as the needle shows them: it reads reversed, minus is " + You(q.Positive))
	}
	a.Value = true
}

// move puts a movement that was not as asked, before anything is cut.
func (v Voice) move(q engine.Question, a *Asked) {
	m := q.Move
	if m == nil {
		m = &engine.MoveAdvice{}
	}
	a.Head = nil
	if m.Nudge {
		a.Body = say("The needle is tested before anything is cut or measured.")
		if q.Response != nil {
			a.Body = v.doubt(*q.Response)
		}
		v.nudge(m.NudgeWay, "", a)
		return
	}
	u := quantity.InRun(m.Unit, v.Inch)
	show := func(x float64) string { return amount(math.Abs(x), u, step(m.Instrument)/10) }
	asked, went := strings.ToUpper(You(m.AskedWay)), strings.ToUpper(You(m.MovedWay))
	a.Value = true
	again := Option{Label: "moved: read again", Act: Enter, Prompt: "How far this time, and which way? (" + u.Symbol + ")"}
	if m.Band == response.BandMinus {
		a.Body = Screen{
			{Text: "WRONG WAY. Nothing is cut yet."},
			labelled("Asked", show(m.Asked)+" "+asked),
			labelled("Moved", show(m.Moved)+" "+went),
			{Text: "NOW MOVE   " + v.left(m, show) + "   " + strings.ToUpper(You(m.LeftWay)), Hang: 2},
			{Text: "counted from where it stands now (" + show(m.Left) + ")."},
		}
		a.Options = []Option{again,
			{Label: "I typed the wrong way", Word: "wrong_way"},
			{Label: "needle's sign is in doubt: test it", Word: "sign"}}
		return
	}
	why := "The clamp took it back."
	switch m.Band {
	case response.BandPart:
		why = "The clamp took some of it back."
	case response.BandOver:
		why = "That is further than asked."
		if n := wholeTurns(m); n > 0 {
			why = "That is further than asked, by " + times(n, "whole turn", "whole turns") + " of the needle. Look at the small hand."
		}
	}
	a.Body = say("Asked "+v.inDivisions(m, m.Asked, show)+"; after locking the needle shows "+v.shownIn(m, m.Moved, show)+".", why)
	again.Label = "set again"
	carry := Option{Label: "carry on with " + v.shownIn(m, m.Moved, show), Word: "carry_on"}
	a.Options = []Option{again, carry, {Label: "needle's sign is in doubt: test it", Word: "sign"}}
	if m.LeftWay != "" {
		still := "STILL TO MOVE   "
		if m.Band == response.BandOver {
			still = "MOVE BACK   "
		}
		a.Ask = Screen{{Text: still + v.left(m, show) + "   " + strings.ToUpper(You(m.LeftWay)), Hang: 2}}
	}
}

// wholeTurns returns by how many whole turns of its needle a movement was further
// than asked, or 0 where it is not by whole turns.
func wholeTurns(m *engine.MoveAdvice) int {
	if m.Correction == nil || m.Correction.Moved == nil || m.Correction.Moved.With == nil {
		return 0
	}
	turn := m.Correction.Moved.With.Turn
	over := math.Abs(m.Moved) - math.Abs(m.Asked)
	n := math.Round(over / turn)
	if turn <= 0 || n < 1 || n > 9 || math.Abs(over-n*turn) > max(step(m.Instrument), 0.01*turn) {
		return 0
	}
	return int(n)
}

// left is what is still to be moved, in divisions where there are any.
func (v Voice) left(m *engine.MoveAdvice, show func(float64) string) string {
	if m.Divisions == 0 {
		return show(m.Left)
	}
	if whole := divisions(m.Divisions); whole > 0 {
		return strings.ToUpper(times(whole, "division", "divisions"))
	}
	return "LESS THAN HALF A DIVISION"
}

func (v Voice) inDivisions(m *engine.MoveAdvice, x float64, show func(float64) string) string {
	if m.Divisions == 0 || step(m.Instrument) == 0 {
		return show(x)
	}
	whole := divisions(x / step(m.Instrument))
	if whole == 0 {
		return show(x)
	}
	return times(whole, "division", "divisions")
}

// shownIn is a movement in divisions, without the word.
func (v Voice) shownIn(m *engine.MoveAdvice, x float64, show func(float64) string) string {
	if m.Divisions == 0 || step(m.Instrument) == 0 {
		return show(x)
	}
	return number(int(math.Round(math.Abs(x) / step(m.Instrument))))
}
