package document

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"

	"waywright/report"
	"waywright/report/evidence"
)

// longest is how many points the longer side of a small picture has: on paper
// some six to an inch of a hand's breadth, enough to read a dial.
const longest = 480

// photos are the photographs and scans, each with what belongs to it. files
// gives their bytes, to several at once; it may be nil.
func photos(r report.Record, files func(sha256 string) []byte) []Block {
	out := make([]Block, len(r.Evidence))
	var wg sync.WaitGroup
	room := make(chan struct{}, runtime.GOMAXPROCS(0)) // a photograph takes a fifth of a second, and its points room
	for i, e := range r.Evidence {
		room <- struct{}{}
		wg.Go(func() {
			defer func() { <-room }()
			p := Photo{ID: photoID(e), Name: photoName(e)}
			why := ""
			if p.Image, why = imageOf(e, files); p.Image != nil {
				p.Image.Says = sentence(p.Name + ": " + photoSaid(e))
			}
			p.Facts = photoFacts(r, e, why)
			out[i] = p
		})
	}
	wg.Wait()
	return out
}

func photoID(e report.Evidence) string { return fmt.Sprintf("photo-%d", e.No) }

// photoName is by what the record calls a file: Photo 7, File 8.
func photoName(e report.Evidence) string {
	if e.File.Type == evidence.PDF {
		return fmt.Sprintf("Scan %d", e.No)
	}
	return fmt.Sprintf("Photo %d", e.No)
}

// photoSaid is what a file shows, as far as somebody said.
func photoSaid(e report.Evidence) string {
	switch {
	case e.Caption != "":
		return e.Caption
	case e.Where != "":
		return e.Where
	}
	return e.File.Name
}

// imageOf makes the small picture of a file, or says why there is none.
func imageOf(e report.Evidence, files func(sha256 string) []byte) (*Image, string) {
	if files == nil {
		return nil, "the files of the run are not at hand here"
	}
	b := files(e.File.SHA256)
	if sum := sha256.Sum256(b); b == nil || hex.EncodeToString(sum[:]) != e.File.SHA256 {
		return nil, "the file is not there, or is another one: its hash does not agree"
	}
	s, err := evidence.Draw(b, longest)
	if err != nil {
		return nil, err.Error() + "; the file itself is beside the record"
	}
	return &Image{JPEG: s.JPEG, Width: s.Width, Height: s.Height}, ""
}

func photoFacts(r report.Record, e report.Evidence, why string) Facts {
	var out Facts
	add := func(name string, texts ...string) {
		if texts = present(texts); len(texts) > 0 {
			out.Rows = append(out.Rows, Fact{name, lines(texts...)})
		}
	}
	out.Rows = append(out.Rows, Fact{photoName(e), []Line{{{Text: upper(photoSaid(e)), Strong: true}}}})
	add("Not shown", why)
	stale := ""
	if e.Stale {
		stale = "This was taken again later."
	}
	if e.Answer || e.Caption != "" {
		add(map[bool]string{true: "Answers", false: "Beside"}[e.Answer], e.Where, stale)
	}
	var tests Line
	for _, t := range r.Tests {
		if slices.Contains(e.Tests, t.No) {
			if len(tests) > 0 {
				tests = append(tests, Run{Text: "; "})
			}
			tests = append(tests, Run{Text: fmt.Sprintf("%d, %s", t.No, t.Title), Ref: testID(t)})
		}
	}
	if len(tests) > 0 {
		out.Rows = append(out.Rows, Fact{"Tests", []Line{tests}})
	}
	add("Kept", stampText(e.At))
	add("File", strings.TrimPrefix(strings.Join([]string{e.File.Name, evidence.Short(e.File.Type), bytesSaid(e.File.Size)}, ", "), ", "),
		"its SHA-256 begins "+firstEight(e.File.SHA256), placeSaid(e.File))
	if o := e.File.Original; o != nil {
		add("Taken out", strings.Join(e.File.Removed, ", "),
			fmt.Sprintf("before it was kept; the picture is unchanged. The file as it was had %s, and its SHA-256 began %s.", bytesSaid(o.Size), firstEight(o.SHA256)))
	}
	return out
}

func placeSaid(f report.File) string {
	if f.Place {
		return "it says where it was taken"
	}
	return ""
}

// bytesSaid is a size as people say it.
func bytesSaid(n int64) string {
	switch {
	case n >= 1e6:
		return fmt.Sprintf("%.1f\u00a0MB", float64(n)/1e6)
	case n >= 1e3:
		return fmt.Sprintf("%.0f\u00a0kB", float64(n)/1e3)
	}
	return fmt.Sprintf("%d\u00a0bytes", n)
}

// photosOf name the photographs of a test.
func photosOf(r report.Record, t report.Test) []Fact {
	var out []Fact
	for _, e := range r.Evidence {
		if slices.Contains(e.Tests, t.No) {
			out = append(out, Fact{photoName(e), []Line{{{Text: photoSaid(e), Ref: photoID(e)}}}})
		}
	}
	return out
}

// about is the remarks under one heading.
func about(r report.Record, caption, what string) Table {
	t := newTable(caption, Cards, "What", "Beside", "File", "When")
	for _, n := range r.Notes {
		if n.About != what {
			continue
		}
		file := Cell{}
		for _, e := range r.Evidence {
			if n.File != nil && e.At.Entry == n.At.Entry {
				file = Cell{Text: photoName(e), Ref: photoID(e)}
			}
		}
		t.add(words(upper(n.Text)), words(n.Where), file, Cell{Text: stampText(n.At)})
	}
	return t
}

func metalTitle(r report.Record) string {
	if slices.ContainsFunc(r.Notes, func(n report.Note) bool { return n.About == report.AboutPart }) {
		return "Parts, metal and shims"
	}
	return "Metal and shims"
}
