package pdf

import (
	"encoding/binary"
	"errors"
	"fmt"
	"strings"
	"sync"
	"unicode"

	"codeberg.org/go-fonts/dejavu/dejavusanscondensed"
	"codeberg.org/go-fonts/dejavu/dejavusanscondensedbold"
	"codeberg.org/go-fonts/dejavu/dejavusansmono"
)

// face is a font with the widths of its letters.
type face struct {
	family, style string
	ttf           []byte
	em            float64
	advance       []uint16 // of each letter of the basic plane, in parts of em
}

// absent is the width of a letter that a font does not have.
const absent = 0xFFFF

// faces are the fonts of a document.
type faces struct{ plain, bold, mono *face }

func (f faces) all() []*face { return []*face{f.plain, f.bold, f.mono} }

// loadFaces reads the embedded fonts, once.
var loadFaces = sync.OnceValues(func() (faces, error) {
	var out faces
	for _, x := range []struct {
		to            **face
		family, style string
		ttf           []byte
	}{
		{&out.plain, "dejavu", "", dejavusanscondensed.TTF},
		{&out.bold, "dejavu", "B", dejavusanscondensedbold.TTF},
		{&out.mono, "dejavumono", "", dejavusansmono.TTF},
	} {
		f, err := readFace(x.ttf)
		if err != nil {
			return out, fmt.Errorf("pdf: font %s: %w", x.family+x.style, err)
		}
		f.family, f.style = x.family, x.style
		*x.to = f
	}
	return out, nil
})

var errFont = errors.New("not a font that is understood here")

// readFace reads what is needed of a TrueType font: how wide each letter is
// (OpenType specification 1.9: tables head, hhea, hmtx, and cmap of format 4).
func readFace(b []byte) (*face, error) {
	tables, err := fontTables(b)
	if err != nil {
		return nil, err
	}
	head, hhea, hmtx, cmap := tables["head"], tables["hhea"], tables["hmtx"], tables["cmap"]
	if len(head) < 54 || len(hhea) < 36 || len(hmtx) < 4 || len(cmap) < 4 {
		return nil, errFont
	}
	f := &face{ttf: b, em: float64(u16(head, 18)), advance: make([]uint16, 1<<16)}
	for i := range f.advance {
		f.advance[i] = absent
	}
	long := int(u16(hhea, 34)) // glyphs with a width of their own
	if long == 0 || len(hmtx) < 4*long {
		return nil, errFont
	}
	for i := range int(u16(cmap, 2)) {
		e := 4 + 8*i
		if len(cmap) < e+8 {
			return nil, errFont
		}
		if u16(cmap, e) != 3 || u16(cmap, e+2) != 1 { // Windows, the basic plane
			continue
		}
		at := int(binary.BigEndian.Uint32(cmap[e+4:]))
		if at > len(cmap)-14 || u16(cmap, at) != 4 {
			return nil, errFont
		}
		return f, f.segments(cmap[at:], hmtx, long)
	}
	return nil, errFont
}

func fontTables(b []byte) (map[string][]byte, error) {
	if len(b) < 12 {
		return nil, errFont
	}
	out := map[string][]byte{}
	for i := range int(u16(b, 4)) {
		e := 12 + 16*i
		if len(b) < e+16 {
			return nil, errFont
		}
		from, size := binary.BigEndian.Uint32(b[e+8:]), binary.BigEndian.Uint32(b[e+12:])
		if uint64(from)+uint64(size) > uint64(len(b)) {
			return nil, errFont
		}
		out[string(b[e:e+4])] = b[from : from+size]
	}
	return out, nil
}

// segments reads which glyph each letter has, and how wide that is.
func (f *face) segments(t, hmtx []byte, long int) error {
	n := int(u16(t, 6)) / 2
	end, start, delta, offset := 14, 16+2*n, 16+4*n, 16+6*n
	if len(t) < 16+8*n {
		return errFont
	}
	for i := range n {
		for r := int(u16(t, start+2*i)); r <= int(u16(t, end+2*i)) && r < 0xFFFF; r++ {
			glyph := r
			if o := int(u16(t, offset+2*i)); o != 0 {
				at := offset + 2*i + o + 2*(r-int(u16(t, start+2*i)))
				if at+2 > len(t) {
					return errFont
				}
				if glyph = int(u16(t, at)); glyph == 0 {
					continue
				}
			}
			if glyph = (glyph + int(u16(t, delta+2*i))) & 0xFFFF; glyph != 0 {
				f.advance[r] = u16(hmtx, 4*min(glyph, long-1))
			}
		}
	}
	return nil
}

func u16(b []byte, at int) uint16 { return binary.BigEndian.Uint16(b[at:]) }

// has tells whether the font has a letter.
func (f *face) has(r rune) bool { return r >= ' ' && r < 0xFFFF && f.advance[r] != absent }

// width returns how wide a text is, which the font has all letters of.
func (f *face) width(s string, size float64) float64 {
	sum := 0
	for _, r := range s {
		if f.has(r) {
			sum += int(f.advance[r])
		}
	}
	return float64(sum) * size / f.em
}

// printable puts the number of a letter, [U+6771], in the place of one that
// the font does not have, or that needs more than being put after the one
// before: those of writing that runs to the left, or that is joined or stacked.
func (f *face) printable(s string) (out string, whole bool) {
	bad := func(r rune) bool { return r > 0x24F && (unseen(r) || unicode.In(r, beyond...)) || !f.has(r) }
	if strings.IndexFunc(s, bad) < 0 {
		return s, true
	}
	var b strings.Builder
	for _, r := range s {
		switch {
		case unseen(r):
		case bad(r):
			fmt.Fprintf(&b, "[U+%04X]", r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String(), false
}

// unseen tells whether a letter takes no room and shows nothing.
func unseen(r rune) bool { return r >= 0x200B && r <= 0x200D || r == 0x2060 || r == 0xFEFF }

// beyond are the scripts that need shaping or another direction.
var beyond = []*unicode.RangeTable{
	unicode.Arabic, unicode.Hebrew, unicode.Syriac, unicode.Thaana, unicode.Nko, unicode.Devanagari, unicode.Bengali, unicode.Tamil,
	unicode.Telugu, unicode.Kannada, unicode.Malayalam, unicode.Sinhala, unicode.Thai, unicode.Lao, unicode.Tibetan, unicode.Myanmar, unicode.Khmer, unicode.Mongolian,
}
