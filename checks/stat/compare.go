package stat

import "math"

// Correlation returns the correlation coefficient of two rows of as many
// readings, from −1 to 1. Where one of them does not vary it is no number.
//
// Source: JCGM 100:2008, C.3.6 and 5.2.2.
func Correlation(x, y []float64) float64 {
	if len(x) == 0 {
		return math.NaN()
	}
	mx, my := meanFrom(x, x[0]), meanFrom(y, y[0])
	var xy, xx, yy total
	for i := range x {
		dx, dy := (x[i]-x[0])-mx, (y[i]-y[0])-my
		xy.add(dx * dy)
		xx.add(dx * dx)
		yy.add(dy * dy)
	}
	r := xy.value() / math.Sqrt(xx.value()) / math.Sqrt(yy.value())
	return math.Max(-1, math.Min(1, r))
}

// EffectiveDoF returns the degrees of freedom of a sum of independent
// contributions with standard uncertainties u, known with these degrees of
// freedom each. Where all u are 0 it is no number.
//
// Source: Welch–Satterthwaite formula, JCGM 100:2008, G.4.1 (G.2b).
func EffectiveDoF(u, dof []float64) float64 {
	greatest := 0.0
	for _, v := range u {
		greatest = math.Max(greatest, math.Abs(v))
	}
	var sum, below float64
	for i := range u {
		q := square(u[i] / greatest) // beside the greatest, so that small numbers do not vanish
		sum += q
		below += q * q / dof[i]
	}
	return sum * sum / below
}

// Difference is what two rows of readings differ by.
type Difference struct {
	Value float64 // mean of the first less that of the second
	U     float64 // its standard uncertainty
	DoF   float64
}

// Compare returns the difference of two rows of readings, each of two at
// least. The mean of each is known no better than the step of the instrument
// allows, whose standard uncertainty is step/√12: it counts where the scatter
// would have the mean better known.
//
// Source: B. L. Welch's test for rows that scatter unlike, as JCGM 100:2008,
// G.4.1 has the degrees of freedom.
func Compare(a, b []float64, step float64) Difference {
	d := Difference{Value: meanFrom(a, a[0]) - meanFrom(b, a[0])}
	var u, dof []float64
	for _, x := range [2][]float64{a, b} {
		n := float64(len(x))
		own, k := Stdev(x)/math.Sqrt(n), n-1
		if r := step / math.Sqrt(12); r > own {
			own, k = r, math.Inf(1) // as well known as the step is
		}
		u, dof = append(u, own), append(dof, k)
	}
	d.U = math.Hypot(u[0], u[1])
	d.DoF = EffectiveDoF(u, dof)
	return d
}
