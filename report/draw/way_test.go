package draw

import "testing"

// Plus lies where its words say: up is up, the operator stands below what is seen
// from above, the headstock at the left. The other way lies opposite.
func TestWaysLieAsTheirWords(t *testing.T) {
	const up, down, left, right = "up", "down", "left", "right"
	for _, tt := range []struct{ plus, lies string }{
		{"up", up}, {"free end high", up}, {"far station hangs lower", down}, {"rear way low", down},
		{"towards the operator", down}, {"bar towards the operator", down}, {"nose end away from the operator", up},
		{"spindle out, towards the tailstock", right}, {"towards the headstock", left},
		{"larger at the tailstock end", right}, {"larger at the headstock end", left},
		{"crowned", up}, {"hollow", down}, {"tighter", right}, {"warmer on top", right},
	} {
		p := Way{Plus: tt.plus, Minus: "the other way"}.Draw()
		var plus, minus *Label
		for _, m := range p.Marks {
			if l, ok := m.(Label); ok && l.Class == Head {
				switch l.Text {
				case "+":
					plus = &l
				case "−":
					minus = &l
				}
			}
		}
		if plus == nil || minus == nil {
			t.Errorf("%s: a sign is not drawn", tt.plus)
			continue
		}
		got := ""
		switch dx, dy := plus.X-minus.X, plus.Y-minus.Y; {
		case dx > 10:
			got = right
		case dx < -10:
			got = left
		case dy < -10:
			got = up
		case dy > 10:
			got = down
		}
		if got != tt.lies {
			t.Errorf("plus of %q lies %s of minus, want %s", tt.plus, got, tt.lies)
		}
		for _, m := range p.Marks {
			if l, ok := m.(Label); ok {
				if from, to := l.span(); from < -0.5 || to > p.W+0.5 || l.Y > p.H {
					t.Errorf("%s: %q reaches from %g to %g at %g of a picture of %g by %g", tt.plus, l.Text, from, to, l.Y, p.W, p.H)
				}
			}
		}
	}
}
