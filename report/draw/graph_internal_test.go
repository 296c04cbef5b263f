package draw

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// What is stacked keeps its order and its gaps, and no other stack is nearer
// to what was wanted: held against a slow twin that moves single runs of cells
// as far as that helps.
func TestStackIsTheNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 7).Draw(t, "n")
		column := make([]*cell, n)
		wanted := make([]float64, n)
		for i := range column {
			column[i] = &cell{h: float64(rapid.IntRange(1, 40).Draw(t, "h"))}
			wanted[i] = float64(rapid.IntRange(-100, 100).Draw(t, "wanted"))
		}
		stack(column, wanted)
		cost := func(shift func(i int) float64) float64 {
			sum := 0.0
			for i, c := range column {
				sum += math.Pow(c.y+shift(i)-wanted[i], 2)
			}
			return sum
		}
		for i := 1; i < n; i++ {
			if gap := column[i].y - column[i-1].y - column[i-1].h; gap < boxGap-1e-6 {
				t.Fatalf("cells %d and %d are %g apart; want %g", i-1, i, gap, boxGap)
			}
		}
		// The cost is convex: where no run of cells can move a little with
		// profit, nothing can.
		least := cost(func(int) float64 { return 0 })
		for from := range n {
			for to := from + 1; to <= n; to++ {
				for _, d := range []float64{-1e-3, 1e-3} {
					free := (d > 0 && (to == n || column[to].y-column[to-1].y-column[to-1].h >= boxGap+d)) ||
						(d < 0 && (from == 0 || column[from].y-column[from-1].y-column[from-1].h >= boxGap-d))
					moved := cost(func(i int) float64 {
						if i >= from && i < to {
							return d
						}
						return 0
					})
					if free && moved < least-1e-9 {
						t.Fatalf("moving cells %d to %d by %g would be nearer: %g, not %g", from, to-1, d, moved, least)
					}
				}
			}
		}
	})
}

// Where arrows need not cross, they do not.
func TestOrderUncrosses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 8).Draw(t, "n")
		to := rapid.Permutation(sequence(n)).Draw(t, "to")
		g := Graph{}
		for i := range 2 * n {
			g.Boxes = append(g.Boxes, Box{Column: i / n, Head: "x"})
		}
		for i, k := range to {
			g.Arrows = append(g.Arrows, Arrow{From: i, To: n + k})
		}
		l := g.layers()
		l.order()
		if c := l.crossings(); c != 0 {
			t.Fatalf("%d crossings for %v", c, to)
		}
	})
}

func sequence(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// Boxes do not lie on one another, all lies inside the picture, arrows lead
// from the right side of a box to the left of the other, and the picture is
// the same each time.
func TestGraphIsInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := Graph{Title: "T", Desc: "D", Heads: []string{"First", "", "Third"}, Key: []Key{{Flow, "is used for"}}}
		for range rapid.IntRange(0, 12).Draw(t, "boxes") {
			g.Boxes = append(g.Boxes, Box{
				Column: rapid.IntRange(0, 4).Draw(t, "column"), Head: rapid.StringMatching(`[a-z ]{0,60}`).Draw(t, "head"),
				Lines: []string{rapid.StringMatching(`[a-z ]{0,40}`).Draw(t, "line")},
			})
		}
		joined := 0
		if n := len(g.Boxes); n > 0 {
			for range rapid.IntRange(0, 15).Draw(t, "arrows") {
				a := Arrow{From: rapid.IntRange(0, n-1).Draw(t, "from"), To: rapid.IntRange(0, n-1).Draw(t, "to")}
				g.Arrows = append(g.Arrows, a)
				if g.Boxes[a.From].Column < g.Boxes[a.To].Column {
					joined++
				}
			}
		}
		p := g.Draw()
		if a, b := string(File(p)), string(File(g.Draw())); a != b {
			t.Fatal("drawn twice, it is not the same")
		}
		var rects []Rect
		curves := 0
		for _, m := range p.Marks {
			switch m := m.(type) {
			case Rect:
				rects = append(rects, m)
				if m.X < 0 || m.Y < 0 || m.X+m.W > p.W || m.Y+m.H > p.H {
					t.Fatalf("%+v is not inside %g × %g", m, p.W, p.H)
				}
			case Curve:
				curves++
				for i, at := range m.Points {
					if i > 0 && at.X < m.Points[i-1].X {
						t.Fatalf("%+v runs back", m)
					}
				}
			case Label:
				if m.Y > p.H {
					t.Fatalf("%+v is below the picture, %g high", m, p.H)
				}
			}
		}
		for i, a := range rects {
			for _, b := range rects[:i] {
				if a.X < b.X+b.W && b.X < a.X+a.W && a.Y < b.Y+b.H && b.Y < a.Y+a.H {
					t.Fatalf("%+v lies on %+v", a, b)
				}
			}
		}
		if len(rects) != len(g.Boxes) || curves != joined+len(g.Key) {
			t.Fatalf("%d boxes and %d arrows; want %d and %d", len(rects), curves-len(g.Key), len(g.Boxes), joined)
		}
	})
}
