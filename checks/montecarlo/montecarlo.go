// Package montecarlo works out how well a result is known by trying it many
// times with drawn errors: the propagation of distributions of JCGM 101:2008.
//
// A [Problem] is a function of inputs. Each input is a number plus
// coefficients times sources; sources are drawn independently of each other,
// each from its [Source] distribution, and inputs are correlated only because
// they share sources. The function works on columns, one number for each
// trial, so that any computation can be plugged in; this package knows none.
//
// Trials come in blocks of [Block]. The numbers of a source in a block are
// those of one generator, xoshiro256++ (D. Blackman, S. Vigna, 2019), seeded
// by SplitMix64 from the seed, the number of the block and that of the source;
// normal numbers are made by a ziggurat of 256 layers (G. Marsaglia, W. W.
// Tsang, 2000). Blocks are spread over the processors and put together in
// their order. So a seed gives the same bytes whatever the number of
// processors, and a run of more trials begins with those of a shorter one.
// Between kinds of processors the last bit of a logarithm may differ.
//
// Clauses of JCGM 101:2008 are cited from memory but for the examples, whose
// figures are those of testdata/published/jcgm101.
//
// Numbers are in whatever units the inputs have. "Measure rule" numbers are
// those of the rules in DEVELOPERS.md.
package montecarlo

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"math"
	"runtime"
)

// Block is how many trials are drawn and evaluated at a time.
const Block = 1000

// Usual is the number of trials where none is stated: enough for two figures
// of a 95 % interval, as JCGM 101:2008, 7.2, has it.
const Usual = 200_000

// Problem is what is to be tried.
type Problem struct {
	Sources []Source
	// Pools are estimates of scatter that sources share (see [Pooled]): the
	// degrees of freedom of each.
	Pools  []float64
	Inputs []Input
	// Outputs is how many numbers the function gives in each trial; 0 stands
	// for 1.
	Outputs int
	// Start returns the function. It is called once by each goroutine, so that
	// the function may have room of its own to work in.
	Start func() Func
}

// Func computes one block of trials: out[k][i] from in[0][i], in[1][i] …
// for every trial i. A number that is not finite says that the result is not
// defined in that trial. It may overwrite in but keeps nothing.
type Func func(in, out [][]float64)

// Input is a number that the function is given: Value + Σ c·source.
type Input struct {
	Value float64
	Terms []Term
}

// Term is the coefficient of a source in an input.
type Term struct {
	Source      int // index into Problem.Sources
	Coefficient float64
}

// Of returns an input that is the source itself.
func Of(source int) Input { return Input{Terms: []Term{{source, 1}}} }

// Options say how a problem is tried.
type Options struct {
	Trials  int    // 0 stands for [Usual]
	Seed    uint64 // see [Seed]
	Workers int    // goroutines; 0 stands for as many as there are processors
}

// Seed returns the seed that belongs to some inputs: the first 8 bytes, the
// highest first, of SHA-256 of their canonical form (measure rule 10).
func Seed(canonical []byte) uint64 {
	sum := sha256.Sum256(canonical)
	return binary.BigEndian.Uint64(sum[:8])
}

// Run tries the problem and returns one sample for each output.
//
// The error tells the first part of the problem that cannot be: a source
// whose numbers are not finite or whose width is negative, or a term or pool
// that is not there.
func Run(p Problem, o Options) ([]Sample, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	n := o.Trials
	if n <= 0 {
		n = Usual
	}
	r := newRunner(p, o)
	r.extend(n)
	return r.samples(), nil
}

func (p *Problem) outputs() int { return max(1, p.Outputs) }

func (o Options) workers() int {
	if o.Workers > 0 {
		return o.Workers
	}
	return runtime.GOMAXPROCS(0)
}

func (p *Problem) check() error {
	for i, nu := range p.Pools {
		if !(nu > 0) {
			return fmt.Errorf("montecarlo: pool %d has %g degrees of freedom", i, nu)
		}
	}
	for i, s := range p.Sources {
		if !finite(s.centre) || !finite(s.scale) || !(s.scale >= 0) || !finite(s.extra) || !(s.extra >= 0) {
			return fmt.Errorf("montecarlo: source %d: %v has a width that is negative or a number that is not finite", i, s)
		}
		if s.shape == student && !(s.extra > 0) {
			return fmt.Errorf("montecarlo: source %d: %v has no degrees of freedom", i, s)
		}
		if s.shape == pooled && (s.pool < 0 || s.pool >= len(p.Pools)) {
			return fmt.Errorf("montecarlo: source %d: there is no pool %d", i, s.pool)
		}
	}
	for i, in := range p.Inputs {
		if !finite(in.Value) {
			return fmt.Errorf("montecarlo: input %d: %g is not finite", i, in.Value)
		}
		for _, t := range in.Terms {
			if t.Source < 0 || t.Source >= len(p.Sources) {
				return fmt.Errorf("montecarlo: input %d: there is no source %d", i, t.Source)
			}
			if !finite(t.Coefficient) {
				return fmt.Errorf("montecarlo: input %d: coefficient %g is not finite", i, t.Coefficient)
			}
		}
	}
	return nil
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
