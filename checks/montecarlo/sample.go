package montecarlo

import (
	"math"
	"slices"
)

// Sample is what the trials gave for one output.
type Sample struct {
	Trials    int     // all of them
	Undefined int     // of them, those without a result; they count in nothing but Share
	Mean      float64 // the estimate (JCGM 101:2008, 7.6); NaN where no trial has a result
	Std       float64 // the standard uncertainty; NaN where fewer than two have

	values []float64  // with a result, in the order of the trials
	sorted *[]float64 // the same from the least on, of few values, once they are asked for
}

// Interval is a coverage interval.
type Interval struct{ Low, High float64 }

// Length returns how long the interval is.
func (i Interval) Length() float64 { return i.High - i.Low }

func newSample(values []float64, m moments) Sample {
	s := Sample{Trials: len(values), Undefined: m.gone, Mean: m.mean, Std: m.std(), values: values, sorted: new([]float64)}
	if m.n == 0 {
		s.Mean = math.NaN()
	}
	if m.gone > 0 {
		s.values = make([]float64, 0, m.n)
		for _, v := range values {
			if finite(v) {
				s.values = append(s.values, v)
			}
		}
	}
	return s
}

// Values returns the results of the trials, in their order, without those
// that have none. The caller must not change them.
func (s Sample) Values() []float64 { return s.values }

// Share returns the share of all trials whose result is from lo to hi, both
// counted in: the probability of that (measure rule 11). A trial without a
// result is not among them.
func (s Sample) Share(lo, hi float64) float64 {
	n := 0
	for _, v := range s.values {
		if lo <= v && v <= hi {
			n++
		}
	}
	return float64(n) / float64(s.Trials)
}

// Symmetric returns the interval that leaves as many trials below it as above
// and holds the share p of them (JCGM 101:2008, 7.7.2). Without trials it is
// of NaN.
func (s Sample) Symmetric(p float64) Interval {
	m := len(s.values)
	if m == 0 {
		return Interval{math.NaN(), math.NaN()}
	}
	q := within(p, m)
	r := max(1, (m-q+1)/2)
	hi := min(m, r+q)
	low, high := s.ranks(span{r - 1, r - 1}, span{hi - 1, hi - 1})
	return Interval{low[0], high[0]}
}

// Shortest returns the shortest interval that holds the share p of the trials
// (JCGM 101:2008, 7.7.4); of several, the lowest. Where a distribution has a
// flat top its ends are less sure than its length.
func (s Sample) Shortest(p float64) Interval {
	m := len(s.values)
	if m == 0 {
		return Interval{math.NaN(), math.NaN()}
	}
	q := min(within(p, m), m-1)
	low, high := s.ranks(span{0, m - q - 1}, span{q, m - 1})
	best := Interval{low[0], high[0]}
	for i := range low {
		if high[i]-low[i] < best.Length() {
			best = Interval{low[i], high[i]}
		}
	}
	return best
}

// ranks returns the values whose ranks lie in a and in b, in order. Few values are
// sorted once for all that is asked of them.
func (s Sample) ranks(a, b span) (ya, yb []float64) {
	if y := s.inOrder(); y != nil {
		return y[a.from : a.to+1], y[b.from : b.to+1]
	}
	return ranks(s.values, a, b)
}

// inOrder returns few values from the least on; nil of many.
func (s Sample) inOrder() []float64 {
	if s.sorted == nil || len(s.values) >= few {
		return nil
	}
	if len(*s.sorted) < len(s.values) {
		*s.sorted = slices.Clone(s.values)
		sortNumbers(*s.sorted)
	}
	return *s.sorted
}

// within returns how many of m trials a share p is: q of JCGM 101:2008, 7.7.1.
func within(p float64, m int) int {
	return min(m, max(0, int(math.Floor(p*float64(m)+0.5))))
}

// Radius returns how far from y the share p of the trials lies at most: half
// of the shortest interval about y that holds it. Without trials it is NaN.
func (s Sample) Radius(y, p float64) float64 {
	m := len(s.values)
	if m == 0 {
		return math.NaN()
	}
	last := max(1, within(p, m)) - 1
	if x := s.inOrder(); x != nil {
		return nearest(x, y, last)
	}
	off := make([]float64, m)
	for i, v := range s.values {
		off[i] = math.Abs(v - y)
	}
	_, at := ranks(off, span{0, 0}, span{last, last})
	return at[0]
}

// nearest returns how far from y that of the numbers x lies that has so many
// others nearer to it. They are in order.
func nearest(x []float64, y float64, others int) float64 {
	hi, _ := slices.BinarySearch(x, y)
	lo := hi - 1
	off := 0.0
	for range others + 1 {
		switch below, above := lo >= 0, hi < len(x); {
		case above && (!below || math.Abs(x[hi]-y) <= math.Abs(x[lo]-y)):
			off = math.Abs(x[hi] - y)
			hi++
		default:
			off = math.Abs(x[lo] - y)
			lo--
		}
	}
	return off
}
