// Package propagate works out how well the results of any formula are known:
// by sensitivities where the formula is as good as straight over the doubt of
// its inputs, and by drawing errors where it is not, as at a kink.
//
// A [Problem] names the inputs with the sources of their errors (see package
// uncert) and the formula twice: once for a single set of shifts of the
// inputs, once for columns of them (see package montecarlo). [Solve] gives an
// [Estimate] for each number of the formula.
//
// "Measure rule" numbers are those of the rules in DEVELOPERS.md.
//
// Sources: JCGM 100:2008 (GUM), 5.1.3; JCGM 101:2008, 7 and 8.
package propagate

import (
	"waywright/checks/montecarlo"
	"waywright/checks/uncert"
)

// Problem is a formula of one or more numbers, and what its inputs are worth.
type Problem struct {
	Model *uncert.Model // the inputs, their nominal values and the sources of their errors

	// Eval gives the numbers of the formula with each input moved by shift[i]
	// from where it is, nil where there are none. A number that is not defined
	// there is NaN. Eval must not keep or change its argument.
	Eval func(shift []float64) []float64
	// Divisors is how many of the numbers, the last ones, are no results but
	// divisors in the formula.
	Divisors int

	// Start returns the same for columns of shifts, without the divisors; see
	// [montecarlo.Problem]. Without it nothing is drawn, and a kink counts by its steepest branch.
	Start func() montecarlo.Func
	// StartsAll: what Start returns gives the divisors too where it has as many
	// columns to fill.
	StartsAll bool

	// Forms says what is known of each number from its formula alone; none
	// stands for plain numbers.
	Forms []Form

	// Zones are the limits that the share of trials is wanted beyond, of each
	// number; none stands for no limits.
	Zones []Zone

	// About is what the seed is made of, besides the model: whatever tells this
	// formula from others.
	About []byte

	// Enough tells of a number whose errors were to be drawn whether what the
	// linear way gives is enough for what it is wanted for; nil stands for never.
	Enough func(k int, linear Estimate) bool

	Trials int // of a drawn result; 0 stands for [montecarlo.Usual]

	Level float64           // coverage probability of U and of the intervals; 0 stands for [Level]
	Asked bool              // errors are drawn in any case
	Plain bool              // slopes are central differences at a kink too, as JCGM 100 has them
	Seed  uint64            // of the draws; 0 stands for the one that belongs to the problem
	Until *montecarlo.Until // trials go on until it is reached, and not for Trials (JCGM 101:2008, 7.9.4)
}

// Form is what is known of a number from its formula, whatever the readings.
type Form struct {
	// Kinked: the formula passes through a computation with a kink (greatest,
	// runout, abs, a condition on a reading), where a sensitivity is not the
	// whole truth (measure rule 10).
	Kinked bool
	// NonNegative: the number cannot be below nought, and errors make it too
	// large on average (measure rule 15).
	NonNegative bool
	// Turns: the number is an angle round a whole turn, rad: what it may be
	// otherwise is counted the short way round from where it is.
	Turns bool
}

// Zone is what lies between two limits, which belong to it.
type Zone struct{ Lo, Hi float64 }

// Estimate is how well a number is known.
type Estimate struct {
	Value float64
	Std   float64 // u, the standard uncertainty
	DoF   float64 // effective degrees of freedom; +Inf where well known, and where drawn
	K     float64 // U/u
	U     float64 // half of the interval about Value that holds 95 %, or the problem's Level, of what the true value may be

	// Slopes are the sensitivities to the inputs of the model: central
	// differences, or, at a kink, the slopes of the branch that is the less
	// certain. They make Budget, and tell what two results share.
	Slopes []float64
	Budget []uncert.Line

	// Drawn is what the trials gave; nil where the linear way is good enough.
	Drawn *Drawn
}

// Drawn is what drawing errors gave for one number.
type Drawn struct {
	Bias      float64 // mean of the trials about the readings, less the value
	Std       float64 // of the trials
	Symmetric montecarlo.Interval
	Shortest  montecarlo.Interval
	Below     float64 // share of the trials below the number's zone; those without a result count as below and above
	Above     float64
	Trials    int
	Undefined int // trials in which the formula had no result
	Seed      uint64
	Why       Why
	Stable    bool // of trials that went on until they were enough: they were
}

// Why says why errors were drawn.
type Why uint8

// The reasons.
const (
	Kink    Why = iota + 1 // the formula has a kink (measure rule 10)
	Curved                 // the formula bends within the doubt of its inputs
	Divisor                // the doubt of a divisor is above a tenth of it
	Asked                  // it was asked for
)
