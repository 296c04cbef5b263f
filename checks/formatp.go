package checks

import (
	"math"
	"strconv"
	"strings"
)

// FormatP prints a probability of conformity so that its digits never say
// more than it does: rounded towards a half, to three places from 0.95 up and
// 0.05 down, and "> 0.999" or "< 0.001" beyond (measure rule 19).
func FormatP(p float64) string {
	if p < 0.5 {
		return FormatBound(p, AtMost)
	}
	return FormatBound(p, AtLeast)
}

// FormatBound is like [FormatP] for a probability that is at least or at most
// p: it is rounded down or up. The words are the caller's; the digits hold
// with "at least" or "at most" before them.
func FormatBound(p float64, b Bound) string {
	switch {
	case math.IsNaN(p):
		return "not known"
	case b == Exact:
		return FormatP(p)
	case p > 0.999 && b == AtLeast:
		return "> 0.999"
	case p < 0.001 && b == AtMost:
		return "< 0.001"
	}
	places := 2
	if p >= 0.95 || p <= 0.05 {
		places = 3
	}
	// Cut the shortest decimals that stand for p: arithmetic would turn a
	// round 0.95 into 0.949.
	whole, decimals, _ := strings.Cut(strconv.FormatFloat(p, 'f', -1, 64), ".")
	for len(decimals) < places {
		decimals += "0"
	}
	kept, _ := strconv.Atoi(whole + decimals[:places])
	if b == AtMost && strings.Trim(decimals[places:], "0") != "" {
		kept++
	}
	return strconv.FormatFloat(float64(kept)/math.Pow10(places), 'f', places, 64)
}
