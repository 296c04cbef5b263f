package picture_test

import (
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/engine"
	"waywright/engine/enginetest"
	"waywright/procedures/hclfile"
	"waywright/report"
	"waywright/report/draw"
	"waywright/report/picture"
	"waywright/report/reporttest"
)

// The flag is that of enginetest, which rewrites scenarios with it.
func updating() bool { return flag.Lookup("update").Value.String() == "true" }

var (
	once  sync.Once
	built report.Record
)

// smallLathe is the record of a run that has all kinds of shapes. Tests change
// copies of it only.
func smallLathe(t testing.TB) report.Record {
	t.Helper()
	once.Do(func() {
		script, err := os.ReadFile("testdata/small-lathe.txt")
		if err != nil {
			t.Fatal(err)
		}
		r := enginetest.Play(t, string(script), func(name string) (*engine.Plan, error) {
			l, diags := hclfile.Parse(hclfile.Source{FS: os.DirFS("testdata"), Path: name + ".hcl"})
			if diags.HasErrors() {
				return nil, fmt.Errorf("%v", diags)
			}
			return engine.NewPlan(l.Procedure), nil
		})
		s := r.State()
		built = report.Build(s, strings.Repeat("0123456789abcdef", 4), s.Len())
	})
	b, err := report.Marshal(built)
	if err != nil {
		t.Fatal(err)
	}
	r, err := report.Parse(b) // made from the JSON alone, and a copy
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func testOf(t testing.TB, r report.Record, title string) report.Test {
	t.Helper()
	for _, x := range r.Tests {
		if strings.Contains(x.Title, title) {
			return x
		}
	}
	t.Fatalf("no test %q", title)
	return report.Test{}
}

func pictureOf(t testing.TB, r report.Record, title, name string) draw.Picture {
	t.Helper()
	for _, p := range picture.OfTest(r, testOf(t, r, title)) {
		if p.Name == name {
			return p
		}
	}
	t.Fatalf("%q has no picture %q", title, name)
	return draw.Picture{}
}

// What each test earns, what is said of it, and its numbers.
func TestPicturesOfARun(t *testing.T) {
	r := smallLathe(t)
	var b strings.Builder
	show := func(p draw.Picture) {
		fmt.Fprintf(&b, "  %s: %s\n    %s\n    %s\n", p.Name, p.Title, p.Desc, strings.Join(p.Numbers.Head, " | "))
		for _, row := range p.Numbers.Rows {
			fmt.Fprintf(&b, "    %s\n", strings.Join(row, " | "))
		}
	}
	for _, x := range r.Tests {
		fmt.Fprintf(&b, "%d %s\n", x.No, x.Title)
		for _, p := range picture.OfTest(r, x) {
			show(p)
		}
	}
	b.WriteString("run\n")
	for _, p := range picture.OfRun(r) {
		show(p)
	}
	golden := filepath.Join("testdata", "small-lathe.golden.txt")
	if updating() {
		if err := os.WriteFile(golden, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), b.String()); d != "" {
		t.Errorf("(−want +got):\n%s", d)
	}
}

func records(t testing.TB) map[string]report.Record {
	t.Helper()
	out := map[string]report.Record{"small lathe": smallLathe(t), "tailstock": reporttest.Tailstock(), "bar": reporttest.Bar(), "empty": {}}
	first, err := os.ReadFile("../testdata/first-record.json") // of the first form of records
	if err != nil {
		t.Fatal(err)
	}
	r, err := report.Parse(first)
	if err != nil {
		t.Fatal(err)
	}
	out["first form"] = r
	return out
}

// For every reader: each picture has a title, a sentence and its numbers; the
// names within a test differ; the same record makes the same bytes.
func TestEveryPictureIsSaid(t *testing.T) {
	for name, r := range records(t) {
		all := [][]draw.Picture{picture.OfRun(r)}
		again := [][]draw.Picture{picture.OfRun(r)}
		for _, x := range r.Tests {
			all, again = append(all, picture.OfTest(r, x)), append(again, picture.OfTest(r, x))
		}
		for i, ps := range all {
			seen := map[string]bool{}
			for k, p := range ps {
				if p.Title == "" || !strings.HasSuffix(p.Desc, ".") || p.Name == "" || seen[p.Name] {
					t.Errorf("%s: picture %q, title %q, said %q", name, p.Name, p.Title, p.Desc)
				}
				seen[p.Name] = true
				if len(p.Numbers.Rows) == 0 || slices.ContainsFunc(p.Numbers.Rows, func(row []string) bool { return len(row) != len(p.Numbers.Head) }) {
					t.Errorf("%s, %s: numbers %v", name, p.Name, p.Numbers)
				}
				if s := draw.SVG(p, "x"); s != draw.SVG(again[i][k], "x") || strings.Contains(s, "NaN") {
					t.Errorf("%s, %s: %s", name, p.Name, s)
				}
			}
		}
	}
}

func dots(p draw.Picture, shapes ...draw.Shape) []draw.Dot {
	var out []draw.Dot
	for _, m := range p.Marks {
		if d, ok := m.(draw.Dot); ok && slices.Contains(shapes, d.Shape) {
			out = append(out, d)
		}
	}
	return out
}

func label(t testing.TB, p draw.Picture, text string) draw.Label {
	t.Helper()
	for _, m := range p.Marks {
		if l, ok := m.(draw.Label); ok && l.Text == text {
			return l
		}
	}
	t.Fatalf("%q is not lettered", text)
	return draw.Label{}
}

// Whichever way the procedure counts, an end that lies towards the operator is
// drawn on the side where "towards the operator" stands: below, seen from above.
func TestAxisIsDrawnWhereItsWordsSay(t *testing.T) {
	for _, tt := range []struct {
		name, positive, negative string
		value                    float64
		below                    bool
	}{
		{"plus is towards, found plus", "free end towards the operator", "free end away from the operator", 9, true},
		{"plus is towards, found minus", "free end towards the operator", "free end away from the operator", -9, false},
		{"plus is away, found plus", "free end away from the operator", "free end towards the operator", 9, false},
		{"plus is away, found minus", "free end away from the operator", "free end towards the operator", -9, true},
	} {
		r := smallLathe(t)
		i := slices.IndexFunc(r.Tests, func(x report.Test) bool { return strings.Contains(x.Title, "operator's side") })
		f := r.Tests[i].Found
		f.Positive, f.Negative, f.Value.Value = tt.positive, tt.negative, tt.value
		p := pictureOf(t, r, "operator's side", "axis")
		near, far := dots(p, draw.Ring)[0], dots(p, draw.Round)[0]
		towards, away := label(t, p, "↓ towards the operator"), label(t, p, "↑ away from the operator")
		if !(away.Y < near.Y && near.Y < towards.Y) {
			t.Errorf("%s: away stands at %g, the line at %g, towards at %g", tt.name, away.Y, near.Y, towards.Y)
		}
		if (far.Y > near.Y) != tt.below {
			t.Errorf("%s: the end is drawn at %g, the line at %g", tt.name, far.Y, near.Y)
		}
	}
	p := pictureOf(t, smallLathe(t), "Axis rises", "axis")
	near, high := dots(p, draw.Ring)[1], dots(p, draw.Cross)[0]
	if words := label(t, p, "↑ high"); !(high.Y < near.Y && words.Y < near.Y) {
		t.Errorf("24 µm high is drawn at %g, the line at %g, the word at %g", high.Y, near.Y, words.Y)
	}
}

// Seen from the tailstock, the front is at the left and the top above. The
// sweep reads 8 at the top, −6 at the front, −8 below, 6 at the rear: the
// greater a reading, the further out it is drawn.
func TestSweepLiesRoundTheMachine(t *testing.T) {
	p := pictureOf(t, smallLathe(t), "tailstock is on the axis", "reading")
	ds := dots(p, draw.Round)
	if len(ds) != 4 {
		t.Fatalf("%d readings are drawn", len(ds))
	}
	slices.SortFunc(ds, func(a, b draw.Dot) int { return int(a.X - b.X) })
	front, rear := ds[0], ds[3]
	mid := (label(t, p, "top").X + label(t, p, "bottom").X) / 2
	if mid-front.X >= rear.X-mid {
		t.Errorf("the front, −6, is %g from the middle, the rear, 6, %g", mid-front.X, rear.X-mid)
	}
	if l := label(t, p, "rear"); l.X <= mid || label(t, p, "top").Y >= label(t, p, "bottom").Y {
		t.Errorf("the rear stands at %g, the middle is at %g", l.X, mid)
	}
}

// The first harmonic at even angles is a sum: 2/n·Σ r·cos φ and 2/n·Σ r·sin φ
// (definition of a Fourier coefficient). The picture names its angle, and marks
// it there.
func TestHighSpotOfTheTaper(t *testing.T) {
	rs := []float64{0, 2, 4, 6, 6.5, 5.5, 3.5, 1, -1.5, -2, -2, -1} // as the run read them
	var a, b float64
	for i, r := range rs {
		s, c := math.Sincos(float64(i) * math.Pi / 6)
		a, b = a+r*c/6, b+r*s/6
	}
	high, out := math.Atan2(b, a), math.Hypot(a, b)
	p := pictureOf(t, smallLathe(t), "taper runs true", "reading")
	want := fmt.Sprintf("high spot at %.0f°; centre off by %.1f µm", high*180/math.Pi, out)
	l := label(t, p, want)
	d := dots(p, draw.Triangle)[0]
	cx, cy := p.W/2, (label(t, p, "0°").Y+label(t, p, "180°").Y-11)/2
	if got := math.Atan2(d.X-cx, cy-d.Y); math.Abs(got-high) > 0.02 || l.Anchor != draw.Middle {
		t.Errorf("the high spot is marked at %.1f°, want %.1f°", got*180/math.Pi, high*180/math.Pi)
	}
}

// The run-out, 8.5 µm, is within its limit of 10 µm: all readings lie in the
// ring, and with a limit of 8 µm they do not.
func TestRingOfRunOut(t *testing.T) {
	for limit, inside := range map[float64]bool{10: true, 8.6: true, 8: false} {
		r := smallLathe(t)
		i := slices.IndexFunc(r.Tests, func(x report.Test) bool { return strings.Contains(x.Title, "taper runs true") })
		r.Tests[i].Allowed.Upper.Value = limit
		p := pictureOf(t, r, "taper runs true", "reading")
		cx, cy := p.W/2, (label(t, p, "0°").Y+label(t, p, "180°").Y-11)/2
		var rings []float64
		for _, m := range p.Marks {
			if l, ok := m.(draw.Line); ok && l.Class == draw.Limit {
				rings = append(rings, math.Hypot(l.Points[0].X-cx, l.Points[0].Y-cy))
			}
		}
		if len(rings) != 2 {
			t.Fatalf("%d rings", len(rings))
		}
		all := true
		for _, d := range dots(p, draw.Round) {
			at := math.Hypot(d.X-cx, d.Y-cy)
			all = all && at >= rings[0]-0.5 && at <= rings[1]+0.5
		}
		if all != inside {
			t.Errorf("limit %g µm: all readings lie in the ring: %v", limit, all)
		}
	}
}

// Two tests of one end in two planes stand in one picture, in one order; one of
// another end, or of another step, does not join them.
func TestPlanesThatBelongTogether(t *testing.T) {
	r := smallLathe(t)
	a, b := pictureOf(t, r, "operator's side", "axis"), pictureOf(t, r, "Axis rises", "axis")
	if draw.SVG(a, "x") != draw.SVG(b, "x") {
		t.Error("the two tests show different pictures")
	}
	i := slices.IndexFunc(r.Tests, func(x report.Test) bool { return strings.Contains(x.Title, "Axis rises") })
	for name, change := range map[string]func(x *report.Test){
		"an end of the bed": func(x *report.Test) {
			x.Found.Positive, x.Readings = "tailstock end high", nil
		},
		"another end":  func(x *report.Test) { x.Found.Positive = "quill end high" },
		"another step": func(x *report.Test) { x.Step = "Read the quill" },
		"no direction": func(x *report.Test) { x.Found.Positive = "" },
	} {
		r := smallLathe(t)
		change(&r.Tests[i])
		if n := len(dots(pictureOf(t, r, "operator's side", "axis"), draw.Ring)); n != 1 {
			t.Errorf("%s: %d planes in the picture", name, n)
		}
	}
	for _, x := range r.Tests[:7] {
		for _, p := range picture.OfTest(r, x) {
			if p.Name == "axis" {
				t.Errorf("%q is drawn as an axis", x.Title)
			}
		}
	}
}

// FuzzRecord: no record, however odd, makes a picture fail, and what is drawn
// has its numbers.
func FuzzRecord(f *testing.F) {
	bar := reporttest.Bar()
	for i := range bar.Tests {
		b, err := json.Marshal(report.Record{Format: report.Format, Tests: bar.Tests[i : i+1], Readings: bar.Readings[:1], Results: bar.Results, Sittings: bar.Sittings})
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b)
	}
	f.Add([]byte(`{"format":"` + report.Format + `","tests":[{"no":1,"title":"T","along":"angle","working":["w"],"found":{"positive":"free end high","value":{"value":1,"unit":"µm"}},
		"elements":[{"at":{"value":90,"unit":"°"},"value":{"value":2,"unit":"µm"}},{"key":"top","value":{"value":2}}]}],
		"results":[{"name":"w","state":"present","formula":"straightness(reading.r, \"end_points\")","profile":[{"at":{"value":0,"unit":"mm"},"value":{"unit":"µm"}},{"at":{"value":0,"unit":"mm"},"value":{"unit":"µm"}}]}]}`))
	f.Fuzz(func(t *testing.T, b []byte) {
		r, err := report.Parse(b)
		if err != nil {
			return
		}
		ps := picture.OfRun(r)
		for _, x := range r.Tests {
			ps = append(ps, picture.OfTest(r, x)...)
		}
		for _, p := range ps {
			s := draw.SVG(p, "x")
			if len(p.Numbers.Rows) == 0 || strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
				t.Fatalf("%s: %v\n%s", p.Name, p.Numbers, s)
			}
			draw.Terminal(p, 60, 0)
		}
	})
}
