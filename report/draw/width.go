package draw

// Advance widths of DejaVu Sans, in parts of 2048 of the size of the
// lettering, for U+0020 to U+007E and for U+00A0 to U+00FF. Read from the
// table hmtx of the font, version 2.37. Pages are lettered in narrower faces,
// so that what fits here fits there.
var (
	asciiWide = [...]uint16{
		651, 821, 942, 1716, 1303, 1946, 1597, 563, 799, 799, 1024, 1716, 651, 739, 651, 690,
		1303, 1303, 1303, 1303, 1303, 1303, 1303, 1303, 1303, 1303, 690, 690, 1716, 1716, 1716, 1087,
		2048, 1401, 1405, 1430, 1577, 1294, 1178, 1587, 1540, 604, 604, 1343, 1141, 1767, 1532, 1612,
		1235, 1612, 1423, 1300, 1251, 1499, 1401, 2025, 1403, 1251, 1403, 799, 690, 799, 1716, 1024,
		1024, 1255, 1300, 1126, 1300, 1260, 721, 1300, 1298, 569, 569, 1186, 569, 1995, 1298, 1253,
		1300, 1300, 842, 1067, 803, 1298, 1212, 1675, 1212, 1212, 1075, 1303, 690, 1303, 1716,
	}
	latinWide = [...]uint16{
		651, 821, 1303, 1303, 1303, 1303, 690, 1024, 1024, 2048, 965, 1253, 1716, 739, 2048, 1024,
		1024, 1716, 821, 821, 1024, 1303, 1303, 651, 1024, 821, 965, 1253, 1985, 1985, 1985, 1087,
		1401, 1401, 1401, 1401, 1401, 1401, 1995, 1430, 1294, 1294, 1294, 1294, 604, 604, 604, 604,
		1587, 1532, 1612, 1612, 1612, 1612, 1612, 1716, 1612, 1499, 1499, 1499, 1499, 1251, 1239, 1290,
		1255, 1255, 1255, 1255, 1255, 1255, 2011, 1126, 1260, 1260, 1260, 1260, 569, 569, 569, 569,
		1253, 1298, 1253, 1253, 1253, 1253, 1253, 1716, 1253, 1298, 1298, 1298, 1298, 1212, 1300, 1212,
	}
	signWide = map[rune]uint16{
		'–': 1024, '—': 2048, '‘': 651, '’': 651, '“': 1061, '”': 1061, '…': 2048,
		'←': 1716, '↑': 1716, '→': 1716, '↓': 1716, '−': 1716, '≤': 1716, '≥': 1716, 'μ': 1303, '′': 465, '″': 765,
	}
)

const (
	emParts   = 2048
	otherWide = 1350 // about that of Greek and Cyrillic letters
	bolder    = 1.12 // of lettering that stands out; DejaVu Sans Bold is a ninth wider on average
)

// TextWidth is how wide a line of lettering of that size is in DejaVu Sans.
func TextWidth(s string, size float64) float64 {
	sum := 0
	for _, r := range s {
		switch {
		case r >= ' ' && r <= '~':
			sum += int(asciiWide[r-' '])
		case r >= 0xA0 && r <= 0xFF:
			sum += int(latinWide[r-0xA0])
		case signWide[r] > 0:
			sum += int(signWide[r])
		case r >= 0x1100:
			sum += emParts
		default:
			sum += otherWide
		}
	}
	return float64(sum) * size / emParts
}

// Width is how wide a label is, about, in its class.
func (l Label) Width() float64 {
	look := l.Class.Look()
	w := TextWidth(l.Text, look.Size)
	if look.Bold {
		w *= bolder
	}
	return w
}

// span is from where to where a label reaches across.
func (l Label) span() (from, to float64) {
	w := l.Width()
	switch l.Anchor {
	case End:
		return l.X - w, l.X
	case Middle:
		return l.X - w/2, l.X + w/2
	}
	return l.X, l.X + w
}

// shortened cuts a text to a width, with an ellipsis where something is lost.
func shortened(s string, size, width float64) string {
	if TextWidth(s, size) <= width {
		return s
	}
	rs := []rune(s)
	for len(rs) > 0 && TextWidth(string(rs)+"…", size) > width {
		rs = rs[:len(rs)-1]
	}
	return string(rs) + "…"
}
