package propagate

import "math"

// together is the linear doubt of number k with the inputs moved by one source
// after another, all that share it at once. At a kink the central differences
// of single inputs do not add up to what happens then: of a range with two
// equal readings at its top, each counts half and the one at its foot whole,
// and a zero that all three share would seem to change the range. It is +Inf
// where it cannot be worked out.
func (s *solver) together(k int) float64 {
	if s.bySource == nil {
		var places [][]float64
		for _, step := range s.m.Steps() {
			back := make([]float64, len(step))
			for i, x := range step {
				back[i] = -x
			}
			places = append(places, step, back)
		}
		s.bySource = s.many(places)
	}
	sum := 0.0
	for j := 0; j+1 < len(s.bySource); j += 2 {
		up, down := s.bySource[j], s.bySource[j+1]
		if k >= len(up) || k >= len(down) {
			return math.Inf(1)
		}
		d := (up[k] - down[k]) / 2
		if math.IsNaN(d) {
			return math.Inf(1)
		}
		sum += float64(d * d)
	}
	return math.Sqrt(sum)
}
