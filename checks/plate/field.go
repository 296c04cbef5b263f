package plate

import (
	"fmt"

	"waywright/checks/fit"
)

// Field is a plate with so many steps along each line, for surveys of it one
// after another, in room of its own. It is for one goroutine.
type Field struct {
	X, Y []float64 // places of the stations, mm, each once

	step    [8]float64   // length of a step of each line
	heights [8][]float64 // of each line
	keep    [8][]int     // which of them are the stations, in their order
	z       []float64
}

// NewField returns a field. The error is that of [EightLines].
func NewField(steps [8]int, length, width float64) (*Field, error) {
	if length <= 0 || width <= 0 {
		return nil, &fit.Undefined{Why: "length and width must be above nothing"}
	}
	f := &Field{}
	s := size{length, width}
	for i, name := range Lines {
		n := steps[i]
		if n == 0 {
			return nil, &fit.Undefined{Why: "line " + name + " has no readings"}
		}
		if n%2 != 0 {
			return nil, &fit.Undefined{Why: fmt.Sprintf("line %s has %d steps; an even number is wanted, so that a station lies in the middle", name, n)}
		}
		f.step[i], f.heights[i] = s.long(name)/float64(n), make([]float64, n+1)
		f.stations(s, i)
	}
	f.z = make([]float64, len(f.X))
	return f, nil
}

// stations lists every place once: a fit must not weigh the corners double.
func (f *Field) stations(s size, line int) {
	n := len(f.heights[line]) - 1
	for k := range f.heights[line] {
		end, middle := k == 0 || k == n, k == n/2
		if (end && line >= 2) || (middle && (line == 1 || line >= 6)) {
			continue // on a line before this one; a centre line's middle is its closure
		}
		x, y := s.place(Lines[line], float64(k)/float64(n))
		f.X, f.Y, f.keep[line] = append(f.X, x), append(f.Y, y), append(f.keep[line], k)
	}
}

// Heights returns the heights of all stations, and by how much each centre line
// misses the middle, from the slopes along each line: see [EightLines]. There
// must be one for each step. The heights stay as they are until the next call.
func (f *Field) Heights(slopes [8][]float64) (z []float64, missWE, missNS float64) {
	for i, line := range slopes {
		h := f.heights[i]
		h[0] = 0
		for k, slope := range line {
			h[k+1] = h[k] + slope*f.step[i]
		}
	}
	f.tie()
	z = f.z[:0]
	for i, places := range f.keep {
		for _, k := range places {
			z = append(z, f.heights[i][k])
		}
	}
	return z, f.middle(6), f.middle(7)
}

// tilt adds a straight line to a line's heights so that its ends are at from
// and to.
func (f *Field) tilt(line int, from, to float64) {
	h := f.heights[line]
	n := len(h) - 1
	a, b := from-h[0], to-h[n]
	for i := range h {
		h[i] += a + (b-a)*float64(i)/float64(n)
	}
}

func (f *Field) middle(line int) float64 { return f.heights[line][len(f.heights[line])/2] }

// corners are the ends of the diagonals and edges, by line.
var corners = [6][2]int{{nw, se}, {ne, sw}, {nw, ne}, {sw, se}, {nw, sw}, {ne, se}}

const (
	nw = iota
	ne
	sw
	se
)

// tie hangs every line where it belongs.
func (f *Field) tie() {
	var at [4]float64 // the corners
	for line, ends := range corners[:2] {
		f.tilt(line, 0, 0)
		m := f.middle(line)
		f.tilt(line, -m, -m)
		at[ends[0]], at[ends[1]] = -m, -m
	}
	for line := 2; line < 6; line++ {
		f.tilt(line, at[corners[line][0]], at[corners[line][1]])
	}
	// The edges are those in the north, south, west and east.
	f.tilt(6, f.middle(4), f.middle(5))
	f.tilt(7, f.middle(2), f.middle(3))
}
