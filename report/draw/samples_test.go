package draw

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

var update = flag.Bool("update", false, "rewrite the golden pictures")

var inf = math.Inf(1)

func profileSample() Plot {
	p := Plot{Title: "Each station against the mean", Desc: "Nine values in a row.", Unit: "µm", Up: "fat", Down: "thin", Across: "station, mm", Joined: true}
	for i, y := range []float64{0, 1.2, 1.3, 0.2, -1.1, -1.35, -0.4, 0.9, 2.6} {
		s := Round
		if y > 2 {
			s = Cross
		}
		p.Values = append(p.Values, Val{At: float64(i * 50), Y: y, U: 0.5, Lo: -2, Hi: 2, Shape: s})
	}
	p.Refs = []Ref{{0, 0, 400, 2.6, "through the ends"}}
	return p
}

func attemptsSample() Plot {
	p := Plot{Title: "The attempts against the limits", Desc: "Five attempts.", Unit: "µm", Up: "larger at the tailstock end", Down: "larger at the headstock end", Across: "attempt", Even: true, Joined: true}
	for i, a := range []struct {
		y    float64
		s    Shape
		word string
	}{{45, Cross, "FAIL"}, {91, Cross, "FAIL"}, {30, Cross, "FAIL"}, {9, Diamond, "CANNOT TELL"}, {1, Round, "PASS"}} {
		p.Values = append(p.Values, Val{Label: fmt.Sprint(i + 1), Y: a.y, U: 7, Lo: -13, Hi: 13, Shape: a.s, Note: a.word})
	}
	return p
}

func turnSample() Polar {
	p := Polar{Title: "A taper", Desc: "Twelve readings round a turn.", Unit: "µm", Out: "bore nearer to the needle",
		Words: [4]string{"up", "away from the operator", "down", "towards the operator"}, Lo: -6, Hi: 6,
		Circle: &Circle{0.5, 3.5, 133, "high spot at 133°; centre off by 3.5 µm"}}
	for i := range 12 {
		a := float64(i * 30)
		p.Values = append(p.Values, Around{Angle: a, Y: 0.5 + 3.5*math.Cos((a-133)*math.Pi/180) + 0.6*math.Cos(3*a*math.Pi/180), U: 0.8, Shape: Round})
	}
	return p
}

func planesSample() TwoPlanes {
	return TwoPlanes{Title: "How the free end lies", Desc: "Two planes.", Planes: []Plane{
		{Seen: "seen from above", Near: "near", Far: "free end", Up: "away from the operator", Down: "towards the operator", PlusDown: true,
			Unit: "µm", Value: 9, U: 2, Lo: 0, Hi: 12, Shape: Round, Text: []string{"9 µm towards the operator", "give or take 2 µm", "PASS"}},
		{Seen: "seen from the front", Near: "near", Far: "free end", Up: "high", Down: "low",
			Unit: "µm", Value: 24, U: 4, Lo: 0, Hi: 16, Shape: Cross, Text: []string{"24 µm high", "give or take 4 µm", "FAIL"}},
	}}
}

func levelSample() Level {
	l := Level{Title: "Level and twist of the bed", Desc: "Two ways, and across.", Across: "station, mm", HeightUnit: "µm", High: "high", Low: "low",
		LeanUnit: "µm/m", Over: "front way low", Under: "front way high", Twist: "twist"}
	front, rear, across := Series{Name: "front way"}, Series{Name: "rear way"}, Series{Name: "across"}
	for i := range 8 {
		at := float64(i * 200)
		front.Values = append(front.Values, Val{At: at, Y: 12 * math.Sin(float64(i)*0.45), Lo: -inf, Hi: inf, Shape: Round})
		rear.Values = append(rear.Values, Val{At: at, Y: 9*math.Sin(float64(i)*0.4) - 2, Lo: -inf, Hi: inf, Shape: Square})
		if i < 7 {
			across.Values = append(across.Values, Val{At: at, Y: float64(i * 4), U: 4, Lo: -inf, Hi: inf, Shape: Round})
		}
	}
	l.Heights, l.Leans = []Series{front, rear}, []Series{across}
	return l
}

func contourSample() Contour {
	c := Contour{Title: "Heights of a plate", Desc: "Thirty-five places.", Unit: "µm", Along: "the field as seen from above"}
	for i := range 7 {
		for j := range 5 {
			c.Heights = append(c.Heights, Height{float64(i * 100), float64(j * 100), 3 * math.Sin(float64(i)*0.7) * math.Cos(float64(j)*0.6)})
		}
	}
	return c
}

func clockAt(day, h, m int) time.Time { return time.Date(2026, 11, day, h, m, 0, 0, time.UTC) }

func timelineSample() Timeline {
	d := clockAt
	return Timeline{Title: "What happened when", Desc: "Three sittings.", Spans: "sittings",
		Sittings: []Span{{d(3, 8, 0), d(3, 10, 30), "1"}, {d(3, 13, 50), d(3, 15, 0), "2"}, {d(12, 9, 0), d(12, 11, 0), "3"}},
		Lanes: []Lane{
			{"readings", []Moment{{d(3, 8, 20), Ring}, {d(3, 9, 0), Ring}, {d(3, 14, 0), Round}, {d(12, 9, 30), Round}}},
			{"corrections", []Moment{{d(3, 9, 30), Triangle}, {d(3, 14, 30), Triangle}}},
			{"1 Taper", []Moment{{d(3, 9, 10), Cross}, {d(3, 14, 10), Diamond}, {d(12, 10, 0), Round}}},
			{"2 Height of the centre", []Moment{{d(12, 10, 30), Round}}},
		}}
}

func trendSample() Trend {
	y := func(year, month int) time.Time { return time.Date(year, time.Month(month), 3, 0, 0, 0, 0, time.UTC) }
	return Trend{Title: "Rise of the axis, year to year", Desc: "Three machines.", Unit: "µm", Up: "free end high", Down: "free end low", Lo: 0, Hi: 16,
		Series: []TrendSeries{
			{"lathe-2", []Dated{{At: y(2023, 5), Y: 4, U: 2}, {At: y(2024, 6), Y: 6, U: 2}, {At: y(2025, 5), Y: 9, U: 3}, {At: y(2026, 11), Y: 13, U: 2}}},
			{"lathe-3", []Dated{{At: y(2023, 9), Y: 8, U: 2}, {At: y(2025, 2), Y: 8.5, U: 2}, {At: y(2026, 2), Y: 8, U: 2}}},
			{"lathe-4", []Dated{{At: y(2025, 9), Y: 2, U: 2}}},
		}}
}

type sample struct {
	name string
	pic  Picture
}

func samples() []sample {
	return []sample{
		{"profile", profileSample().Draw()}, {"attempts", attemptsSample().Draw()}, {"turn", turnSample().Draw()}, {"planes", planesSample().Draw()},
		{"level", levelSample().Draw()}, {"contour", contourSample().Draw()}, {"timeline", timelineSample().Draw()}, {"trend", trendSample().Draw()},
		{"strip", Strip{Title: "Between its limits", Desc: "Inside.", Value: 0.3, U: 0.2, Lo: -1, Hi: 1, Shape: Round}.Draw()},
		{"course", courseSample().Draw()},
		{"way", Way{Plus: "bar towards the operator", Minus: "bar away from the operator", Desc: "Plus is towards the operator."}.Draw()},
	}
}

// The pictures as they stand by themselves, and in a terminal of two widths:
// look at them before a difference goes in.
func TestGoldenPictures(t *testing.T) {
	for _, s := range samples() {
		golden(t, s.name+".golden.svg", File(s.pic))
		var b strings.Builder
		for _, cols := range []int{60, 40} {
			fmt.Fprintf(&b, "%d columns\n%s\n\n", cols, strings.Join(Terminal(s.pic, cols, 0), "\n"))
		}
		golden(t, s.name+".golden.txt", []byte(b.String()))
	}
}

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != string(want) {
		t.Errorf("%s is not as it was:\n%s", name, got)
	}
}
