package hclfile_test

import (
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
)

const testdata = "../../testdata/procedures"

// show prints diagnostics as a person would see them.
func show(l hclfile.Loaded, ds diagnose.List) string {
	var b strings.Builder
	if err := diagnose.WriteText(&b, ds, l.Text); err != nil {
		return err.Error()
	}
	return b.String()
}

const head = `procedure "p" {
  title    = "P"
  machine  = "any"
  revision = "1"
  purpose  = "Show."
}
`

// source makes a file system of one procedure; what is given stands below a
// head that is right.
func procedure(body string) hclfile.Source {
	return hclfile.Source{FS: fstest.MapFS{"p.hcl": {Data: []byte(head + body)}}, Path: "p.hcl"}
}

func TestParseRefusesWhatIsNoProcedure(t *testing.T) {
	dir := fstest.MapFS{
		"folder/x.hcl": {Data: []byte(head)},
		"binary.hcl":   {Data: []byte{0x7f, 'E', 'L', 'F', 0, 1, 0xff, 0xfe}},
		"nul.hcl":      {Data: []byte("procedure \"p\" {\x00}\n")},
		"latin1.hcl":   {Data: []byte("procedure \"p\" {\n title = \"caf\xe9\"\n}\n")},
		"large.hcl":    {Data: []byte(strings.Repeat("# a comment\n", 1<<17))},
		"bell.hcl":     {Data: []byte(head + "# ring\x07\n")},
		"turned.hcl":   {Data: []byte(head + "# \u202egnihton\n")},
		"empty.hcl":    {Data: nil},
		"words.hcl":    {Data: []byte("Dear all,\nplease find attached\n")},
	}
	for _, tt := range []struct {
		path, code, want string
		line             int
	}{
		{"missing.hcl", "E001", "There is no file missing.hcl. Look for a slip in its name, or in the folder.", 1},
		{"folder", "E001", "folder is a folder. Name a file in it that ends in .hcl.", 1},
		{"../p.hcl", "E001", "../p.hcl is no path inside the folder of procedures. Write it with / and without .. in it.", 1},
		{"binary.hcl", "E003", "binary.hcl is not UTF-8: byte 6 is 0xff. Save it as UTF-8, or look whether it is the file that you mean.", 1},
		{"nul.hcl", "E003", "nul.hcl has a NUL at byte 15, so it is no text. Look whether it is the file that you mean.", 1},
		{"latin1.hcl", "E003", "latin1.hcl is not UTF-8: byte 29 is 0xe9. Save it as UTF-8, or look whether it is the file that you mean.", 2},
		{"large.hcl", "E002", "large.hcl is larger than 1 MiB, which no procedure is. Look whether it is the file that you mean.", 1},
		{"bell.hcl", "E005", "The character U+0007 is not seen on a screen, and can hide what a line says. Take it out.", 7},
		{"turned.hcl", "E005", "The character U+202E is not seen on a screen, and can hide what a line says. Take it out.", 7},
		{"empty.hcl", "E104", "A procedure file needs a procedure block: What the procedure is for. Its label is its name, and the name of its file. Write procedure \"name\" { … }.", 1},
		{"words.hcl", "E102", "A Dear block has no place in the outermost level of a procedure file. It may have: procedure, given, instrument, step, correction, signoff, rehearsal, caution, table.", 1},
	} {
		t.Run(tt.path, func(t *testing.T) {
			_, ds := hclfile.Parse(hclfile.Source{FS: dir, Path: tt.path})
			if len(ds) == 0 {
				t.Fatal("nothing was said")
			}
			d := ds[0]
			if d.Code != tt.code || d.Detail != tt.want || d.Subject.Start.Line != tt.line {
				t.Errorf("%s, line %d: %s\nwant %s, line %d: %s", d.Code, d.Subject.Start.Line, d.Detail, tt.code, tt.line, tt.want)
			}
		})
	}
}

// Editors of other systems leave a byte order mark and carriage returns.
func TestParseTakesOtherSystemsFiles(t *testing.T) {
	body := "\ufeff" + strings.ReplaceAll(head+"\ngiven \"x\" {\n  ask = \"X\"\n  unit = \"mm\"\n range = [mm(1), deg(2)]\n}\n", "\n", "\r\n")
	l, ds := hclfile.Parse(hclfile.Source{FS: fstest.MapFS{"p.hcl": {Data: []byte(body)}}, Path: "p.hcl"})
	if len(ds) != 1 || ds[0].Subject.Start.Line != 11 {
		t.Fatalf("want one mistake in line 11, have\n%s", show(l, ds))
	}
	if got := string(l.Text("p.hcl")[ds[0].Subject.Start.Byte:ds[0].Subject.End.Byte]); got != "deg(2)" {
		t.Errorf("the mistake is at %q, want at deg(2)", got)
	}
}

// endless is a file without an end that counts what is read of it.
type endless struct{ read int }

func (e *endless) Open(string) (fs.File, error) { return e, nil }
func (e *endless) Stat() (fs.FileInfo, error)   { return info{}, nil }
func (e *endless) Close() error                 { return nil }
func (e *endless) Read(p []byte) (int, error) {
	if e.read > 100<<20 {
		return 0, io.EOF
	}
	e.read += len(p)
	for i := range p {
		p[i] = 'x'
	}
	return len(p), nil
}

type info struct{}

func (info) Name() string       { return "p.hcl" }
func (info) Size() int64        { return 100 << 20 }
func (info) Mode() fs.FileMode  { return 0 }
func (info) ModTime() time.Time { return time.Time{} }
func (info) IsDir() bool        { return false }
func (info) Sys() any           { return nil }

// Of a file of 100 MB no more is read than the bound.
func TestParseReadsNoMoreThanTheBound(t *testing.T) {
	e := &endless{}
	_, ds := hclfile.Parse(hclfile.Source{FS: e, Path: "p.hcl"})
	if len(ds) != 1 || ds[0].Code != "E002" {
		t.Errorf("have %v, want E002", ds)
	}
	if e.read > 2<<20 {
		t.Errorf("%d bytes were read", e.read)
	}
}

// Whatever is nested deeply, or long, is refused before a parser that calls
// itself sees it, in bounded memory.
func TestParseRefusesDeepNesting(t *testing.T) {
	const n = 10_000
	value := func(e string) string {
		return head + "step \"s\" {\n title = \"S\"\n result \"r\" {\n title = \"R\"\n value = " + e + "\n}\n}\n"
	}
	for name, src := range map[string]string{
		"parentheses":  value(strings.Repeat("(", n) + "1" + strings.Repeat(")", n)),
		"brackets":     value(strings.Repeat("[", n) + "1" + strings.Repeat("]", n)),
		"braces":       value(strings.Repeat("{ a = ", n) + "1" + strings.Repeat("}", n)),
		"blocks":       strings.Repeat("step \"s\" {\n", n) + strings.Repeat("}\n", n),
		"calls":        value(strings.Repeat("abs(", n) + "1" + strings.Repeat(")", n)),
		"templates":    value(strings.Repeat("\"${", n) + "1" + strings.Repeat("}\"", n)),
		"directives":   value("\"" + strings.Repeat("%{if true}", n) + "x" + strings.Repeat("%{endif}", n) + "\""),
		"signs":        value(strings.Repeat("-", n*50) + "1"),
		"nots":         value(strings.Repeat("!", n*50) + "true"),
		"sums":         value("1" + strings.Repeat("+1", n*20)),
		"conditionals": value(strings.Repeat("true ? 1 : ", n*5) + "1"),
		"indexes":      value("given" + strings.Repeat("[given.x]", n*5)),
		"splats":       value("given.x" + strings.Repeat("[*]", n*20)),
		"dots":         value("given" + strings.Repeat(".x", n*20)),
		"for":          value(strings.Repeat("[for x in ", n) + "[1]" + strings.Repeat(" : x]", n)),
		"digits":       value(strings.Repeat("9", n*50)),
		"open":         value(strings.Repeat("(", n*50)),
		"closed":       strings.Repeat("}", n*50),
		"quotes":       strings.Repeat("\"", n*50),
	} {
		t.Run(name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			l, ds := hclfile.Parse(hclfile.Source{FS: fstest.MapFS{"p.hcl": {Data: []byte(src)}}, Path: "p.hcl"})
			runtime.ReadMemStats(&after)
			if !ds.HasErrors() || len(ds) > 70 {
				t.Errorf("%d diagnostics, want between 1 and 70", len(ds))
			}
			if d := ds[0]; len(d.Detail) > 400 {
				t.Errorf("the message has %d characters", len(d.Detail))
			}
			if got := after.TotalAlloc - before.TotalAlloc; got > 150<<20 {
				t.Errorf("%d MB were taken", got>>20)
			}
			_ = show(l, ds)
		})
	}
}

// A file full of mistakes is told the first five hundred.
func TestParseStopsTelling(t *testing.T) {
	var b strings.Builder
	b.WriteString(head)
	b.WriteString("given \"x\" {\n")
	for i := range 20_000 {
		fmt.Fprintf(&b, "  a%d = 1\n", i)
	}
	b.WriteString("}\n")
	_, ds := hclfile.Parse(hclfile.Source{FS: fstest.MapFS{"p.hcl": {Data: []byte(b.String())}}, Path: "p.hcl"})
	if len(ds) != 501 || ds[0].Code != "E008" {
		t.Errorf("%d diagnostics, the first %s; want 501, the first E008", len(ds), ds[0].Code)
	}
}

func TestParseBoundsBlocks(t *testing.T) {
	var b strings.Builder
	b.WriteString(head)
	for i := range 2000 {
		fmt.Fprintf(&b, "step \"s%d\" {\n title = \"S\"\n reading \"r%d\" {\n ask = \"R\"\n unit = \"mm\"\n range = [mm(1), mm(2)]\n }\n}\n", i, i)
	}
	_, ds := hclfile.Parse(hclfile.Source{FS: fstest.MapFS{"p.hcl": {Data: []byte(b.String())}}, Path: "p.hcl"})
	if len(ds) != 1 || ds[0].Code != "E007" {
		t.Errorf("have %d diagnostics, want E007 alone", len(ds))
	}
}

// FuzzParse holds that reading never panics, and that what is said is about a
// place in a file that was read.
func FuzzParse(f *testing.F) {
	for _, dir := range []string{"design", "broken"} {
		files, err := filepath.Glob(filepath.Join(testdata, dir, "*.hcl"))
		if err != nil || len(files) == 0 {
			f.Fatal("no files to begin with: ", err)
		}
		for _, name := range files {
			b, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(b)
		}
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		l, ds := hclfile.Parse(hclfile.Source{FS: fstest.MapFS{"p.hcl": {Data: b}}, Path: "p.hcl"})
		for _, d := range ds {
			n := len(l.Text(d.Subject.File))
			if s, e := d.Subject.Start, d.Subject.End; d.Subject.File != "p.hcl" || s.Byte < 0 || e.Byte < s.Byte || e.Byte > max(n, len(b)) || s.Line < 1 {
				t.Errorf("%s is about %+v of a file of %d bytes", d.Code, d.Subject, n)
			}
			if _, ok := diagnose.Explain(d.Code); !ok || d.Detail == "" {
				t.Errorf("%+v explains nothing", d)
			}
		}
		_ = show(l, ds)
	})
}
