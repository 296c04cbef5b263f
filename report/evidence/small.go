package evidence

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
)

// Small is a photograph drawn small, as JPEG.
type Small struct {
	JPEG          []byte
	Width, Height int
}

const (
	quality = 72 // of the JPEG: a dial can be read, and it is some 20 kB
	samples = 8  // as many points across are averaged into one
)

// Draw makes a small picture, no side of which is longer than longest, the way
// up that the camera says. It is in whole numbers throughout, so that every
// processor gives the same bytes.
//
// The error is [ErrNotDrawn], [ErrTooLarge], [ErrCutShort] or [ErrDamaged].
func Draw(b []byte, longest int) (Small, error) { return drawSmall(b, longest, mostPixels) }

func drawSmall(b []byte, longest, most int) (Small, error) {
	typ := typeOf(b)
	if typ != JPEG && typ != PNG {
		return Small{}, ErrNotDrawn
	}
	c, err := safely(func() (image.Config, error) { return configOf(b, typ) })
	if err != nil {
		return Small{}, notDrawn(err)
	}
	if tooLarge(c, most) {
		return Small{}, ErrTooLarge
	}
	img, err := decode(b, typ)
	if err != nil {
		return Small{}, notDrawn(err)
	}
	small := turned(scaled(img, longest), wayUp(b, typ))
	var out bytes.Buffer
	if err := jpeg.Encode(&out, small, &jpeg.Options{Quality: quality}); err != nil {
		return Small{}, notDrawn(err)
	}
	r := small.Bounds()
	return Small{out.Bytes(), r.Dx(), r.Dy()}, nil
}

func notDrawn(err error) error {
	var unsupported jpeg.UnsupportedError
	if errors.As(err, &unsupported) {
		return ErrNotDrawn
	}
	return broken(err)
}

// scaled makes a picture smaller: each point is the mean of those it stands
// for, on white where it can be seen through.
func scaled(img image.Image, longest int) *image.RGBA {
	r := img.Bounds()
	w, h := r.Dx(), r.Dy()
	if big := max(w, h); big > longest {
		w, h = max(1, w*longest/big), max(1, h*longest/big)
	}
	at := reader(img)
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		y0, y1, dy := stretch(y, h, r.Dy())
		for x := range w {
			x0, x1, dx := stretch(x, w, r.Dx())
			var sr, sg, sb, n uint32
			for v := y0; v < y1; v += dy {
				for u := x0; u < x1; u += dx {
					cr, cg, cb := at(r.Min.X+u, r.Min.Y+v)
					sr, sg, sb, n = sr+cr, sg+cg, sb+cb, n+1
				}
			}
			out.SetRGBA(x, y, color.RGBA{uint8(sr / n), uint8(sg / n), uint8(sb / n), 255})
		}
	}
	return out
}

// stretch is from where to where, and in which steps, the points lie that the
// i-th of n stands for, of all there are.
func stretch(i, n, all int) (from, to, step int) {
	from, to = i*all/n, (i+1)*all/n
	to = max(to, from+1)
	return from, to, max(1, (to-from)/samples)
}

// reader returns what gives the colour of a point, 0 to 255, on white.
func reader(img image.Image) func(x, y int) (r, g, b uint32) {
	if m, ok := img.(*image.YCbCr); ok {
		return func(x, y int) (uint32, uint32, uint32) {
			c := m.COffset(x, y)
			r, g, b := color.YCbCrToRGB(m.Y[m.YOffset(x, y)], m.Cb[c], m.Cr[c])
			return uint32(r), uint32(g), uint32(b)
		}
	}
	at := func(x, y int) color.RGBA64 { return color.RGBA64Model.Convert(img.At(x, y)).(color.RGBA64) }
	if m, ok := img.(image.RGBA64Image); ok {
		at = m.RGBA64At
	}
	return func(x, y int) (uint32, uint32, uint32) {
		c := at(x, y)
		white := 0xffff - uint32(c.A)
		return (uint32(c.R) + white) >> 8, (uint32(c.G) + white) >> 8, (uint32(c.B) + white) >> 8
	}
}

// turned turns a picture the way up that the tag Orientation says: 1 as it
// lies, 2 to 8 mirrored or turned.
func turned(m *image.RGBA, way int) *image.RGBA {
	if way < 2 || way > 8 {
		return m
	}
	w, h := m.Bounds().Dx(), m.Bounds().Dy()
	ow, oh := w, h
	if way >= 5 {
		ow, oh = h, w
	}
	out := image.NewRGBA(image.Rect(0, 0, ow, oh))
	for y := range h {
		for x := range w {
			u, v := x, y
			switch way {
			case 2:
				u = w - 1 - x
			case 3:
				u, v = w-1-x, h-1-y
			case 4:
				v = h - 1 - y
			case 5:
				u, v = y, x
			case 6:
				u, v = h-1-y, x
			case 7:
				u, v = h-1-y, w-1-x
			case 8:
				u, v = y, w-1-x
			}
			out.SetRGBA(u, v, m.RGBAAt(x, y))
		}
	}
	return out
}
