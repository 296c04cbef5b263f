// Package response tells what a machine did in answer to a correction, and
// how far to go next.
//
// A correction is expected to change a result by P when its amount is the
// planned one, and by m when it is the amount that the indicator showed to
// have moved. With the change Δ that is observed:
//
//	response  ρ = Δ/P
//	fidelity  κ = moved/planned
//	gain      γ = Δ/m
//
// Amounts are in one unit, changes in another; each sign counts. Nothing here
// words a message: it names what the person has to be told.
package response

import "math"

// Word is what a correction did.
type Word string

// The words. The first eleven name a cause or state that none can be named;
// the last three are all that can be told of a small change.
const (
	AsExpected Word = "as_expected" // as expected
	WrongWay   Word = "wrong_way"   // moved the wrong way
	WrongSign  Word = "wrong_sign"  // the result went against what the indicator showed: readings swapped or its sign is wrong
	Reversed   Word = "reversed"    // moved right; the indicator reads the other way round
	Undone     Word = "undone"      // undone in clamping, or not the cause
	NotMoved   Word = "not_moved"   // nothing moved
	Part       Word = "part"        // moved less than asked
	TooFar     Word = "too_far"     // moved further than asked, and as much came of it
	Weak       Word = "weak"        // the machine answers weakly
	Strong     Word = "strong"      // the machine answers strongly
	Unclear    Word = "unclear"     // no cause fits; measure again

	Better       Word = "better"
	Worse        Word = "worse"
	NoDifference Word = "no_difference" // not distinguishable from noise
)

// Words returns all words.
func Words() []Word {
	return []Word{AsExpected, WrongWay, WrongSign, Reversed, Undone, NotMoved, Part, TooFar, Weak, Strong, Unclear,
		Better, Worse, NoDifference}
}

// Tell says how much a change can tell.
type Tell uint8

// From least to most.
const (
	TellNothing   Tell = iota // the expected change is lost in the noise: no amount is worth offering
	TellDirection             // better or worse, but no cause
	TellCause                 // causes are named
)

// CanTell says how much a change can tell that is expected to be p and will be
// known with the standard uncertainty uChange: nothing under 2 u, its
// direction under 5 u.
func CanTell(p, uChange float64) Tell {
	switch p = math.Abs(p); {
	case math.IsNaN(p) || math.IsNaN(uChange) || p == 0 || p < 2*uChange:
		return TellNothing
	case p < 5*uChange:
		return TellDirection
	}
	return TellCause
}

// Input is one correction, with what was read before and after it.
type Input struct {
	Planned  float64 // the amount that was asked for
	Moved    float64 // the amount that the indicator showed, in all
	UMoved   float64 // its standard uncertainty
	HasMoved bool

	ExpectedPlanned float64 // P: change expected of Planned
	ExpectedMoved   float64 // m: change expected of Moved

	Change  float64 // Δ: the result after less the result before
	UChange float64 // its standard uncertainty, shared sources cancelled
}

// Finding is what a correction did.
type Finding struct {
	Rho, URho     float64
	Kappa, UKappa float64 // 1 and 0 where Moved was not read
	Gain, UGain   float64 // 0 where there is none

	// GainKnown: the gain is known well enough to scale the next amount.
	GainKnown bool
	// CheckSign: the machine seems to go against the indicator. No amount is
	// worth offering until the indicator's sign is checked.
	CheckSign bool

	Tell Tell
	Word Word
	// Neighbour is the word that a value within its standard uncertainty would
	// have given, or empty.
	Neighbour Word
	// BothCauses: Moved was not read, so WrongWay may be WrongSign.
	BothCauses bool
	// SomethingElse: the answer is more than twice what was expected; something
	// else moved too.
	SomethingElse bool

	HasMoved bool
}

// Analyse says what a correction did. Numbers that are not finite leave it
// unclear.
func Analyse(in Input) Finding {
	f := Finding{Kappa: 1, HasMoved: in.HasMoved, Word: NoDifference}
	if !in.finite() {
		f.Word = Unclear
		return f
	}
	if in.HasMoved && in.Planned != 0 {
		f.Kappa = in.Moved / in.Planned
		f.UKappa = in.UMoved / math.Abs(in.Planned)
	}
	f.gain(in)
	if in.ExpectedPlanned == 0 {
		return f // nothing was expected, so nothing is learnt
	}
	f.Rho = in.Change / in.ExpectedPlanned
	f.URho = in.UChange / math.Abs(in.ExpectedPlanned)
	f.Tell = CanTell(in.ExpectedPlanned, in.UChange)
	if f.Tell == TellCause && in.HasMoved && !movePlain(in.Planned, in.UMoved) {
		f.Tell = TellDirection
	}
	if f.Tell < TellCause {
		f.Word = direction(f.Rho, f.URho)
		return f
	}
	f.cause()
	return f
}

func (in Input) finite() bool {
	for _, x := range []float64{in.Planned, in.Moved, in.UMoved, in.ExpectedPlanned, in.ExpectedMoved,
		in.Change, in.UChange} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}

// gain works out γ and whether it may be used: where m is at least 4 u(m), and
// to scale by it where it is known to a quarter.
func (f *Finding) gain(in Input) {
	m := in.ExpectedMoved
	um := in.uExpectedMoved()
	if !in.HasMoved || m == 0 || math.Abs(m) < 4*um {
		return
	}
	f.Gain = in.Change / m
	f.UGain = math.Hypot(in.UChange, f.Gain*um) / math.Abs(m)
	f.CheckSign = f.Gain < minusEdge(f.UGain)
	f.GainKnown = f.UGain < 0.25
}

// uExpectedMoved turns the uncertainty of the amount into that of the change
// expected of it, by the proportion of the planned ones.
func (in Input) uExpectedMoved() float64 {
	switch {
	case in.Planned != 0:
		return math.Abs(in.ExpectedPlanned/in.Planned) * in.UMoved
	case in.Moved != 0:
		return math.Abs(in.ExpectedMoved/in.Moved) * in.UMoved
	}
	return 0
}

// direction says all that can be told of a change of 2 to 5 u.
func direction(rho, u float64) Word {
	switch {
	case rho+2*u < 0:
		return Worse
	case rho-2*u > 0:
		return Better
	}
	return NoDifference
}

// cause names the word for the pair of bands, and the neighbour.
func (f *Finding) cause() {
	f.Word = f.word(BandOf(f.Rho, f.URho), BandOf(f.Kappa, f.UKappa))
	if w := f.byMovement(); f.Word == Unclear && w != "" {
		f.Word = w
	}
	f.SomethingElse = f.Word == Strong && f.Rho > 2
	f.Neighbour = f.neighbour()
	if !f.HasMoved {
		f.BothCauses = f.Word == WrongWay
	}
}

// byMovement names the cause where the result changed by as much as was moved,
// and only the movement was not what was asked; empty where it did not.
func (f *Finding) byMovement() Word {
	if !f.GainKnown || BandOf(f.Gain, f.UGain) != BandOne {
		return ""
	}
	switch BandOf(f.Kappa, f.UKappa) {
	case BandMinus:
		return WrongWay
	case BandPart:
		return Part
	case BandOver:
		return TooFar
	}
	return ""
}
