package reporttest

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"

	"waywright/report"
)

// Photographed is the record of [Tailstock] with photographs, a scan, a file
// that is missing, and remarks under headings of their own. The function gives
// the files that are there.
func Photographed() (report.Record, func(sha256 string) []byte) {
	r := Tailstock()
	files := map[string][]byte{}
	keep := func(name, typ string, b []byte) report.File {
		sum := sha256.Sum256(b)
		hash := hex.EncodeToString(sum[:])
		files[hash] = b
		return report.File{Name: name, SHA256: hash, Size: int64(len(b)), Type: typ}
	}
	const anna = "Anna Kowalska"
	photo := keep("dial.jpg", "image/jpeg", drawn(640, 400, true))
	photo.Removed = []string{"the place (GPS)", "the maker's own data"}
	photo.Original = &report.WasFile{SHA256: procedureHash, Size: 2345678}
	tall := keep("set-up.png", "image/png", drawn(200, 500, false))
	tall.Place = true
	first := ""
	if len(r.Readings) > 0 {
		first = r.Readings[0].ID
	}
	r.Evidence = []report.Evidence{
		{No: 1, Caption: "Indicator at B, dial at zero", Where: "Collar at the tailstock end", Name: "tailstock_end", Reading: first, Tests: []int{1}, File: photo, At: stamp(11, "03T08:20:00", anna)},
		{No: 2, Caption: "The set-up, seen from the operator's side", Where: "Done", Name: "mount", File: tall, At: stamp(12, "03T08:21:00", anna)},
		{No: 3, Caption: "Certificate of the bar", Name: "mount", File: keep("certificate.pdf", "application/pdf", []byte("%PDF-1.4\n%%EOF\n")), At: stamp(13, "03T08:22:00", anna)},
		{No: 4, Where: "Photograph of the cut", Name: "cut", Answer: true, Stale: true,
			File: report.File{Name: "cut.jpg", SHA256: sharedHash, Size: 999, Type: "image/jpeg"}, At: stamp(14, "03T08:23:00", anna)},
	}
	r.Notes = append(r.Notes,
		report.Note{Where: "Done", Text: "half-nut renewed, bronze, made here", About: report.AboutPart, At: stamp(15, "03T08:24:00", anna)},
		report.Note{Where: "Done", Text: "bed 0.01 mm high in the middle, for the wear to come", About: report.AboutCompensation, At: stamp(16, "03T08:25:00", anna)},
		report.Note{Where: "Done", Text: "bed ground outside, sheet 77", About: report.AboutOthers, File: &r.Evidence[2].File, At: stamp(13, "03T08:22:00", anna)},
		report.Note{Where: "Done", Text: "March 2027, this test", About: report.AboutAgain, At: stamp(17, "03T08:26:00", anna)})
	return r, func(hash string) []byte { return files[hash] }
}

// drawn is a dial with its needle, as points.
func drawn(w, h int, asJPEG bool) []byte {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	cx, cy, radius := w/2, h/2, min(w, h)*2/5
	for y := range h {
		for x := range w {
			dx, dy := x-cx, y-cy
			d := dx*dx + dy*dy
			c := color.RGBA{uint8(150 + 60*y/h), 170, 160, 255}
			switch {
			case d < radius*radius && dx*2 > -dy-6 && dx*2 < -dy+6 && dy < 0:
				c = color.RGBA{170, 20, 20, 255}
			case d < radius*radius*9/10:
				c = color.RGBA{245, 245, 240, 255}
			case d < radius*radius:
				c = color.RGBA{40, 40, 45, 255}
			}
			m.SetRGBA(x, y, c)
		}
	}
	var b bytes.Buffer
	var err error
	if asJPEG {
		err = jpeg.Encode(&b, m, nil)
	} else {
		err = png.Encode(&b, m)
	}
	if err != nil {
		panic("reporttest: " + err.Error())
	}
	return b.Bytes()
}
