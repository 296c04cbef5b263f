package evidence

import (
	"bytes"
	"encoding/binary"
	"slices"
)

// camera is what is read of the data that a camera writes (Exif).
type camera struct {
	place bool // it has the place
	maker bool // it has data that only its maker understands
	other bool // it has more than is kept
	way   int  // 1 to 8, 0 where it does not say

	kept []field // what stays when the place is taken out
}

// field is a tag with its text, or a number where there is none.
type field struct {
	tag    uint16
	text   string
	number uint16
	inner  bool // of the inner directory
}

// Tags of Exif.
const (
	tagMake     = 0x010f
	tagModel    = 0x0110
	tagWay      = 0x0112
	tagTime     = 0x0132
	tagInner    = 0x8769
	tagPlace    = 0x8825
	tagTaken    = 0x9003 // when the photograph was taken
	tagTakenOff = 0x9011 // and how far that is from UTC
	tagMaker    = 0x927c
)

// Types of values.
const (
	typeText  = 2
	typeShort = 3
	typeLong  = 4
)

const (
	mostEntries = 512 // of a directory that is read
	mostText    = 64  // letters of a text that is kept
)

// readCamera reads a block of Exif, from the mark of its byte order on. What
// cannot be read is left out.
func readCamera(b []byte) camera {
	var c camera
	if len(b) < 8 {
		return c
	}
	var o binary.ByteOrder = binary.BigEndian
	if b[0] == 'I' {
		o = binary.LittleEndian
	}
	c.directory(b, o, o.Uint32(b[4:]), false)
	return c
}

// directory reads one directory of tags.
func (c *camera) directory(b []byte, o binary.ByteOrder, at uint32, inner bool) {
	if uint64(at)+2 > uint64(len(b)) {
		return
	}
	n := int(o.Uint16(b[at:]))
	d := b[at+2:]
	for i := range min(n, mostEntries, len(d)/12) {
		e := d[12*i:]
		tag, typ, count := o.Uint16(e), o.Uint16(e[2:]), o.Uint32(e[4:])
		switch tag {
		case tagPlace:
			c.place = true
		case tagMaker:
			c.maker = true
		case tagInner:
			if !inner {
				c.directory(b, o, o.Uint32(e[8:]), true)
			}
		case tagWay:
			if v := o.Uint16(e[8:]); typ == typeShort && v >= 1 && v <= 8 && !inner {
				c.way = int(v)
				c.kept = append(c.kept, field{tag: tag, number: v})
			}
		case tagMake, tagModel, tagTime, tagTaken, tagTakenOff:
			if s := textOf(b, o, e, count); typ == typeText && s != "" && inner == (tag >= tagTaken) {
				c.kept = append(c.kept, field{tag: tag, text: s, inner: inner})
			}
		default:
			c.other = true
		}
	}
}

// textOf is the text of an entry: letters of ASCII that can be printed.
func textOf(b []byte, o binary.ByteOrder, entry []byte, count uint32) string {
	if count > mostText {
		return ""
	}
	s := entry[8:12]
	if count > 4 {
		at := uint64(o.Uint32(entry[8:]))
		if at+uint64(count) > uint64(len(b)) {
			return ""
		}
		s = b[at:]
	}
	s, _, _ = bytes.Cut(s[:count], []byte{0})
	if bytes.ContainsFunc(s, func(r rune) bool { return r < ' ' || r > '~' }) {
		return ""
	}
	return string(bytes.TrimSpace(s))
}

// written writes a new block of Exif that holds what is kept and nothing else;
// none where there is nothing.
func (c camera) written() []byte {
	var outer, inner []field
	seen := map[uint16]bool{}
	for _, f := range c.kept {
		if seen[f.tag] {
			continue
		}
		seen[f.tag] = true
		if f.inner {
			inner = append(inner, f)
		} else {
			outer = append(outer, f)
		}
	}
	if len(outer)+len(inner) == 0 {
		return nil
	}
	const head = 8
	b := []byte("MM\x00\x2a\x00\x00\x00\x08")
	if len(inner) == 0 {
		return directoryOf(b, outer, head)
	}
	outer = append(outer, field{tag: tagInner})
	probe := directoryOf(b, outer, head) // as long as it will be
	for i := range outer {
		if outer[i].tag == tagInner {
			outer[i].number = uint16(len(probe))
		}
	}
	return directoryOf(directoryOf(b, outer, head), inner, len(probe))
}

// directoryOf writes a directory behind b, at an offset that is len(b).
func directoryOf(b []byte, fs []field, at int) []byte {
	fs = slices.Clone(fs)
	slices.SortFunc(fs, func(a, b field) int { return int(a.tag) - int(b.tag) })
	o := binary.BigEndian
	b = o.AppendUint16(slices.Clone(b), uint16(len(fs)))
	texts := at + 2 + 12*len(fs) + 4
	var tail []byte
	for _, f := range fs {
		b = o.AppendUint16(b, f.tag)
		switch {
		case f.tag == tagInner:
			b = o.AppendUint32(o.AppendUint32(o.AppendUint16(b, typeLong), 1), uint32(f.number))
		case f.text == "":
			b = o.AppendUint32(o.AppendUint16(b, typeShort), 1)
			b = append(o.AppendUint16(b, f.number), 0, 0)
		default:
			s := append([]byte(f.text), 0)
			b = o.AppendUint32(o.AppendUint16(b, typeText), uint32(len(s)))
			if len(s) <= 4 {
				b = append(b, append(s, 0, 0, 0)[:4]...)
				continue
			}
			b = o.AppendUint32(b, uint32(texts+len(tail)))
			if tail = append(tail, s...); len(tail)%2 == 1 {
				tail = append(tail, 0)
			}
		}
	}
	return append(append(b, 0, 0, 0, 0), tail...)
}
