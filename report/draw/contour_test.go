package draw

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestTriangulate: the triangles cover the field once, and no place lies
// inside the circle round one.
func TestTriangulate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ps := []Point{{0, 0}, {400, 0}, {400, 300}, {0, 300}}
		for range rapid.IntRange(0, 40).Draw(t, "n") {
			ps = append(ps, Point{float64(rapid.IntRange(0, 40).Draw(t, "x")) * 10, float64(rapid.IntRange(0, 30).Draw(t, "y")) * 10})
		}
		sum := 0.0
		for _, tri := range triangulate(ps) {
			sum += area(ps, tri[0], tri[1], tri[2]) / 2
			for i := range ps {
				if i != tri[0] && i != tri[1] && i != tri[2] && inCircle(ps, tri, ps[i]) {
					t.Fatalf("place %v lies inside the circle round %v", ps[i], tri)
				}
			}
		}
		if math.Abs(sum-400*300) > 1e-6 {
			t.Fatalf("the triangles cover %v of %v: %v", sum, 400*300, ps)
		}
	})
}

// TestContourOfSlope: on an even slope every line of equal height is straight,
// square to the slope and where its height is.
func TestContourOfSlope(t *testing.T) {
	var c Contour
	for i := range 5 {
		for j := range 4 {
			c.Heights = append(c.Heights, Height{float64(i) * 100, float64(j) * 100, float64(i) * 2.1})
		}
	}
	x, _ := fieldScales(c.Heights)
	levels, _ := fieldLevels(c.Heights)
	pic := c.Draw()
	lines := 0
	for _, m := range pic.Marks {
		l, ok := m.(Line)
		if !ok || l.Class != Trace {
			continue
		}
		lines++
		near := false
		for _, level := range levels {
			near = near || math.Abs(l.Points[0].X-x.at(level/2.1*100)) < 1e-9 && math.Abs(l.Points[1].X-l.Points[0].X) < 1e-9
		}
		if !near {
			t.Errorf("a line from %v to %v", l.Points[0], l.Points[1])
		}
	}
	if lines < 2*len(levels) {
		t.Errorf("%d pieces of lines at %d levels", lines, len(levels))
	}
	if s := SVG(pic, "x"); !strings.Contains(s, "highest 8.4") || !strings.Contains(s, "lowest 0") {
		t.Error("the highest and the lowest place are not marked")
	}
}

// TestAnyContourIsAPicture: whatever the heights, the marks lie in the picture.
func TestAnyContourIsAPicture(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var c Contour
		any := rapid.OneOf(rapid.Float64Range(-1000, 1000), rapid.SampledFrom([]float64{0, 0, 1, math.NaN(), math.Inf(1), 1e200, -1e-300}))
		for range rapid.IntRange(0, 12).Draw(t, "n") {
			c.Heights = append(c.Heights, Height{any.Draw(t, "x"), any.Draw(t, "y"), any.Draw(t, "z")})
		}
		pic := c.Draw()
		check := func(p Point) {
			if !(p.X > -100 && p.X < pic.W+100 && p.Y > -100 && p.Y < pic.H+100) {
				t.Fatalf("a mark at %v, in a picture of %v by %v", p, pic.W, pic.H)
			}
		}
		for _, m := range pic.Marks {
			switch m := m.(type) {
			case Line:
				for _, p := range m.Points {
					check(p)
				}
			case Label:
				check(Point{m.X, m.Y})
			case Dot:
				check(Point{m.X, m.Y})
			}
		}
	})
}
