package montecarlo

import (
	"math"
	"math/bits"
)

// The ziggurat covers the upper half of the normal curve e^(−x²/2) by layers
// of equal area, each a rectangle from 0 to its width; the lowest takes the
// tail beyond tailAt with it.
const (
	layers = 256
	tailAt = 3.6541528853610088 // for 256 layers; the test finds the layers meet at the top
)

// layer is one rectangle. A number of 53 bits with its sign, times width, is
// a place in it, and below core surely under the curve.
type layer struct {
	core  int64
	width float64
}

// ziggurat holds the layers and the heights of the curve at their edges. It
// is made once and never changed.
var ziggurat, heights = layOut()

// layOut makes the layers from the lowest, which has the greatest width.
//
// Source: G. Marsaglia, W. W. Tsang, The ziggurat method for generating random
// variables, Journal of Statistical Software 5 (2000), from memory; with the
// place drawn from other bits than the layer, after J. A. Doornik (2005).
func layOut() (z [layers]layer, f [layers + 1]float64) {
	area := tailAt*curve(tailAt) + math.Sqrt(math.Pi/2)*math.Erfc(tailAt/math.Sqrt2)
	x := [layers + 1]float64{area / curve(tailAt), tailAt}
	for i := 2; i < layers; i++ {
		x[i] = math.Sqrt(-2 * math.Log(area/x[i-1]+curve(x[i-1])))
	}
	for i := range z {
		z[i] = layer{int64(x[i+1] / x[i] * (1 << 52)), x[i] / (1 << 52)}
		f[i] = curve(x[i])
	}
	f[layers] = 1
	return z, f
}

func curve(x float64) float64 { return math.Exp(-x * x / 2) }

// fillNormal fills dst with standard normal numbers.
func (g *generator) fillNormal(dst []float64) {
	s0, s1, s2, s3 := g.s0, g.s1, g.s2, g.s3
	for i := range dst {
		r := bits.RotateLeft64(s0+s3, 23) + s0
		t := s1 << 17
		s2 ^= s0
		s3 ^= s1
		s1 ^= s2
		s0 ^= s3
		s2 ^= t
		s3 = bits.RotateLeft64(s3, 45)
		l := &ziggurat[r&(layers-1)]
		m := int64(r) >> 11
		if uint64(m+l.core) < uint64(2*l.core) { // −core ≤ m < core: 99 of 100
			dst[i] = float64(m) * l.width
			continue
		}
		g.s0, g.s1, g.s2, g.s3 = s0, s1, s2, s3
		dst[i] = g.edge(r)
		s0, s1, s2, s3 = g.s0, g.s1, g.s2, g.s3
	}
	g.s0, g.s1, g.s2, g.s3 = s0, s1, s2, s3
}

// normal returns one standard normal number.
func (g *generator) normal() float64 {
	r := g.next()
	l := &ziggurat[r&(layers-1)]
	if m := int64(r) >> 11; uint64(m+l.core) < uint64(2*l.core) {
		return float64(m) * l.width
	}
	return g.edge(r)
}

// edge decides about a number outside the core of its layer: it is kept where
// it is under the curve, and drawn afresh where it is not.
func (g *generator) edge(r uint64) float64 {
	i := r & (layers - 1)
	x := float64(int64(r)>>11) * ziggurat[i].width
	switch {
	case i == 0:
		return math.Copysign(g.tail(), x)
	case heights[i]+g.unit()*(heights[i+1]-heights[i]) < curve(x):
		return x
	}
	return g.normal()
}

// tail returns a number from the normal curve beyond tailAt (G. Marsaglia,
// 1964).
func (g *generator) tail() float64 {
	for {
		x := -math.Log(g.unit()) / tailAt
		if y := -math.Log(g.unit()); 2*y > x*x {
			return tailAt + x
		}
	}
}
