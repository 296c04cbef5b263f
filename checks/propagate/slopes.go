package propagate

import (
	"math"
	"slices"
	"strconv"

	"waywright/checks/montecarlo"
	"waywright/checks/uncert"
)

// gradients works out how several numbers depend on the inputs of a model.
type gradients struct {
	m     *uncert.Model
	plain bool // central differences, whatever they meet

	u []float64 // standard uncertainty of each input
	y []float64 // the numbers as they are
	f func(shifted []float64) []float64
	// start, where it is there, gives all numbers for columns of shifts: the
	// same numbers, and many at a time are much quicker so.
	start  func() montecarlo.Func
	column montecarlo.Func

	cache    map[[2]float64][]float64 // one input shifted
	branches [][][]float64            // see onBranches
	centrals map[int][]float64
}

// row returns the sensitivities of number k: central differences over ±u, or,
// where these meet a kink, the slopes of the branch that is the less certain.
func (g *gradients) row(k int) []float64 {
	c := g.central(k)
	if g.plain || !g.kinked(k) {
		return c
	}
	if g.branches == nil {
		g.branches = g.onBranches()
	}
	worst := -1.0
	for _, b := range g.branches {
		if u := g.m.Std(b[k]); u > worst {
			worst, c = u, b[k]
		}
	}
	return g.withJumps(c, k)
}

// central returns the central differences of number k over ±u.
func (g *gradients) central(k int) []float64 {
	if c, ok := g.centrals[k]; ok {
		return c
	}
	c, _ := uncert.Gradient(func(x []float64) (float64, bool) { return g.shifted(x, k) }, make([]float64, len(g.u)), g.u)
	if g.centrals == nil {
		g.centrals = map[int][]float64{}
	}
	g.centrals[k] = c
	return c
}

// many evaluates all numbers at several places.
func (g *gradients) many(places [][]float64) [][]float64 {
	out := make([][]float64, len(places))
	if g.start == nil || len(places) < 4 {
		for i, x := range places {
			out[i] = g.f(x)
		}
		return out
	}
	if g.column == nil {
		g.column = g.start()
	}
	for first := 0; first < len(places); first += montecarlo.Block {
		some := places[first:min(len(places), first+montecarlo.Block)]
		in, y := columns(len(g.u), len(some)), columns(len(g.y), len(some))
		for t, x := range some {
			for i, v := range x {
				in[i][t] = v
			}
		}
		g.column(in, y)
		for t := range some {
			at := make([]float64, len(y))
			for k := range y {
				at[k] = y[k][t]
			}
			out[first+t] = at
		}
	}
	return out
}

func columns(n, long int) [][]float64 {
	out := make([][]float64, n)
	for i := range out {
		out[i] = make([]float64, long)
	}
	return out
}

// toEitherSide evaluates all numbers with each input moved by its u, up and
// down.
func (g *gradients) toEitherSide() {
	var places [][]float64
	var keys [][2]float64
	for i, u := range g.u {
		if u == 0 {
			continue
		}
		for _, d := range []float64{u, -u} {
			x := make([]float64, len(g.u))
			x[i] = d
			places, keys = append(places, x), append(keys, [2]float64{float64(i), d})
		}
	}
	for i, y := range g.many(places) {
		g.cache[keys[i]] = y
	}
}

// shifted returns number k with one input moved.
func (g *gradients) shifted(x []float64, k int) (float64, bool) {
	for i, v := range x {
		if v == 0 {
			continue
		}
		key := [2]float64{float64(i), v}
		out, ok := g.cache[key]
		if !ok {
			out = g.f(x)
			g.cache[key] = out
		}
		if k >= len(out) || math.IsNaN(out[k]) || math.IsInf(out[k], 0) {
			return 0, false
		}
		return out[k], true
	}
	return g.y[k], true
}

// sides returns the slopes of number k to either side of input i.
func (g *gradients) sides(i, k int) (up, down float64, ok bool) {
	x := make([]float64, len(g.u))
	x[i] = g.u[i]
	above, ok1 := g.shifted(x, k)
	x[i] = -g.u[i]
	below, ok2 := g.shifted(x, k)
	return (above - g.y[k]) / g.u[i], (g.y[k] - below) / g.u[i], ok1 && ok2
}

// kinked reports whether number k has a kink within ±u of an input: the
// greatest of equals, abs at nought. There central differences say too little:
// at the tie of a spread nothing at all.
func (g *gradients) kinked(k int) bool {
	for i, u := range g.u {
		if u == 0 {
			continue
		}
		up, down, ok := g.sides(i, k)
		steep := math.Max(math.Abs(up), math.Abs(down))
		if ok && math.Abs(up-down) > 0.2*steep && steep*u > 1e-12 {
			return true
		}
	}
	return false
}

// The inputs are set apart by a fiftieth of u and stepped by a part of that, so
// that every step stays on one branch.
const setApart = 0.02

// onBranches returns the slopes of all numbers on some of the branches that
// meet here. All inputs are first set a little apart, so that of equals one is
// the greatest and one the least; then the slopes are those of one branch, and
// what the readings share (a zero) cancels in them as it does in the formula.
// Three ways of setting apart find different ones: the two planes of a head
// may be equal and not equally certain.
func (g *gradients) onBranches() [][][]float64 {
	var out [][][]float64
	n := float64(len(g.u))
	for _, way := range []func(i int) float64{
		func(i int) float64 { return 1 + Uneven(i) },
		func(i int) float64 { return -1 - Uneven(i) },
		func(i int) float64 { return float64(1-2*(i%2)) * (1 + Uneven(i)) },
	} {
		x := make([]float64, len(g.u))
		for i, u := range g.u {
			x[i] = setApart * u * way(i)
		}
		if b, ok := g.slopes(x, setApart/(4*n)); ok {
			out = append(out, b)
		}
	}
	return out
}

// Uneven returns numbers from 0 to 1 that no plain sum over inputs brings to
// nothing: the same for each i, and without any order. An even ramp would leave
// branches equal, and so would the multiples of an irrational number, whose
// differences are those of their places.
func Uneven(i int) float64 {
	h := uint64(i+1) * 0x9e3779b97f4a7c15
	h = (h ^ h>>30) * 0xbf58476d1ce4e5b9
	h = (h ^ h>>27) * 0x94d049bb133111eb
	return float64((h^h>>31)>>11) / (1 << 53)
}

// slopes returns the forward differences of all numbers at a place, each input
// stepped by a share of its u; ok is false where they are not defined.
func (g *gradients) slopes(x []float64, step float64) (c [][]float64, ok bool) {
	places := [][]float64{x}
	var stepped []int
	for i, u := range g.u {
		if u == 0 {
			continue
		}
		to := slices.Clone(x)
		to[i] += step * u
		places, stepped = append(places, to), append(stepped, i)
	}
	at := g.many(places)
	if slices.ContainsFunc(at, func(y []float64) bool { return y == nil }) {
		return nil, false
	}
	c = columns(len(at[0]), len(x))
	for n, i := range stepped {
		for k, y := range at[0] {
			c[k][i] = steady((at[n+1][k] - y) / (step * g.u[i]))
		}
	}
	return c, true
}

// withJumps puts the steeper side in the place of slopes that are too small
// for it: where a condition flips within ±u, no branch shows the jump.
func (g *gradients) withJumps(c []float64, k int) []float64 {
	c = slices.Clone(c)
	most := 0.0
	for i, u := range g.u {
		most = math.Max(most, math.Abs(c[i])*u)
	}
	for i, u := range g.u {
		if u == 0 {
			continue
		}
		up, down, ok := g.sides(i, k)
		side := up
		if math.Abs(down) > math.Abs(up) {
			side = down
		}
		if ok && math.Abs(side)*u > 1.5*most {
			c[i] = side
		}
	}
	return c
}

// steady rounds a slope from a small step to what that can show, so that it is
// the same on every machine.
func steady(x float64) float64 {
	v, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', 5, 64), 64)
	if err != nil || math.IsInf(x, 0) || math.IsNaN(x) {
		return 0
	}
	return v
}
