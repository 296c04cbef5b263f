package pdf_test

import (
	"bytes"
	"compress/zlib"
	"encoding/hex"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode"
	"unicode/utf16"

	"waywright/report/document"
)

// file is a PDF file as far as these tests read one.
type file struct {
	b       []byte
	at      map[int]int // places of the objects
	trailer string      // the newest
	root    int
}

var (
	startAt   = regexp.MustCompile(`startxref\s+(\d+)\s+%%EOF\s*$`)
	trailerAt = regexp.MustCompile(`(?s)trailer\s*<<(.*?)>>\s*startxref`)
	reference = regexp.MustCompile(`(\d+) 0 R\b`)
	textAt    = regexp.MustCompile(`BT ([0-9.-]+) ([0-9.-]+) Td`)
)

// open reads the tables of references, the newest first, and holds each entry
// against the object that it leads to.
func open(t testing.TB, b []byte) *file {
	t.Helper()
	m := startAt.FindSubmatch(b)
	if m == nil {
		t.Fatal("the file has no end")
	}
	f := &file{b: b, at: map[int]int{}}
	for next, newest := string(m[1]), true; next != ""; newest = false {
		start := number(t, next)
		if start >= len(b) || !bytes.HasPrefix(b[start:], []byte("xref\n")) {
			t.Fatalf("no table of references at %d", start)
		}
		f.table(t, string(b[start+5:]))
		tr := trailerAt.FindSubmatch(b[start:])
		if tr == nil {
			t.Fatal("a table without a trailer")
		}
		if newest {
			f.trailer = string(tr[1])
			f.root = number(t, entry(t, f.trailer, `/Root (\d+) 0 R`))
		}
		next = ""
		if prev := regexp.MustCompile(`/Prev (\d+)`).FindSubmatch(tr[1]); prev != nil {
			next = string(prev[1])
		}
	}
	if size := number(t, entry(t, f.trailer, `/Size (\d+)`)); size != len(f.at)+1 {
		t.Errorf("the trailer counts %d objects, there are %d", size-1, len(f.at))
	}
	for n, at := range f.at {
		if !bytes.HasPrefix(b[at:], fmt.Appendf(nil, "%d 0 obj", n)) {
			t.Errorf("object %d is not where the table says", n)
		}
	}
	return f
}

func (f *file) table(t testing.TB, s string) {
	t.Helper()
	for {
		head, rest, _ := strings.Cut(s, "\n")
		var first, n int
		if _, err := fmt.Sscanf(head, "%d %d", &first, &n); err != nil {
			return
		}
		for i := range n {
			line := rest[20*i : 20*i+20]
			if old := f.at[first+i]; line[17] == 'n' && old == 0 {
				f.at[first+i] = number(t, strings.TrimLeft(line[:9], "0")+line[9:10])
			}
		}
		s = rest[20*n:]
	}
}

func entry(t testing.TB, s, pattern string) string {
	t.Helper()
	m := regexp.MustCompile(pattern).FindStringSubmatch(s)
	if m == nil {
		t.Fatalf("no %s in %.200s", pattern, s)
	}
	return m[1]
}

func number(t testing.TB, s string) int {
	t.Helper()
	n, err := strconv.Atoi(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func decimal(t testing.TB, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// object is the text of an object, up to the data of a stream.
func (f *file) object(t testing.TB, n int) string {
	t.Helper()
	at, ok := f.at[n]
	if !ok {
		t.Fatalf("there is no object %d", n)
	}
	s := f.b[at:]
	end := bytes.Index(s, []byte("endobj"))
	if data := bytes.Index(s, []byte("stream\n")); data >= 0 && data < end {
		end = data
	}
	return string(s[:end])
}

// stripped is an object without its texts, in which anything may stand.
func stripped(s string) string {
	return regexp.MustCompile(`(?s)\((?:\\.|[^\\()])*\)|<[0-9a-fA-F]*>`).ReplaceAllString(s, "()")
}

// stream returns the entries of a stream, and what it holds.
func (f *file) stream(t testing.TB, n int) (entries string, data []byte) {
	t.Helper()
	entries = f.object(t, n)
	size := number(t, entry(t, entries, `/Length (\d+)`))
	from := f.at[n] + len(entries) + len("stream\n")
	data = f.b[from : from+size]
	if !bytes.HasPrefix(bytes.TrimLeft(f.b[from+size:], "\n"), []byte("endstream")) {
		t.Errorf("stream %d is not as long as it says", n)
	}
	if !strings.Contains(entries, "/FlateDecode") {
		return entries, data
	}
	z, err := zlib.NewReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	if data, err = io.ReadAll(z); err != nil {
		t.Fatal(err)
	}
	return entries, data
}

// sheetRead is a page as it was read.
type sheetRead struct {
	size    string // width and height
	content string
	texts   []string
	edge    int // how many of the texts stand at head and foot
}

func (s sheetRead) lying() bool { return s.wide() > s.high() }

func (s sheetRead) wide() float64 {
	x, _ := strconv.ParseFloat(strings.Fields(s.size)[0], 64)
	return x
}

func (s sheetRead) high() float64 {
	x, _ := strconv.ParseFloat(strings.Fields(s.size)[1], 64)
	return x
}

// body are the texts between head and foot, which are painted first.
func (s sheetRead) body() []string { return s.texts[s.edge:] }

func (f *file) sheets(t testing.TB) []sheetRead {
	t.Helper()
	pages := f.object(t, number(t, entry(t, f.object(t, f.root), `/Pages (\d+) 0 R`)))
	kids := entry(t, pages, `/Kids \[([^\]]*)\]`)
	whole := entry(t, pages, `/MediaBox \[0 0 ([0-9. ]+)\]`)
	var out []sheetRead
	for _, m := range reference.FindAllStringSubmatch(kids, -1) {
		page := f.object(t, number(t, m[1]))
		s := sheetRead{size: whole}
		if box := regexp.MustCompile(`/MediaBox \[0 0 ([0-9. ]+)\]`).FindStringSubmatch(page); box != nil {
			s.size = box[1]
		}
		_, data := f.stream(t, number(t, entry(t, page, `/Contents (\d+) 0 R`)))
		s.content = string(data)
		for _, at := range texted(s.content) {
			s.texts = append(s.texts, at)
			if strings.HasPrefix(at, "digest ") && s.edge == 0 {
				s.edge = len(s.texts)
			}
		}
		if s.edge < len(s.texts) && s.texts[s.edge] == "DRAFT" {
			s.edge++
		}
		out = append(out, s)
	}
	return out
}

// texted returns the texts that a page shows: strings of UTF-16.
func texted(content string) []string {
	var out []string
	for {
		i := strings.Index(content, " Td (")
		if i < 0 {
			return out
		}
		content = content[i+len(" Td ("):]
		var raw []byte
		j := 0
		for ; content[j] != ')'; j++ {
			if content[j] == '\\' {
				j++
				if content[j] == 'r' {
					raw = append(raw, '\r')
					continue
				}
			}
			raw = append(raw, content[j])
		}
		out = append(out, wide(raw))
		content = content[j:]
	}
}

func wide(raw []byte) string {
	var u []uint16
	for k := 0; k+1 < len(raw); k += 2 {
		u = append(u, uint16(raw[k])<<8|uint16(raw[k+1]))
	}
	return string(utf16.Decode(u))
}

// outline returns the titles of the outline, in order.
func (f *file) outline(t testing.TB) []string {
	t.Helper()
	var out []string
	var walk func(n, parent int)
	walk = func(n, parent int) {
		for n != 0 {
			o := f.object(t, n)
			if got := number(t, entry(t, o, `/Parent (\d+) 0 R`)); got != parent {
				t.Errorf("entry %d of the outline stands under %d, not %d", n, got, parent)
			}
			title, err := hex.DecodeString(entry(t, o, `/Title <feff([0-9a-f]*)>`))
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, wide(title))
			page := f.object(t, number(t, entry(t, o, `/Dest \[(\d+) 0 R`)))
			if !strings.Contains(page, "/Type /Page") {
				t.Errorf("%q leads to %s", wide(title), page)
			}
			if m := regexp.MustCompile(`/First (\d+) 0 R`).FindStringSubmatch(o); m != nil {
				walk(number(t, m[1]), n)
			}
			m := regexp.MustCompile(`/Next (\d+) 0 R`).FindStringSubmatch(o)
			n = 0
			if m != nil {
				n = number(t, m[1])
			}
		}
	}
	root := number(t, entry(t, f.object(t, f.root), `/Outlines (\d+) 0 R`))
	walk(number(t, entry(t, f.object(t, root), `/First (\d+) 0 R`)), root)
	return out
}

// squeezed is a text without blanks, which a broken line does not keep.
func squeezed(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return -1
		}
		return r
	}, s)
}

// texts returns the texts of a document in its order. Of the test sheet those
// are left out that name a test, where sheets name its page.
func texts(d document.Document) []string {
	out := []string{d.Title}
	var blocks func(bs []document.Block)
	line := func(l document.Line) { out = append(out, l.String()) }
	table := func(x document.Table) {
		out = append(out, x.Caption)
		for _, r := range x.Rows {
			out = append(out, r.Group)
			for i, c := range r.Cells {
				if x.Kind == document.Sheet && i == len(r.Cells)-1 {
					continue
				}
				out = append(append(out, c.Text), c.Notes...)
			}
		}
	}
	blocks = func(bs []document.Block) {
		for _, b := range bs {
			switch b := b.(type) {
			case document.Paragraph:
				line(b.Line)
			case document.Heading:
				out = append(out, b.Text)
			case document.Facts:
				for _, f := range b.Rows {
					out = append(out, f.Name)
					for _, l := range f.Lines {
						line(l)
					}
				}
			case document.List:
				for _, x := range b.Items {
					line(x.Line)
					for _, l := range x.Under {
						line(l)
					}
					blocks(x.Blocks)
				}
			case document.Table:
				table(b)
			case document.Figure:
				out = append(out, b.Caption)
				if b.Numbers != nil {
					table(*b.Numbers)
				}
			case document.Photo:
				blocks([]document.Block{b.Facts})
			case document.Command:
				out = append(out, b.Lines...)
			case document.Test:
				out = append(out, b.Title)
				blocks(b.Blocks)
			case document.Ink:
				out = append(out, b.Text)
			}
		}
	}
	blocks(d.Head)
	for _, p := range d.Parts {
		out = append(out, p.Title)
		blocks(p.Blocks)
	}
	return append(out, d.End)
}
