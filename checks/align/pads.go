package align

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// Pad is a pad that a head stands on. Places are in mm from a point of the
// spindle's axis, as at the nose: Z towards the tailstock, X towards the
// operator, Y up. Across and Up say which way the pad faces, from the bed to
// the head; a flat one faces up, (0, 1).
type Pad struct {
	Z, X, Y    float64
	Across, Up float64
}

// Post is what to do to pads so that the head stands as wanted, and what
// becomes of the spindle's axis.
type Post struct {
	Change []float64 // of each pad, mm: plus is added, minus is taken off
	Total  float64   // sum of the amounts, mm

	// The movement of the point that the pads are counted from.
	Up, Across float64 // mm; across is towards the operator
	Roll       float64 // rad; plus is the front going up
}

// Move returns the movement of a point of the head, up and towards the
// operator, when the slopes of the axis change by vertical and horizontal.
func (p Post) Move(vertical, horizontal, z, x, y float64) (up, across float64) {
	return p.Up + vertical*z + p.Roll*x, p.Across + horizontal*z - p.Roll*y
}

// Errors of [FitPads].
var (
	ErrFewPads  = errors.New("a head stands on three pads or more")
	ErrInLine   = errors.New("the pads do not hold the head: they lie in one line, or too few of them face one way")
	ErrSideways = errors.New("pads that all face up cannot turn the axis sideways: give a slope of nothing there, and turn the head on its pads; or name pads that face sideways")
	ErrFacing   = errors.New("a pad faces nowhere")
	ErrNoPost   = errors.New("no change of the pads does it")
)

// rollWeight is what a roll costs beside the total: so little that it never
// buys metal, enough that of two ways with one total the one with less roll is
// taken.
const rollWeight = 1e-7

// FitPads returns the change of each pad that turns the axis by vertical and
// horizontal, as slopes, positive when the free end goes up and towards the
// operator. Pads are only shimmed, or only cut, so that the sum of the amounts
// is least; the head may rise, sink, go sideways and roll as that asks for,
// and of several ways with the same sum the one with the least roll is taken.
//
// It is the linear program of a rigid body that stays on all of its pads; the
// angles are those of machine work, small.
func FitPads(pads []Pad, vertical, horizontal float64, shim bool) (Post, error) {
	m, err := newPadModel(pads, horizontal)
	if err != nil {
		return Post{}, err
	}
	wanted := make([]float64, len(pads)) // by the turn alone
	size := 0.0
	for i, p := range m.pads {
		wanted[i] = p.Up*vertical*p.Z + p.Across*horizontal*p.Z
		size = math.Max(size, math.Abs(wanted[i]))
	}
	if size == 0 {
		return Post{Change: make([]float64, len(pads))}, nil
	}
	x, err := m.solve(wanted, size, shim)
	if err != nil {
		return Post{}, err
	}
	return m.post(x, wanted, size), nil
}

// padModel has the free movements of a head: a column each for up, across and
// roll, and how each shows at the pads.
type padModel struct {
	pads  []Pad
	free  [][]float64 // [movement][pad]
	reach float64     // mm; the roll is counted as a movement at that distance
	side  bool        // across is one of them
}

func newPadModel(pads []Pad, horizontal float64) (*padModel, error) {
	if len(pads) < 3 {
		return nil, fmt.Errorf("%w, here are %d", ErrFewPads, len(pads))
	}
	m := &padModel{}
	for _, p := range pads {
		n := math.Hypot(p.Across, p.Up)
		if n == 0 || math.IsInf(n, 0) || math.IsNaN(n) {
			return nil, ErrFacing
		}
		p.Across, p.Up = p.Across/n, p.Up/n
		m.side = m.side || p.Across != 0
		m.pads = append(m.pads, p)
		m.reach = math.Max(m.reach, math.Max(math.Abs(p.X), math.Abs(p.Y)))
	}
	if !m.side && horizontal != 0 {
		return nil, ErrSideways
	}
	up, across, roll := make([]float64, len(pads)), make([]float64, len(pads)), make([]float64, len(pads))
	pitch, yaw := make([]float64, len(pads)), make([]float64, len(pads))
	for i, p := range m.pads {
		up[i], across[i] = p.Up, p.Across
		if m.reach > 0 {
			roll[i] = (p.Up*p.X - p.Across*p.Y) / m.reach
		}
		pitch[i], yaw[i] = p.Up*p.Z, p.Across*p.Z
	}
	m.free = [][]float64{up, roll}
	held := [][]float64{up, roll, pitch}
	if m.side {
		m.free = append(m.free, across)
		held = append(held, across, yaw)
	}
	if rank(held) < len(held) {
		return nil, ErrInLine
	}
	return m, nil
}

// rank returns how many of the columns are independent, each beside its own
// size.
func rank(cols [][]float64) int {
	n := len(cols[0])
	a := mat.NewDense(n, len(cols), nil)
	for j, c := range cols {
		size := mat.Norm(mat.NewVecDense(n, append([]float64(nil), c...)), 2)
		if size == 0 {
			return 0
		}
		for i := range c {
			a.Set(i, j, c[i]/size)
		}
	}
	var s mat.SVD
	if !s.Factorize(a, mat.SVDNone) {
		return 0
	}
	r := 0
	for _, v := range s.Values(nil) {
		if v > 1e-6 {
			r++
		}
	}
	return r
}

// solve returns the free movements, in units of size.
func (m *padModel) solve(wanted []float64, size float64, shim bool) ([]float64, error) {
	// Amounts a ≥ 0 and movements x = x⁺ − x⁻ with ±a = wanted + free·x.
	n, k := len(m.pads), len(m.free)
	a := mat.NewDense(n, n+2*k, nil)
	b := make([]float64, n)
	c := make([]float64, n+2*k)
	sign := -1.0
	if shim {
		sign = 1
	}
	for i := range n {
		b[i] = wanted[i] / size
		a.Set(i, i, sign)
		c[i] = 1
		for j, f := range m.free {
			a.Set(i, n+2*j, -f[i])
			a.Set(i, n+2*j+1, f[i])
		}
	}
	c[n+2], c[n+3] = rollWeight, rollWeight // the roll is the second of them
	_, x, err := lp.Simplex(c, a, b, 1e-12, nil)
	if err != nil {
		return nil, fmt.Errorf("%w (%v)", ErrNoPost, err)
	}
	out := make([]float64, k)
	for j := range out {
		out[j] = x[n+2*j] - x[n+2*j+1]
	}
	return out, nil
}

func (m *padModel) post(x, wanted []float64, size float64) Post {
	p := Post{Up: x[0] * size, Change: make([]float64, len(m.pads))}
	if m.reach > 0 {
		p.Roll = x[1] * size / m.reach
	}
	if m.side {
		p.Across = x[2] * size
	}
	for i := range m.pads {
		d := wanted[i]
		for j, f := range m.free {
			d += f[i] * x[j] * size
		}
		if math.Abs(d) < 1e-12*size { // what rounding leaves at a pad that is not touched
			d = 0
		}
		p.Change[i] = d
		p.Total += math.Abs(d)
	}
	return p
}
