package montecarlo

import "math/bits"

// golden is 2⁶⁴ divided by the golden ratio, made odd: the step of SplitMix64.
const golden = 0x9e3779b97f4a7c15

// mix is the output function of SplitMix64.
//
// Source: G. L. Steele, D. Lea, C. H. Flood, Fast splittable pseudorandom
// number generators, OOPSLA 2014; constants as in S. Vigna's splitmix64.c,
// from memory, held against published outputs in the tests.
func mix(z uint64) uint64 {
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// generator is xoshiro256++.
//
// Source: D. Blackman, S. Vigna, Scrambled linear pseudorandom number
// generators, ACM Transactions on Mathematical Software 47 (2021); held
// against published outputs in the tests.
type generator struct{ s0, s1, s2, s3 uint64 }

// stream returns the generator of one source in one block of trials.
func stream(seed, block, source uint64) generator {
	z := mix(mix(mix(seed+golden)^(block+1)*golden) ^ (source+1)*0xd1342543de82ef95)
	return seeded(z)
}

// seeded returns a generator whose state is four outputs of SplitMix64, as
// its authors advise.
func seeded(z uint64) generator {
	var s [4]uint64
	for i := range s {
		z += golden
		s[i] = mix(z)
	}
	return generator{s[0], s[1], s[2], s[3]}
}

func (g *generator) next() uint64 {
	r := bits.RotateLeft64(g.s0+g.s3, 23) + g.s0
	t := g.s1 << 17
	g.s2 ^= g.s0
	g.s3 ^= g.s1
	g.s1 ^= g.s2
	g.s0 ^= g.s3
	g.s2 ^= t
	g.s3 = bits.RotateLeft64(g.s3, 45)
	return r
}

// centred returns a rectangular number between −1 and 1, neither of them.
func (g *generator) centred() float64 { return toCentred(g.next()) }

// unit returns a rectangular number between 0 and 1, neither of them.
func (g *generator) unit() float64 { return (float64(g.next()>>12) + 0.5) * 0x1p-52 }

func toCentred(r uint64) float64 { return (float64(int64(r)>>11) + 0.5) * 0x1p-52 }

// fillCentred fills dst with rectangular numbers between −1 and 1. The state
// is kept in registers, which is worth a third of the time.
func (g *generator) fillCentred(dst []float64) {
	s0, s1, s2, s3 := g.s0, g.s1, g.s2, g.s3
	for i := range dst {
		dst[i] = toCentred(bits.RotateLeft64(s0+s3, 23) + s0)
		t := s1 << 17
		s2 ^= s0
		s3 ^= s1
		s1 ^= s2
		s0 ^= s3
		s2 ^= t
		s3 = bits.RotateLeft64(s3, 45)
	}
	g.s0, g.s1, g.s2, g.s3 = s0, s1, s2, s3
}
