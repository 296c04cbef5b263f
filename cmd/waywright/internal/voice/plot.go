package voice

import (
	"math"
	"slices"
)

// A braille cell has two by four dots.
const (
	dotsAcross = 2
	dotsDown   = 4
	plotRows   = 3
)

var dot = [dotsDown][dotsAcross]rune{{0x01, 0x08}, {0x02, 0x10}, {0x04, 0x20}, {0x40, 0x80}}

// Plot draws values over their places in braille dots: a few rows, as wide as
// there is room. Values that are not there (NaN) leave a gap. The picture has
// no scale: the numbers always stand beside it as a list.
func Plot(at, y []float64, width int) []string {
	if len(at) != len(y) || len(at) == 0 {
		at = make([]float64, len(y))
		for i := range at {
			at[i] = float64(i)
		}
	}
	lo, hi, any := bounds(y)
	if !any || width < 1 {
		return nil
	}
	left, right := slices.Min(at), slices.Max(at)
	cells := make([][]rune, plotRows)
	for i := range cells {
		cells[i] = make([]rune, width)
	}
	put := func(x, v float64) {
		col := int(math.Round(share(x, left, right) * float64(width*dotsAcross-1)))
		row := plotRows*dotsDown - 1 - int(math.Round(share(v, lo, hi)*float64(plotRows*dotsDown-1)))
		cells[row/dotsDown][col/dotsAcross] |= dot[row%dotsDown][col%dotsAcross]
	}
	for i := range y {
		if !known(y[i]) {
			continue
		}
		put(at[i], y[i])
		if i+1 < len(y) && known(y[i+1]) {
			for n := range width * dotsAcross { // the line to the next
				t := float64(n) / float64(width*dotsAcross)
				put((1-t)*at[i]+t*at[i+1], (1-t)*y[i]+t*y[i+1])
			}
		}
	}
	out := make([]string, plotRows)
	for i, row := range cells {
		for j := range row {
			row[j] += 0x2800
		}
		out[i] = string(row)
	}
	return out
}

func bounds(y []float64) (lo, hi float64, any bool) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, v := range y {
		if !known(v) {
			continue
		}
		lo, hi, any = math.Min(lo, v), math.Max(hi, v), true
	}
	return lo, hi, any
}

func known(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// share tells how far x lies from lo to hi, 0 to 1; a half where they are one.
func share(x, lo, hi float64) float64 {
	if !(hi > lo) {
		return 0.5
	}
	// Halved first, so that no difference is beyond the largest number.
	return math.Max(0, math.Min(1, (x/2-lo/2)/(hi/2-lo/2)))
}
