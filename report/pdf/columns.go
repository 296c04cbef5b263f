package pdf

import (
	"math"

	"waywright/report/document"
)

// longWord is the width from which a word may be broken in a table.
const longWord = 96.0

// mostTried is how many rows of a table are looked at to find its columns.
const mostTried = 80

// columns finds how wide each column is: as wide as its longest line where
// there is room for all, else so that the table becomes low. It is not ok where
// there is no room for the longest words.
func (l *layout) columns(t document.Table, fr frame) (cols []col, ok bool) {
	n := len(t.Columns)
	m := measured{least: make([]float64, n), most: make([]float64, n)}
	m.row(l.headTexts(t, fr))
	every := max(1, len(t.Rows)/mostTried)
	for i, r := range t.Rows {
		if r.Group == "" {
			m.take(l.rowTexts(t, r, fr), i%every == 0)
		}
	}
	between := column
	if t.Kind == document.Sheet {
		between = 9
	}
	ws, ok := m.share(fr.wide - between*float64(max(n-1, 0)))
	x := 0.0
	for i, w := range ws {
		cols = append(cols, col{x, w, t.Columns[i].Figures})
		x += w + between
	}
	return cols, ok
}

// extent is how wide a text is on one line, and its longest word.
type extent struct{ natural, longest float64 }

func (l *layout) headTexts(t document.Table, fr frame) [][]extent {
	out := make([][]extent, len(t.Columns))
	for i, c := range t.Columns {
		out[i] = []extent{extentOf(l.spans(document.Line{{Text: c.Head}}, style{size: fr.size}))}
	}
	return out
}

func (l *layout) rowTexts(t document.Table, r document.Row, fr frame) [][]extent {
	out := make([][]extent, len(t.Columns))
	for i, c := range r.Cells {
		if i >= len(out) {
			break
		}
		if c.Picture != nil {
			out[i] = append(out[i], extent{stripWide, stripWide})
		}
		out[i] = append(out[i], extentOf(l.cellSpans(t, c, fr)))
		for _, note := range c.Notes {
			out[i] = append(out[i], extentOf(l.spans(document.Line{{Text: note}}, style{size: fr.size})))
		}
	}
	return out
}

func extentOf(spans []span) extent {
	longest, natural := longestWord(spans)
	return extent{natural, longest}
}

// measured is what the columns of a table ask for.
type measured struct {
	least, most []float64
	rows        [][][]extent // that are tried
}

func (m *measured) row(texts [][]extent) { m.take(texts, true) }

func (m *measured) take(texts [][]extent, try bool) {
	for i, cell := range texts {
		for _, e := range cell {
			m.least[i] = max(m.least[i], min(e.longest, longWord))
			m.most[i] = max(m.most[i], e.natural, m.least[i])
		}
	}
	if try {
		m.rows = append(m.rows, texts)
	}
}

// share divides the room among the columns. Each has its words; what is left
// is given away bit by bit, always to the column that makes the table lowest.
func (m *measured) share(room float64) ([]float64, bool) {
	sumLeast, sumMost := 0.0, 0.0
	for i := range m.least {
		sumLeast += m.least[i]
		sumMost += m.most[i]
	}
	switch {
	case sumMost <= room:
		return m.most, true
	case sumLeast > room:
		return nil, false
	}
	ws := append([]float64(nil), m.least...)
	const steps = 60
	bit := (room - sumLeast) / steps
	for range steps {
		best, gain := -1, 0.0
		for i := range ws {
			if ws[i] >= m.most[i] {
				continue
			}
			if g := m.gain(i, ws, bit); best < 0 || g > gain {
				best, gain = i, g
			}
		}
		if best < 0 {
			break
		}
		ws[best] += bit
	}
	return ws, true
}

// gain is by how much the rows become lower when a column becomes wider.
func (m *measured) gain(col int, ws []float64, bit float64) float64 {
	sum := 0.0
	for _, row := range m.rows {
		rest := 0.0
		for i, cell := range row {
			if i != col {
				rest += square(lines(cell, ws[i]))
			}
		}
		before, after := rest+square(lines(row[col], ws[col])), rest+square(lines(row[col], ws[col]+bit))
		sum += math.Sqrt(before) - math.Sqrt(after)
	}
	return sum
}

// lines is about how many lines a cell has, with parts of lines, so that every
// bit of width counts.
func lines(cell []extent, wide float64) float64 {
	sum := 0.0
	for _, e := range cell {
		sum += max(1, 1.05*e.natural/max(wide, 1))
	}
	return sum
}

func square(x float64) float64 { return x * x }
