package align

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// flat returns pads that face up.
func flat(zx ...[2]float64) []Pad {
	var out []Pad
	for _, p := range zx {
		out = append(out, Pad{Z: p[0], X: p[1], Y: -150, Up: 1})
	}
	return out
}

// TestPadsDerived holds small layouts that are plain by hand: derived here, mm.
func TestPadsDerived(t *testing.T) {
	four := flat([2]float64{0, 80}, [2]float64{0, -80}, [2]float64{-220, 80}, [2]float64{-220, -80})
	p, err := FitPads(four, -0.020/300, 0, false)
	if err != nil {
		t.Fatal(err)
	}
	want := 0.020 / 300 * 220 // the free end sinks: metal comes off the nose-end pads
	for i, w := range []float64{-want, -want, 0, 0} {
		if !near(p.Change[i], w, 1e-12) {
			t.Errorf("pad %d changes by %v, want %v", i, p.Change[i], w)
		}
	}
	if !near(p.Total, 2*want, 1e-12) || !near(p.Up, -want, 1e-12) || p.Roll != 0 {
		t.Errorf("total %v, up %v, roll %v; want %v, %v, 0", p.Total, p.Up, p.Roll, 2*want, -want)
	}
	s, err := FitPads(four, -0.020/300, 0, true)
	if err != nil || !near(s.Total, 2*want, 1e-12) || !near(s.Change[2], want, 1e-12) || s.Change[0] != 0 || s.Up != 0 {
		t.Errorf("by shims: %+v, %v; want %v under the rear pads", s, err, want)
	}
	// As for two rows of pads, [PadChange] says.
	if w := PadChange(0.020/300, 0, 220); !near(p.Change[0], w, 1e-12) {
		t.Errorf("nose end %v, for two rows %v", p.Change[0], w)
	}
	if p, err := FitPads(four, 0, 0, true); err != nil || p.Total != 0 {
		t.Errorf("nothing to do: %+v, %v", p, err)
	}
}

// vee is a head on a vee at the front, whose flanks face up and apart, and a
// flat at the rear, both at two places.
func vee() []Pad {
	var out []Pad
	for _, z := range []float64{-20, -240} {
		out = append(out, Pad{Z: z, X: 70, Y: -160, Across: 1, Up: 1}, Pad{Z: z, X: 50, Y: -160, Across: -1, Up: 1}, Pad{Z: z, X: -90, Y: -150, Up: 1})
	}
	return out
}

// TestPadsRefused: layouts that do not hold a head are refused by name.
func TestPadsRefused(t *testing.T) {
	line := flat([2]float64{0, 0}, [2]float64{-100, 0}, [2]float64{-200, 0})
	slanting := flat([2]float64{0, 10}, [2]float64{-100, 20}, [2]float64{-200, 30})
	beside := flat([2]float64{-100, 10}, [2]float64{-100, 20}, [2]float64{-100, 30})
	flats := flat([2]float64{0, 80}, [2]float64{0, -80}, [2]float64{-220, 0})
	nowhere := append(flat([2]float64{0, 80}, [2]float64{0, -80}), Pad{Z: -220})
	for _, tt := range []struct {
		name       string
		pads       []Pad
		horizontal float64
		want       error
	}{
		{"two", flats[:2], 0, ErrFewPads},
		{"in a line along the bed", line, 0, ErrInLine},
		{"in a slanting line", slanting, 0, ErrInLine},
		{"in a line across the bed", beside, 0, ErrInLine},
		{"sideways on flats", flats, 1e-4, ErrSideways},
		{"one that faces nowhere", nowhere, 0, ErrFacing},
		{"three of a vee alone", vee()[:3], 1e-4, ErrInLine},
	} {
		if _, err := FitPads(tt.pads, 1e-4, tt.horizontal, true); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
}

// layouts draws layouts that hold a head.
func layouts(rng *rand.Rand) (pads []Pad, sideways bool) {
	if rng.IntN(3) == 0 {
		for _, p := range vee() {
			p.Z += 20 * rng.NormFloat64()
			p.X += 5 * rng.NormFloat64()
			pads = append(pads, p)
		}
		return pads, true
	}
	for range 3 + rng.IntN(5) {
		pads = append(pads, flat([2]float64{-400 * rng.Float64(), 100 * rng.NormFloat64()})...)
	}
	return pads, false
}

// TestPadsAgainstTwin compares the linear program with trying every way in
// which as many pads stay untouched as the head has free movements: the least
// total is among them.
func TestPadsAgainstTwin(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 1))
	held := 0
	for k := range 2000 {
		pads, sideways := layouts(rng)
		v, h := 1e-4*rng.NormFloat64(), 0.0
		if sideways {
			h = 1e-4 * rng.NormFloat64()
		}
		shim := k%2 == 0
		p, err := FitPads(pads, v, h, shim)
		if errors.Is(err, ErrInLine) {
			continue
		}
		if err != nil {
			t.Fatalf("case %d: %v", k, err)
		}
		held++
		for i, d := range p.Change {
			if shim && d < 0 || !shim && d > 0 {
				t.Fatalf("case %d: pad %d changes by %v the wrong way", k, i, d)
			}
		}
		if want := leastTotal(pads, v, h, shim, sideways); !near(p.Total, want, 1e-5*want+1e-12) {
			t.Fatalf("case %d: total %v, want %v (%+v)", k, p.Total, want, pads)
		}
	}
	if held < 1500 {
		t.Errorf("only %d layouts were compared", held)
	}
}

// leastTotal is the slow twin: it solves for each set of untouched pads.
func leastTotal(pads []Pad, v, h float64, shim, sideways bool) float64 {
	k := 2
	if sideways {
		k = 3
	}
	row := func(p Pad) ([]float64, float64) {
		n := math.Hypot(p.Across, p.Up)
		a, u := p.Across/n, p.Up/n
		return []float64{u, u*p.X - a*p.Y, a}[:k], u*v*p.Z + a*h*p.Z
	}
	best := math.Inf(1)
	var try func(from int, chosen []int)
	try = func(from int, chosen []int) {
		if len(chosen) < k {
			for i := from; i < len(pads); i++ {
				try(i+1, append(chosen[:len(chosen):len(chosen)], i))
			}
			return
		}
		a, b := mat.NewDense(k, k, nil), mat.NewVecDense(k, nil)
		for r, i := range chosen {
			c, w := row(pads[i])
			a.SetRow(r, c)
			b.SetVec(r, -w)
		}
		var x mat.VecDense
		if math.Abs(mat.Det(a)) < 1e-9 || x.SolveVec(a, b) != nil {
			return
		}
		total := 0.0
		for _, p := range pads {
			c, d := row(p)
			for j := range c {
				d += c[j] * x.AtVec(j)
			}
			if shim && d < -1e-12 || !shim && d > 1e-12 {
				return
			}
			total += math.Abs(d)
		}
		best = math.Min(best, total)
	}
	try(0, nil)
	return best
}

// TestPadsMoveRigidBody does what is told to a solid head: its pads and axis
// are moved as one body, by rotations that keep every distance, so that each
// pad's gap to its seat becomes what was told; then the axis has the slopes
// wanted and lies where it was said to lie. What is left is of the second
// order in angles of 1e-4.
func TestPadsMoveRigidBody(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 1))
	for k := range 300 {
		pads, sideways := layouts(rng)
		v, h := 1e-4*rng.NormFloat64(), 0.0
		if sideways {
			h = 1e-4 * rng.NormFloat64()
		}
		p, err := FitPads(pads, v, h, k%2 == 0)
		if err != nil {
			continue
		}
		// Points are (x, y, z). Pitch lifts the free end, yaw brings it to the
		// operator, roll lifts the front.
		move := func(q [3]float64) [3]float64 {
			q = turn(q, 1, 2, math.Atan(v)) // pitch: z towards y
			q = turn(q, 0, 2, math.Atan(h)) // yaw: z towards x
			q = turn(q, 1, 0, p.Roll)       // roll: x towards y
			return [3]float64{q[0] + p.Across, q[1] + p.Up, q[2]}
		}
		const second = 1e-4 // mm: (1e-4·4)² · 400 mm, with room
		for i, pad := range pads {
			q := move([3]float64{pad.X, pad.Y, pad.Z})
			n := math.Hypot(pad.Across, pad.Up)
			gap := ((q[0]-pad.X)*pad.Across + (q[1]-pad.Y)*pad.Up) / n
			if !near(gap, p.Change[i], second) {
				t.Fatalf("case %d: pad %d opens by %v, told %v", k, i, gap, p.Change[i])
			}
		}
		near0, far := move([3]float64{0, 0, 0}), move([3]float64{0, 0, 300})
		if got := (far[1] - near0[1]) / 300; !near(got, v, 1e-6) {
			t.Fatalf("case %d: the axis rises by %v more, want %v", k, got, v)
		}
		if got := (far[0] - near0[0]) / 300; !near(got, h, 1e-6) {
			t.Fatalf("case %d: the axis points %v more to the operator, want %v", k, got, h)
		}
		up, across := p.Move(v, h, 300, 0, 0)
		if !near(far[1], up, second) || !near(far[0], across, second) {
			t.Fatalf("case %d: the far end moves by %v up and %v across, told %v and %v", k, far[1], far[0], up, across)
		}
	}
}

// turn turns a point in the plane of two axes, from towards to.
func turn(q [3]float64, to, from int, angle float64) [3]float64 {
	s, c := math.Sincos(angle)
	q[to], q[from] = c*q[to]+s*q[from], c*q[from]-s*q[to]
	return q
}
