package pdf

import (
	"bytes"
	"compress/zlib"
	"crypto/md5" //nolint:gosec // the format names it; nothing rests on it
	"encoding/hex"
	"encoding/xml"
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
	"unicode/utf16"

	"waywright/report/document"
)

// finish adds to a file, as one incremental update, what is not written well
// by what made it: the outline with a place on each sheet, the attachment with
// what it is to the record, metadata, version and identifier (ISO 32000-1:2008,
// 7.5.6 on updates, 7.11 on files; read in the pages of its making).
func finish(b []byte, d document.Document, l *layout) ([]byte, error) {
	u, err := newUpdate(b)
	if err != nil {
		return nil, err
	}
	at := stampOf(d.Time)
	if d.Program == "" {
		d.Program = "waywright"
	}
	u.object(u.info, "<< /Title "+textString(titleOf(d))+" /Author "+textString(strings.Join(d.Authors, ", "))+
		" /Subject "+textString(d.Subject)+" /Producer "+textString(d.Program)+
		" /CreationDate "+pdfDate(at)+" /ModDate "+pdfDate(at)+" >>")
	if err := u.photographs(b, l); err != nil {
		return nil, err
	}
	attached := ""
	if d.JSON != nil {
		file := u.attachment(d)
		attached = fmt.Sprintf(" /AF [%d 0 R] /Names << /EmbeddedFiles << /Names [%s %[1]d 0 R] >> >>", file, textString(attachedName))
	}
	meta := u.stream("/Type /Metadata /Subtype /XML", xmp(d, at), false)
	outline := u.outline(l)
	u.object(u.root, fmt.Sprintf("<< /Type /Catalog /Version /1.7 /Pages 1 0 R /Lang (%s) /Outlines %d 0 R /PageMode /UseOutlines"+
		" /ViewerPreferences << /DisplayDocTitle true >> /Metadata %d 0 R%s >>", d.Language, outline, meta, attached))
	return u.end(d.Digest), nil
}

// titleOf is the title that readers of the file show.
func titleOf(d document.Document) string {
	if d.Number == "" {
		return d.Title + ": " + d.Subject
	}
	return d.Title + " " + d.Number
}

const attachedName = "record.json"

// update is an incremental update of a file.
type update struct {
	b          bytes.Buffer
	start      int // of the table of references that was there
	size       int // number of objects
	root, info int
	at         map[int]int // places of the objects that are written
	order      []int
}

// version begins the file: attachments that say what they are to it came with
// this one. What fpdf writes there is as long.
const version = "%PDF-1.7"

var trailerOf = regexp.MustCompile(`/Size (\d+)\s+/Root (\d+) 0 R\s+/Info (\d+) 0 R\s+>>\s+startxref\s+(\d+)\s+%%EOF\s*$`)

func newUpdate(b []byte) (*update, error) {
	m := trailerOf.FindSubmatch(b[max(0, len(b)-400):])
	if m == nil || !bytes.HasPrefix(b, []byte("%PDF-1.")) {
		return nil, errors.New("pdf: the file is not as it should be")
	}
	u := &update{at: map[int]int{}}
	for i, to := range []*int{&u.size, &u.root, &u.info, &u.start} {
		n, err := strconv.Atoi(string(m[i+1]))
		if err != nil {
			return nil, fmt.Errorf("pdf: %w", err)
		}
		*to = n
	}
	u.b.WriteString(version)
	u.b.Write(b[len(version):])
	return u, nil
}

// next is the number of a new object.
func (u *update) next() int {
	u.size++
	return u.size - 1
}

func (u *update) object(n int, body string) {
	u.at[n] = u.b.Len()
	u.order = append(u.order, n)
	fmt.Fprintf(&u.b, "%d 0 obj\n%s\nendobj\n", n, body)
}

func (u *update) stream(entries string, data []byte, packed bool) int {
	if packed {
		var z bytes.Buffer
		w := zlib.NewWriter(&z)
		w.Write(data) //nolint:errcheck // into memory
		w.Close()     //nolint:errcheck
		data, entries = z.Bytes(), entries+" /Filter /FlateDecode"
	}
	n := u.next()
	u.object(n, fmt.Sprintf("<< %s /Length %d >>\nstream\n%s\nendstream", entries, len(data), data))
	return n
}

func (u *update) attachment(d document.Document) int {
	sum := md5.Sum(d.JSON) //nolint:gosec
	date := pdfDate(stampOf(d.Time))
	data := u.stream(fmt.Sprintf("/Type /EmbeddedFile /Subtype /application#2Fjson /Params << /Size %d /CheckSum <%x> /CreationDate %s /ModDate %s >>",
		len(d.JSON), sum, date, date), d.JSON, true)
	n := u.next()
	u.object(n, fmt.Sprintf("<< /Type /Filespec /F %s /UF %s /EF << /F %d 0 R /UF %d 0 R >> /AFRelationship /Source /Desc %s >>",
		textString(attachedName), textString(attachedName), data, data, textString("The record from which these sheets were made")))
	return n
}

// outline writes the entries that readers show beside the sheets: the parts,
// and in them the tests.
func (u *update) outline(l *layout) int {
	root := u.next()
	nums := make([]int, len(l.marks))
	for i := range l.marks {
		nums[i] = u.next()
	}
	dicts := make([]string, len(l.marks))
	var children func(from, to, level, parent int) string
	children = func(from, to, level, parent int) string {
		var here []int
		for i := from; i < to; i++ {
			if l.marks[i].level == level {
				here = append(here, i)
			}
		}
		if len(here) == 0 {
			return ""
		}
		for k, i := range here {
			end := to
			s := fmt.Sprintf("/Parent %d 0 R", parent)
			if k > 0 {
				s += fmt.Sprintf(" /Prev %d 0 R", nums[here[k-1]])
			}
			if k+1 < len(here) {
				end = here[k+1]
				s += fmt.Sprintf(" /Next %d 0 R", nums[end])
			}
			m := l.marks[i]
			sheet := l.sheets[m.page-1]
			s += fmt.Sprintf(" /Title %s /Dest [%d 0 R /XYZ 0 %.2f null]", textString(m.title), pageObject(m.page), sheet.h-m.y+4)
			dicts[i] = s + children(i+1, end, level+1, nums[i])
		}
		count := len(here)
		if level > 0 {
			count = -count // closed at first
		}
		return fmt.Sprintf(" /First %d 0 R /Last %d 0 R /Count %d", nums[here[0]], nums[here[len(here)-1]], count)
	}
	top := children(0, len(l.marks), 0, root)
	u.object(root, "<< /Type /Outlines"+top+" >>")
	for i, s := range dicts {
		u.object(nums[i], "<< "+s+" >>")
	}
	return root
}

// pageObject is the number of the object of a page, as fpdf gives them out:
// each page has two, from 3 on.
func pageObject(page int) int { return 1 + 2*page }

// end writes the table of what was added. The identifier is of the record.
func (u *update) end(digest string) []byte {
	start := u.b.Len()
	u.b.WriteString("xref\n")
	for _, n := range u.order {
		fmt.Fprintf(&u.b, "%d 1\n%010d 00000 n \n", n, u.at[n])
	}
	id := digest[:min(32, len(digest))]
	fmt.Fprintf(&u.b, "trailer\n<< /Size %d /Root %d 0 R /Info %d 0 R /Prev %d /ID [<%s> <%s>] >>\nstartxref\n%d\n%%%%EOF\n",
		u.size, u.root, u.info, u.start, id, id, start)
	return u.b.Bytes()
}

// textString is a text as a string of the file, in UTF-16.
func textString(s string) string {
	b := []byte{0xFE, 0xFF}
	for _, x := range utf16.Encode([]rune(s)) {
		b = append(b, byte(x>>8), byte(x))
	}
	return "<" + hex.EncodeToString(b) + ">"
}

func pdfDate(t time.Time) string { return "(D:" + t.Format("20060102150405") + "+00'00')" }

// stampOf is the time of a record. One that has none has the beginning of time
// here: nothing in a form comes from a clock.
func stampOf(s string) time.Time {
	t, err := time.Parse(time.RFC3339, s)
	if err != nil || t.Year() < 1 || t.Year() > 9999 {
		return time.Unix(0, 0).UTC()
	}
	return t.UTC()
}

// xmp is the metadata in the form that archives read (ISO 16684-1:2019, from
// memory).
func xmp(d document.Document, at time.Time) []byte {
	var b strings.Builder
	esc := func(s string) string {
		var e strings.Builder
		_ = xml.EscapeText(&e, []byte(s)) // into memory
		return e.String()
	}
	b.WriteString("<?xpacket begin=\"\ufeff\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n" +
		`<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">` + "\n" +
		`<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/">` + "\n")
	fmt.Fprintf(&b, "<dc:format>application/pdf</dc:format>\n<dc:identifier>%s</dc:identifier>\n", esc(d.Number))
	fmt.Fprintf(&b, "<dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">%s</rdf:li></rdf:Alt></dc:title>\n", esc(titleOf(d)))
	fmt.Fprintf(&b, "<dc:description><rdf:Alt><rdf:li xml:lang=\"x-default\">%s</rdf:li></rdf:Alt></dc:description>\n", esc(d.Subject))
	fmt.Fprintf(&b, "<dc:language><rdf:Bag><rdf:li>%s</rdf:li></rdf:Bag></dc:language>\n<dc:creator><rdf:Seq>", esc(d.Language))
	for _, a := range d.Authors {
		fmt.Fprintf(&b, "<rdf:li>%s</rdf:li>", esc(a))
	}
	date := at.Format(time.RFC3339)
	fmt.Fprintf(&b, "</rdf:Seq></dc:creator>\n<xmp:CreateDate>%s</xmp:CreateDate>\n<xmp:ModifyDate>%s</xmp:ModifyDate>\n<pdf:Producer>%s</pdf:Producer>\n",
		date, date, esc(d.Program))
	b.WriteString("</rdf:Description></rdf:RDF></x:xmpmeta>\n<?xpacket end=\"r\"?>")
	return []byte(b.String())
}
