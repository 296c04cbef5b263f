package fit

// Fitter takes the shapes of a model off readings again and again, in room of
// its own. What it gives stays as it is until it is asked again. It is for one
// goroutine.
type Fitter struct {
	m    *Model
	left []float64
	zone *zone // made where it is first needed
}

// Fitter returns a fitter of the model.
func (m *Model) Fitter() *Fitter { return &Fitter{m: m, left: make([]float64, m.n)} }

// Residuals is [Model.Residuals].
func (f *Fitter) Residuals(y []float64) []float64 {
	e := f.left
	if len(f.m.q) == 1 {
		f.alongOne(y, f.m.q[0])
		return e
	}
	fromMean(e, y)
	for range 2 {
		for _, q := range f.m.q {
			c := dot(q, e) / float64(f.m.n)
			left := e[:len(q)]
			for j, qj := range q {
				left[j] -= c * qj
			}
		}
	}
	return e
}

// alongOne is Residuals for one shape, as of a line, to the same bits: sums are
// taken while their terms are made.
func (f *Fitter) alongOne(y, q []float64) {
	avg, n := mean(y), float64(len(y))
	e, sum := f.left[:len(y)], 0.0
	q = q[:len(y)]
	for i, a := range y {
		e[i] = a - avg
		sum += q[i] * e[i]
	}
	c := sum / n
	sum = 0
	for i, x := range q {
		e[i] -= c * x
		sum += x * e[i]
	}
	c = sum / n
	for i, x := range q {
		e[i] -= c * x
	}
}

// MinimumZone is [Model.MinimumZone].
func (f *Fitter) MinimumZone(y []float64) []float64 {
	e := f.Residuals(y)
	size := greatest(e)
	if size == 0 || len(e) < 2 {
		return e
	}
	if f.zone == nil {
		f.zone = newZone(f.m)
	}
	return f.zone.fit(e, size)
}

// fromMean puts x less its mean into dst.
func fromMean(dst, x []float64) (avg float64) {
	avg = mean(x)
	dst = dst[:len(x)]
	for i, a := range x {
		dst[i] = a - avg
	}
	return avg
}

// mean is taken in two passes, so that a large offset costs no figures.
func mean(x []float64) (avg float64) {
	n := float64(len(x))
	for _, a := range x {
		avg += a / n
	}
	rest := 0.0
	for _, a := range x {
		rest += a - avg
	}
	return avg + rest/n
}
