// Package evidence looks at photographs and scans that are kept with a run:
// what they are by what they hold, whether they say where they were taken, how
// they look small, and how that place is taken out of them.
//
// It reads bytes that came from anywhere. Nothing here believes the name of a
// file, panics over what is in it, or opens pictures without an end of pixels.
// The same bytes give the same small picture.
//
// Numbers of markers, tags and chunks are those of ISO/IEC 10918-1 (JPEG), Exif
// 2.32 (CIPA DC-008), the PNG specification and the WebP container, from
// memory; the tests hold them against files that another program wrote.
package evidence

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"
)

// MostBytes is the greatest size of a file that is kept.
const MostBytes = 64 << 20

// mostPixels is how many points a picture may have to be drawn small.
const mostPixels = 48 << 20

// The types of files that are kept.
const (
	JPEG = "image/jpeg"
	PNG  = "image/png"
	WebP = "image/webp"
	HEIC = "image/heic"
	AVIF = "image/avif"
	PDF  = "application/pdf"
)

// What is not kept, and what cannot be done.
var (
	ErrUnknown  = errors.New("it is no photograph and no scan that is known here (JPEG, PNG, WebP, HEIC, AVIF or PDF). Save it as JPEG or PDF and attach that file")
	ErrEmpty    = errors.New("it is empty. Copy it from the camera once more")
	ErrCutShort = errors.New("it is cut short: its end is missing. Copy it from the camera once more")
	ErrDamaged  = errors.New("it is damaged. Copy it from the camera once more")
	ErrPlace    = errors.New("nothing can be taken out of a file of this kind here. Save it as JPEG or PNG and attach that file, or attach it as it is")
	ErrNotDrawn = errors.New("no small picture is made of a file of this kind")
	ErrTooLarge = errors.New("it has too many points for a small picture")
)

// Keeping says what is kept of a file.
type Keeping int

// What may be kept of a file.
const (
	AsItIs   Keeping = iota
	NoPlace          // what says, or may say, where it was taken is left out
	AskPlace         // a file that says where it was taken is not kept: [ErrSaysPlace]
)

// ErrSaysPlace is why a file is not kept before somebody said whether its place
// is to be kept too.
var ErrSaysPlace = errors.New("it says where it was taken. Say whether that is to be kept")

// Info is what a file is.
type Info struct {
	Type   string // by what it holds
	Ext    string // of its name: .jpg
	Width  int    // in points, as it lies in the file; 0 where that was not read
	Height int
	Place  bool // it says where it was taken
}

// Spoken names a type in words.
func Spoken(typ string) string {
	switch typ {
	case JPEG, PNG, WebP, HEIC, AVIF:
		return "photograph"
	case PDF:
		return "scan or document"
	}
	return "file"
}

// Short is the name of a type as people say it: JPEG.
func Short(typ string) string {
	return map[string]string{JPEG: "JPEG", PNG: "PNG", WebP: "WebP", HEIC: "HEIC", AVIF: "AVIF", PDF: "PDF"}[typ]
}

var extensions = map[string]string{JPEG: ".jpg", PNG: ".png", WebP: ".webp", HEIC: ".heic", AVIF: ".avif", PDF: ".pdf"}

// typeOf tells a file by how it begins.
func typeOf(b []byte) string {
	switch {
	case bytes.HasPrefix(b, []byte("\xff\xd8\xff")):
		return JPEG
	case bytes.HasPrefix(b, []byte(pngHead)):
		return PNG
	case bytes.HasPrefix(b, []byte("%PDF-")):
		return PDF
	case len(b) >= 12 && string(b[:4]) == "RIFF" && string(b[8:12]) == "WEBP":
		return WebP
	case len(b) >= 12 && string(b[4:8]) == "ftyp":
		switch string(b[8:12]) {
		case "heic", "heix", "heim", "heis", "hevc", "hevx", "mif1", "msf1":
			return HEIC
		case "avif", "avis":
			return AVIF
		}
	}
	return ""
}

// Look tells what a file is. The error says in a sentence why it is not one
// that is kept, and what to do.
func Look(b []byte) (Info, error) {
	if len(b) == 0 {
		return Info{}, ErrEmpty
	}
	i := Info{Type: typeOf(b)}
	if i.Ext = extensions[i.Type]; i.Type == "" {
		return Info{}, ErrUnknown
	}
	switch i.Type {
	case PDF:
		if !bytes.Contains(b, []byte("%%EOF")) {
			return Info{}, ErrCutShort
		}
	case JPEG, PNG:
		c, err := config(b, i.Type)
		if err != nil {
			return Info{}, err
		}
		i.Width, i.Height = c.Width, c.Height
	case WebP:
		if _, err := riffChunks(b); err != nil {
			return Info{}, err
		}
	}
	i.Place = saysPlace(b, i.Type)
	return i, nil
}

// config reads the size of a picture, and goes through it to its end: a card
// that was pulled out gives files without one.
func config(b []byte, typ string) (image.Config, error) {
	c, err := safely(func() (image.Config, error) { return configOf(b, typ) })
	var unsupported jpeg.UnsupportedError
	var unsupportedPNG png.UnsupportedError
	switch {
	case errors.As(err, &unsupported), errors.As(err, &unsupportedPNG): // it is one, of a kind that is not drawn here
		c = image.Config{}
	case err != nil:
		return c, broken(err)
	}
	if typ == PNG {
		_, err = pngChunks(b, func(string, []byte, []byte) {})
	} else {
		_, err = jpegSegments(b, func(byte, []byte, []byte) {})
	}
	if errors.Is(err, ErrCutShort) {
		return c, err
	}
	return c, nil
}

func configOf(b []byte, typ string) (image.Config, error) {
	if typ == PNG {
		return png.DecodeConfig(bytes.NewReader(b))
	}
	return jpeg.DecodeConfig(bytes.NewReader(b))
}

func decode(b []byte, typ string) (image.Image, error) {
	return safely(func() (image.Image, error) {
		if typ == PNG {
			return png.Decode(bytes.NewReader(b))
		}
		return jpeg.Decode(bytes.NewReader(b))
	})
}

// safely calls f; what f panics over is an error here.
func safely[T any](f func() (T, error)) (out T, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("evidence: %v", p)
		}
	}()
	return f()
}

func broken(err error) error {
	if cutShort(err) {
		return ErrCutShort
	}
	return ErrDamaged
}

func cutShort(err error) bool {
	return errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF)
}

// tooLarge tells whether a picture has more points, or needs more room, than
// that many points of one letter a colour.
func tooLarge(c image.Config, most int) bool {
	if c.Width <= 0 || c.Height <= 0 {
		return true
	}
	wide := 1
	switch c.ColorModel {
	case color.RGBA64Model, color.NRGBA64Model, color.Gray16Model:
		wide = 2
	}
	return c.Width > most/wide/c.Height
}
