package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"waywright/report/document"
)

const (
	photoWide = 190.0 // points at most
	photoHigh = 190.0
)

// photo puts a photograph beside what is to be said of it.
func (l *layout) photo(p document.Photo, fr frame) []box {
	name := 0.0
	for _, x := range p.Facts.Rows {
		_, natural := longestWord(l.spans(document.Line{{Text: x.Name}}, style{size: fr.size}))
		name = max(name, natural)
	}
	i := p.Image
	if i == nil {
		boxes := l.factsBeside(p.Facts, fr, name)
		return pointedAt(boxes, p)
	}
	k := min(photoWide/float64(max(i.Width, 1)), photoHigh/float64(max(i.Height, 1)))
	w, h := k*float64(i.Width), k*float64(i.Height)
	beside := frame{wide: fr.wide - photoWide - column, size: fr.size, lying: fr.lying}
	facts := moved(l.factsBeside(p.Facts, beside, name), photoWide+column)
	all := 0.0
	for _, b := range facts {
		all += b.h
	}
	return pointedAt([]box{{h: max(h, all), before: 12, draw: func(s *sheet, x, y float64) {
		s.photo(*i, x, y, w, h)
		at := y
		for _, b := range facts {
			b.draw(s, x, at)
			at += b.h
		}
	}}}, p)
}

// pointedAt names boxes by the photograph that they show.
func pointedAt(boxes []box, p document.Photo) []box {
	if len(boxes) > 0 {
		boxes[0].id, boxes[0].before = p.ID, 12
		for i := range boxes[:len(boxes)-1] {
			boxes[i].keep = true
		}
	}
	return boxes
}

// photo shows a photograph. It stands in the file once, however often it is
// shown.
func (s *sheet) photo(i document.Image, x, y, w, h float64) {
	high := s.h
	s.ops = append(s.ops, func(p *painter) {
		n := slices.IndexFunc(p.l.photos, func(o document.Image) bool { return bytes.Equal(o.JPEG, i.JPEG) })
		if n < 0 {
			n = len(p.l.photos)
			p.l.photos = append(p.l.photos, i)
		}
		p.f.RawWriteStr(fmt.Sprintf("q %.2f 0 0 %.2f %.2f %.2f cm /Ph%d Do Q", w, h, x, high-y-h, n+1))
	})
}

// emptyObjects is where fpdf lists pictures, of which it knows none here: the
// order in which it would write them is that of a map.
var emptyObjects = regexp.MustCompile(`(?s)\n2 0 obj\n(<<.*?/XObject <<)(\s*>>.*?)\nendobj`)

// photographs adds the photographs to what the sheets can name.
func (u *update) photographs(b []byte, l *layout) error {
	if len(l.photos) == 0 {
		return nil
	}
	m := emptyObjects.FindSubmatch(b)
	if m == nil {
		return errors.New("pdf: the file is not as it should be")
	}
	var list strings.Builder
	for i, x := range l.photos {
		n := u.stream(fmt.Sprintf("/Type /XObject /Subtype /Image /Width %d /Height %d /ColorSpace /DeviceRGB /BitsPerComponent 8 /Filter /DCTDecode",
			x.Width, x.Height), x.JPEG, false)
		fmt.Fprintf(&list, "\n/Ph%d %d 0 R", i+1, n)
	}
	u.object(2, string(m[1])+list.String()+string(m[2]))
	return nil
}
