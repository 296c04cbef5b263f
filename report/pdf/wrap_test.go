package pdf

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Broken lines have all letters in their order, and none is wider than its
// room, but for a letter that is wider itself.
func TestWrapKeepsEveryLetter(t *testing.T) {
	fonts, err := loadFaces()
	if err != nil {
		t.Fatal(err)
	}
	letters := rapid.StringOf(rapid.SampledFrom([]rune("ab mW./-, ÄµU+\u00a0i")))
	rapid.Check(t, func(t *rapid.T) {
		wide := rapid.Float64Range(1, 300).Draw(t, "wide")
		var spans []span
		var all strings.Builder
		for _, s := range rapid.SliceOfN(letters, 0, 6).Draw(t, "texts") {
			f := rapid.SampledFrom(fonts.all()).Draw(t, "font")
			spans = append(spans, span{text: s, face: f, size: rapid.Float64Range(9.5, 20).Draw(t, "size")})
			all.WriteString(s)
		}
		var got strings.Builder
		for _, l := range wrap(spans, wide) {
			n := 0
			for _, p := range l.pieces {
				got.WriteString(p.text)
				n += len([]rune(p.text))
			}
			if l.w > wide+0.1 && n > 1 && !strings.Contains(strings.TrimSpace(lineText(l)), " ") && n > 2 {
				t.Fatalf("the line %q is %g wide, room is %g", lineText(l), l.w, wide)
			}
		}
		blanks := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		if blanks(got.String()) != blanks(all.String()) {
			t.Fatalf("%q became %q", all.String(), got.String())
		}
	})
}

func lineText(l textLine) string {
	var b strings.Builder
	for _, p := range l.pieces {
		b.WriteString(p.text)
	}
	return b.String()
}

// Columns share the room: each has its words, none more than it asks for, and
// all together no more than there is.
func TestColumnsShareTheRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 9).Draw(t, "columns")
		m := measured{least: make([]float64, n), most: make([]float64, n)}
		for range rapid.IntRange(1, 6).Draw(t, "rows") {
			row := make([][]extent, n)
			for i := range row {
				longest := rapid.Float64Range(1, 90).Draw(t, "word")
				row[i] = []extent{{longest + rapid.Float64Range(0, 600).Draw(t, "more"), longest}}
			}
			m.take(row, true)
		}
		room := rapid.Float64Range(50, 800).Draw(t, "room")
		ws, ok := m.share(room)
		sum, least := 0.0, 0.0
		for i := range m.least {
			least += m.least[i]
			if ok && ws[i] < m.least[i]-1e-9 {
				t.Fatalf("column %d is %g wide, its words ask for %g", i, ws[i], m.least[i])
			}
			if ok {
				sum += ws[i]
			}
		}
		if ok != (least <= room) || sum > room+1e-6 {
			t.Fatalf("ok is %v, the columns are %g wide in a room of %g, their words %g", ok, sum, room, least)
		}
	})
}
