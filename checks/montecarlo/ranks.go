package montecarlo

import (
	"math"
	"runtime"
	"slices"
	"sync"
)

// span is a range of ranks, the first being 0; both ends belong to it.
type span struct{ from, to int }

// few is up to how many numbers it is not worth it to be clever about.
const few = 8 * probes

// probes is how many numbers are looked at to learn where ranks lie.
const probes = 4096

// ranks returns the numbers of y whose ranks lie in a and in b, in order; a
// begins no later than b. y is left as it is, and holds no NaN.
//
// A sample of y tells between which numbers the ranks lie, almost surely: a
// pass over y counts what is below and above these and takes out what is
// between them, and only that is sorted. Where the sample was wrong, all is.
//
// Source of the idea: R. W. Floyd, R. L. Rivest, Expected time bounds for
// selection, Communications of the ACM 18 (1975), from memory.
func ranks(y []float64, a, b span) (ya, yb []float64) {
	if len(y) >= few {
		if ya, yb, ok := taken(y, a, b); ok {
			return ya, yb
		}
	}
	all := slices.Clone(y)
	sortNumbers(all)
	return all[a.from : a.to+1], all[b.from : b.to+1]
}

func taken(y []float64, a, b span) (ya, yb []float64, ok bool) {
	probe := make([]float64, 0, probes+1)
	step := len(y) / probes
	for i := step / 2; i < len(y); i += step {
		probe = append(probe, y[i])
	}
	slices.Sort(probe)
	aLo, aHi := bracket(probe, len(y), a)
	bLo, bHi := bracket(probe, len(y), b)
	if !(aHi < bLo) {
		return nil, nil, false
	}
	parts := make([]sieve, 1)
	if len(y) >= many {
		parts = make([]sieve, runtime.GOMAXPROCS(0))
	}
	each := (len(y) + len(parts) - 1) / len(parts)
	var wg sync.WaitGroup
	for i := range parts {
		p, some := &parts[i], y[min(len(y), i*each):min(len(y), (i+1)*each)]
		*p = sieve{aLo: aLo, aHi: aHi, bLo: bLo, bHi: bHi}
		if i == len(parts)-1 {
			p.pass(some)
			continue
		}
		wg.Go(func() { p.pass(some) })
	}
	wg.Wait()
	below, above := 0, 0
	for i := range parts {
		below, above = below+parts[i].below, above+parts[i].above
		ya, yb = append(ya, parts[i].a...), append(yb, parts[i].b...)
	}
	firstB := len(y) - above - len(yb)
	if a.from < below || a.to >= below+len(ya) || b.from < firstB || b.to >= len(y)-above {
		return nil, nil, false
	}
	sortNumbers(ya)
	sortNumbers(yb)
	return ya[a.from-below : a.to-below+1], yb[b.from-firstB : b.to-firstB+1], true
}

// many is from how many numbers it is worth it to use all processors.
const many = 200_000

// sieve takes out of some numbers those between its bounds, and counts those
// below the lower two and above the upper two.
type sieve struct {
	aLo, aHi, bLo, bHi float64
	a, b               []float64
	below, above       int
}

func (s *sieve) pass(y []float64) {
	aLo, aHi, bLo, bHi := s.aLo, s.aHi, s.bLo, s.bHi
	a, b := make([]float64, 0, len(y)/32), make([]float64, 0, len(y)/32)
	below, above := 0, 0
	for _, v := range y {
		if v <= aHi {
			if v < aLo {
				below++
			} else {
				a = append(a, v)
			}
		} else if v >= bLo {
			if v > bHi {
				above++
			} else {
				b = append(b, v)
			}
		}
	}
	s.a, s.b, s.below, s.above = a, b, below, above
}

// bracket returns two numbers between which those of the ranks s of n lie, but
// for one case in ten thousand or so. Ranks at an end have no bound there.
func bracket(probe []float64, n int, s span) (lo, hi float64) {
	at := func(rank int, sign float64) int {
		p := (float64(rank) + 0.5) / float64(n)
		m := float64(len(probe))
		return int(math.Floor(p*m + sign*(4*math.Sqrt(m*p*(1-p))+2))) // 4 standard deviations
	}
	lo, hi = math.Inf(-1), math.Inf(1)
	if i := at(s.from, -1); i >= 0 && s.from > 0 {
		lo = probe[i]
	}
	if i := at(s.to, 1); i < len(probe) && s.to < n-1 {
		hi = probe[i]
	}
	return lo, hi
}

// digitBits is how many bits one pass of the radix sort takes.
const digitBits = 11

// sortNumbers sorts numbers that are no NaN. Many are sorted by
// the digits of their bits, the lowest first, which takes a time in
// proportion to their number.
func sortNumbers(x []float64) {
	if len(x) < 1<<digitBits {
		slices.Sort(x)
		return
	}
	const size = 1 << digitBits
	const passes = (64 + digitBits - 1) / digitBits
	var count [passes][size]int32
	from, to := make([]uint64, len(x)), make([]uint64, len(x))
	for i, v := range x {
		k := keyOf(v)
		from[i] = k
		for p := range passes {
			count[p][k>>(p*digitBits)&(size-1)]++
		}
	}
	for p := range passes {
		c, shift := &count[p], p*digitBits
		if c[from[0]>>shift&(size-1)] == int32(len(x)) {
			continue // all have the same digit
		}
		var sum int32
		for d := range c {
			c[d], sum = sum, sum+c[d]
		}
		for _, k := range from {
			d := k >> shift & (size - 1)
			to[c[d]] = k
			c[d]++
		}
		from, to = to, from
	}
	for i, k := range from {
		x[i] = numberOf(k)
	}
}

// keyOf returns bits that are in the order of the numbers.
func keyOf(v float64) uint64 {
	b := math.Float64bits(v)
	return b ^ (uint64(int64(b)>>63) | 1<<63)
}

func numberOf(k uint64) float64 {
	return math.Float64frombits(k ^ (^uint64(int64(k)>>63) | 1<<63))
}
