package engine_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"waywright/engine"
	"waywright/engine/enginetest"
)

func TestHonestDifference(t *testing.T) { scenario(t, "honest-difference") }

// plain is a gauge of which nothing is doubtful but how its takes scatter, and
// its step of 0.1 µm.
const plain = `
instrument "plain" {
  kind       = "lever indicator"
  resolution = um(0.1)
  error      = um(0)
  zero       = um(0)
  turn       = mm(0.2)
}
instrument "stated" {
  kind          = "lever indicator"
  resolution    = um(0.1)
  error         = um(0)
  zero          = um(0)
  repeatability = um(1)
  turn          = mm(0.2)
}
instrument "coarse" {
  kind       = "lever indicator"
  resolution = um(2)
  error      = um(0)
  zero       = um(0)
  turn       = mm(0.2)
}
instrument "off" {
  kind          = "lever indicator"
  resolution    = um(0.1)
  error         = um(3)
  zero          = um(6)
  repeatability = um(0.1)
  turn          = mm(0.2)
}
`

func looked(t testing.TB, with, formula string) *engine.Plan {
	return inline(t, plain+fmt.Sprintf(`step "look" {
  title = "Look"
  reading "size" {
    ask      = "Post: reading"
    unit     = "um"
    repeat   = 3
    with     = instrument.%s
    positive = "high"
    range    = [um(-500), um(500)]
  }
  reading "other" {
    ask      = "Other post: reading"
    unit     = "um"
    with     = instrument.%[1]s
    positive = "high"
    range    = [um(-500), um(500)]
  }
  gate "low" {
    title     = "It stands low"
    of        = %s
    at_most   = um(5)
    source    = "shop rule"
    if_failed = [reject]
  }
}`, with, formula))
}

func changeOf(t testing.TB, p *engine.Plan, script string) engine.Change {
	t.Helper()
	h := played(t, p, script).State().History("low")
	if n := len(h); n < 2 || h[n-1].Change == nil || h[0].Change != nil {
		t.Fatalf("%d attempts, or the last is not held against the one before", n)
	}
	return *h[len(h)-1].Change
}

// Two means of three takes each, s known from them alone, differ where they are
// further apart than t·√(2·s²/3) with t = 2.78 for 4 degrees of freedom (JCGM
// 100:2008, Table G.2). Takes that are all alike are known to their step: u is
// √(2·a²/12), however many there are.
func TestHonestDifferenceOfMeans(t *testing.T) {
	for _, tt := range []struct {
		name, with, first, then string
		by, u                   float64
		shown                   bool
	}{
		{"noise", "plain", "20 21 22", "22 23 24", 2, 2.776 * math.Sqrt(2.0/3), false},
		{"close by, and real", "plain", "20 21 22", "22.5 23.5 24.5", 2.5, 2.776 * math.Sqrt(2.0/3), true},
		{"the other way", "plain", "22.5 23.5 24.5", "20 21 22", -2.5, 2.776 * math.Sqrt(2.0/3), true},
		{"nothing at all", "plain", "20 21 22", "20 21 22", 0, 2.776 * math.Sqrt(2.0/3), false},
		// Ten degrees of freedom of s, from 8 stated and 4 found: pooled once, 12.
		{"s stated and found", "stated", "20 21 22", "22 23 24", 2, 2.179 * math.Sqrt(2.0/3), true},
		{"alike, one step apart", "coarse", "20 20 20", "22 22 22", 2, 1.960 * 2 / math.Sqrt(6), true},
		{"alike, half a step apart", "coarse", "20 20 20", "21 21 21", 1, 1.960 * 2 / math.Sqrt(6), false},
	} {
		c := changeOf(t, looked(t, tt.with, "mean(reading.size)"), "omit\nsize = "+tt.first+"\nother = 0\nlow = afresh because of the draught\nsize = "+tt.then+"\nother = 0\n")
		if math.Abs(c.By*1000-tt.by) > 1e-9 || math.Abs(c.U*1000/tt.u-1) > 1e-3 || c.Shown != tt.shown || c.Since != 1 {
			t.Errorf("%s: changed by %.4f ± %.4f since %d, shown %t; want %.4f ± %.4f, %t", tt.name, c.By*1000, c.U*1000, c.Since, c.Shown, tt.by, tt.u, tt.shown)
		}
	}
}

// What both values share cancels, what the second has of its own does not:
// another setting has another zero, and another instrument another error.
func TestHonestDifferenceSharedSources(t *testing.T) {
	const take = 0.1*0.1 + 0.01/12 // of a single take, µm²
	zero, error := 36.0/3, 9.0/3
	for _, tt := range []struct {
		name, script string
		want         float64 // u², µm²
	}{
		{"another setting", "omit\nsize = 20 20 20\nother = 20\nlow = afresh because of the draught\nsize = 20 20 20\nother = 20\n", 2*take + 2*(zero+error)},
		{"another instrument", `instrument.off = A-1
size = 20 20 20
other = 20
low = afresh because of the draught
instrument.off = A-2
size = 20 20 20
other = 20
`, 2*take + 2*(zero+error)},
	} {
		c := changeOf(t, looked(t, "off", "reading.other"), tt.script)
		if got := c.Std * c.Std * 1e6; math.Abs(got/tt.want-1) > 1e-3 {
			t.Errorf("%s: u² is %.4f µm², want %.4f", tt.name, got, tt.want)
		}
	}
}

// The mean of n + m takes less that of the first n scatters by √(1/n − 1/(n+m))
// of a take: what was pooled is not counted as if it were new. Derived here.
func TestHonestDifferencePooledTakes(t *testing.T) {
	r := enginetest.Play(t, "begin corr-ways\nomit\nhigh.0 = 0 0 0\nomit\nends = 14\nclean = again\nends = 14\nclean = again\nends = 14\n", load)
	h := r.State().History("clean")
	if len(h) != 3 {
		t.Fatalf("%d attempts, want 3", len(h))
	}
	// s is 4 µm with 8 degrees of freedom, and the first two takes, alike, add one;
	// a single take has its step of 1 µm besides.
	for i, want := range map[int]float64{1: (16 + 1/12.0) * (1 - 1/2.0), 2: 16 * 8 / 9.0 * (1/2.0 - 1/3.0)} {
		c := h[i].Change
		if c == nil {
			t.Fatalf("attempt %d is held against nothing", i+1)
		}
		if got := c.Std * c.Std * 1e6; math.Abs(got/want-1) > 0.01 || c.Shown {
			t.Errorf("attempt %d: u² is %.3f µm², shown %t; want %.3f and not", i+1, got, c.Shown, want)
		}
	}
	if h[2].Overall == nil || h[2].Overall.Since != 1 || h[1].Overall == nil {
		t.Errorf("the last is not held against the first")
	}
}

// Of a machine that nothing is done to, a difference is shown once in twenty
// times. The tolerance is three standard deviations of 1000 tries.
func TestHonestDifferenceOnceInTwenty(t *testing.T) {
	p := looked(t, "stated", "mean(reading.size)")
	rng := rand.New(rand.NewPCG(36, 20))
	takes := func() string {
		return fmt.Sprintf("%.1f %.1f %.1f", 20+rng.NormFloat64(), 20+rng.NormFloat64(), 20+rng.NormFloat64()) + " because it was read so"
	}
	const tries = 1000
	shown := 0
	for range tries {
		c := changeOf(t, p, "omit\nsize = "+takes()+"\nother = 0\nlow = afresh because of the draught\nsize = "+takes()+"\nother = 0\n")
		if c.Shown {
			shown++
		}
	}
	if share := float64(shown) / tries; share < 0.03 || share > 0.07 {
		t.Errorf("shown in %.3f of the cases, want about 0.05", share)
	}
}
