package montecarlo

// Stream draws numbers one at a time, for simulations that are no formula of
// independent errors. A seed gives the same numbers everywhere; the zero
// Stream gives none of use.
type Stream struct{ g generator }

// NewStream returns the stream of a seed. Streams of one seed and different
// numbers have nothing to do with one another.
func NewStream(seed, number uint64) *Stream { return &Stream{stream(seed, number, 0)} }

// Normal returns a number of the standard normal distribution.
func (s *Stream) Normal() float64 { return s.g.normal() }

// Centred returns a rectangular number between −1 and 1, neither of them.
func (s *Stream) Centred() float64 { return s.g.centred() }

// Stretch returns √(ν/χ²), a number of ν degrees of freedom: how much larger
// a standard deviation may truly be than one known to so many. It is 1 for no
// end of them.
func (s *Stream) Stretch(dof float64) float64 { return s.g.stretch(dof) }
