package draw

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"pgregory.net/rapid"
)

const pixel = 0.01

func dotsOf(p Picture, s Shape) []Dot {
	var out []Dot
	for _, m := range p.Marks {
		if d, ok := m.(Dot); ok && d.Shape == s {
			out = append(out, d)
		}
	}
	return out
}

func linesOf(p Picture, c Class) []Line {
	var out []Line
	for _, m := range p.Marks {
		if l, ok := m.(Line); ok && l.Class == c {
			out = append(out, l)
		}
	}
	return out
}

func labelOf(t testing.TB, p Picture, part string) Label {
	t.Helper()
	for _, m := range p.Marks {
		if l, ok := m.(Label); ok && strings.Contains(l.Text, part) {
			return l
		}
	}
	t.Fatalf("no lettering has %q", part)
	return Label{}
}

// A value at its limit is drawn at the limit's line, in every kind of picture
// that has limits.
func TestValueAtItsLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Float64Range(-50, 50).Draw(t, "lo")
		hi := lo + rapid.Float64Range(0.5, 50).Draw(t, "width")
		u := rapid.Float64Range(0, 20).Draw(t, "u")
		pic := Plot{Even: true, Values: []Val{{Y: hi, U: u, Lo: lo, Hi: hi, Shape: Round}}}.Draw()
		d, limits := dotsOf(pic, Round)[0], linesOf(pic, Limit)
		if math.Abs(d.Y-limits[0].Points[0].Y) > pixel {
			t.Fatalf("plot: the value is at %g, the limit at %g", d.Y, limits[0].Points[0].Y)
		}
		turn := Polar{Lo: lo, Hi: hi, Values: []Around{{Angle: rapid.Float64Range(0, 360).Draw(t, "angle"), Y: hi, U: u, Shape: Round}}}.Draw()
		d = dotsOf(turn, Round)[0]
		ring := linesOf(turn, Limit)[1].Points[0]
		c := Point{plotW / 2, turnR + 48}
		if r, want := math.Hypot(d.X-c.X, d.Y-c.Y), math.Hypot(ring.X-c.X, ring.Y-c.Y); math.Abs(r-want) > pixel {
			t.Fatalf("turn: the value is %g from the centre, the limit %g", r, want)
		}
		planes := TwoPlanes{Planes: []Plane{{Value: hi, U: u, Lo: lo, Hi: hi, Shape: Round, PlusDown: rapid.Bool().Draw(t, "down")}}}.Draw()
		d = dotsOf(planes, Round)[0]
		if at := linesOf(planes, Limit)[2].Points[1]; math.Abs(d.Y-at.Y) > pixel || math.Abs(d.X-at.X) > pixel {
			t.Fatalf("planes: the value is at %g, the limit at %g", d.Y, at.Y)
		}
	})
}

// Nought is at the top, angles run clockwise, or the way they are said to run,
// the high spot is at its angle.
func TestTurnLiesAsItsAngles(t *testing.T) {
	for _, turning := range []string{"", "clockwise, seen from the tailstock", "anticlockwise, seen from the tailstock"} {
		t.Run(turning, func(t *testing.T) { turnLies(t, turning) })
	}
}

func turnLies(t *testing.T, turning string) {
	c := Point{plotW / 2, turnR + 48}
	for _, angle := range []float64{0, 37, 90, 133, 180, 225, 270, 359, 360, -90} {
		p := Polar{Values: []Around{{Angle: angle, Y: 5, Shape: Square}, {Angle: angle + 120, Y: 1, Shape: Round}, {Angle: angle + 240, Y: 1, Shape: Round}},
			Circle: &Circle{Mean: 2, Amplitude: 3, High: angle, Text: "high spot"}, Lo: -inf, Hi: inf, Turning: turning}
		pic := p.Draw()
		way := 1.0
		if strings.HasPrefix(turning, "anti") {
			way = -1
		}
		s, k := math.Sincos(way * angle * math.Pi / 180)
		for name, list := range map[string][]Dot{"value": dotsOf(pic, Square), "high spot": dotsOf(pic, Triangle)} {
			if len(list) != 1 {
				t.Fatalf("%g°: %d marks of the %s", angle, len(list), name)
			}
			d := list[0]
			r := math.Hypot(d.X-c.X, d.Y-c.Y)
			if math.Hypot(d.X-c.X-r*s, d.Y-c.Y+r*k) > pixel {
				t.Errorf("%g°: the %s is at %+.1f, %+.1f from the centre", angle, name, d.X-c.X, d.Y-c.Y)
			}
		}
		// The fitted circle is furthest out where it is high.
		fitted := linesOf(pic, Fitted)[0].Points
		far := slices.MaxFunc(fitted, func(a, b Point) int {
			if math.Hypot(a.X-c.X, a.Y-c.Y) < math.Hypot(b.X-c.X, b.Y-c.Y) {
				return -1
			}
			return 1
		})
		at := math.Mod(way*math.Atan2(far.X-c.X, c.Y-far.Y)*180/math.Pi+720, 360)
		if apart(at, math.Mod(angle+360, 360)) > 2.6 {
			t.Errorf("the circle is high at %g°, drawn at %g°", angle, at)
		}
	}
}

// What is towards the operator is drawn on the side where the words say so:
// below, seen from above.
func TestPlanesLieAsTheirWords(t *testing.T) {
	pic := planesSample().Draw()
	base := dotsOf(pic, Ring)
	towards, high := dotsOf(pic, Round)[0], dotsOf(pic, Cross)[0]
	words := labelOf(t, pic, "towards the operator")
	if !(towards.Y > base[0].Y && words.Y > base[0].Y && words.Y > towards.Y) {
		t.Errorf("towards the operator is drawn at %g, its words stand at %g, the line at %g", towards.Y, words.Y, base[0].Y)
	}
	words = labelOf(t, pic, "↑ high")
	if !(high.Y < base[1].Y && words.Y < high.Y) {
		t.Errorf("high is drawn at %g, its word stands at %g, the line at %g", high.Y, words.Y, base[1].Y)
	}
	if a, b := towards.Y-base[0].Y, base[1].Y-high.Y; math.Abs(a/9-b/24) > 1e-6 {
		t.Errorf("9 µm are %g high, 24 µm %g: not one scale", a, b)
	}
	for _, p := range []Plane{{Value: -3, Lo: -inf, Hi: inf, PlusDown: true}, {Value: 3, Lo: -inf, Hi: inf}} {
		pic := TwoPlanes{Planes: []Plane{p}}.Draw()
		if d := dotsOf(pic, "")[0]; d.Y >= dotsOf(pic, Ring)[0].Y {
			t.Errorf("%g with plus down %v is drawn below", p.Value, p.PlusDown)
		}
	}
}

// Both halves of a level reach over the same stations, and the bracket from the
// least to the greatest leaning.
func TestLevelSharesItsStations(t *testing.T) {
	l := levelSample()
	l.Leans[0].Values = l.Leans[0].Values[:3]
	l.Leans[0].Values[1].Shape = Triangle
	l.Heights[0].Values[1].Shape = Triangle
	pic := l.Draw()
	marked := dotsOf(pic, Triangle)
	first := dotsOf(pic, Round)
	if len(marked) != 2 || math.Abs(marked[0].X-marked[1].X) > pixel {
		t.Errorf("a station is at %.1f above, at %.1f below", marked[0].X, marked[1].X)
	}
	bracket := linesOf(pic, Fitted)[0].Points
	least, most := first[len(first)-2], first[len(first)-1]
	if math.Abs(bracket[1].Y-most.Y) > pixel || math.Abs(bracket[2].Y-least.Y) > pixel {
		t.Errorf("the bracket reaches from %g to %g, the leanings from %g to %g", bracket[2].Y, bracket[1].Y, least.Y, most.Y)
	}
}

// Times are in order from left to right, whatever is left out, and what
// happened in a sitting stands in its bar.
func TestTimelineIsInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := clockAt(1, 7, 0)
		var tl Timeline
		lane := Lane{Name: "readings"}
		var inside []int
		for i := range rapid.IntRange(1, 12).Draw(t, "sittings") {
			at = at.Add(time.Duration(rapid.IntRange(1, 20000).Draw(t, "gap")) * time.Minute)
			s := Span{From: at}
			for range rapid.IntRange(0, 5).Draw(t, "events") {
				at = at.Add(time.Duration(rapid.IntRange(0, 120).Draw(t, "minutes")) * time.Minute)
				lane.Events = append(lane.Events, Moment{at, Round})
				inside = append(inside, i)
			}
			at = at.Add(time.Minute)
			s.To = at
			tl.Sittings = append(tl.Sittings, s)
		}
		tl.Lanes = []Lane{lane}
		pic := tl.Draw()
		onThePlane(t, pic)
		var bars []Rect
		for _, m := range pic.Marks {
			if r, ok := m.(Rect); ok {
				bars = append(bars, r)
			}
		}
		dots := dotsOf(pic, Round)
		if len(bars) != len(tl.Sittings) || len(dots) != len(lane.Events) {
			t.Fatalf("%d bars, %d dots; want %d, %d", len(bars), len(dots), len(tl.Sittings), len(lane.Events))
		}
		for i, d := range dots {
			if i > 0 && d.X < dots[i-1].X-pixel {
				t.Fatalf("event %d stands left of the one before", i)
			}
			if b := bars[inside[i]]; d.X < b.X-2.1 || d.X > b.X+b.W+2.1 {
				t.Fatalf("event %d at %g is not in its sitting, %g to %g", i, d.X, b.X, b.X+b.W)
			}
		}
	})
}

func TestTimelineFoldsWhatIsEmpty(t *testing.T) {
	pic := timelineSample().Draw()
	if n := len(linesOf(pic, Fold)); n != 2 {
		t.Errorf("%d folds, want 2", n)
	}
	labelOf(t, pic, "9 days")
	labelOf(t, pic, "3 hours")
	if s := SVG(Timeline{}.Draw(), "x"); !strings.Contains(s, "nothing happened yet") {
		t.Errorf("an empty one is %s", s)
	}
}

// Series differ in their dots, not in colour alone, and the key names them.
func TestSeriesDiffer(t *testing.T) {
	pic := trendSample().Draw()
	for name, s := range map[string]Shape{"lathe-2": Round, "lathe-3": Square, "lathe-4": Triangle} {
		l := labelOf(t, pic, name)
		if !slices.ContainsFunc(dotsOf(pic, s), func(d Dot) bool { return math.Abs(d.Y-l.Y+4) < 1 }) {
			t.Errorf("no %s stands beside %s", s, name)
		}
	}
	if len(linesOf(pic, Trace)) != 2 || len(linesOf(pic, Trace2)) != 2 {
		t.Error("the lines of the series do not differ")
	}
}

func anyPicture(t *rapid.T) Picture {
	text := rapid.OneOf(rapid.String(), rapid.StringMatching(`[a-z ]{0,80}`))
	num := func(name string) float64 { return anyNumber(t, name) }
	at := func() time.Time {
		return time.Unix(rapid.OneOf(rapid.Int64Range(0, 4e9), rapid.SampledFrom([]int64{0, -62135596800})).Draw(t, "time"), 0).UTC()
	}
	switch rapid.IntRange(0, 4).Draw(t, "kind") {
	case 0:
		p := Polar{Unit: text.Draw(t, "unit"), Out: text.Draw(t, "out"), Lo: num("lo"), Hi: num("hi"), Bare: rapid.Bool().Draw(t, "bare")}
		for i := range p.Words {
			p.Words[i] = text.Draw(t, "word")
		}
		for range rapid.IntRange(0, 20).Draw(t, "n") {
			p.Values = append(p.Values, Around{num("angle"), num("y"), num("u"), anyShape(t)})
		}
		if rapid.Bool().Draw(t, "circle") {
			p.Circle = &Circle{num("mean"), num("amplitude"), num("high"), text.Draw(t, "spot")}
		}
		return p.Draw()
	case 1:
		var a TwoPlanes
		for range rapid.IntRange(0, 2).Draw(t, "n") {
			a.Planes = append(a.Planes, Plane{Seen: text.Draw(t, "seen"), Up: text.Draw(t, "up"), Down: text.Draw(t, "down"), Near: text.Draw(t, "near"), Far: text.Draw(t, "far"),
				Unit: "µm", PlusDown: rapid.Bool().Draw(t, "down"), Value: num("value"), U: num("u"), Lo: num("lo"), Hi: num("hi"), Shape: anyShape(t), Text: []string{text.Draw(t, "text")}})
		}
		return a.Draw()
	case 2:
		l := Level{Twist: text.Draw(t, "twist"), HeightUnit: "µm", LeanUnit: "µm/m"}
		p := anyPlot(t)
		if len(p.Values) > 0 {
			l.Heights = []Series{{text.Draw(t, "name"), p.Values}}
		}
		l.Leans = []Series{{"a", anyPlot(t).Values}, {"b", p.Values}}
		return l.Draw()
	case 3:
		tl := Timeline{Spans: text.Draw(t, "spans")}
		for range rapid.IntRange(0, 6).Draw(t, "sittings") {
			tl.Sittings = append(tl.Sittings, Span{at(), at(), text.Draw(t, "text")})
		}
		for range rapid.IntRange(0, 3).Draw(t, "lanes") {
			tl.Lanes = append(tl.Lanes, Lane{text.Draw(t, "lane"), []Moment{{at(), anyShape(t)}, {at(), anyShape(t)}}})
		}
		return tl.Draw()
	}
	tr := Trend{Unit: "µm", Lo: num("lo"), Hi: num("hi")}
	for range rapid.IntRange(0, 4).Draw(t, "series") {
		s := TrendSeries{Name: text.Draw(t, "name")}
		for range rapid.IntRange(0, 5).Draw(t, "n") {
			s.Values = append(s.Values, Dated{at(), num("y"), num("u"), text.Draw(t, "note")})
		}
		tr.Series = append(tr.Series, s)
	}
	return tr.Draw()
}

// Whatever the numbers, times and words are, the picture is sound, its marks
// are on it, and a terminal of any size shows it within its cells.
func TestAnyPicture(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pic := anyPicture(t)
		wellFormed(t, SVG(pic, "x-1"))
		wellFormed(t, strings.TrimPrefix(string(File(pic)), `<?xml version="1.0" encoding="UTF-8"?>`))
		onThePlane(t, pic)
		cols, rows := rapid.IntRange(1, 100).Draw(t, "cols"), rapid.IntRange(0, 40).Draw(t, "rows")
		got := Terminal(pic, cols, rows)
		if rows > 0 && len(got) != rows {
			t.Fatalf("%d rows, want %d", len(got), rows)
		}
		for _, r := range got {
			if utf8.RuneCountInString(r) > cols || strings.ContainsFunc(r, unicode.IsControl) {
				t.Fatalf("%q on %d columns", r, cols)
			}
		}
	})
}

// A picture is one of few and of many values, of values that are all one, and
// of values that differ by little far from nought.
func TestOddProfiles(t *testing.T) {
	row := func(n int, y func(i int) float64) Plot {
		p := Plot{Joined: true, Across: "station, mm", Unit: "mm"}
		for i := range n {
			p.Values = append(p.Values, Val{At: float64(i), Y: y(i), U: 1e-4, Lo: -inf, Hi: inf, Shape: Round})
		}
		return p
	}
	for name, p := range map[string]Plot{
		"one":    row(1, func(int) float64 { return 3 }),
		"alike":  row(20, func(int) float64 { return 25 }),
		"many":   row(1000, func(i int) float64 { return math.Sin(float64(i) / 50) }),
		"offset": row(9, func(i int) float64 { return 25003 + 1e-4*float64(i%3) }),
	} {
		pic := p.Draw()
		onThePlane(t, pic)
		s := SVG(pic, "x")
		if strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
			t.Errorf("%s: %s", name, s)
		}
		if len(s) > 140_000 {
			t.Errorf("%s: %d bytes", name, len(s))
		}
		var ys []string
		for _, m := range pic.Marks {
			if l, ok := m.(Label); ok && l.Anchor == End {
				ys = append(ys, l.Text)
			}
		}
		if slices.Sort(ys); len(slices.Compact(slices.Clone(ys))) != len(ys) || len(ys) == 0 {
			t.Errorf("%s: figures of the axis are alike: %q", name, ys)
		}
	}
}

// Lettering of the samples has room on the plane, by the metrics of DejaVu
// Sans, and lies on no other.
func TestLetteringHasRoom(t *testing.T) {
	for _, s := range samples() {
		var taken []box
		var texts []string
		for _, m := range s.pic.Marks {
			l, ok := m.(Label)
			if !ok {
				continue
			}
			from, to := l.span()
			if from < -1 || to > s.pic.W+1 {
				t.Errorf("%s: %q reaches from %.0f to %.0f of %.0f", s.name, l.Text, from, to, s.pic.W)
			}
			b := box{from, l.Y - 9, to, l.Y}
			for i, other := range taken {
				if b.on(other) {
					t.Errorf("%s: %q lies on %q", s.name, l.Text, texts[i])
				}
			}
			taken, texts = append(taken, b), append(texts, l.Text)
		}
	}
}

// The widths are those of the font: an em is 2048 parts; "0" is 1303 of them
// and "i" 569 in DejaVu Sans 2.37.
func TestTextWidth(t *testing.T) {
	for s, want := range map[string]float64{"": 0, "0": 13 * 1303. / 2048, "iii": 3 * 13 * 569. / 2048, "µm": 13 * (1303. + 1995) / 2048, "−1": 13 * (1716. + 1303) / 2048} {
		if got := TextWidth(s, 13); math.Abs(got-want) > 1e-9 {
			t.Errorf("%q is %g wide, want %g", s, got, want)
		}
	}
	if got := shortened("towards the operator", 13, 60); TextWidth(got, 13) > 60 || !strings.HasSuffix(got, "…") {
		t.Errorf("shortened to %q", got)
	}
}

// What of a picture that stands by itself is seen, is seen by day and by night:
// no dot has the ground's tone for all of its lines and its inside.
func TestEveryShapeIsSeen(t *testing.T) {
	light, dark, _ := strings.Cut(fileStyle, "@media")
	rule := regexp.MustCompile(`([^{}]+)\{([^{}]*)\}`)
	paint := func(style string, into map[string]string, classes ...string) {
		for _, m := range rule.FindAllStringSubmatch(style, -1) {
			hit := false
			for _, sel := range strings.Split(m[1], ",") {
				hit = hit || slices.Contains(classes, strings.TrimSpace(sel))
			}
			for _, d := range strings.Split(m[2], ";") {
				if name, v, ok := strings.Cut(d, ":"); ok && hit {
					into[strings.TrimSpace(name)] = strings.TrimSpace(v)
				}
			}
		}
	}
	for _, s := range []Shape{Round, Cross, Diamond, Square, Triangle, Ring, ArrowIn, ArrowOut} {
		look := map[string]string{}
		for paper, style := range map[string]string{"#fff": light, "#15181b": light + dark} {
			clear(look)
			paint(strings.ReplaceAll(style, "(prefers-color-scheme: dark) {", ""), look, ".d-value", ".d-"+string(s))
			if (look["fill"] == paper || look["fill"] == "none") && (look["stroke"] == paper || look["stroke"] == "" || look["stroke"] == "none") {
				t.Errorf("%s on %s: %v", s, paper, look)
			}
		}
	}
}

// A test that passed well inside narrow limits, after it had failed by far: its
// word lies neither across a limit nor on the line between the attempts.
func TestNotesLieBesideLimits(t *testing.T) {
	p := Plot{Unit: "µm", Across: "attempt", Even: true, Joined: true, Values: []Val{
		{Label: "1", Y: 149.7, U: 3.8, Lo: -16, Hi: 16, Shape: Cross, Note: "FAIL"},
		{Label: "2", Y: 0, U: 2.1, Lo: -16, Hi: 16, Shape: Round, Note: "PASS"},
	}}
	var words []Label
	var lines []Line
	for _, m := range p.Draw().Marks {
		switch m := m.(type) {
		case Label:
			if m.Class == Strong && (m.Text == "PASS" || m.Text == "FAIL") {
				words = append(words, m)
			}
		case Line:
			if m.Class == Limit || m.Class == Trace {
				lines = append(lines, m)
			}
		}
	}
	if len(words) != 2 || len(lines) != 3 {
		t.Fatalf("%d words and %d lines are drawn, want 2 and 3", len(words), len(lines))
	}
	for _, w := range words {
		for _, l := range lines {
			if w.box().crossed(l.Points) {
				t.Errorf("%s at %.0f, %.0f is crossed by the line %v", w.Text, w.X, w.Y, l.Points)
			}
		}
	}
}

func TestBoxCrossed(t *testing.T) {
	b := box{10, 10, 20, 20}
	for _, c := range []struct {
		name string
		ps   []Point
		want bool
	}{
		{"right through", []Point{{0, 15}, {30, 15}}, true},
		{"over a corner", []Point{{5, 14}, {14, 5}}, false},
		{"through a corner", []Point{{8, 16}, {16, 8}}, true},
		{"ends before", []Point{{0, 15}, {9, 15}}, false},
		{"ends inside", []Point{{0, 15}, {12, 15}}, true},
		{"upright beside", []Point{{25, 0}, {25, 30}}, false},
		{"upright through", []Point{{15, 0}, {15, 30}}, true},
		{"the second of two", []Point{{0, 0}, {0, 15}, {30, 15}}, true},
	} {
		if got := b.crossed(c.ps); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}
