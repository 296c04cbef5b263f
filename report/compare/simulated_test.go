package compare_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"waywright/checks/uncert"
	"waywright/report"
)

// shop measures: three takes of an instrument that scatters by 1 µm, reads 1 µm
// and errs by up to 2 µm, with what it is stated to scatter found from nine
// takes.
type shop struct{ r *rand.Rand }

const (
	scatter = 0.001 // mm
	errs    = 0.002
	step    = 0.001
)

// measure returns what is found of a true value, and how well that is known by
// the measure rules. own is the instrument's own error.
func (s shop) measure(t testing.TB, truth, own float64) (y float64, r uncert.Result) {
	sum := 0.0
	for range 8 {
		x := s.r.NormFloat64()
		sum += x * x
	}
	o := uncert.Observation{ID: "line", Value: truth}
	zero := s.errorOfInstrument() // nothing is stated of it: it is set as well as the instrument reads
	for range 3 {
		o.Takes = append(o.Takes, step*math.Round((truth+own+zero+scatter*s.r.NormFloat64())/step))
	}
	for _, x := range o.Takes {
		y += x / 3
	}
	o.Value = y
	m, err := uncert.New([]uncert.Instrument{{Name: "indicator", Kind: "dial indicator", Resolution: step, Error: errs, HasError: true,
		Repeatability: scatter * math.Sqrt(sum/8), RepeatabilityDoF: 8}}, []uncert.Observation{o}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return y, m.Combine([]float64{1})
}

func (s shop) errorOfInstrument() float64 { return errs * (2*s.r.Float64() - 1) }

// found turns a measurement into what a record has of it.
func found(y float64, r uncert.Result) func(*report.Record) {
	return func(rec *report.Record) {
		f := rec.Tests[0].Found
		f.Value.Value, f.U, f.K, f.DoF, f.Exact = 1000*y, micro(1000*r.U), r.K, 0, false
		if !math.IsInf(r.DoF, 0) {
			f.DoF = math.Floor(r.DoF)
		}
	}
}

// With no difference at all a difference is shown about once in twenty times,
// also where the values are many places; where one instrument erred alike in
// both, less often, which is why that is said beside it.
func TestFalseAlarmsSimulated(t *testing.T) {
	for _, tt := range []struct {
		name        string
		one         bool // instrument for both
		places      int
		runs        int
		least, most float64
	}{
		{"two instruments", false, 1, 2000, 0.03, 0.065},
		{"one instrument", true, 1, 1000, 0, 0.03},
		{"eight places", false, 8, 600, 0.01, 0.065},
	} {
		s := shop{rand.New(rand.NewPCG(7, 1))}
		shown := 0
		for range tt.runs {
			var in [2]said
			own := s.errorOfInstrument()
			for i := range in {
				if i > 0 && !tt.one {
					own = s.errorOfInstrument()
				}
				y, r := s.measure(t, 0.01, own)
				in[i] = said{day: fmt.Sprintf("202%d-03-01", i), u: 1, change: found(y, r)}
				if tt.places > 1 {
					in[i].change = s.places(t, tt.places)
				}
			}
			c := of(t, in[0], in[1])
			if c.Tests[0].Differs() {
				shown++
			}
		}
		share := float64(shown) / float64(tt.runs)
		t.Logf("%s: %.3f", tt.name, share)
		if share < tt.least || share > tt.most {
			t.Errorf("%s: a difference that is not there is shown in %.3f of all cases, want %v to %v", tt.name, share, tt.least, tt.most)
		}
	}
}

// places are those of a profile, each with an error of its own.
func (s shop) places(t testing.TB, n int) func(*report.Record) {
	var es []report.Element
	var last func(*report.Record)
	for i := range n {
		y, r := s.measure(t, 0.01, s.errorOfInstrument())
		last = found(y, r)
		es = append(es, report.Element{Key: fmt.Sprint(i), Value: *micro(1000 * y), U: micro(1000 * r.U)})
	}
	return func(rec *report.Record) {
		last(rec)
		rec.Tests[0].Elements, rec.Tests[0].Attempts[0].Elements = es, es
	}
}

// A difference that is there is found the surer the larger it is beside its
// doubt: about half of the time where it is as large.
func TestDifferencesAreFoundSimulated(t *testing.T) {
	const runs = 1000
	s := shop{rand.New(rand.NewPCG(7, 2))}
	for _, tt := range []struct{ times, least, most float64 }{{1, 0.4, 0.6}, {2, 0.93, 1}} {
		shown := 0
		for range runs {
			y0, r0 := s.measure(t, 0.01, s.errorOfInstrument())
			by := tt.times * math.Hypot(r0.U, r0.U)
			y1, r1 := s.measure(t, 0.01+by, s.errorOfInstrument())
			if of(t, said{day: "2020-03-01", u: 1, change: found(y0, r0)}, said{day: "2021-03-01", u: 1, change: found(y1, r1)}).Tests[0].Differs() {
				shown++
			}
		}
		if share := float64(shown) / runs; share < tt.least || share > tt.most {
			t.Errorf("a difference of %v times its doubt is shown in %.3f of all cases, want %v to %v", tt.times, share, tt.least, tt.most)
		} else {
			t.Logf("%v times: %.3f", tt.times, share)
		}
	}
}

// Laboratories compare two values by E_n = (x − X)/√(U² + U²), each with its U
// for k = 2, and call up to 1 in agreement (ISO/IEC 17043, from memory). With
// no end of degrees of freedom the rule here is that with 1.96 for 2: what lies
// beyond E_n = 1 differs, and what lies within 0.98 does not.
func TestAgreesWithTheNumberOfLaboratories(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 3))
	for range 500 {
		x, y := 20*r.Float64(), 20*r.Float64()
		u, w := 0.1+3*r.Float64(), 0.1+3*r.Float64()
		en := math.Abs(x-y) / math.Hypot(2*u, 2*w)
		differs := of(t, said{day: "2020-03-01", y: x, u: u}, said{day: "2021-03-01", y: y, u: w}).Tests[0].Differs()
		if en > 1 && !differs || en < 0.979 && differs {
			t.Errorf("%v ± %v and %v ± %v: E_n %.3f, differs %v", x, 2*u, y, 2*w, en, differs)
		}
	}
}
