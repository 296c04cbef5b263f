// Package fit takes simple shapes off readings: a line, a plane, a circle's
// eccentricity. The fit is by least squares or by least range; residuals are
// taken along the readings, not square to the shape.
//
// It works in any unit: residuals are in that of the readings.
package fit

import "math"

// Undefined is the error of a computation that has no answer, with the reason
// in words that a person can be shown.
type Undefined struct{ Why string }

func (e *Undefined) Error() string { return "fit: " + e.Why }

// rankTol is how small a shape may become, beside its own size, once the
// shapes before it are taken off, and still count as a shape of its own.
// Stations a micrometre apart on a metre are far above it.
const rankTol = 1e-10

// Model is a set of shapes, each with a value at every point, that are taken
// off readings together with a constant. It may be used for many readings at
// the same points.
type Model struct {
	n      int
	shapes int
	kept   []int       // which shapes are independent of the constant and of those before
	q      [][]float64 // these, without the constant, square to each other, of length √n
	mean   []float64   // of each kept shape
	r      [][]float64 // kept shape j = mean[j] + Σ r[j][i]·q[i], i ≤ j
}

// NewModel returns the model of shapes over n points. A shape that is a
// combination of the constant and the shapes before it changes nothing.
func NewModel(n int, shapes ...[]float64) *Model {
	m := &Model{n: n, shapes: len(shapes)}
	for k, s := range shapes {
		v, avg := centred(s)
		size := norm(v)
		row := make([]float64, len(m.q), len(m.q)+1)
		for range 2 { // the second pass takes off what rounding left
			for i, q := range m.q {
				c := dot(q, v) / float64(n)
				row[i] += c
				for j := range v {
					v[j] -= c * q[j]
				}
			}
		}
		left := norm(v)
		if left <= rankTol*size || left <= rankTol*math.Abs(avg)*math.Sqrt(float64(n)) {
			continue
		}
		c := left / math.Sqrt(float64(n))
		for j := range v {
			v[j] /= c
		}
		m.kept, m.q, m.mean, m.r = append(m.kept, k), append(m.q, v), append(m.mean, avg), append(m.r, append(row, c))
	}
	return m
}

// Rank returns how many of the shapes are independent.
func (m *Model) Rank() int { return len(m.q) }

// Residuals returns what is left of the n readings y once the shapes and a
// constant are taken off by least squares.
func (m *Model) Residuals(y []float64) []float64 { return m.Fitter().Residuals(y) }

// Coefficients returns the constant and how much of each shape the n readings
// y hold, by least squares. Of a shape that is not independent it is 0.
func (m *Model) Coefficients(y []float64) (constant float64, coef []float64) {
	e, constant := centred(y)
	in := make([]float64, len(m.q)) // in terms of q
	for range 2 {
		for i, q := range m.q {
			c := dot(q, e) / float64(m.n)
			in[i] += c
			for j := range e {
				e[j] -= c * q[j]
			}
		}
	}
	return m.inShapes(constant, in)
}

// inShapes turns coefficients of q into those of the shapes.
func (m *Model) inShapes(constant float64, in []float64) (float64, []float64) {
	coef := make([]float64, m.shapes)
	for j := len(m.q) - 1; j >= 0; j-- {
		c := in[j]
		for i := j + 1; i < len(m.q); i++ {
			c -= coef[m.kept[i]] * m.r[i][j]
		}
		c /= m.r[j][j]
		coef[m.kept[j]] = c
		constant -= c * m.mean[j]
	}
	return constant, coef
}

// MinimumZone returns what is left of the n readings y once the shapes and a
// constant are taken off so that the range of what is left is least. The least
// range is exact but for rounding; where several fits have it, one of them is
// taken.
func (m *Model) MinimumZone(y []float64) []float64 { return m.Fitter().MinimumZone(y) }

func centred(x []float64) (v []float64, avg float64) {
	v = make([]float64, len(x))
	return v, fromMean(v, x)
}

func dot(a, b []float64) float64 {
	s := 0.0
	b = b[:len(a)]
	for i, x := range a {
		s += x * b[i]
	}
	return s
}

func norm(a []float64) float64 { return math.Sqrt(dot(a, a)) }

// greatest returns the greatest amount in x.
func greatest(x []float64) float64 {
	g := 0.0
	for _, v := range x {
		if v = math.Abs(v); v > g {
			g = v
		}
	}
	return g
}

func spread(x []float64) float64 {
	lo, hi := extremes(x)
	return x[hi] - x[lo]
}
