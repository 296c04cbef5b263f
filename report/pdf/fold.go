package pdf

import (
	"math"

	"waywright/report/document"
)

const (
	foldGap  = 30.0  // between the strips of a folded table
	foldRows = 5     // that a strip has at least
	foldHigh = 330.0 // height of a strip at most
)

// folds is in how many strips, side by side, a narrow table is printed.
func folds(t document.Table, cols []col, fr frame) int {
	if t.Kind != document.Narrow {
		return 1
	}
	for _, r := range t.Rows {
		if r.Group != "" {
			return 1
		}
	}
	fit := int((fr.wide + foldGap) / (reach(cols) + foldGap))
	return min(fit, len(t.Rows)/foldRows)
}

// folded prints a table in strips that are read one after the other, each under
// the heads of the columns. Strips that are beside each other stay together.
func (l *layout) folded(t document.Table, cols []col, fr frame, head box, n int) []box {
	var rows []box
	total := 0.0
	for i, r := range t.Rows {
		boxes := l.row(l.cells(t, r, cols, fr), cols, rowLook{pad: 2.5, line: i > 0, wide: reach(cols)})
		for _, b := range boxes {
			total += b.h
		}
		rows = append(rows, boxes...)
	}
	groups := max(1, math.Ceil(total/float64(n)/foldHigh))
	strip := total / groups / float64(n)
	var out []box
	for len(rows) > 0 {
		var strips [][]box
		for len(strips) < n && len(rows) > 0 {
			k, h := 0, 0.0
			for k < len(rows) && (k == 0 || h+rows[k].h/2 <= strip) {
				h += rows[k].h
				k++
			}
			if len(strips) == n-1 && len(out) == int(groups)-1 {
				k = len(rows) // what rounding has left
			}
			strips, rows = append(strips, rows[:k]), rows[k:]
		}
		out = append(out, beside(strips, head, reach(cols)+foldGap))
	}
	for i := range out[1:] {
		out[i+1].before = 8
	}
	out[len(out)-1] = padded(out[len(out)-1], 4)
	return out
}

// beside is a box of strips side by side.
func beside(strips [][]box, head box, step float64) box {
	high := 0.0
	for _, rows := range strips {
		h := head.h
		for _, b := range rows {
			h += b.h
		}
		high = max(high, h)
	}
	return box{h: high, draw: func(s *sheet, x, y float64) {
		for i, rows := range strips {
			left, at := x+float64(i)*step, y
			head.draw(s, left, at)
			at += head.h
			for k, b := range rows {
				if k > 0 && b.hair > 0 {
					s.hair(left, at, left+b.hair)
				}
				b.draw(s, left, at)
				at += b.h
			}
		}
	}}
}
