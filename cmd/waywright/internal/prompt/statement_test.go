package prompt

import (
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/engine"
)

func TestStatements(t *testing.T) {
	file := "\uFEFF# the lathe by the window\r\n" +
		"centres       = 300 mm\r\n" +
		"  tailstock_end = 20,153 20,152 20,153 # by hand\n" +
		"\n" +
		"front.marked.near.180 = -3\n" +
		"take = 32.347 because the collar is like that\n" +
		"station = cannot because boss under the driver\n" +
		"why = \"because of # and = in it\" because it was asked\n" +
		"back\n" +
		"note the bar was bright # after lapping\n" +
		"attach \"bed 2.jpg\" the bed\n" +
		"attach bed.jpg\n" +
		"attach --no-place bed.jpg the bed\n" +
		"amend span 252 mm because mistyped\n" +
		"amend headstock_end take 2 = 20.013 because misread\n" +
		"cannot because no instrument here\n" +
		"disturb micrometer because dropped\n" +
		"pause because dinner\n" +
		"amend = 3"
	want := []Statement{
		{Line: 2, Column: 1, ValueColumn: 17, Input: engine.Input{Name: "centres", Text: "300 mm"}},
		{Line: 3, Column: 3, ValueColumn: 19, Input: engine.Input{Name: "tailstock_end", Text: "20,153 20,152 20,153"}},
		{Line: 5, Column: 1, ValueColumn: 25, Input: engine.Input{Name: "front.marked.near.180", Text: "-3"}},
		{Line: 6, Column: 1, ValueColumn: 8, Input: engine.Input{Name: "take", Text: "32.347", Reason: "the collar is like that"}},
		{Line: 7, Column: 1, ValueColumn: 11, Input: engine.Input{Verb: engine.Cannot, Name: "station", Reason: "boss under the driver"}},
		{Line: 8, Column: 1, ValueColumn: 7, Input: engine.Input{Name: "why", Text: "because of # and = in it", Reason: "it was asked"}},
		{Line: 9, Column: 1, Input: engine.Input{Verb: engine.Back}},
		{Line: 10, Column: 1, Input: engine.Input{Verb: engine.Note, Text: "the bar was bright"}},
		{Line: 11, Column: 1, Path: "bed 2.jpg", Input: engine.Input{Verb: engine.Attach, Text: "the bed"}},
		{Line: 12, Column: 1, Path: "bed.jpg", Input: engine.Input{Verb: engine.Attach}},
		{Line: 13, Column: 1, Path: "bed.jpg", NoPlace: true, Input: engine.Input{Verb: engine.Attach, Text: "the bed"}},
		{Line: 14, Column: 1, Input: engine.Input{Verb: engine.Amend, Name: "span", Text: "252 mm", Reason: "mistyped"}},
		{Line: 15, Column: 1, Input: engine.Input{Verb: engine.Amend, Name: "headstock_end", Take: 2, Text: "20.013", Reason: "misread"}},
		{Line: 16, Column: 1, Input: engine.Input{Verb: engine.Cannot, Reason: "no instrument here"}},
		{Line: 17, Column: 1, Input: engine.Input{Verb: engine.Disturb, Name: "micrometer", Reason: "dropped"}},
		{Line: 18, Column: 1, Input: engine.Input{Verb: engine.Pause, Reason: "dinner"}},
		{Line: 19, Column: 1, ValueColumn: 9, Input: engine.Input{Name: "amend", Text: "3"}}, // with = it is a name
	}
	r := newStatementReader(strings.NewReader(file), "answers.txt")
	var got []Statement
	for {
		st, err := r.next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, st)
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

func TestBadStatements(t *testing.T) {
	for _, tt := range []struct{ name, file, want string }{
		{"no value", "\nspan =\n", "a.txt:2:7: span has no value: write span = value"},
		{"only a comment behind", "span = # 250", "a.txt:1:7: span has no value: write span = value"},
		{"no name", "= 250", "a.txt:1:1: no name stands before the ="},
		{"blank in the name", "head stock = 3", `a.txt:1:1: "head stock" is not the name of a question: names have no blanks`},
		{"neither", "250", `a.txt:1:1: I read "250". A line is name = value, or one of back, pause, note, attach, amend, cannot, disturb, leave_out, abandon.`},
		{"nothing behind because", "span = 250 because", "a.txt:1:8: because is not followed by a reason"},
		{"cannot without a reason", "span = cannot", "a.txt:1:8: span cannot be taken, but no reason is given: write span = cannot because REASON"},
		{"open quotation", `why = "so`, `a.txt:1:7: the quotation mark is not closed: write "…"`},
		{"behind the quotation", `why = "so" 3`, `a.txt:1:11: "3" stands behind the quoted value: only because REASON may`},
		{"back with more", "back again", `a.txt:1:1: back stands alone on its line; "again" is left over`},
		{"amend without a reason", "amend span 250", "a.txt:1:1: span is amended without a reason: write amend span 250 because REASON"},
		{"amend without a value", "amend span", "a.txt:1:1: amend needs a name and a value: write amend NAME VALUE because REASON"},
		{"take of nothing", "amend span take x 3 because y", `a.txt:1:1: take "x" is not a whole number above 0: write amend span take 2 VALUE because REASON`},
		{"empty note", "note", "a.txt:1:1: the note is empty: write note TEXT"},
		{"no file", "attach", "a.txt:1:1: no file is named: write attach FILE, and what it shows"},
		{"a NUL", "span = 250\nmore\x00 = 3", "a.txt:2: character 5 is a control character (U+0000): it is not an answers file"},
		{"not UTF-8", "span = \xff", "a.txt:1: this line is not UTF-8 text"},
		{"a long line", "x = " + strings.Repeat("9", maxLine), "a.txt:1: this line has more than 65536 characters: it is not an answers file"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r := newStatementReader(strings.NewReader(tt.file), "a.txt")
			var err error
			for err == nil {
				_, err = r.next()
			}
			var fe *FileError
			if !errors.As(err, &fe) || err.Error() != tt.want {
				t.Errorf("got  %v\nwant %s", err, tt.want)
			}
		})
	}
}

type broken struct{}

func (broken) Read([]byte) (int, error) { return 0, io.ErrUnexpectedEOF }

func TestReadErrorIsWrapped(t *testing.T) {
	_, err := newStatementReader(broken{}, "a.txt").next()
	if !errors.Is(err, io.ErrUnexpectedEOF) || err.Error() != "a.txt:1: cannot be read: unexpected EOF" {
		t.Errorf("got %v", err)
	}
}

func FuzzParseStatement(f *testing.F) {
	for _, s := range []string{"centres = 300 mm", "tailstock_end = 20,153 20,152 # x", "x = \"a \\\" b\" because c", "amend a take 2 = 3 because d", "note x", "back",
		"cannot because x", "attach \"a b\" c", "# c", "=", "x=#", "because = because because because", "x = \"", "\"=\""} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, line string) {
		if strings.ContainsAny(line, "\n\r") || unreadable([]byte(line)) != "" {
			return
		}
		st, ok, err := parseStatement(line)
		if err != nil {
			var c *columnError
			if !errors.As(err, &c) || c.text == "" || c.column < 1 {
				t.Fatalf("%q: error without a place or words: %v", line, err)
			}
			return
		}
		if !ok {
			if st != (Statement{}) {
				t.Fatalf("%q: nothing was said, but read %+v", line, st)
			}
			return
		}
		// An answer that was understood is understood the same when it is
		// written plainly.
		if st.Verb == engine.Answer && !strings.ContainsAny(st.Text+st.Reason, "\"\\#") && !strings.Contains(" "+st.Text+" ", " because ") {
			plain := st.Name + " = " + st.Text
			if st.Reason != "" {
				plain += " because " + st.Reason
			}
			again, _, err := parseStatement(plain)
			if err != nil || again.Name != st.Name || strings.Join(strings.Fields(st.Text), " ") != again.Text || again.Reason != st.Reason && strings.Join(strings.Fields(st.Reason), " ") != again.Reason {
				if st.Text != "cannot" {
					t.Fatalf("%q is %+v, but %q is %+v, %v", line, st, plain, again, err)
				}
			}
		}
	})
}

// The wish that the place of a photograph is not kept stands before its name;
// a file that is called like that is quoted.
func TestPlaced(t *testing.T) {
	for in, want := range map[string]struct {
		path    string
		without bool
	}{
		"bed.jpg": {"bed.jpg", false}, "--no-place bed.jpg": {"bed.jpg", true}, "--no-place \t bed 2.jpg": {"bed 2.jpg", true},
		"--no-placebo.jpg": {"--no-placebo.jpg", false}, `"--no-place"`: {`"--no-place"`, false}, "--no-place": {"", true},
	} {
		if path, without := placed(in); path != want.path || without != want.without {
			t.Errorf("placed(%q) = %q, %v; want %q, %v", in, path, without, want.path, want.without)
		}
	}
}
