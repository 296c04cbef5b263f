package form

import (
	"math"
	"slices"

	"waywright/checks/fit"
)

// Shape counts deviations of many readings at the same places, in room of its
// own: what hangs on the places alone is worked out once. What [Shape.Left]
// gives stays as it is until it is asked again. It is for one goroutine.
//
// What it gives is to the last bit what the functions for one set of readings
// give, which are made of it.
type Shape struct {
	method Method
	places int
	at     []float64   // stations in rising order, or angles
	share  []float64   // of each station, of the way from the first to the last
	fit    *fit.Fitter // of the line, plane or circle
	line   fit.LineFinder
	round  bool
	apart  bool // no two stations are the same
	nought bool // so few places that nothing is left
	left   []float64
}

// Along returns the shape of profiles at stations in rising order. The error is
// that of [Straightness].
func Along(at []float64, method Method) (*Shape, error) {
	if err := given(series{"station", at}); err != nil {
		return nil, err
	}
	if err := twoStations(at); err != nil {
		return nil, err
	}
	s := &Shape{method: method, places: len(at), at: slices.Clone(at), nought: len(at) == 2, left: make([]float64, len(at))}
	switch method {
	case LeastSquares, MinimumZone:
		s.fit = fit.NewModel(len(at), at).Fitter()
		s.apart = len(slices.Compact(slices.Clone(at))) == len(at)
	case EndPoints:
		n := len(at) - 1
		for _, x := range at {
			s.share = append(s.share, (x-at[0])/(at[n]-at[0]))
		}
	default:
		return nil, unknown(method)
	}
	return s, nil
}

// Over returns the shape of heights over a plane, at the places x and y. The
// error is that of [Flatness].
func Over(x, y []float64, method Method) (*Shape, error) {
	if len(x) == 0 {
		return nil, &fit.Undefined{Why: "there are no heights"}
	}
	if err := given(series{"place x", x}, series{"place y", y}); err != nil {
		return nil, err
	}
	if method != LeastSquares && method != MinimumZone {
		return nil, unknown(method)
	}
	m := fit.NewModel(len(x), x, y)
	return &Shape{method: method, places: len(x), fit: m.Fitter(), nought: len(x) == m.Rank()+1, left: make([]float64, len(x))}, nil
}

// Around returns the shape of readings round a turn, at angles. The error is
// that of [Roundness].
func Around(angles []float64, method Method) (*Shape, error) {
	if err := allRound(angles, nil); err != nil {
		return nil, err
	}
	switch method {
	case LeastSquares, MinimumZone, Circumscribed, Inscribed:
	default:
		return nil, unknown(method)
	}
	m := fit.RoundModel(angles)
	return &Shape{method: method, places: len(angles), at: slices.Clone(angles), fit: m.Fitter(), round: true, nought: len(angles) == m.Rank()+1}, nil
}

// Range returns the range of what is left of the readings: the straightness,
// flatness or roundness. It is not a number where there is none.
func (s *Shape) Range(v []float64) float64 {
	if !s.whole(v) {
		return math.NaN()
	}
	if s.nought {
		return 0
	}
	left, centred := s.take(v)
	if !allFinite(left) {
		return math.NaN()
	}
	lo, hi := extremes(left)
	if centred { // which moves both alike, but for rounding
		middle := lo + (hi-lo)/2
		lo, hi = lo-middle, hi-middle
	}
	if x := hi - lo; finite(x) {
		return x
	}
	return math.NaN()
}

// Left returns readings less their line, plane or circle; of the least zone, of
// a line or plane, less its middle. It is nil where a number is none or what
// comes of them is too large.
func (s *Shape) Left(v []float64) []float64 {
	if !s.whole(v) {
		return nil
	}
	left, centred := s.take(v)
	if centred {
		lo, hi := extremes(left)
		middle := lo + (hi-lo)/2
		for i := range left {
			left[i] -= middle
		}
	}
	if !allFinite(left) {
		return nil
	}
	return left
}

// whole tells whether there is a number for every place.
func (s *Shape) whole(v []float64) bool {
	return len(v) == s.places && allFinite(v)
}

func allFinite(v []float64) bool {
	if v == nil {
		return false
	}
	var off float64
	for _, x := range v {
		off += x - x
	}
	return off == 0
}

// extremes returns the least and the greatest.
func extremes(v []float64) (lo, hi float64) {
	lo, hi = v[0], v[0]
	for _, x := range v {
		if x < lo {
			lo = x
		}
		if x > hi {
			hi = x
		}
	}
	return lo, hi
}

// take takes the shape off; centred tells that what is left is still to be
// counted from the middle between its least and its greatest.
func (s *Shape) take(v []float64) (left []float64, centred bool) {
	switch {
	case s.share != nil:
		n := len(v) - 1
		for i, share := range s.share {
			s.left[i] = v[i] - v[0] - (v[n]-v[0])*share
		}
		return s.left, false
	case s.method == LeastSquares:
		return s.fit.Residuals(v), false
	case s.method == Circumscribed:
		left, _ := fit.Circumscribed(s.at, v)
		return left, false
	case s.method == Inscribed:
		left, _ := fit.Inscribed(s.at, v)
		return left, false
	case s.round:
		return s.fit.MinimumZone(v), false
	case s.at == nil:
		return s.fit.MinimumZone(v), true
	}
	left = s.fit.Residuals(v) // levelled, so that a large offset costs no figures
	slope := 0.0
	if s.apart {
		slope = s.line.Level(s.at, left)
	} else {
		slope = s.line.Zone(s.at, left)
	}
	for i := range left {
		left[i] -= slope * (s.at[i] - s.at[0])
	}
	return left, true
}
