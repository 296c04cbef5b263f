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
	if length <= 0 || width <= 0 {
		return Survey{}, &fit.Undefined{Why: "length and width must be above nothing"}
	}
	s := survey{length: length, width: width, heights: map[string][]float64{}, at: map[string]float64{}}
	for _, name := range Lines {
		n := len(slopes[name])
		if n == 0 {
			return Survey{}, &fit.Undefined{Why: "line " + name + " has no readings"}
		}
		if n%2 != 0 {
			return Survey{}, &fit.Undefined{Why: fmt.Sprintf("line %s has %d steps; an even number is wanted, so that a station lies in the middle", name, n)}
		}
		s.step(name, slopes[name])
	}
	return s.tie(), nil
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
	s := survey{length: length, width: width}
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
	s := survey{length: length, width: width}
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

type survey struct {
	length, width float64
	heights       map[string][]float64 // by line
	at            map[string]float64   // of corners and the middles of edges
}

// ends returns where a line begins and ends.
func ends(line string) (from, to string) {
	from, to, _ = strings.Cut(line, "_")
	return from, to
}

// place returns where a share of a line lies.
func (s *survey) place(line string, share float64) (x, y float64) {
	from, to := ends(line)
	a, b := places[from], places[to]
	return s.length / 2 * (a[0] + (b[0]-a[0])*share), s.width / 2 * (a[1] + (b[1]-a[1])*share)
}

// long returns the length of a line.
func (s *survey) long(line string) float64 {
	x0, y0 := s.place(line, 0)
	x1, y1 := s.place(line, 1)
	return math.Hypot(x1-x0, y1-y0)
}

// step adds up the slopes of a line.
func (s *survey) step(line string, slopes []float64) {
	step := s.long(line) / float64(len(slopes))
	h := make([]float64, len(slopes)+1)
	for i, slope := range slopes {
		h[i+1] = h[i] + slope*step
	}
	s.heights[line] = h
}

// tilt adds a straight line to a line's heights so that its ends are at from
// and to.
func (s *survey) tilt(line string, from, to float64) {
	h := s.heights[line]
	n := len(h) - 1
	a, b := from-h[0], to-h[n]
	for i := range h {
		h[i] += a + (b-a)*float64(i)/float64(n)
	}
}

func (s *survey) middle(line string) float64 { return s.heights[line][len(s.heights[line])/2] }

// tie hangs every line where it belongs.
func (s *survey) tie() Survey {
	for _, line := range Lines[:2] {
		s.tilt(line, 0, 0)
		m := s.middle(line)
		s.tilt(line, -m, -m)
		from, to := ends(line)
		s.at[from], s.at[to] = -m, -m
	}
	for i, line := range Lines[2:6] {
		from, to := ends(line)
		s.tilt(line, s.at[from], s.at[to])
		s.at[[]string{"n", "s", "w", "e"}[i]] = s.middle(line)
	}
	s.tilt("w_e", s.at["w"], s.at["e"])
	s.tilt("n_s", s.at["n"], s.at["s"])
	return s.survey()
}

// survey lists every place once: a fit must not weigh the corners double.
func (s *survey) survey() Survey {
	out := Survey{MissWE: s.middle("w_e"), MissNS: s.middle("n_s")}
	for i, line := range Lines {
		h := s.heights[line]
		n := len(h) - 1
		for k, z := range h {
			end, middle := k == 0 || k == n, k == n/2
			if (end && i >= 2) || (middle && (i == 1 || i >= 6)) {
				continue // on a line before this one; a centre line's middle is its closure
			}
			x, y := s.place(line, float64(k)/float64(n))
			out.X, out.Y, out.Z = append(out.X, x), append(out.Y, y), append(out.Z, z)
		}
	}
	return out
}
