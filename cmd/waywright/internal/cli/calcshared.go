package cli

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"waywright/checks/montecarlo"
)

// mixed is how far an independent source moves an input.
type mixed struct {
	source int
	c      float64
}

// correlate lets inputs have a part of their errors in common. Each pair is
// "x, y = 0.9". Their errors are then put together from independent sources by
// the factor of the matrix of correlations (JCGM 101:2008, 6.4.8; JCGM
// 100:2008, 5.2 and F.1.2.3).
func (s *sheet) correlate(pairs []string) error {
	type key struct{ a, b int }
	r := map[key]float64{}
	var on []int
	for _, text := range pairs {
		a, b, x, err := s.pair(text)
		if err != nil {
			return err
		}
		if _, twice := r[key{a, b}]; twice {
			return cannot("--correlation %q: these two stand there already", text)
		}
		r[key{a, b}], r[key{b, a}] = x, x
		on = append(on, a, b)
	}
	slices.Sort(on)
	on = slices.Compact(on)
	m := make([][]float64, len(on))
	for i, a := range on {
		m[i] = make([]float64, len(on))
		for j, b := range on {
			if m[i][j] = r[key{a, b}]; i == j {
				m[i][j] = 1
			}
		}
	}
	f, ok := montecarlo.Factor(m)
	if !ok {
		return cannot("--correlation: no inputs can be correlated so, all at once: where a goes with b and b with c, a goes with c. Take more figures, or look at the signs")
	}
	for i, a := range on {
		in := s.inputs[a]
		for k, c := range f[i] {
			if c != 0 {
				in.mix = append(in.mix, mixed{on[k], c * in.u / s.inputs[on[k]].u})
			}
		}
		if in.shape != nil || in.dof > 0 {
			s.undrawn = in.label + " is correlated and not normal"
		}
	}
	return nil
}

// pair reads one correlation.
func (s *sheet) pair(text string) (a, b int, r float64, err error) {
	const example = "Write --correlation 'x, y = 0.9' with the names of two inputs"
	names, number, ok := strings.Cut(text, "=")
	first, second, two := strings.Cut(names, ",")
	if !ok || !two {
		return 0, 0, 0, cannot("--correlation %q: two names, =, and a number. %s", shortened(text), example)
	}
	r, err = strconv.ParseFloat(strings.TrimSpace(number), 64)
	if err != nil || !(math.Abs(r) <= 1) {
		return 0, 0, 0, cannot("--correlation %q: %q is no correlation: that is a number from -1 to 1", shortened(text), strings.TrimSpace(number))
	}
	var at [2]int
	for i, name := range []string{strings.TrimSpace(first), strings.TrimSpace(second)} {
		if _, known := s.names[name]; !known || name == "" {
			return 0, 0, 0, cannot("--correlation %q: %q is no name of --with. %s", shortened(text), name, example)
		}
		c := s.cell(name)
		if c.input < 0 {
			return 0, 0, 0, cannot("--correlation %q: %s is worked out from others, and what they share is counted already. Name the inputs", shortened(text), name)
		}
		if s.inputs[c.input].u == 0 {
			return 0, 0, 0, cannot("--correlation %q: %s is exact", shortened(text), name)
		}
		at[i] = c.input
	}
	if at[0] == at[1] {
		return 0, 0, 0, cannot("--correlation %q: an input goes with itself. %s", shortened(text), example)
	}
	return at[0], at[1], r, nil
}

// moved is by how much an input is off when its sources are.
func (s *sheet) moved(i int, sources []float64) float64 {
	in := s.inputs[i]
	if in.mix == nil {
		return sources[i]
	}
	sum := 0.0
	for _, m := range in.mix {
		sum += float64(m.c * sources[m.source])
	}
	return sum
}

// addMoved adds that to a column, for many trials.
func (s *sheet) addMoved(i int, sources [][]float64, to []float64) {
	mix := s.inputs[i].mix
	if mix == nil {
		mix = []mixed{{i, 1}}
	}
	for _, m := range mix {
		for t, x := range sources[m.source][:len(to)] {
			to[t] += float64(m.c * x)
		}
	}
}

// said is what a row of a budget is called.
func (in *input) said() string {
	if len(in.mix) > 1 {
		return fmt.Sprintf("%s, less what it shares", in.label)
	}
	return in.label
}
