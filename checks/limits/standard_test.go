package limits

import (
	"math"
	"strings"
	"testing"

	"waywright/checks/internal/published"
)

// TestStandardLimits holds rows against tables on public pages, as the sources
// of the table name them; µm. Those that are from memory are held against what
// is remembered of the standard's own examples.
func TestStandardLimits(t *testing.T) {
	for _, tt := range []struct {
		standard, test, grade string
		size, want, tol       float64
	}{
		{"din_875", "squareness", "00", 100, 3, 0},
		{"din_875", "squareness", "0", 100, 7, 0},
		{"din_875", "squareness", "1", 300, 25, 0},
		{"din_875", "squareness", "2", 1000, 120, 0},
		{"din_874_2", "straightness", "single", 300, 3, 0.5}, // the table has whole micrometres
		{"din_874_2", "straightness", "single", 500, 4, 0},
		{"din_874_2", "straightness", "single", 1000, 6, 0},
		{"iso_8512_2", "flatness", "0", math.Hypot(630, 400), 4.9, 1e-9},
		{"iso_8512_2", "flatness", "3", math.Hypot(630, 400), 39.2, 1e-9},
		{"din_876", "flatness", "1", 1000, 20, 0},
		{"din_863", "error", "single", 25, 4, 0},
		{"din_863", "error", "single", 50, 4, 0},
		{"din_863", "error", "single", 75, 5, 0},
		{"din_863", "error", "single", 300, 9, 0},
		{"iso_1708", "bed_straightness", "normal", 500, 10, 0},
		{"iso_1708", "bed_straightness", "normal", 1000, 20, 0},
		{"iso_1708", "bed_straightness", "normal", 2000, 30, 0},
		{"iso_1708", "carriage_straightness", "normal", 5000, 30, 0},
		{"iso_1708", "spindle_vertical", "precision", 0, 20, 0},
	} {
		l, ok := Standard(tt.standard, tt.test, tt.grade, tt.size)
		if !ok || math.Abs(l.Value*1000-tt.want) > tt.tol+1e-9 || l.Source == "" {
			t.Errorf("%s %s %s at %v mm: %v µm, %v; want %v", tt.standard, tt.test, tt.grade, tt.size, l.Value*1000, ok, tt.want)
		}
	}
	if l, _ := Standard("iso_1708", "spindle_vertical", "normal", 0); l.Per != 300 || !strings.Contains(l.Source, "verify") {
		t.Errorf("per %v, source %q", l.Per, l.Source)
	}
	if _, ok := Standard("din_863", "error", "single", 400); ok {
		t.Error("a micrometer of 400 mm has a limit")
	}
}

// TestPublishedPlateGrade holds the formula of surface plates against the one
// read in a paper on their calibration; microinches.
func TestPublishedPlateGrade(t *testing.T) {
	var file struct {
		Examples map[string]float64 `json:"computed_examples"`
	}
	published.Read(t, "geometry/surface_plate_grade_formula.json", &file)
	for diagonal, name := range map[float64]string{30: "diagonal 30 in, microinch", 60: "diagonal 60 in, microinch"} {
		l, ok := Standard("asme_b89_3_7", "flatness", "aa", diagonal*25.4)
		if want := file.Examples[name]; !ok || want == 0 || math.Abs(l.Value/25.4e-6-want) > 1e-4 {
			t.Errorf("diagonal %v in: %v µin, %v; want %v", diagonal, l.Value/25.4e-6, ok, want)
		}
	}
}

// TestTableIsWhole: every row can be reached, is above nothing, and says where
// it is from; what is from memory says so.
func TestTableIsWhole(t *testing.T) {
	n := 0
	for _, s := range Standards() {
		for _, test := range Tests(s) {
			for _, g := range Grades(s, test) {
				l, ok := Standard(s, test, g, 100)
				if !ok || !(l.Value > 0 && l.Value < 1) || l.Source == "" {
					t.Errorf("%s %s %s: %+v, %v", s, test, g, l, ok)
				}
				n++
			}
		}
	}
	if n < 120 {
		t.Errorf("only %d limits", n)
	}
}
