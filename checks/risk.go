package checks

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// RunRisk returns an upper bound of the probability that a run passed anything
// that does not conform, from the probabilities of conformity of the gates
// that passed: the sum of 1 − p, at most 1. It is reached only if no two could
// be wrong together. A p that is not known counts as 0.
//
// Source: the sum of the specific risks of JCGM 106:2012, 9.3.2; that a union
// is not more probable than the sum of its parts is Boole's inequality
// (measure rule 17).
func RunRisk(passed ...float64) float64 {
	var sum float64
	for _, p := range passed {
		if math.IsNaN(p) {
			return 1
		}
		sum += 1 - math.Min(1, math.Max(0, p))
	}
	return math.Min(1, sum)
}

// Tally counts what became of parts whose true state is known, as in
// rehearsals (measure rule 18).
type Tally struct {
	AcceptedGood, AcceptedBad int
	RejectedGood, RejectedBad int
}

// Add counts one part.
func (t *Tally) Add(accepted, good bool) {
	switch {
	case accepted && good:
		t.AcceptedGood++
	case accepted:
		t.AcceptedBad++
	case good:
		t.RejectedGood++
	default:
		t.RejectedBad++
	}
}

// N returns how many parts were counted.
func (t Tally) N() int { return t.AcceptedGood + t.AcceptedBad + t.RejectedGood + t.RejectedBad }

// Consumer returns the share of all parts that were accepted and are bad: the
// consumer's risk (JCGM 106:2012, 9.5).
func (t Tally) Consumer() Proportion { return Proportion{t.AcceptedBad, t.N()} }

// Producer returns the share of all parts that were rejected and are good: the
// producer's risk (JCGM 106:2012, 9.5).
func (t Tally) Producer() Proportion { return Proportion{t.RejectedGood, t.N()} }

// BadAmongAccepted returns the share of bad parts in those that were accepted,
// which is what their buyer meets.
func (t Tally) BadAmongAccepted() Proportion {
	return Proportion{t.AcceptedBad, t.AcceptedBad + t.AcceptedGood}
}

// Proportion is K of N.
type Proportion struct{ K, N int }

// Share returns K/N, and NaN of none.
func (p Proportion) Share() float64 { return float64(p.K) / float64(p.N) }

// Interval returns the exact interval of 95 %; see [Binomial].
func (p Proportion) Interval() (lo, hi float64) { return Binomial(p.K, p.N) }

// Below returns what the share is below where none was found among N: 3/N, at
// most 1. ok is false where one was found, or nothing was tried. It is a little
// above 1 − 0.05^(1/N), the exact bound of 95 % with all of the 5 % on the one
// side that there is; that of Interval leaves 2.5 % there and is higher.
func (p Proportion) Below() (share float64, ok bool) {
	if p.K > 0 || p.N <= 0 {
		return 0, false
	}
	return math.Min(1, 3/float64(p.N)), true
}

// Binomial returns the exact interval of 95 % for a probability of which k of
// n trials gave an example: below its lower end k or more, and above its upper
// end k or fewer, would turn up less than 25 times in 1000. Without trials, or
// with a k that is not among them, nothing is known: 0 to 1.
//
// Source: C. J. Clopper, E. S. Pearson, The use of confidence or fiducial
// limits illustrated in the case of the binomial, Biometrika 26 (1934), in
// the form with quantiles of the beta distribution, from memory.
func Binomial(k, n int) (lo, hi float64) {
	lo, hi = 0, 1
	if n <= 0 || k < 0 || k > n {
		return lo, hi
	}
	const tail = 0.025
	a, b := float64(k), float64(n-k)
	if k > 0 {
		lo = mathext.InvRegIncBeta(a, b+1, tail)
	}
	if k < n {
		// By the complement, which keeps the digits of a small tail.
		hi = 1 - mathext.InvRegIncBeta(b, a+1, tail)
	}
	return lo, hi
}
