package evidence

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"slices"
)

// exifHead stands before a block of Exif in a JPEG.
const exifHead = "Exif\x00\x00"

// Without takes out of a photograph what says, or may say, where it was taken,
// and returns what remains and what was taken out, in few words each. The
// picture itself is copied byte for byte. What stays beside it is written anew
// from a short list: the way up, the camera, the time. Where nothing is to be
// taken out, the file comes back as it is.
//
// The error is [ErrPlace] for a kind of file of which nothing is taken out
// here, else as that of [Look].
func Without(b []byte) (out []byte, removed []string, err error) {
	switch typeOf(b) {
	case JPEG:
		out, removed, err = jpegWithout(b)
	case PNG:
		out, removed, err = pngWithout(b)
	case WebP:
		out, removed, err = webpWithout(b)
	case "":
		return nil, nil, ErrUnknown
	default:
		return nil, nil, ErrPlace
	}
	if err != nil || len(removed) == 0 {
		return b, nil, err
	}
	return out, removed, nil
}

// removal collects what is taken out, each once.
type removal struct{ words []string }

func (r *removal) add(word string) {
	if !slices.Contains(r.words, word) {
		r.words = append(r.words, word)
	}
}

// camera says what goes of a block of Exif that is written anew.
func (r *removal) camera(c camera) {
	if c.place {
		r.add("the place (GPS)")
	}
	if c.maker {
		r.add("the maker's own data")
	}
	if c.other {
		r.add("other data of the camera")
	}
}

func (r *removal) behind(n int) {
	if n > 0 {
		r.add(fmt.Sprintf("what stood behind the picture (%d bytes)", n))
	}
}

// What else may hold a place.
const (
	wordXMP      = "a description (XMP)"
	wordIPTC     = "a caption of the press (IPTC)"
	wordText     = "texts"
	wordPictures = "pictures beside it"
	wordPrograms = "data of programs"
)

// jpegWithout copies a JPEG segment by segment.
func jpegWithout(b []byte) ([]byte, []string, error) {
	var gone removal
	out := append([]byte(nil), b[:2]...)
	end, err := jpegSegments(b, func(marker byte, segment, data []byte) {
		switch {
		case marker == 0xe1 && bytes.HasPrefix(data, []byte(exifHead)):
			c := readCamera(data[len(exifHead):])
			fresh := exifSegment(c.written())
			if !bytes.Equal(fresh, segment) {
				gone.camera(c)
				if len(gone.words) == 0 {
					gone.add("other data of the camera") // not in a directory: between them
				}
			}
			out = append(out, fresh...)
		case marker == 0xe1:
			gone.add(wordXMP)
		case marker == 0xed:
			gone.add(wordIPTC)
		case marker == 0xfe:
			gone.add(wordText)
		case marker == 0xe0 && !bytes.HasPrefix(data, []byte("JFIF\x00")), marker == 0xe2 && !bytes.HasPrefix(data, []byte("ICC_PROFILE\x00")):
			gone.add(wordPictures)
		case marker == 0xe0, marker == 0xe2, marker == 0xee && bytes.HasPrefix(data, []byte("Adobe")):
			out = append(out, segment...)
		case marker >= 0xe0 && marker <= 0xef:
			gone.add(wordPrograms)
		default:
			out = append(out, segment...)
		}
	})
	gone.behind(len(b) - end)
	return out, gone.words, err
}

// jpegSegments calls f with every segment behind the first mark, and its data;
// what was coded comes with the marker before it. It returns where the picture
// ends.
func jpegSegments(b []byte, f func(marker byte, segment, data []byte)) (end int, err error) {
	at := 2
	for {
		start := at
		if at >= len(b) || b[at] != 0xff {
			return at, damagedAt(b, at)
		}
		for at < len(b) && b[at] == 0xff { // fill bytes may stand before a marker
			at++
		}
		if at >= len(b) {
			return at, ErrCutShort
		}
		marker := b[at]
		at++
		switch {
		case marker == 0xd9: // end of image
			f(marker, b[start:at], nil)
			return at, nil
		case marker >= 0xd0 && marker <= 0xd7, marker == 0x01: // alone
			f(marker, b[start:at], nil)
			continue
		case len(b)-at < 2:
			return at, ErrCutShort
		}
		n := int(binary.BigEndian.Uint16(b[at:]))
		if n < 2 {
			return at, ErrDamaged
		}
		if at+n > len(b) {
			return at, ErrCutShort
		}
		data := b[at+2 : at+n]
		at += n
		if marker == 0xda { // what was coded follows, up to the next marker
			at = codedEnd(b, at)
		}
		f(marker, b[start:at], data)
	}
}

func damagedAt(b []byte, at int) error {
	if at >= len(b) {
		return ErrCutShort
	}
	return ErrDamaged
}

// codedEnd returns where coded data ends that begins at a place.
func codedEnd(b []byte, at int) int {
	for at < len(b) {
		next := bytes.IndexByte(b[at:], 0xff)
		if next < 0 || at+next+1 >= len(b) {
			return len(b)
		}
		if at += next; b[at+1] != 0 && (b[at+1] < 0xd0 || b[at+1] > 0xd7) {
			return at
		}
		at++ // a letter of 255, or a mark to start again
	}
	return at
}

// exifSegment is a block of Exif as a segment of a JPEG.
func exifSegment(block []byte) []byte {
	if len(block) == 0 {
		return nil
	}
	out := binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(2+len(exifHead)+len(block)))
	return append(append(out, exifHead...), block...)
}

const pngHead = "\x89PNG\r\n\x1a\n"

// pngKept are the chunks that stay in a PNG: those that say how the picture
// looks, and when it was changed.
var pngKept = []string{"IHDR", "PLTE", "IDAT", "IEND", "tRNS", "cHRM", "gAMA", "iCCP", "sBIT", "sRGB", "cICP", "mDCV", "cLLI",
	"bKGD", "hIST", "pHYs", "sPLT", "tIME", "acTL", "fcTL", "fdAT"}

func pngWithout(b []byte) ([]byte, []string, error) {
	var gone removal
	out := []byte(pngHead)
	end, err := pngChunks(b, func(name string, chunk, data []byte) {
		switch {
		case slices.Contains(pngKept, name):
			out = append(out, chunk...)
		case name == "eXIf":
			c := readCamera(data)
			fresh := pngChunk(name, c.written())
			if !bytes.Equal(fresh, chunk) {
				gone.camera(c)
				if len(gone.words) == 0 {
					gone.add("other data of the camera")
				}
			}
			out = append(out, fresh...)
		case name == "tEXt", name == "zTXt", name == "iTXt":
			gone.add(wordText)
		default:
			gone.add(wordPrograms)
		}
	})
	gone.behind(len(b) - end)
	return out, gone.words, err
}

// pngChunks calls f with every chunk, and returns where the picture ends.
func pngChunks(b []byte, f func(name string, chunk, data []byte)) (end int, err error) {
	at := len(pngHead)
	for {
		if at+12 > len(b) {
			return at, ErrCutShort
		}
		n := uint64(binary.BigEndian.Uint32(b[at:]))
		if uint64(at)+12+n > uint64(len(b)) {
			return at, ErrCutShort
		}
		name, next := string(b[at+4:at+8]), at+12+int(n)
		f(name, b[at:next], b[at+8:at+8+int(n)])
		if at = next; name == "IEND" {
			return at, nil
		}
	}
}

func pngChunk(name string, data []byte) []byte {
	if len(data) == 0 {
		return nil
	}
	out := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	out = append(append(out, name...), data...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[4:]))
}

// chunk is a part of a WebP, with its data.
type chunk struct {
	name string
	data []byte
}

// riffChunks parts a WebP.
func riffChunks(b []byte) ([]chunk, error) {
	if len(b) < 12 {
		return nil, ErrCutShort
	}
	whole := uint64(binary.LittleEndian.Uint32(b[4:])) + 8
	if whole > uint64(len(b)) {
		return nil, ErrCutShort
	}
	var out []chunk
	for b = b[12:max(12, whole)]; len(b) > 0; {
		if len(b) < 8 {
			return nil, ErrDamaged
		}
		n := uint64(binary.LittleEndian.Uint32(b[4:]))
		if n > uint64(len(b)-8) {
			return nil, ErrDamaged
		}
		out = append(out, chunk{string(b[:4]), b[8 : 8+n]})
		b = b[min(uint64(len(b)), 8+n+n%2):]
	}
	return out, nil
}

// webpKept are the chunks that stay in a WebP.
var webpKept = []string{"VP8 ", "VP8L", "VP8X", "ALPH", "ANIM", "ANMF", "ICCP"}

func webpWithout(b []byte) ([]byte, []string, error) {
	cs, err := riffChunks(b)
	if err != nil {
		return nil, nil, err
	}
	var gone removal
	body := []byte("WEBP")
	for _, c := range cs {
		switch {
		case slices.Contains(webpKept, c.name):
			data := slices.Clone(c.data)
			if c.name == "VP8X" && len(data) > 0 {
				data[0] &^= 0x08 | 0x04 // it has Exif, it has XMP
			}
			body = append(binary.LittleEndian.AppendUint32(append(body, c.name...), uint32(len(data))), data...)
			if len(data)%2 == 1 {
				body = append(body, 0)
			}
		case c.name == "EXIF":
			gone.camera(camera{place: readCamera(bytes.TrimPrefix(c.data, []byte(exifHead))).place, other: true})
		case c.name == "XMP ":
			gone.add(wordXMP)
		default:
			gone.add(wordPrograms)
		}
	}
	gone.behind(len(b) - 8 - int(binary.LittleEndian.Uint32(b[4:])))
	return append(binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(body))), body...), gone.words, nil
}

// saysPlace tells whether a file says where it was taken, as far as it is read
// here: by Exif, or by words of XMP.
func saysPlace(b []byte, typ string) bool {
	found := false
	look := func(c camera) { found = found || c.place }
	words := func(data []byte) { found = found || bytes.Contains(data, []byte("GPSLatitude")) }
	switch typ {
	case JPEG:
		end, _ := jpegSegments(b, func(marker byte, _, data []byte) {
			switch rest, is := bytes.CutPrefix(data, []byte(exifHead)); {
			case marker == 0xe1 && is:
				look(readCamera(rest))
			case marker == 0xe1:
				words(data)
			}
		})
		behind := b[min(end, len(b)):] // further pictures may stand there
		for range 16 {
			at := bytes.Index(behind, []byte(exifHead))
			if at < 0 {
				break
			}
			behind = behind[at+len(exifHead):]
			look(readCamera(behind))
		}
	case PNG:
		_, _ = pngChunks(b, func(name string, _, data []byte) {
			switch name {
			case "eXIf":
				look(readCamera(data))
			case "iTXt", "tEXt":
				words(data)
			}
		})
	case WebP:
		cs, _ := riffChunks(b)
		for _, c := range cs {
			switch c.name {
			case "EXIF":
				look(readCamera(bytes.TrimPrefix(c.data, []byte(exifHead))))
			case "XMP ":
				words(c.data)
			}
		}
	}
	return found
}

// wayUp reads the tag Orientation.
func wayUp(b []byte, typ string) int {
	way := 0
	set := func(c camera) {
		if way == 0 {
			way = c.way
		}
	}
	switch typ {
	case JPEG:
		_, _ = jpegSegments(b, func(marker byte, _, data []byte) {
			if rest, is := bytes.CutPrefix(data, []byte(exifHead)); marker == 0xe1 && is {
				set(readCamera(rest))
			}
		})
	case PNG:
		_, _ = pngChunks(b, func(name string, _, data []byte) {
			if name == "eXIf" {
				set(readCamera(data))
			}
		})
	}
	return way
}
