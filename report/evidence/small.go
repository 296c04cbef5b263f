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
	samples = 4  // as many points across are averaged into one
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
	mean := meanOf(img)
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		y0, y1, dy := stretch(y, h, r.Dy())
		for x := range w {
			x0, x1, dx := stretch(x, w, r.Dx())
			c := mean(patch{r.Min.X + x0, r.Min.X + x1, dx, r.Min.Y + y0, r.Min.Y + y1, dy})
			out.SetRGBA(x, y, c)
		}
	}
	return out
}

// patch is the points that one stands for.
type patch struct{ x0, x1, dx, y0, y1, dy int }

// stretch is from where to where, and in which steps, the points lie that the
// i-th of n stands for, of all there are.
func stretch(i, n, all int) (from, to, step int) {
	from, to = i*all/n, (i+1)*all/n
	to = max(to, from+1)
	return from, to, max(1, (to-from)/samples)
}

// meanOf returns what gives the mean colour of a patch, on white.
func meanOf(img image.Image) func(patch) color.RGBA {
	if m, ok := img.(*image.YCbCr); ok {
		return func(f patch) color.RGBA { return meanYCbCr(m, f) }
	}
	at := func(x, y int) color.RGBA64 { return color.RGBA64Model.Convert(img.At(x, y)).(color.RGBA64) }
	if m, ok := img.(image.RGBA64Image); ok {
		at = m.RGBA64At
	}
	return func(f patch) color.RGBA {
		var r, g, b, n uint32
		for y := f.y0; y < f.y1; y += f.dy {
			for x := f.x0; x < f.x1; x += f.dx {
				c := at(x, y)
				white := 0xffff - uint32(c.A)
				r, g, b, n = r+(uint32(c.R)+white)>>8, g+(uint32(c.G)+white)>>8, b+(uint32(c.B)+white)>>8, n+1
			}
		}
		return color.RGBA{uint8(r / n), uint8(g / n), uint8(b / n), 255}
	}
}

// meanYCbCr is the mean of the colours of a photograph as they lie in it, which
// are turned into red, green and blue once.
func meanYCbCr(m *image.YCbCr, f patch) color.RGBA {
	var l, cb, cr, n uint32
	for y := f.y0; y < f.y1; y += f.dy {
		for x := f.x0; x < f.x1; x += f.dx {
			c := m.COffset(x, y)
			l, cb, cr, n = l+uint32(m.Y[m.YOffset(x, y)]), cb+uint32(m.Cb[c]), cr+uint32(m.Cr[c]), n+1
		}
	}
	r, g, b := color.YCbCrToRGB(uint8(l/n), uint8(cb/n), uint8(cr/n))
	return color.RGBA{r, g, b, 255}
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
