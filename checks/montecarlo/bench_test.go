package montecarlo

import "testing"

// five is a formula of five normal inputs: three lengths, as in a set-over,
// and two corrections.
func five() Problem {
	p := Problem{Start: func() Func {
		return func(in, out [][]float64) {
			a, b, c, d, e, y := in[0], in[1], in[2], in[3], in[4], out[0]
			for i := range y {
				y[i] = a[i]*b[i]/c[i] + d[i] - e[i]
			}
		}
	}}
	for i := range 5 {
		p.Sources = append(p.Sources, Normal(1, 0.1))
		p.Inputs = append(p.Inputs, Of(i))
	}
	return p
}

// mass is the calibration of JCGM 101:2008, 9.3.
func mass() Problem {
	p := Problem{
		Sources: []Source{Normal(100000, 0.05), Normal(1.234, 0.02), Rectangular(1.1, 1.3), Rectangular(7000, 9000), Rectangular(7950, 8050)},
		Start: func() Func {
			return func(in, out [][]float64) {
				r, d, air, w, s, y := in[0], in[1], in[2], in[3], in[4], out[0]
				for i := range y {
					y[i] = (r[i]+d[i])*(1+(air[i]-1.2)*(1/w[i]-1/s[i])) - 100000
				}
			}
		},
	}
	for i := range p.Sources {
		p.Inputs = append(p.Inputs, Of(i))
	}
	return p
}

func BenchmarkMillion(b *testing.B) {
	for _, c := range []struct {
		name    string
		p       Problem
		workers int
	}{{"five/1", five(), 1}, {"five/2", five(), 2}, {"mass/1", mass(), 1}, {"mass/2", mass(), 2}} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				s, err := Run(c.p, Options{Trials: 1e6, Seed: 1, Workers: c.workers})
				if err != nil {
					b.Fatal(err)
				}
				sink = s[0].Symmetric(0.95).Low
			}
		})
	}
}

var sink float64

// BenchmarkIntervals takes both kinds of interval of a million trials.
func BenchmarkIntervals(b *testing.B) {
	s, err := Run(five(), Options{Trials: 1e6, Seed: 1})
	if err != nil {
		b.Fatal(err)
	}
	b.Run("symmetric", func(b *testing.B) {
		for b.Loop() {
			sink = s[0].Symmetric(0.95).Low
		}
	})
	b.Run("shortest", func(b *testing.B) {
		for b.Loop() {
			sink = s[0].Shortest(0.95).Low
		}
	})
}
