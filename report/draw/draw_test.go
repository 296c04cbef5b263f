package draw

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func anyNumber(t *rapid.T, label string) float64 {
	return rapid.OneOf(
		rapid.Float64Range(-200, 200),
		rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1), 1e-12, -1e-12, 1e12, 25.0031, math.MaxFloat64, -math.MaxFloat64, math.SmallestNonzeroFloat64}),
	).Draw(t, label)
}

func anyShape(t *rapid.T) Shape {
	return rapid.SampledFrom([]Shape{Round, Cross, Diamond}).Draw(t, "shape")
}

func anyPlot(t *rapid.T) Plot {
	p := Plot{
		Title: rapid.String().Draw(t, "title"), Desc: rapid.String().Draw(t, "desc"), Across: rapid.String().Draw(t, "across"),
		Unit: "µm", Up: "up", Down: "down", Even: rapid.Bool().Draw(t, "even"), Joined: rapid.Bool().Draw(t, "joined"),
	}
	for range rapid.IntRange(0, 30).Draw(t, "n") {
		p.Values = append(p.Values, Val{
			At: anyNumber(t, "at"), Y: anyNumber(t, "y"), U: anyNumber(t, "u"), Lo: anyNumber(t, "lo"), Hi: anyNumber(t, "hi"),
			Shape: anyShape(t), Label: rapid.String().Draw(t, "label"),
		})
	}
	return p
}

// wellFormed fails unless s is one element of XML, whose text is what was put in.
func wellFormed(t rapid.TB, s string) {
	d := xml.NewDecoder(strings.NewReader(s))
	depth, roots := 0, 0
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("%v in %s", err, s)
		}
		switch tok.(type) {
		case xml.StartElement:
			if depth == 0 {
				roots++
			}
			depth++
		case xml.EndElement:
			depth--
		}
	}
	if roots != 1 {
		t.Fatalf("%d elements at the top of %s", roots, s)
	}
}

// Whatever the numbers are, the picture is sound and its marks are on it.
func TestAnyPlotIsAPicture(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pic := anyPlot(t).Draw()
		wellFormed(t, SVG(pic, "x-1"))
		onThePlane(t, pic)
	})
}

func TestAnyStripIsAPicture(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo, hi := anyNumber(t, "lo"), anyNumber(t, "hi")
		if lo > hi {
			lo, hi = hi, lo
		}
		pic := Strip{Title: "t", Desc: "d", Value: anyNumber(t, "value"), U: anyNumber(t, "u"), Lo: lo, Hi: hi, Shape: anyShape(t)}.Draw()
		wellFormed(t, SVG(pic, "x-1"))
		onThePlane(t, pic)
	})
}

// onThePlane allows a pixel for lettering and rounding.
func onThePlane(t rapid.TB, pic Picture) {
	check := func(x, y float64) {
		if !(x >= -1 && x <= pic.W+1 && y >= -1 && y <= pic.H+1) {
			t.Fatalf("a mark at %g, %g is off the plane of %g by %g", x, y, pic.W, pic.H)
		}
	}
	for _, m := range pic.Marks {
		switch m := m.(type) {
		case Rect:
			check(m.X, m.Y)
			check(m.X+m.W, m.Y+m.H)
			if m.W < 0 || m.H < 0 {
				t.Fatalf("a rectangle of %g by %g", m.W, m.H)
			}
		case Line:
			for _, p := range m.Points {
				check(p.X, p.Y)
			}
		case Label:
			check(m.X, m.Y)
		case Dot:
			check(m.X, m.Y)
		}
	}
}

// A value inside its limits is drawn between their lines, one outside is not,
// wherever there is room for both.
func TestPlotShowsInsideAndOutside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Float64Range(-50, 0).Draw(t, "lo")
		hi := lo + rapid.Float64Range(1, 50).Draw(t, "width")
		y := rapid.Float64Range(-120, 120).Draw(t, "y")
		pic := Plot{Even: true, Values: []Val{{Y: y, Lo: lo, Hi: hi, Shape: Round}}}.Draw()
		var dot Dot
		var band Rect
		for _, m := range pic.Marks {
			switch m := m.(type) {
			case Dot:
				dot = m
			case Rect:
				band = m
			}
		}
		const pixel = 0.01
		inside := dot.Y >= band.Y-pixel && dot.Y <= band.Y+band.H+pixel
		if want := y >= lo && y <= hi; inside != want && math.Min(math.Abs(y-lo), math.Abs(y-hi)) > 1e-3 {
			t.Fatalf("%g between %g and %g: drawn inside %v", y, lo, hi, inside)
		}
	})
}

// All strips have their limits at the same places.
func TestStripsAreEquallyWide(t *testing.T) {
	for _, s := range []Strip{{Lo: -0.013, Hi: 0.013}, {Lo: 0, Hi: 1200, Value: 3}, {Lo: -7, Hi: -6.5, Value: -6.9}} {
		var at []float64
		for _, m := range s.Draw().Marks {
			if l, ok := m.(Line); ok && l.Class == Limit {
				at = append(at, l.Points[0].X)
			}
		}
		if len(at) != 2 || math.Abs(at[0]-barLo) > 1e-9 || math.Abs(at[1]-barHi) > 1e-9 {
			t.Errorf("strip %+v has its limits at %v, want %g and %g", s, at, barLo, barHi)
		}
	}
}

func TestStripBeyondItsReachIsAnArrow(t *testing.T) {
	for _, tt := range []struct {
		value float64
		want  Shape
	}{{0.2, Round}, {0.9, Cross}, {50, ArrowOut}, {-50, ArrowIn}} {
		start := Round
		if tt.want == Cross {
			start = Cross
		}
		for _, m := range (Strip{Value: tt.value, Lo: -0.5, Hi: 0.5, Shape: start}).Draw().Marks {
			if d, ok := m.(Dot); ok && d.Shape != tt.want {
				t.Errorf("%g between ±0.5 is drawn as %s, want %s", tt.value, d.Shape, tt.want)
			}
		}
	}
}

// Verdicts differ in shape, not in colour alone.
func TestShapesDiffer(t *testing.T) {
	seen := map[string]Shape{}
	for _, s := range []Shape{Round, Cross, Diamond, ArrowOut, ArrowIn} {
		svg := SVG(Picture{W: 10, H: 10, Marks: []Mark{Dot{X: 5, Y: 5, Shape: s, Class: Value}}}, "x")
		svg = strings.ReplaceAll(svg, "d-"+string(s), "d-") // the shape itself, without its class
		if other, ok := seen[svg]; ok {
			t.Errorf("%s looks like %s", s, other)
		}
		seen[svg] = s
	}
}

func TestTicks(t *testing.T) {
	for _, tt := range []struct {
		from, to float64
		want     string
	}{
		{0, 100, "0 20 40 60 80 100"},
		{-13.3, 91, "0 50"},
		{25.0015, 25.0032, "25.0015 25.0020 25.0025 25.0030"},
		{-0.4, 0.4, "−0.4 −0.2 0 0.2 0.4"},
	} {
		at, decimals := ticks(tt.from, tt.to, 5)
		var got []string
		for _, x := range at {
			got = append(got, figure(x, decimals))
		}
		if s := strings.Join(got, " "); s != tt.want {
			t.Errorf("ticks(%g, %g) = %s, want %s", tt.from, tt.to, s, tt.want)
		}
	}
}

func TestTextIsEscaped(t *testing.T) {
	s := SVG(Picture{W: 1, H: 1, Title: `</title><script>`, Desc: "a & b\x00", Marks: []Mark{Label{Text: `"><g>`}}}, "x")
	wellFormed(t, s)
	for _, bad := range []string{"<script", "<g>", "\x00"} {
		if strings.Contains(s, bad) {
			t.Errorf("%q is in %s", bad, s)
		}
	}
}
