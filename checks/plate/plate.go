// Package plate works out the heights of a surface plate from slopes along
// eight lines: two diagonals, four edges, two centre lines.
//
// The field is length long from west to east and width from south to north;
// x points east and y north from its middle. Lengths are in mm. A line is
// named by where it begins and ends: nw_se begins in the north-west corner.
package plate

import (
	"fmt"
	"math"
	"strings"

	"waywright/checks/fit"
)

// Lines are the names of the eight lines.
var Lines = [8]string{"nw_se", "ne_sw", "nw_ne", "sw_se", "nw_sw", "ne_se", "w_e", "n_s"}

// places, in halves of length and width from the middle.
var places = map[string][2]float64{
	"nw": {-1, 1}, "n": {0, 1}, "ne": {1, 1},
	"w": {-1, 0}, "e": {1, 0},
	"sw": {-1, -1}, "s": {0, -1}, "se": {1, -1},
}

// Survey is what a survey of eight lines gives.
type Survey struct {
	X, Y []float64 // places of the stations, mm, each once
	Z    []float64 // their heights, mm; the middle is 0
	// MissWE and MissNS say by how much each centre line, hung between the
	// middles of its edges, stands above the middle as the diagonals have it.
	MissWE, MissNS float64 // mm
}

// EightLines returns the heights of all stations. Each line's slopes, in
// radians or as ratios, plus when the further end of the step is higher, are
// those of equal steps from its beginning to its end; their number is even, so
// that a station lies in the middle.
//
// The diagonals are levelled so that the ends of each are equally high and its
// middle is 0. Edges are tied to the corners so found, centre lines to the
// middles of the edges. A centre line's own middle is left out: it is the
// closure, and is reported instead of being spread over the survey.
//
// The error is an [*fit.Undefined] where a line is not there or has an odd
// number of steps.
//
// Source: the method of J. C. Moody, The Tool Engineer (October 1955), from
// memory.
func EightLines(slopes map[string][]float64, length, width float64) (Survey, error) {
	var by [8][]float64
	var steps [8]int
	for i, name := range Lines {
		by[i], steps[i] = slopes[name], len(slopes[name])
	}
	f, err := NewField(steps, length, width)
	if err != nil {
		return Survey{}, err
	}
	z, we, ns := f.Heights(by)
	return Survey{X: f.X, Y: f.Y, Z: z, MissWE: we, MissNS: ns}, nil
}

// stepTol is by what share a step may differ from the base: lines are marked
// out with a ruler.
const stepTol = 0.02

// Steps tells by an [*fit.Undefined] that the steps of a line are not as long
// as the base of the level, or that the base is not above nothing.
func Steps(slopes map[string][]float64, length, width, base float64) error {
	if base <= 0 {
		return &fit.Undefined{Why: "the base must be above nothing"}
	}
	s := size{length, width}
	for _, name := range Lines {
		n := float64(len(slopes[name]))
		step := s.long(name) / n
		if n > 0 && math.Abs(step-base) > stepTol*base {
			return &fit.Undefined{Why: fmt.Sprintf("line %s has %.0f steps of %.6g mm, and the base is %.6g mm", name, n, step, base)}
		}
	}
	return nil
}

// Stations tells by an [*fit.Undefined] that the stations of a line, in rising
// order, do not stand as far apart as the steps that fill the line: length or
// width is then not that of the field that was surveyed.
func Stations(at map[string][]float64, length, width float64) error {
	s := size{length, width}
	for _, name := range Lines {
		whole := s.long(name)
		n := len(at[name])
		step := whole / float64(n)
		for i := 1; i < n; i++ {
			if apart := at[name][i] - at[name][i-1]; math.Abs(apart-step) > stepTol*step {
				return &fit.Undefined{Why: fmt.Sprintf("line %s has stations %.6g mm apart, but %d steps of a line of %.6g mm are %.6g mm each: %s", name, apart, n, whole, step, doubted(name))}
			}
		}
	}
	return nil
}

// doubted says which size of the field a line speaks about.
func doubted(line string) string {
	switch line {
	case "nw_ne", "sw_se", "w_e":
		return "look at the length and at the stations"
	case "nw_sw", "ne_se", "n_s":
		return "look at the width and at the stations"
	}
	return "look at the length, the width and the stations"
}

// size is that of the field.
type size struct{ length, width float64 }

// ends returns where a line begins and ends.
func ends(line string) (from, to string) {
	from, to, _ = strings.Cut(line, "_")
	return from, to
}

// place returns where a share of a line lies.
func (s size) place(line string, share float64) (x, y float64) {
	from, to := ends(line)
	a, b := places[from], places[to]
	return s.length / 2 * (a[0] + (b[0]-a[0])*share), s.width / 2 * (a[1] + (b[1]-a[1])*share)
}

// long returns the length of a line.
func (s size) long(line string) float64 {
	x0, y0 := s.place(line, 0)
	x1, y1 := s.place(line, 1)
	return math.Hypot(x1-x0, y1-y0)
}
