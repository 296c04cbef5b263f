package form

import (
	"fmt"
	"math"

	"waywright/checks/fit"
)

// series is a list of numbers and what one of them is called.
type series struct {
	what string
	x    []float64
}

// given tells by an [*fit.Undefined] which number is none: a sum would carry
// it on without a word.
func given(lists ...series) error {
	for _, l := range lists {
		for i, x := range l.x {
			if !finite(x) {
				return &fit.Undefined{Why: fmt.Sprintf("%s %d is not a number that can be counted with", l.what, i+1)}
			}
		}
	}
	return nil
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// errTooLarge stands for what comes of numbers that are too large to be
// added up.
var errTooLarge = &fit.Undefined{Why: "the values are too large to be counted with"}

// counted returns an amount, or an error where it is no number.
func counted(x float64) (float64, error) {
	if !finite(x) {
		return 0, errTooLarge
	}
	return x, nil
}
