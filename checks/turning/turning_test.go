package turning

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"waywright/checks/internal/published"
)

func near(a, b, tol float64) bool { return math.Abs(a-b) <= tol }

const inch = 25.4 // mm

// TestPublishedSetOver holds the set-over for a taper against US Navy training
// manual 14345 and F. D. Jones, Turning and Boring.
func TestPublishedSetOver(t *testing.T) {
	var file struct {
		Items []struct {
			Source struct{ Document string }
			Inputs struct {
				Length  float64 `json:"length_in"`
				Total   float64 `json:"total_length_in"`
				PerFoot float64 `json:"taper_per_foot_in"`
				Tapered float64 `json:"tapered_length_in"`
				Large   float64 `json:"D_in"`
				Small   float64 `json:"d_in"`
			}
			Published []published.Entry
		}
	}
	published.Read(t, "workshop/tailstock_setover.json", &file)
	checked := 0
	for _, item := range file.Items {
		in := item.Inputs
		total, tapered := in.Total+in.Length, in.Tapered+in.Length
		large, small := in.Large, in.Small
		if large == 0 { // the book gives the taper alone: over one foot
			large, tapered = in.PerFoot, 12
		}
		for _, e := range item.Published {
			var got float64
			switch {
			case strings.HasPrefix(e.Quantity, "set-over"):
				got = SetOverForTaper(large*inch, small*inch, tapered*inch, total*inch) / inch
			case e.Quantity == "taper per foot":
				got = TaperPerLength(large*inch, small*inch, tapered*inch) * 12
			default:
				continue
			}
			checked++
			if want, tol := e.Number(t); !near(got, want, tol) {
				t.Errorf("%s = %.4f in, want %v ± %g (%s, %s)", e.Quantity, got, want, tol, item.Source.Document, e.Where)
			}
		}
	}
	if checked != 5 {
		t.Errorf("checked %d figures, want 5", checked)
	}
}

// TestPublishedTaperPerInch holds collar differences against Turning and
// Boring Tapers (1902).
func TestPublishedTaperPerInch(t *testing.T) {
	var file struct {
		Rows []struct {
			Angle     float64 `json:"included_angle_deg"`
			Published []published.Entry
		}
	}
	published.Read(t, "workshop/angle_to_taper_1902.json", &file)
	checked := 0
	for _, row := range file.Rows {
		for _, e := range row.Published {
			if e.Misprint() {
				continue
			}
			span := map[string]float64{"taper per inch": 1, "taper per foot": 12}[e.Quantity]
			half := row.Angle / 2 * math.Pi / 180
			got := CollarDifference(half, span*inch) / inch
			checked++
			if want, tol := e.Number(t); !near(got, want, tol) {
				t.Errorf("%v°: %s = %.6f in, want %v ± %g", row.Angle, e.Quantity, got, want, tol)
			}
			if back := AngleFromCollars(got*inch, 0, span*inch); !near(back, half, 1e-14) {
				t.Errorf("%v°: AngleFromCollars gives %v back, want %v", row.Angle, back, half)
			}
		}
	}
	if checked < 10 {
		t.Errorf("checked %d figures only", checked)
	}
}

// TestPublishedHalfAngles holds half-angles against public tables of Morse,
// Jarno, Jacobs and Brown & Sharpe tapers. The tables of the last two print
// four digits of angle, made from rounded tapers.
func TestPublishedHalfAngles(t *testing.T) {
	degrees := func(ratio float64) float64 { return HalfAngle(ratio) * 180 / math.Pi }
	var morse struct {
		Rows []struct {
			Size   string
			Metric *struct {
				Ratio string `json:"taper_ratio_1_to"`
				Half  string `json:"half_angle_printed"`
			}
		}
	}
	published.Read(t, "tapers/morse.json", &morse)
	for _, r := range morse.Rows {
		if r.Metric == nil {
			continue
		}
		var d, m, s float64
		if _, err := fmt.Sscanf(strings.NewReplacer("°", " ", "'", " ", "\"", "").Replace(r.Metric.Half), "%g %g %g", &d, &m, &s); err != nil {
			t.Fatalf("%s: %v", r.Metric.Half, err)
		}
		want := d + m/60 + s/3600
		if got := degrees(1 / published.Number(t, r.Metric.Ratio)); !near(got, want, 1.0/3600) { // printed to a second
			t.Errorf("%s: half-angle %.5f°, want %.5f ± 1″", r.Size, got, want)
		}
	}
	for name, tol := range map[string]float64{"jacobs": 5e-5, "brown_sharpe": 1.2e-4} {
		var file struct {
			Rows []struct {
				Size  string
				Taper string `json:"taper_per_foot_printed"`
				Four  string `json:"taper_per_foot_printed_4_digits"`
				Half  string `json:"half_angle_printed_deg"`
			}
		}
		published.Read(t, "tapers/"+name+".json", &file)
		for _, r := range file.Rows {
			taper := r.Taper + r.Four
			want := published.Number(t, r.Half)
			if got := degrees(published.Number(t, taper) / 12); !near(got, want, tol+1e-4) {
				t.Errorf("%s: half-angle %.5f°, want %v", r.Size, got, want)
			}
		}
	}
	if got := degrees(TaperPerLength(2.0/8*inch, 2.0/10*inch, 2.0/2*inch)); !near(got, 1.4321, 5e-5) {
		t.Errorf("Jarno 2: half-angle %.5f°, want 1.4321", got)
	}
}

// TestPublishedAngles holds half-angles against Table 13 of a machinist's
// handbook, worked out by hand: up to 3.4″ off on the included angle.
func TestPublishedAngles(t *testing.T) {
	var file struct {
		Rows []struct {
			Taper    string     `json:"taper_per_foot_in"`
			Included [3]float64 `json:"included_printed_dms"`
		}
	}
	published.Read(t, "workshop/taper_per_foot_to_angle.json", &file)
	for _, r := range file.Rows {
		var a, b float64
		if _, err := fmt.Sscanf(r.Taper, "%g/%g", &a, &b); err != nil {
			t.Fatal(err)
		}
		got := 2 * HalfAngle(a/b/12) * 180 / math.Pi * 3600
		want := r.Included[0]*3600 + r.Included[1]*60 + r.Included[2]
		if !near(got, want, 3.5) {
			t.Errorf("%s in per foot: included angle %.1f″, want %v ± 3.5", r.Taper, got, want)
		}
	}
}

// Vectors that are derived here, with the sign in each name.
func TestDerived(t *testing.T) {
	for _, tt := range []struct {
		name           string
		got, want, tol float64
	}{
		{"tailstock end larger: towards the operator", SetOver(25.030-25.000, 300, 250), 0.018, 1e-12},
		{"tailstock end smaller: away", SetOver(20.000-20.012, 300, 240), -0.0075, 1e-12},
		{"that move takes the taper away", TaperAfter(0.030, 0.018, 300, 250), 0, 1e-12},
		{"the wrong way doubles it", TaperAfter(0.030, -0.018, 300, 250), 0.060, 1e-12},
		{"Morse 3 over 50 mm of travel", SlideOffset(HalfAngle(0.05020), 50), 1.2546, 5e-5},
		{"and back", AngleFromOffset(SlideOffset(0.02509, 50), 50), 0.02509, 1e-12},
		{"blue over a fifth, on the diameter", 2 * 60 * BlueAngle(0.0025, 0.2, 60), 0.025, 1e-12},
		{"blue over three tenths", 2 * 60 * BlueAngle(0.0025, 0.3, 60), 0.0167, 5e-5},
		{"blue over a half", 2 * 60 * BlueAngle(0.0025, 0.5, 60), 0.010, 1e-12},
		{"blue over eight tenths", 2 * 60 * BlueAngle(0.0025, 0.8, 60), 0.00625, 1e-12},
		{"swing at the radius", Swing(80, 2.5e-3/60, 0), 80 * 2.5e-3 / 60, 1e-15},
		{"yaw alone: the free end is smaller", YawFromCollars(-0.010, 150, 0, 100), 0.010 / 300, 1e-12},
		{"roll alone: the free end is larger", YawFromCollars(0.008, 150, 0.04/1000, 100), 0, 1e-12},
		{"a taper of 1 in 20 goes in twenty times as far", SeatShift(0.005, 0.05), 0.1, 1e-12},
	} {
		if !near(tt.got, tt.want, tt.tol) {
			t.Errorf("%s: %.6f, want %.6f ± %g", tt.name, tt.got, tt.want, tt.tol)
		}
	}
}

// TestSetOverIsUndone asks that a move by the set-over leaves no taper,
// whatever the lengths.
func TestSetOverIsUndone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		taper := rapid.Float64Range(-1, 1).Draw(t, "taper")
		centres := rapid.Float64Range(80, 1500).Draw(t, "centres")
		span := rapid.Float64Range(50, centres).Draw(t, "span")
		m := SetOver(taper, centres, span)
		if left := TaperAfter(taper, m, centres, span); math.Abs(left) > 1e-14 {
			t.Fatalf("taper %v, moved %v: %v is left", taper, m, left)
		}
		if math.Signbit(m) != math.Signbit(taper) && taper != 0 {
			t.Fatalf("taper %v gives a move of %v", taper, m)
		}
	})
}

// TestSwingAdvance checks the advance of the cross slide, with the tool left
// touching a collar, against turning the top slide about its pivot.
func TestSwingAdvance(t *testing.T) {
	const alpha, off, radius = 0.3, 1e-6, 120.0 // rad, rad, mm
	// The tool lies at radius along the slide. The slide is swung by off, and
	// the tool run back along it to its old place in Z: what is left is the
	// advance in X.
	alongZ := radius * (math.Cos(alpha+off) - math.Cos(alpha))
	alongX := radius * (math.Sin(alpha+off) - math.Sin(alpha))
	want := alongX - alongZ*math.Tan(alpha+off)
	if got := Swing(radius, off, alpha); !near(got, want, 1e-9) {
		t.Errorf("Swing = %v, want %v", got, want)
	}
}
