package pdf

import (
	"fmt"

	"waywright/report/document"
)

// frame is what a block stands in.
type frame struct {
	wide  float64
	size  float64 // of its letters
	lying bool
}

func (l *layout) part(p document.Part) []box {
	fr := frame{wide: l.wide(p.Form == document.Lying), size: small, lying: p.Form == document.Lying}
	if p.Form == document.First {
		fr.size = l.first
	}
	title := l.paragraph(document.Line{{Text: p.Title}}, style{14, true}, fr.wide, 0)
	for i := range title {
		title[i].keep = true
	}
	if n := len(title); n > 0 {
		title[0].before, title[0].over = 26, 1
		title[0].id, title[0].mark = p.ID, &mark{title: p.Title, level: 0}
		title[n-1] = padded(title[n-1], 4)
	}
	blocks := l.blocks(p.Blocks, fr)
	if len(blocks) > 0 {
		blocks[0].before, blocks[0].over = min(blocks[0].before, 5), 0
	}
	boxes := append(title, blocks...)
	switch p.Form {
	case document.Fresh, document.Lying:
		boxes[0].fresh = true
	case document.AtOnce:
		for i := range boxes[:len(boxes)-1] {
			boxes[i].keep = true
		}
	}
	for i := range boxes {
		boxes[i].lying = fr.lying
	}
	return boxes
}

// padded leaves room below a box.
func padded(b box, below float64) box {
	b.h += below
	return b
}

// moved draws boxes further to the right.
func moved(boxes []box, dx float64) []box {
	for i := range boxes {
		draw := boxes[i].draw
		boxes[i].draw = func(s *sheet, x, y float64) { draw(s, x+dx, y) }
	}
	return boxes
}

func (l *layout) blocks(bs []document.Block, fr frame) []box {
	var out []box
	for _, b := range bs {
		out = append(out, l.block(b, fr)...)
	}
	return out
}

func (l *layout) block(b document.Block, fr frame) []box {
	switch b := b.(type) {
	case document.Paragraph:
		return l.styled(b, fr)
	case document.Heading:
		return l.heading(b, fr)
	case document.Facts:
		return l.facts(b, fr)
	case document.List:
		return l.list(b, fr)
	case document.Table:
		return l.table(b, fr)
	case document.Figure:
		return l.figure(b, fr)
	case document.Photo:
		return l.photo(b, fr)
	case document.Command:
		return l.command(b, fr)
	case document.Test:
		return l.test(b, fr)
	case document.Fields:
		return l.fields(b, fr)
	case document.Ink:
		return l.ink(b, fr)
	}
	panic(fmt.Sprintf("pdf: unknown block %T", b))
}

// paragraph makes a box of each line. The first two lines stay together, and
// so do the last two.
func (l *layout) paragraph(line document.Line, st style, wide, before float64) []box {
	return boxesOf(wrap(l.spans(line, st), wide), before)
}

func boxesOf(lines []textLine, before float64) []box {
	var out []box
	for i, t := range lines {
		out = append(out, box{h: t.h(), keep: i < len(lines)-1 && (i == 0 || i == len(lines)-2), draw: t.draw})
	}
	if len(out) > 0 {
		out[0].before = before
	}
	return out
}

// draw paints the line with its upper edge at y.
func (t textLine) draw(s *sheet, x, y float64) {
	base := y + t.size*1.02
	for _, p := range t.pieces {
		s.text(x+p.x, base, p)
	}
}

func (l *layout) styled(p document.Paragraph, fr frame) []box {
	st, before := style{size: fr.size}, 4.0
	switch p.Style {
	case document.Lead:
		st.size = 13
	case document.Verdict:
		st.size, before = fr.size+1, 5
		if fr.size >= least {
			st.size = 18
		}
	case document.Alarm:
		before = 8
	case document.Holds:
		st.bold, before = true, 8
	}
	boxes := l.paragraph(p.Line, st, fr.wide, before)
	for i := range boxes {
		boxes[i].keep = boxes[i].keep || p.Style == document.Before
	}
	return boxes
}

func (l *layout) heading(h document.Heading, fr frame) []box {
	st, before := style{11.5, true}, 12.0
	if h.Level > 3 {
		st, before = style{10, true}, 9
	}
	boxes := l.paragraph(document.Line{{Text: h.Text}}, st, fr.wide, before)
	for i := range boxes {
		boxes[i].keep = true
	}
	return boxes
}

func (l *layout) test(t document.Test, fr frame) []box {
	title := l.paragraph(document.Line{{Text: fmt.Sprintf("%d  %s", t.No, t.Title)}}, style{12, true}, fr.wide, 22)
	for i := range title {
		title[i].keep = true
	}
	if len(title) > 0 {
		title[0].id, title[0].mark = t.ID, &mark{title: fmt.Sprintf("%d  %s: %s", t.No, t.Title, t.Word), level: 1}
		title[0].over = hair
	}
	boxes := l.blocks(t.Blocks, fr)
	if len(boxes) > 1 { // the verdict stays with the title, and with what follows
		boxes[0].keep = true
	}
	return append(title, boxes...)
}

// hair is the width of the thinnest line.
const hair = 0.4

func (l *layout) facts(f document.Facts, fr frame) []box {
	name := 0.0
	for _, x := range f.Rows {
		_, natural := longestWord(l.spans(document.Line{{Text: x.Name}}, style{size: fr.size}))
		name = max(name, natural)
	}
	return l.factsBeside(f, fr, name)
}

// factsBeside puts what is said of each name beside names of that width.
func (l *layout) factsBeside(f document.Facts, fr frame, name float64) []box {
	name = min(name, fr.wide*0.3)
	st := style{size: fr.size}
	var rows [][]flowCell
	for _, x := range f.Rows {
		var value flowCell
		for _, line := range x.Lines {
			value.texts(wrap(l.withPages(line, st), fr.wide-name-column), 0)
		}
		var head flowCell
		head.texts(wrap(l.spans(document.Line{{Text: x.Name}}, st), name), 0)
		rows = append(rows, []flowCell{head, value})
	}
	xs := []col{{0, name, false}, {name + column, fr.wide - name - column, false}}
	var out []box
	for i, r := range rows {
		out = append(out, l.row(r, xs, rowLook{pad: 2, line: i > 0, wide: fr.wide})...)
	}
	if len(out) > 0 {
		out[0].before = 4
	}
	return out
}

// withPages is a line with the page behind what points somewhere.
func (l *layout) withPages(line document.Line, st style) []span {
	var out []span
	for _, r := range line {
		out = append(out, l.spans(document.Line{r}, st)...)
		if r.Ref != "" {
			out = append(out, l.span(", ", l.faces.plain, st.size, ""), l.pageOf(r.Ref, st))
		}
	}
	return out
}

// pageOf stands for the page of what has an id.
func (l *layout) pageOf(id string, st style) span {
	return span{face: l.faces.plain, size: st.size, ref: id, page: true}
}

func (l *layout) list(x document.List, fr frame) []box {
	st, in := style{size: fr.size}, fr.size*1.9
	var out []box
	for i, item := range x.Items {
		sign := "•"
		switch x.Style {
		case document.Ordered:
			sign = fmt.Sprintf("%d.", i+1)
		case document.Falls:
			sign = fmt.Sprint(item.No)
		}
		mark := wrap(l.spans(document.Line{{Text: sign, Strong: x.Style == document.Falls}}, st), in)
		boxes := l.paragraph(item.Line, st, fr.wide-in, 2)
		for _, u := range item.Under {
			boxes = append(boxes, l.paragraph(u, st, fr.wide-in, 0)...)
		}
		if x.Style == document.Falls {
			for j := range boxes[:max(len(boxes)-1, 0)] {
				boxes[j].keep = true
			}
		}
		inner := l.blocks(item.Blocks, frame{fr.wide - in, fr.size, fr.lying})
		if len(inner) > 0 && len(boxes) > 0 {
			boxes[len(boxes)-1].keep = true
		}
		boxes = moved(append(boxes, inner...), in)
		if len(boxes) > 0 && len(mark) > 0 {
			draw := boxes[0].draw
			boxes[0].draw = func(s *sheet, x, y float64) {
				mark[0].draw(s, x, y)
				draw(s, x, y)
			}
		}
		out = append(out, boxes...)
	}
	return out
}

func (l *layout) command(c document.Command, fr frame) []box {
	const in = 10
	var out []box
	for _, s := range c.Lines {
		lines := wrap([]span{l.span(s, l.faces.mono, small, "")}, fr.wide-in)
		boxes := moved(boxesOf(lines, 4), in)
		for i := range boxes {
			boxes[i].keep = i < len(boxes)-1
			boxes[i] = barred(boxes[i])
		}
		out = append(out, boxes...)
	}
	return out
}

// barred draws a line beside a box.
func barred(b box) box {
	draw, h := b.draw, b.h
	b.draw = func(s *sheet, x, y float64) {
		s.rule(x+3, y, x+3, y+h, 1.2)
		draw(s, x, y)
	}
	return b
}

// ink is a line to sign on.
func (l *layout) ink(k document.Ink, fr frame) []box {
	lines := wrap(l.spans(document.Line{{Text: k.Text}}, style{size: fr.size}), fr.wide)
	if len(lines) == 0 {
		return nil
	}
	const high = 40
	return []box{{h: high, before: 6, draw: func(s *sheet, x, y float64) {
		lines[0].draw(s, x, y+high-lines[0].h()-4)
		s.rule(x+lines[0].w+8, y+high-4, x+fr.wide*0.8, y+high-4, 0.6)
	}}}
}

// head is what stands above the first part.
func (l *layout) head(d document.Document) []box {
	fr := frame{wide: l.wide(false), size: l.first}
	title := wrap(l.spans(document.Line{{Text: d.Title}}, style{20, true}), fr.wide)
	boxes := boxesOf(title, 0)
	blocks := l.blocks(d.Head, fr)
	if len(title) == 0 || len(d.Head) == 0 {
		return append(boxes, blocks...)
	}
	// The number stands beside the title, where there is room.
	if p, ok := d.Head[0].(document.Paragraph); ok && p.Style == document.Numbers {
		number := wrap(l.spans(p.Line, style{size: fr.size}), fr.wide)
		if len(number) == 1 && title[0].w+column+number[0].w <= fr.wide {
			draw, t := boxes[0].draw, number[0]
			boxes[0].draw = func(s *sheet, x, y float64) {
				draw(s, x, y)
				t.draw(s, x+fr.wide-t.w, y+(title[0].size-t.size)*1.02)
			}
			blocks = blocks[1:]
		}
	}
	return append(boxes, blocks...)
}

// end is what stands below the last part.
func (l *layout) end(d document.Document) []box {
	var out []box
	wide := l.wide(false)
	if l.missing {
		out = l.paragraph(document.Line{{Text: missingSaid}}, style{size: small}, wide, 8)
	}
	boxes := l.paragraph(document.Line{{Text: d.End}}, style{size: small, bold: true}, wide, 20)
	if len(boxes) > 0 {
		boxes[0].over = 1
	}
	return append(out, boxes...)
}

const missingSaid = "Letters that the fonts of these sheets do not have stand as their Unicode numbers, such as [U+4E00]. They can be read in record.html."
