package cli

import (
	"fmt"
	"os"
	"strings"
	"unicode/utf8"

	"waywright/report"
	"waywright/report/draw"
	"waywright/report/picture"
)

const (
	leastPicture = 48 // columns with which a picture shows something
	mostPicture  = 72
)

// recordPictures shows the pictures of a record: drawn where the output is a
// terminal that has room and takes dots, and always in figures.
func (a *app) recordPictures(r report.Record) {
	cols := width(a.Out)
	drawn := cols >= leastPicture && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
	if cols == 0 {
		cols = 2 * page // of a file or a pipe, lines may be long
	}
	show := func(ps []draw.Picture) {
		for _, p := range ps {
			a.printf("\n")
			a.par("", p.Title+".", p.Desc)
			if drawn {
				a.printf("\n%s\n", strings.Join(draw.Terminal(p, min(cols-1, mostPicture), 0), "\n"))
				a.par("", lettersSaid(p))
			}
			a.printf("\n%s", numbersText(p.Numbers, cols-1))
		}
	}
	for _, t := range r.Tests {
		if ps := picture.OfTest(r, t); len(ps) > 0 {
			a.printf("%d  %s: %s\n", t.No, t.Title, t.Word)
			show(ps)
			a.printf("\n")
		}
	}
	if ps := picture.OfRun(r); len(ps) > 0 {
		a.printf("The run\n")
		show(ps)
	}
}

// lettersSaid says what the letters in a drawn picture stand for.
func lettersSaid(p draw.Picture) string {
	var out []string
	for _, s := range []struct {
		shape draw.Shape
		name  string
	}{
		{draw.Round, "a round mark"}, {draw.Cross, "a cross"}, {draw.Diamond, "a diamond"}, {draw.Square, "a square"}, {draw.Triangle, "a triangle"}, {draw.Ring, "a ring"},
	} {
		for _, m := range p.Marks {
			if d, ok := m.(draw.Dot); ok && d.Shape == s.shape {
				out = append(out, fmt.Sprintf("%c is %s", draw.Letters[s.shape], s.name))
				break
			}
		}
	}
	if len(out) == 0 {
		return ""
	}
	return "Here " + strings.Join(out, ", ") + "."
}

// numbersText is the numbers of a picture in columns; where they have no room
// side by side, a line to each number.
func numbersText(n draw.Numbers, cols int) string {
	wide := make([]int, len(n.Head))
	sum := 0
	for i, h := range n.Head {
		wide[i] = utf8.RuneCountInString(h)
		for _, row := range n.Rows {
			if i < len(row) {
				wide[i] = max(wide[i], utf8.RuneCountInString(row[i]))
			}
		}
		sum += wide[i] + 2
	}
	var b strings.Builder
	if sum-2 > cols {
		for _, row := range n.Rows {
			for i, s := range row {
				if s != "" {
					b.WriteString(fill(n.Head[i]+": "+s, strings.Repeat(" ", min(i, 1)*2), cols))
				}
			}
		}
		return b.String()
	}
	for _, row := range append([][]string{n.Head}, n.Rows...) {
		line := ""
		for i, s := range row {
			line += s + strings.Repeat(" ", wide[i]-utf8.RuneCountInString(s)+2)
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	return b.String()
}
