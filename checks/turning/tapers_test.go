package turning

import (
	"strings"
	"testing"

	"waywright/checks/internal/published"
)

// TestPublishedTapers holds the table of tapers against figures read on public
// pages, of which each file names its own.
func TestPublishedTapers(t *testing.T) {
	held := 0
	hold := func(series, size, what string, got, want, tol float64) {
		t.Helper()
		held++
		if !near(got, want, tol) {
			t.Errorf("%s %s: %s %v, want %v ± %v", series, size, what, got, want, tol)
		}
	}
	num := func(s string) float64 { return published.Number(t, s) }
	taper := func(series, size string) Taper {
		tp, ok := StandardTaper(series, num(size))
		if !ok {
			t.Errorf("no %s taper %s", series, size)
		}
		return tp
	}
	var morse struct {
		Rows []struct {
			Size   string
			Metric struct {
				Ratio string `json:"taper_ratio_1_to"`
				Gauge string `json:"gauge_line_diameter_D_mm"`
			}
			Inch struct {
				PerFoot string `json:"taper_per_foot_in"`
				Small   string `json:"plug_small_end_diameter_in"`
				Depth   string `json:"plug_depth_in"`
			}
		}
	}
	published.Read(t, "tapers/morse.json", &morse)
	for _, r := range morse.Rows {
		size := strings.ReplaceAll(strings.TrimPrefix(r.Size, "MT"), "-1/2", ".5")
		tp := taper("morse", size)
		hold("morse", size, "1 in", 1/tp.Ratio, num(r.Metric.Ratio), 0.001)
		hold("morse", size, "gauge diameter", tp.GaugeDiameter, num(r.Metric.Gauge), 0.002) // the inch table has four decimals
		hold("morse", size, "taper per foot", tp.Ratio*12, num(r.Inch.PerFoot), 1e-9)
		hold("morse", size, "small diameter", tp.SmallDiameter/inch, num(r.Inch.Small), 1e-9)
		hold("morse", size, "length", tp.Length/inch, num(r.Inch.Depth), 1e-9)
	}
	var steep struct {
		Rows []struct {
			Size  int
			Gauge string `json:"gauge_diameter_mm"`
		}
	}
	published.Read(t, "tapers/steep_7_24.json", &steep)
	for _, r := range steep.Rows {
		tp, _ := StandardTaper("steep", float64(r.Size))
		hold("steep", r.Gauge, "gauge diameter", tp.GaugeDiameter, num(r.Gauge), 1e-9)
		hold("steep", r.Gauge, "taper per foot", tp.Ratio*12, 3.5, 1e-12)
	}
	var jarno struct {
		Rows []struct {
			Number int
			Large  string `json:"large_in"`
			Small  string `json:"small_in"`
			Length string `json:"length_in"`
		}
	}
	published.Read(t, "tapers/jarno.json", &jarno)
	for _, r := range jarno.Rows {
		tp, _ := StandardTaper("jarno", float64(r.Number))
		hold("jarno", r.Large, "large diameter", tp.GaugeDiameter/inch, num(r.Large), 1e-9)
		hold("jarno", r.Large, "small diameter", tp.SmallDiameter/inch, num(r.Small), 1e-9)
		hold("jarno", r.Large, "length", tp.Length/inch, num(r.Length), 1e-9)
	}
	if held < 50 {
		t.Errorf("only %d figures were compared", held)
	}
}

// TestTapersAgree: in every row that states them, the diameters and the length
// give the taper, to what their last figures allow; every row says where it is
// from.
func TestTapersAgree(t *testing.T) {
	seen, memory := 0, 0
	for _, series := range TaperSeries() {
		for _, size := range TaperSizes(series) {
			tp, ok := StandardTaper(series, size)
			if !ok || tp.Source == "" || tp.Ratio <= 0 || tp.GaugeDiameter <= 0 {
				t.Fatalf("%s %v: %+v, %v", series, size, tp, ok)
			}
			if strings.Contains(tp.Source, "from memory: typical, verify") {
				memory++
			} else {
				seen++
			}
			if tp.SmallDiameter == 0 || tp.Length == 0 {
				continue
			}
			if got := tp.SmallDiameter + tp.Ratio*tp.Length; !near(got, tp.GaugeDiameter, 0.003) { // 0.0001 in
				t.Errorf("%s %v: %v at the gauge line by its taper, %v by the table", series, size, got, tp.GaugeDiameter)
			}
		}
	}
	if seen < 30 || memory < 10 {
		t.Errorf("%d rows seen, %d from memory", seen, memory)
	}
	if _, ok := StandardTaper("morse", 8); ok {
		t.Error("there is a Morse taper 8")
	}
}

// TestResponses: derived here; mm.
func TestResponses(t *testing.T) {
	for after, want := range map[float64]float64{0.001: 0.97, 0.0595: -0.98, 0.015: 0.50, -0.020: 1.67, 0.030: 0} {
		if got := Response(0.030, after, 0.018, 300, 250); !near(got, want, 0.005) {
			t.Errorf("taper 0.030 became %v: response %.3f, want %.2f", after, got, want)
		}
	}
	if got := Response(0.030, TaperAfter(0.030, 0.018, 300, 250), 0.018, 300, 250); !near(got, 1, 1e-12) {
		t.Errorf("as planned: %v, want 1", got)
	}
	if got := Kappa(-0.018, 0.018); got != -1 {
		t.Errorf("moved the wrong way as far: %v, want -1", got)
	}
}
