package evidence

import (
	"bytes"
	"encoding/binary"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// dial is a picture that is not alike whichever way it is turned: dark at the
// upper left, red at the upper right, white below.
func dial(w, h int) image.Image {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.RGBA{255, 255, 255, 255}
			switch {
			case y < h/2 && x < w/2:
				c = color.RGBA{20, 20, 20, 255}
			case y < h/2:
				c = color.RGBA{220, 30, 30, 255}
			}
			m.SetRGBA(x, y, c)
		}
	}
	return m
}

func asJPEG(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 90}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func asPNG(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// secret stands where a place may be written.
const secret = "N 51 30 26 W 0 7 39"

// exifBlock is what a camera writes: the way up, the maker, the time and a
// directory with the place, in either order of bytes.
func exifBlock(o binary.AppendByteOrder, way uint16) []byte {
	mark := "II"
	if o.AppendUint16(nil, 1)[0] == 0 {
		mark = "MM"
	}
	b := o.AppendUint32(o.AppendUint16([]byte(mark), 42), 8)
	entry := func(tag, typ uint16, n, value uint32) {
		b = o.AppendUint32(o.AppendUint32(o.AppendUint16(o.AppendUint16(b, tag), typ), n), value)
	}
	short := func(tag, v uint16) {
		b = o.AppendUint32(o.AppendUint16(o.AppendUint16(b, tag), 3), 1)
		b = append(o.AppendUint16(b, v), 0, 0)
	}
	const texts = 8 + 2 + 6*12 + 4
	b = o.AppendUint16(b, 6)
	entry(0x010f, 2, 11, texts) // Make
	short(0x0112, way)          // Orientation
	entry(0x0131, 2, 20, texts+12)
	entry(0x0132, 2, 20, texts+32) // DateTime
	entry(0x8769, 4, 1, texts+52)  // the inner directory
	entry(0x8825, 4, 1, texts+52+18)
	b = append(b, 0, 0, 0, 0)
	b = append(b, "Bench Cam\x00\x00\x00"...)
	b = append(b, (secret + "\x00\x00")[:20]...)
	b = append(b, "2026:11:24 14:10:00\x00"...)
	b = o.AppendUint16(b, 1)
	entry(0x927c, 7, 4, 0x31323334) // MakerNote
	b = append(b, 0, 0, 0, 0)
	b = o.AppendUint16(b, 1)
	entry(0x0001, 2, 2, 0x4e004e00) // GPSLatitudeRef
	return append(b, 0, 0, 0, 0)
}

// behindFirst puts segments behind the first marker of a JPEG.
func behindFirst(b []byte, segments ...[]byte) []byte {
	out := slices.Clone(b[:2])
	for _, s := range segments {
		out = append(out, s...)
	}
	return append(out, b[2:]...)
}

func segment(marker byte, data string) []byte {
	return append(binary.BigEndian.AppendUint16([]byte{0xff, marker}, uint16(2+len(data))), data...)
}

func camera1(t testing.TB) []byte {
	return behindFirst(asJPEG(t, dial(64, 48)),
		segment(0xe1, exifHead+string(exifBlock(binary.LittleEndian, 6))),
		segment(0xe1, "http://ns.adobe.com/xap/1.0/\x00<x exif:GPSLatitude=\""+secret+"\"/>"),
		segment(0xed, "Photoshop 3.0\x008BIM"+secret), segment(0xfe, secret), segment(0xe4, secret))
}

func TestLookTellsByContent(t *testing.T) {
	webp := riffOf(chunk{"VP8L", []byte{0x2f, 0, 0, 0, 0}})
	photo := asJPEG(t, dial(64, 48))
	for _, tt := range []struct {
		name string
		b    []byte
		want Info
		err  error
	}{
		{"a photograph", photo, Info{Type: JPEG, Ext: ".jpg", Width: 64, Height: 48}, nil},
		{"a photograph with its place", camera1(t), Info{Type: JPEG, Ext: ".jpg", Width: 64, Height: 48, Place: true}, nil},
		{"a drawing", asPNG(t, dial(10, 20)), Info{Type: PNG, Ext: ".png", Width: 10, Height: 20}, nil},
		{"a scan", []byte("%PDF-1.4\n1 0 obj\n%%EOF\n"), Info{Type: PDF, Ext: ".pdf"}, nil},
		{"WebP", webp, Info{Type: WebP, Ext: ".webp"}, nil},
		{"HEIC", []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00"), Info{Type: HEIC, Ext: ".heic"}, nil},
		{"AVIF", []byte("\x00\x00\x00\x18ftypavif\x00\x00\x00\x00"), Info{Type: AVIF, Ext: ".avif"}, nil},
		{"a film", []byte("\x00\x00\x00\x18ftypisom\x00\x00\x00\x00"), Info{}, ErrUnknown},
		{"a text called a photograph", []byte("abc"), Info{}, ErrUnknown},
		{"a program", []byte("\x7fELF\x02\x01\x01"), Info{}, ErrUnknown},
		{"nothing", nil, Info{}, ErrEmpty},
		{"half a photograph", photo[:len(photo)/2], Info{}, ErrCutShort},
		{"the beginning of one", photo[:8], Info{}, ErrCutShort},
		{"half a scan", []byte("%PDF-1.4\n1 0 obj\n"), Info{}, ErrCutShort},
		{"half a drawing", asPNG(t, dial(10, 20))[:50], Info{}, ErrCutShort},
		{"a drawing with nonsense", append([]byte(pngHead), make([]byte, 40)...), Info{}, ErrDamaged},
		{"a WebP of another length", append(slices.Clone(webp[:4]), append([]byte{0xff, 0xff, 0, 0}, webp[8:]...)...), Info{}, ErrCutShort},
	} {
		got, err := Look(tt.b)
		if !errors.Is(err, tt.err) || err == nil && got != tt.want {
			t.Errorf("%s: Look = %+v, %v; want %+v, %v", tt.name, got, err, tt.want, tt.err)
		}
	}
}

func riffOf(cs ...chunk) []byte {
	body := []byte("WEBP")
	for _, c := range cs {
		body = append(binary.LittleEndian.AppendUint32(append(body, c.name...), uint32(len(c.data))), c.data...)
		if len(c.data)%2 == 1 {
			body = append(body, 0)
		}
	}
	return append(binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(body))), body...)
}

func TestWithoutTakesThePlaceOut(t *testing.T) {
	plain := asPNG(t, dial(30, 20))
	block := exifBlock(binary.BigEndian, 3)
	drawing := slices.Concat(plain[:33], pngChunk("eXIf", block), pngChunk("tEXt", []byte("Comment\x00"+secret)), pngChunk("prVt", []byte(secret)), plain[33:], []byte(secret))
	second := camera1(t)
	for _, tt := range []struct {
		name string
		b    []byte
		want []string
	}{
		{"JPEG", append(camera1(t), second...), []string{"the place (GPS)", "the maker's own data", "other data of the camera", wordXMP, wordIPTC, wordText, wordPrograms, "what stood behind the picture (" + digits(len(second)) + " bytes)"}},
		{"PNG", drawing, []string{"the place (GPS)", "the maker's own data", "other data of the camera", wordText, wordPrograms, "what stood behind the picture (19 bytes)"}},
	} {
		if info, err := Look(tt.b); err != nil || !info.Place {
			t.Errorf("%s: Look = %+v, %v; want the place told", tt.name, info, err)
		}
		out, removed, err := Without(tt.b)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(tt.want, removed); d != "" {
			t.Errorf("%s: removed (-want +got):\n%s", tt.name, d)
		}
		if bytes.Contains(out, []byte(secret)) || bytes.Contains(out, []byte("GPS")) {
			t.Errorf("%s: the place is still there", tt.name)
		}
		if info, err := Look(out); err != nil || info.Place {
			t.Errorf("%s: afterwards Look = %+v, %v", tt.name, info, err)
		}
		if !samePoints(t, tt.b, out) {
			t.Errorf("%s: the picture is another one", tt.name)
		}
		c := readCamera(block)
		if wayUp(out, typeOf(out)) == 0 || !bytes.Contains(out, []byte("Bench Cam")) || !bytes.Contains(out, []byte("2026:11:24 14:10:00")) || !c.place {
			t.Errorf("%s: the way up, the camera or the time is gone", tt.name)
		}
		again, removed, err := Without(out)
		if err != nil || len(removed) > 0 || !bytes.Equal(again, out) {
			t.Errorf("%s: a second time removes %q, %v", tt.name, removed, err)
		}
	}
}

func digits(n int) string {
	s := ""
	for ; n > 0; n /= 10 {
		s = string(rune('0'+n%10)) + s
	}
	return s
}

func samePoints(t *testing.T, a, b []byte) bool {
	t.Helper()
	x, _, err := image.Decode(bytes.NewReader(a))
	if err != nil {
		t.Fatal(err)
	}
	y, _, err := image.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return cmp.Equal(x, y, cmp.AllowUnexported(image.Uniform{}))
}

func TestWithoutLeavesTheRestAlone(t *testing.T) {
	for name, b := range map[string][]byte{"JPEG": asJPEG(t, dial(64, 48)), "PNG": asPNG(t, dial(64, 48)), "WebP": riffOf(chunk{"VP8L", []byte{0x2f, 0, 0, 0, 0}})} {
		out, removed, err := Without(b)
		if err != nil || len(removed) > 0 || !bytes.Equal(out, b) {
			t.Errorf("%s: removed %q, %v, same bytes: %v", name, removed, err, bytes.Equal(out, b))
		}
	}
	for name, b := range map[string][]byte{"PDF": []byte("%PDF-1.4\n%%EOF"), "HEIC": []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00")} {
		if _, _, err := Without(b); !errors.Is(err, ErrPlace) {
			t.Errorf("%s: %v; want that nothing can be taken out", name, err)
		}
	}
	b := riffOf(chunk{"VP8X", []byte{0x2c, 0, 0, 0, 1, 0, 0, 1, 0, 0}}, chunk{"VP8L", []byte{0x2f, 0, 0, 0, 0}},
		chunk{"EXIF", exifBlock(binary.BigEndian, 1)}, chunk{"XMP ", []byte(secret)})
	out, removed, err := Without(b)
	want := riffOf(chunk{"VP8X", []byte{0x20, 0, 0, 0, 1, 0, 0, 1, 0, 0}}, chunk{"VP8L", []byte{0x2f, 0, 0, 0, 0}})
	if err != nil || !bytes.Equal(out, want) || !slices.Contains(removed, wordXMP) || !slices.Contains(removed, "the place (GPS)") {
		t.Errorf("WebP: %q, removed %q, %v; want %q", out, removed, err, want)
	}
}

// Files written by another program (testdata/SOURCES.md), from a block of Exif
// that it was given.
func TestFilesOfAnotherProgram(t *testing.T) {
	for _, name := range []string{"place.jpg", "place.png", "place.webp"} {
		b, err := os.ReadFile("testdata/" + name)
		if err != nil {
			t.Fatal(err)
		}
		if info, err := Look(b); err != nil || !info.Place {
			t.Errorf("%s: Look = %+v, %v; want its place told", name, info, err)
		}
		out, removed, err := Without(b)
		if err != nil || !slices.Contains(removed, "the place (GPS)") || bytes.Contains(out, []byte(secret)) {
			t.Errorf("%s: removed %q, %v", name, removed, err)
		}
		if info, err := Look(out); err != nil || info.Place {
			t.Errorf("%s: afterwards Look = %+v, %v", name, info, err)
		}
	}
}

// colours names the corners of a small picture: upper left, upper right, lower
// right, lower left.
func colours(t *testing.T, s Small) string {
	t.Helper()
	m, err := jpeg.Decode(bytes.NewReader(s.JPEG))
	if err != nil {
		t.Fatal(err)
	}
	if r := m.Bounds(); r.Dx() != s.Width || r.Dy() != s.Height {
		t.Errorf("it is %v, and said to be %d × %d", r, s.Width, s.Height)
	}
	var out []string
	for _, p := range []image.Point{{s.Width / 8, s.Height / 8}, {s.Width * 7 / 8, s.Height / 8}, {s.Width * 7 / 8, s.Height * 7 / 8}, {s.Width / 8, s.Height * 7 / 8}} {
		r, g, _, _ := m.At(p.X, p.Y).RGBA()
		switch {
		case r>>8 < 80:
			out = append(out, "dark")
		case g>>8 < 120:
			out = append(out, "red")
		default:
			out = append(out, "white")
		}
	}
	return strings.Join(out, " ")
}

// Exif 2.32, 4.6.4 A: 6 means that the first row is the right side as it is
// seen, 3 that it is the lower one, and so on (from memory).
func TestDrawTurnsThePictureUp(t *testing.T) {
	for way, want := range map[uint16]string{
		0: "dark red white white", 1: "dark red white white", 2: "red dark white white", 3: "white white dark red", 4: "white white red dark",
		5: "dark white white red", 6: "white dark red white", 7: "white red dark white", 8: "red white white dark", 9: "dark red white white",
	} {
		b := behindFirst(asJPEG(t, dial(320, 160)), segment(0xe1, exifHead+string(exifBlock(binary.LittleEndian, way))))
		s, err := Draw(b, 64)
		if err != nil {
			t.Fatal(err)
		}
		if got := colours(t, s); got != want {
			t.Errorf("way %d: corners %s, want %s", way, got, want)
		}
		w, h := 64, 32
		if way >= 5 && way <= 8 {
			w, h = h, w
		}
		if s.Width != w || s.Height != h {
			t.Errorf("way %d: %d × %d, want %d × %d", way, s.Width, s.Height, w, h)
		}
	}
}

func TestDrawIsTheMean(t *testing.T) {
	m := image.NewGray(image.Rect(0, 0, 64, 64)) // black and white in turn, which is grey from afar
	for i := range m.Pix {
		if (i/64+i)%2 == 0 {
			m.Pix[i] = 255
		}
	}
	s, err := Draw(asPNG(t, m), 16)
	if err != nil {
		t.Fatal(err)
	}
	small, err := jpeg.Decode(bytes.NewReader(s.JPEG))
	if err != nil {
		t.Fatal(err)
	}
	for y := range 16 {
		for x := range 16 {
			if r, _, _, _ := small.At(x, y).RGBA(); r>>8 < 124 || r>>8 > 131 {
				t.Fatalf("at %d, %d it is %d, want 127", x, y, r>>8)
			}
		}
	}
	clear := image.NewNRGBA(image.Rect(0, 0, 40, 40)) // seen through
	if s, err = Draw(asPNG(t, clear), 16); err != nil {
		t.Fatal(err)
	}
	if got := colours(t, s); got != "white white white white" {
		t.Errorf("what is seen through is %s, want white", got)
	}
}

func TestDrawIsTheSameEachTime(t *testing.T) {
	b := camera1(t)
	first, err := Draw(b, 40)
	if err != nil {
		t.Fatal(err)
	}
	again, err := Draw(slices.Clone(b), 40)
	if err != nil || !cmp.Equal(first, again) {
		t.Errorf("drawn twice it differs, %v", err)
	}
	bare, _, err := Without(b)
	if err != nil {
		t.Fatal(err)
	}
	if s, err := Draw(bare, 40); err != nil || !cmp.Equal(first, s) {
		t.Errorf("without its place it looks another way, %v", err)
	}
}

func TestDrawRefuses(t *testing.T) {
	huge := asPNG(t, image.NewGray(image.Rect(0, 0, 1, 1)))
	binary.BigEndian.PutUint32(huge[16:], 1<<15) // width; its sum is mended below
	binary.BigEndian.PutUint32(huge[20:], 1<<15)
	copy(huge[8:], pngChunk("IHDR", huge[16:29]))
	photo := asJPEG(t, dial(64, 48))
	for _, tt := range []struct {
		name string
		b    []byte
		err  error
	}{
		{"a scan", []byte("%PDF-1.4\n%%EOF"), ErrNotDrawn},
		{"a text", []byte("abc"), ErrNotDrawn},
		{"a picture without end", huge, ErrTooLarge},
		{"half a photograph", photo[:len(photo)/2], ErrCutShort},
	} {
		if _, err := Draw(tt.b, 64); !errors.Is(err, tt.err) {
			t.Errorf("%s: Draw = %v, want %v", tt.name, err, tt.err)
		}
	}
}

// Every byte of a photograph is changed, and it is cut at every place: nothing
// panics, and what is kept by Without has no place.
func TestDamagedPhotographs(t *testing.T) {
	for _, whole := range [][]byte{camera1(t), asPNG(t, dial(16, 16))} {
		for i := range whole {
			b := slices.Clone(whole)
			b[i] ^= 0xff
			harmless(t, b)
			harmless(t, whole[:i])
		}
	}
}

func harmless(t *testing.T, b []byte) {
	t.Helper()
	_, _ = Look(b)
	_, _ = drawSmall(b, 16, 1<<16)
	out, _, err := Without(b)
	if err != nil || typeOf(b) == WebP {
		return
	}
	if saysPlace(out, typeOf(out)) {
		t.Errorf("%d bytes: the place is still told", len(b))
	}
	if again, removed, err := Without(out); err != nil || len(removed) > 0 || !bytes.Equal(again, out) {
		t.Errorf("%d bytes: a second time removes %q, %v", len(b), removed, err)
	}
}

func FuzzPhotograph(f *testing.F) {
	f.Add(camera1(f))
	f.Add(asPNG(f, dial(16, 16)))
	f.Add(riffOf(chunk{"VP8X", []byte{0x2c, 0, 0, 0, 1, 0, 0, 1, 0, 0}}, chunk{"EXIF", exifBlock(binary.BigEndian, 1)}))
	f.Add([]byte("%PDF-1.4\n%%EOF"))
	f.Fuzz(func(t *testing.T, b []byte) {
		if c, err := safely(func() (image.Config, error) { return configOf(b, typeOf(b)) }); err == nil && tooLarge(c, 1<<20) {
			return // it would only take long
		}
		harmless(t, b)
	})
}
