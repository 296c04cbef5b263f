package response

import "math"

// The gain by which amounts are divided is held between these, and no amount
// is more than twice what a gain of one asks for.
const (
	leastGain = 0.25
	mostGain  = 2.0
	mostTimes = 2.0
)

// Without a reading of the movement the gain is the response, held narrower
// since a response also hides what was moved.
const (
	leastBlind = 0.5
	mostBlind  = 2.0
	noAnswer   = 0.25 // a response below this says nothing of the gain
)

// NextGain returns the gain to divide the next amount by, from the one used
// before (1 at the start, or what is remembered of the machine) and what the
// correction did.
//
// With the movement read it becomes the gain found once that is known to a
// quarter and not against the indicator; until then it stays. It stays too
// where the result did not answer at all: a move that was undone in clamping
// says nothing of what the machine makes of one that holds. Without the
// movement it is the response held between 0.5 and 2, but 1 where that is
// below 0.25.
func NextGain(before float64, f Finding) float64 {
	if f.HasMoved {
		if !f.Teaches() {
			return before
		}
		return hold(f.Gain, leastGain, mostGain)
	}
	if f.URho == 0 && f.Rho == 0 {
		return before // nothing was expected of the correction
	}
	if f.Rho < noAnswer {
		return 1
	}
	return hold(f.Rho, leastBlind, mostBlind)
}

// Teaches reports whether the gain that was found is worth going by: it is known
// to a quarter, and the result did answer, and not against the indicator.
func (f *Finding) Teaches() bool {
	return f.HasMoved && f.GainKnown && !f.CheckSign && !f.unanswered()
}

// unanswered reports whether what was moved did not reach the result.
func (f *Finding) unanswered() bool {
	return f.Word == Undone || f.Word == NotMoved || BandOf(f.Gain, f.UGain) <= BandNought
}

func hold(x, least, most float64) float64 { return math.Min(most, math.Max(least, x)) }

// First is what comes before an amount may be offered.
type First uint8

// What comes first.
const (
	Nothing    First = iota // the amount may be offered
	CheckSign               // the indicator's sign is to be checked
	NudgeCheck              // push the part by hand and see which way the needle goes
	Limit                   // the wanted change is lost in the noise: the limit of the instruments
)

// Step asks for the next amount of a correction.
type Step struct {
	Own     float64 // the amount that the procedure works out from the result as it is now
	Gain    float64 // from NextGain; 1 at the start
	Change  float64 // the change expected of Own
	UChange float64 // standard uncertainty with which a change will be known

	// Last is what the correction did before, nil at first and after a check of
	// the sign.
	Last *Finding
	// WrongWays counts how often in a row, up to now, the word was WrongWay; 0
	// after a nudge check.
	WrongWays int
}

// Next is the next amount.
type Next struct {
	Amount float64 // in the unit of Own and with its sign; 0 where First is not Nothing
	Gain   float64 // the gain that it was divided by
	Held   bool    // it would have been more than twice Own, and was held there
	First  First
}

// NextAmount returns the amount to offer: the procedure's own, which has its
// sign from the results alone, divided by the gain, but never more than twice
// as much.
func NextAmount(s Step) Next {
	n := Next{Gain: s.Gain}
	if !(n.Gain > 0) {
		n.Gain = 1
	}
	n.Gain = hold(n.Gain, leastGain, mostGain)
	switch {
	case s.WrongWays >= 2:
		n.First = NudgeCheck
	case s.Last != nil && s.Last.CheckSign:
		n.First = CheckSign
	case CanTell(s.Change, s.UChange) == TellNothing:
		n.First = Limit
	default:
		times := 1 / n.Gain
		if n.Held = times > mostTimes; n.Held {
			times = mostTimes
		}
		n.Amount = times * s.Own
	}
	return n
}
