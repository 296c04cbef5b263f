package montecarlo

import (
	"math"
	"strconv"
	"strings"
)

// Until says when an adaptive run has tried enough.
type Until struct {
	Level    float64 // of the intervals; 0 stands for 0.95
	Shortest bool    // the shortest interval is wanted, not the symmetric one
	Digits   int     // figures of the standard uncertainty that matter; 0 stands for 2
	// Part of the numerical tolerance that must be reached; 0 stands for all
	// of it. JCGM 101:2008, 8.2 advises a fifth for [Validate].
	Part float64
	Most int // trials after which it stops in any case; 0 stands for 10⁷
}

// Adapted is what an adaptive run gave.
type Adapted struct {
	Samples   []Sample
	Intervals []Interval // of each output, from all its trials
	Stable    bool       // the tolerance, or the part of it asked for, was reached for every output
	Within    bool       // the tolerance itself was
	Sequences int        // how many sequences of trials it took
}

// Adapt tries the problem in sequences of trials until estimate, standard
// uncertainty and both ends of the interval of every output are known to the
// numerical tolerance: until twice the standard deviation of their averages
// over the sequences is no more. Options.Trials is of no effect.
//
// After few sequences these standard deviations are little known themselves:
// of runs of a sum of four normal inputs one in four had an end of the
// interval outside the tolerance. A Part of 0.2 mends that.
//
// Source: JCGM 101:2008, 7.9.4.
func Adapt(p Problem, o Options, u Until) (Adapted, error) {
	if err := p.check(); err != nil {
		return Adapted{}, err
	}
	u = u.usual()
	// At least 10⁴ trials, and 100 outside the interval, in whole blocks.
	size := max(10_000, int(math.Ceil(100/(1-u.Level)-1e-6)))
	size = (size + Block - 1) / Block * Block
	r := newRunner(p, o)
	kept := make([]sequences, p.outputs())
	a := Adapted{}
	for !a.Stable && (a.Sequences+1)*size <= max(u.Most, 2*size) {
		a.Sequences++
		r.extend(a.Sequences * size)
		a.Stable = a.Sequences > 1
		a.Within = a.Stable
		for k := range kept {
			kept[k].add(r.sequence(k, size), u)
			all := r.reduce(k, 0, len(r.blocks)/len(r.values))
			tolerance := Tolerance(all.std(), u.Digits)
			a.Stable = kept[k].within(tolerance*u.Part) && a.Stable
			a.Within = kept[k].within(tolerance) && a.Within
		}
	}
	a.Samples = r.samples()
	for _, s := range a.Samples {
		a.Intervals = append(a.Intervals, u.interval(s))
	}
	return a, nil
}

func (u Until) usual() Until {
	if !(u.Level > 0 && u.Level < 1) {
		u.Level = 0.95
	}
	if u.Digits <= 0 {
		u.Digits = 2
	}
	if !(u.Part > 0) {
		u.Part = 1
	}
	if u.Most <= 0 {
		u.Most = 10_000_000
	}
	return u
}

func (u Until) interval(s Sample) Interval {
	if u.Shortest {
		return s.Shortest(u.Level)
	}
	return s.Symmetric(u.Level)
}

// sequence returns the last trials of output k by themselves.
func (r *runner) sequence(k, size int) Sample {
	y, blocks := r.values[k], len(r.blocks)/len(r.values)
	return newSample(y[len(y)-size:], r.reduce(k, blocks-size/Block, blocks))
}

// sequences holds estimate, uncertainty and ends of every sequence so far.
type sequences [4]moments

func (q *sequences) add(s Sample, u Until) {
	i := u.interval(s)
	for k, v := range [4]float64{s.Mean, s.Std, i.Low, i.High} {
		q[k] = q[k].with(moments{n: 1, mean: v})
	}
}

// within tells whether all four averages are known to the tolerance.
func (q *sequences) within(tolerance float64) bool {
	for _, m := range q {
		// ! of ≤, so that a NaN is not within.
		if !(2*m.std()/math.Sqrt(float64(m.n)) <= tolerance) {
			return false
		}
	}
	return true
}

// Tolerance returns the numerical tolerance of a standard uncertainty of which
// so many figures matter: half of a unit in the last of them.
//
// Source: JCGM 101:2008, 7.9.2.
func Tolerance(u float64, digits int) float64 {
	if !finite(u) || u == 0 || digits < 1 {
		return math.Abs(u) * 0 // 0, or NaN of no number
	}
	// Printing rounds, so that 0.0996 to two figures is 10·10⁻².
	printed := strconv.FormatFloat(math.Abs(u), 'e', digits-1, 64)
	exponent, err := strconv.Atoi(printed[strings.IndexByte(printed, 'e')+1:])
	if err != nil {
		panic("montecarlo: " + err.Error())
	}
	return math.Pow10(exponent-digits+1) / 2
}

// Validation is a comparison of two intervals for one result.
type Validation struct {
	Tolerance float64 // numerical tolerance of the standard uncertainty
	Low, High float64 // how far the ends are apart
	OK        bool    // both ends agree to the tolerance
}

// Validate holds a result of the linear way, y ± expanded with standard
// uncertainty u of which so many figures matter, against the interval of a
// Monte Carlo run at the same level: the linear way is good enough where both
// ends agree to the numerical tolerance.
//
// Source: JCGM 101:2008, 8.1.
func Validate(y, expanded, u float64, monteCarlo Interval, digits int) Validation {
	v := Validation{
		Tolerance: Tolerance(u, digits),
		Low:       math.Abs(y - expanded - monteCarlo.Low),
		High:      math.Abs(y + expanded - monteCarlo.High),
	}
	v.OK = v.Low <= v.Tolerance && v.High <= v.Tolerance
	return v
}
