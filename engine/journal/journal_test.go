package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

var began = time.Date(2026, 3, 2, 7, 31, 12, 480e6, time.UTC)

func firstEntry() Entry {
	return Entry{Time: began, By: "I. Brandt", Kind: KindFormat, Data: json.RawMessage(
		`{"format":"waywright journal 1","program":"0.1.0","procedure":{"name":"lathe/tailstock-by-test-cut",` +
			`"files":[{"name":"tailstock-by-test-cut.hcl","sha256":"e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"}]}}`)}
}

// write chains the entries and returns them with their bytes and the offset
// behind each line.
func write(t interface{ Fatal(...any) }, es ...Entry) (sealed []Entry, b []byte, ends []int) {
	var head Head
	for _, e := range es {
		e, line, next, err := head.Seal(e)
		if err != nil {
			t.Fatal(err)
		}
		sealed, b, head = append(sealed, e), append(b, line...), next
		ends = append(ends, len(b))
	}
	return sealed, b, ends
}

// session is a short run, with the bytes that are hard on a journal: signs that
// some writers escape, characters of two, three and four bytes, an empty name.
func session() []Entry {
	at := func(s int, by, kind, data string) Entry {
		return Entry{Time: began.Add(time.Duration(s) * time.Second), By: by, Kind: kind, Data: json.RawMessage(data)}
	}
	return []Entry{
		firstEntry(),
		at(1, "I. Brandt", "acknowledged", `{"caution":"long_hair"}`),
		at(60, "Jörg \"Joe\" Å\\Ø", "answered", `{"reading":"near","value":40.012,"u":1e-3}`),
		at(30, "", "answered", `{"reading":"far","text":"ø < 40 & > 39 µm \u2028 𝛿 \"}"}`),
		at(90, "line\nfeed\ttab\u007f", "noted", `{}`),
	}
}

func TestRecoverReadsWhatSealWrote(t *testing.T) {
	want, b, _ := write(t, session()...)
	got, tail, err := Recover(b)
	if err != nil || len(tail) != 0 {
		t.Fatalf("Recover = tail %q, %v; want no tail, nil", tail, err)
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("Recover differs from what was sealed (-sealed +recovered):\n%s", d)
	}
}

// The bytes are worked out by hand from the description of the format, but for
// the sum, which is that of sha256sum(1).
func TestEncodeBytes(t *testing.T) {
	e := Entry{N: 2, Prev: Hash{0xab, 0xcd}, Time: began.Add(999_999), By: "A \"B\" <C>\n", Kind: "noted",
		Data: json.RawMessage(" { \"text\" : \"a < b & c\" ,\n\"x\": [ 1.50, null ] } ")}
	const want = `{"n":2,"prev":"abcd000000000000000000000000000000000000000000000000000000000000","time":"2026-03-02T07:31:12.480Z",` +
		`"by":"A \"B\" <C>\u000a","kind":"noted","data":{"text":"a < b & c","x":[1.50,null]},"sum":"6760d436dbc45fe9"}` + "\n"
	got, err := Encode(e)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(want, string(got)); d != "" {
		t.Errorf("Encode differs (-want +got):\n%s", d)
	}
}

// Only an unterminated last line is a torn write, at whatever byte it is torn.
func TestRecoverCutAtEveryByte(t *testing.T) {
	entries, b, ends := write(t, session()...)
	for cut := range len(b) + 1 {
		want := 0
		for want < len(ends) && ends[want] <= cut {
			want++
		}
		start := 0
		if want > 0 {
			start = ends[want-1]
		}
		got, tail, err := Recover(b[:cut])
		if err != nil || len(got) != want {
			t.Fatalf("cut at byte %d: %d entries, %v; want %d, nil", cut, len(got), err, want)
		}
		if !bytes.Equal(tail, b[start:cut]) {
			t.Fatalf("cut at byte %d: tail %q, want %q", cut, tail, b[start:cut])
		}

		// Write on from there: the chain goes on as if nothing had happened.
		head, err := HeadOf(got)
		if err != nil {
			t.Fatal(err)
		}
		again := bytes.Clone(b[:start])
		for _, e := range entries[want:] {
			_, line, next, err := head.Seal(e)
			if err != nil {
				t.Fatal(err)
			}
			again, head = append(again, line...), next
		}
		if !bytes.Equal(again, b) {
			t.Fatalf("cut at byte %d and written on: the bytes differ from those of the unbroken journal", cut)
		}
	}
}

// changes are what becomes of a byte: each of its bits flipped, and bytes that
// mean something to a reader of lines or of JSON.
func changes(c byte) (to []byte) {
	for bit := range 8 {
		to = append(to, c^1<<bit)
	}
	for _, d := range []byte("\x00\n\r \"\\{}019af\xff") {
		if d != c && bytes.IndexByte(to, d) < 0 {
			to = append(to, d)
		}
	}
	return to
}

// No changed byte passes, and the line named is the one that it is in.
func TestRecoverChangeEveryByte(t *testing.T) {
	_, b, ends := write(t, session()...)
	line := 0
	for i := range b {
		if i == ends[line] {
			line++
		}
		for _, c := range changes(b[i]) {
			bad := bytes.Clone(b)
			bad[i] = c
			entries, tail, err := Recover(bad)
			dmg := new(Damage)
			if !errors.As(err, &dmg) {
				t.Fatalf("byte %d changed from %q to %q: %d entries, tail %q, %v; want damage", i, b[i], bad[i], len(entries), tail, err)
			}
			if dmg.Line != line+1 || len(entries) != line {
				t.Fatalf("byte %d changed from %q to %q: %d entries, %v; want %d, damage in line %d", i, b[i], bad[i], len(entries), err, line, line+1)
			}
			if dmg.Byte > ends[line] || dmg.Byte < 0 {
				t.Fatalf("byte %d changed: damage said at byte %d, beyond line %d", i, dmg.Byte, dmg.Line)
			}
			if dmg.What == "" || dmg.Mend == "" {
				t.Fatalf("byte %d changed: %v lacks words", i, err)
			}
		}
	}
}

// A byte put in or taken out is damage too, wherever it is, unless it is the
// last line feed: without that the line is a torn one.
func TestRecoverInsertAndRemoveEveryByte(t *testing.T) {
	entries, b, _ := write(t, session()...)
	for i := range b {
		short := append(bytes.Clone(b[:i]), b[i+1:]...)
		got, tail, err := Recover(short)
		if i == len(b)-1 {
			if err != nil || len(got) != len(entries)-1 || len(tail) == 0 {
				t.Errorf("without the last line feed: %d entries, tail %q, %v; want %d, the last line, nil", len(got), tail, err, len(entries)-1)
			}
		} else if dmg := new(Damage); !errors.As(err, &dmg) {
			t.Fatalf("byte %d taken out: %d entries, %v; want damage", i, len(got), err)
		}
		for _, c := range []byte{0, ' ', '\n', '0', '"', '}', 0xff} {
			long := append(append(bytes.Clone(b[:i]), c), b[i:]...)
			if got, _, err := Recover(long); !errors.As(err, new(*Damage)) {
				t.Fatalf("byte %d: %q put in: %d entries, %v; want damage", i, c, len(got), err)
			}
		}
	}
}

// Whole lines taken out, doubled, swapped, or brought from another journal.
func TestRecoverLinesMoved(t *testing.T) {
	_, b, ends := write(t, session()...)
	other := session()
	other[1].By = "P. Osei"
	_, ob, oends := write(t, other...)
	line := func(b []byte, ends []int, n int) string {
		return strings.SplitAfter(string(b), "\n")[n-1]
	}
	l := func(n int) string { return line(b, ends, n) }
	o := func(n int) string { return line(ob, oends, n) }
	for _, tt := range []struct{ name, in, want string }{
		{"taken out", l(1) + l(2) + l(4), "line 3: it says that it is line 4: what stood before it is missing. Lines 1 to 2 hold"},
		{"first taken out", l(2) + l(3), "line 1: it says that it is line 2: what stood before it is missing. Nothing was overwritten"},
		{"doubled", l(1) + l(2) + l(2), "line 3: it says that it is line 2, which has been already"},
		{"swapped", l(1) + l(3) + l(2), "line 2: it says that it is line 3"},
		{"another journal's", l(1) + l(2) + o(3), "line 3: it was not written after this line 2"},
		{"replaced", l(1) + o(2) + l(3), "line 3: it was not written after this line 2"},
	} {
		_, _, err := Recover([]byte(tt.in))
		if err == nil || !strings.HasPrefix(strip(err.Error()), tt.want) {
			t.Errorf("%s: %v; want %q", tt.name, err, tt.want)
		}
	}
}

// strip takes the byte out of a message, so that the cases need not count.
func strip(s string) string {
	from := strings.Index(s, ", byte ")
	if from < 0 {
		return s
	}
	to := strings.Index(s[from:], ":")
	return s[:from] + s[from+to:]
}

// forge writes a line with a right sum around any content: what a program that
// knows the sum but not the rest would write.
func forge(fields string) []byte {
	body := "{" + fields
	return []byte(body + sumKey + sumOf([]byte(body)) + "\"}\n")
}

// Lines whose sum is right and whose content is not.
func TestRecoverRefusesForeignLines(t *testing.T) {
	es, b, _ := write(t, session()[:1]...)
	head, err := HeadOf(es)
	if err != nil {
		t.Fatal(err)
	}
	const when = `"time":"2026-03-02T07:31:13.000Z"`
	prev := `"prev":"` + head.Hash.String() + `"`
	good := `"n":2,` + prev + `,` + when + `,"by":"I","kind":"noted","data":{"a":1}`
	if _, _, err := Recover(append(bytes.Clone(b), forge(good)...)); err != nil {
		t.Fatalf("the line that the others are made from: %v", err)
	}
	swap := func(from, to string) []byte {
		if !strings.Contains(good, from) {
			t.Fatalf("%q is not in %q", from, good)
		}
		return forge(strings.Replace(good, from, to, 1))
	}
	for _, tt := range []struct {
		name string
		line []byte
		want string
	}{
		{"unknown field", swap(`"data"`, `"note":1,"data"`), `it holds a field "note", which this format does not have`},
		{"field of other case", swap(`"by"`, `"By"`), `it holds a field "By", which this format does not have`},
		{"field twice", swap(`"by":"I"`, `"by":"I","by":"I"`), `it holds the field "by" twice`},
		{"field missing", swap(`"by":"I",`, ``), `it lacks the field "by"`},
		{"order", swap(`"by":"I","kind":"noted"`, `"kind":"noted","by":"I"`), "it is not written as this program writes"},
		{"blank", swap(`"n":2`, `"n": 2`), "it is not written as this program writes"},
		{"carriage return", swap(`"n":2`, "\r\"n\":2"), "it is not written as this program writes"},
		{"escape", swap(`"by":"I"`, `"by":"\u0049"`), "it is not written as this program writes"},
		{"blank in data", swap(`{"a":1}`, `{"a": 1}`), "it is not written as this program writes"},
		{"name twice in data", swap(`{"a":1}`, `{"a":1,"b":[{"c":{}},{"a":2,"\u0061":3}]}`), `data: an object holds "a" twice`},
		{"data not an object", swap(`{"a":1}`, `[1]`), "data: not an object"},
		{"data null", swap(`{"a":1}`, `null`), "data: not an object"},
		{"number as text", swap(`"n":2`, `"n":"2"`), `its field "n" cannot be "2"`},
		{"number with point", swap(`"n":2`, `"n":2.5`), `its field "n" cannot be 2.5`},
		{"number huge", swap(`"n":2`, `"n":1e400`), `its field "n" cannot be 1e400`},
		{"number null", swap(`"n":2`, `"n":null`), "lines are numbered from 1"},
		{"hash too short", swap(prev, `"prev":"00"`), `its field "prev" cannot be "00"`},
		{"hash in capitals", swap(head.Hash.String(), strings.ToUpper(head.Hash.String())), `its field "prev" cannot be`},
		{"time with zone", swap(`13.000Z`, `13.000+01:00`), `its time "2026-03-02T07:31:13.000+01:00" is not written like`},
		{"time of more digits", swap(`13.000Z`, `13.0000Z`), `its time "2026-03-02T07:31:13.0000Z" is not written like`},
		{"time that is none", swap(`03-02`, `02-30`), `is not written like`},
		{"no time", swap(`2026-03-02T07:31:13`, `0001-01-01T00:00:00`), `it has no time`},
		{"kind not a word", swap(`"noted"`, `"Not ed"`), `kind "Not ed" is not a word`},
		{"second format line", swap(`"noted"`, `"format"`), `the first line, and no other, is of kind "format"`},
		{"no line before", swap(head.Hash.String(), strings.Repeat("0", 64)), "the first line, and no other, has nothing before it"},
		{"lone surrogate", swap(`"by":"I"`, `"by":"\ud800"`), "it is not written as this program writes"},
		{"not UTF-8", swap(`"by":"I"`, "\"by\":\"\xc3\""), "byte c3 is not UTF-8 text here"},
		{"NUL", swap(`"by":"I"`, "\"by\":\"\x00\""), "it holds a NUL"},
		{"not an object", []byte("[1]\n"), "it is not an object"},
		{"not JSON", []byte("hello\n"), "it is not JSON: invalid character 'h'"},
		{"empty", []byte("\n"), "the line is empty"},
		{"blanks", []byte("  \t\n"), "the line is empty"},
		{"two values", []byte("{}{}\n"), "it is not JSON: invalid character '{' after top-level value"},
		{"no fields", []byte("{}\n"), `it lacks the field "n"`},
		{"deep", swap(`{"a":1}`, strings.Repeat("[", 20000)+strings.Repeat("]", 20000)), "exceeded max depth"},
		{"long", swap(`{"a":1}`, `{"a":"`+strings.Repeat("x", MaxLine)+`"}`), "and a line has at most 1048576"},
		{"long without end", bytes.Repeat([]byte("x"), MaxLine+1), "1048577 bytes without a line feed, and a line has at most 1048576"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, tail, err := Recover(append(bytes.Clone(b), tt.line...))
			dmg := new(Damage)
			if !errors.As(err, &dmg) || len(got) != 1 || tail != nil {
				t.Fatalf("%d entries, tail of %d bytes, %v; want 1, none, damage", len(got), len(tail), err)
			}
			if dmg.Line != 2 || !strings.Contains(dmg.What, tt.want) {
				t.Errorf("%v\nwant line 2: …%s", err, tt.want)
			}
		})
	}
}

// A line as long as may be is written and read, one byte more is refused when
// it is to be written.
func TestMaxLine(t *testing.T) {
	es, b, _ := write(t, firstEntry())
	head, _ := HeadOf(es)
	e := Entry{Time: began, By: "I", Kind: "noted", Data: json.RawMessage(`{"a":""}`)}
	_, line, _, err := head.Seal(e)
	if err != nil {
		t.Fatal(err)
	}
	room := MaxLine - len(line)
	e.Data = json.RawMessage(`{"a":"` + strings.Repeat("x", room) + `"}`)
	_, line, _, err = head.Seal(e)
	if err != nil || len(line) != MaxLine {
		t.Fatalf("Seal = %d bytes, %v; want %d, nil", len(line), err, MaxLine)
	}
	if got, _, err := Recover(append(b, line...)); err != nil || len(got) != 2 {
		t.Errorf("Recover = %d entries, %v; want 2, nil", len(got), err)
	}
	e.Data = json.RawMessage(`{"a":"` + strings.Repeat("x", room+1) + `"}`)
	if _, _, _, err = head.Seal(e); err == nil || !strings.Contains(err.Error(), "1048577 bytes long, and a line has room for 1048576") {
		t.Errorf("Seal of one byte too many: %v", err)
	}
}

func TestEncodeRefuses(t *testing.T) {
	good := Entry{N: 2, Prev: Hash{1}, Time: began, By: "I", Kind: "noted"}
	if _, err := Encode(good); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		want   string
		change func(*Entry)
	}{
		{"numbered from 1", func(e *Entry) { e.N = 0 }},
		{"numbered from 1", func(e *Entry) { e.N = -3 }},
		{"nothing before it", func(e *Entry) { e.Prev = Hash{} }},
		{"nothing before it", func(e *Entry) { e.N = 1 }},
		{"no time", func(e *Entry) { e.Time = time.Time{} }},
		{"year 10000", func(e *Entry) { e.Time = began.AddDate(7974, 0, 0) }},
		{"year -1", func(e *Entry) { e.Time = began.AddDate(-2027, 0, 0) }},
		{"not UTF-8", func(e *Entry) { e.By = "\xff" }},
		{`kind "" is not a word`, func(e *Entry) { e.Kind = "" }},
		{`kind "2nd" is not a word`, func(e *Entry) { e.Kind = "2nd" }},
		{`kind "a-b" is not a word`, func(e *Entry) { e.Kind = "a-b" }},
		{"first line, and no other", func(e *Entry) { e.Kind = KindFormat }},
		{"not UTF-8", func(e *Entry) { e.Data = json.RawMessage("{\"a\":\"\xff\"}") }},
		{"not an object", func(e *Entry) { e.Data = json.RawMessage(`"a"`) }},
		{"unexpected end of JSON", func(e *Entry) { e.Data = json.RawMessage(`{`) }},
		{"after top-level value", func(e *Entry) { e.Data = json.RawMessage(`{}{}`) }},
		{"twice", func(e *Entry) { e.Data = json.RawMessage(`{"a":1,"a":1}`) }},
		{"nothing but blanks", func(e *Entry) { e.Data = json.RawMessage(` `) }},
	} {
		e := good
		tt.change(&e)
		want := strings.Replace(tt.want, "nothing but blanks", "unexpected end of JSON", 1)
		if line, err := Encode(e); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("Encode(%+v) = %q, %v; want an error with %q", e, line, err, want)
		}
	}
}

func TestFormatVersion(t *testing.T) {
	e := firstEntry()
	e.Data = json.RawMessage(`{"format":"waywright journal 2","procedure":7}`)
	if _, _, _, err := (Head{}).Seal(e); !errors.Is(err, ErrVersion) {
		t.Errorf("Seal of another version: %v; want ErrVersion", err)
	}
	line := forge(`"n":1,"prev":"` + Hash{}.String() + `","time":"2030-01-01T00:00:00.000Z","by":"I","kind":"format","data":{"format":"waywright journal 2","procedure":7}`)
	got, _, err := Recover(line)
	const want = `line 1: this journal is of another format: it names "waywright journal 2", and this program reads "waywright journal 1"`
	if !errors.Is(err, ErrVersion) || err.Error() != want || got != nil {
		t.Errorf("Recover = %d entries, %v\nwant %s", len(got), err, want)
	}
	for _, data := range []string{`{}`, `{"format":1}`, `{"format":"waywright journal 1","procedure":7}`} {
		e.Data = json.RawMessage(data)
		if _, _, _, err := (Head{}).Seal(e); err == nil {
			t.Errorf("Seal of a first line with data %s: no error", data)
		}
	}
	f, err := firstEntry().Format()
	want2 := Format{Version, "0.1.0", Procedure{"lathe/tailstock-by-test-cut", []PinnedFile{{"tailstock-by-test-cut.hcl", hashOf([]byte("\n"))}}}}
	if d := cmp.Diff(want2, f); err != nil || d != "" {
		t.Errorf("Format: %v\n%s", err, d)
	}
}

func TestData(t *testing.T) {
	raw, err := Data(Cut{Bytes: 136, File: "a<b>&c", SHA256: hashOf([]byte("\n"))})
	const want = `{"bytes":136,"file":"a<b>&c","sha256":"e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"}`
	if err != nil || string(raw) != want {
		t.Errorf("Data = %s, %v\nwant %s", raw, err, want)
	}
	c, err := Entry{Kind: KindRecovered, Data: raw}.Cut()
	if d := cmp.Diff(Cut{136, "a<b>&c", hashOf([]byte("\n"))}, c); err != nil || d != "" {
		t.Errorf("Cut: %v\n%s", err, d)
	}
	for _, bad := range []any{7, nil, []int{1}, "x", func() {}} {
		if raw, err := Data(bad); err == nil {
			t.Errorf("Data(%T) = %s, nil; want an error", bad, raw)
		}
	}
}

func anyEntry(t *rapid.T) Entry {
	text := rapid.StringOf(rapid.Rune())
	v := map[string]any{
		text.Draw(t, "name"): text.Draw(t, "text"),
		"number":             rapid.Float64Range(-1e9, 1e9).Draw(t, "number"),
		"list":               rapid.SliceOfN(rapid.Int(), 0, 5).Draw(t, "list"),
	}
	data, err := Data(v)
	if rapid.Bool().Draw(t, "indented") {
		data, err = json.MarshalIndent(v, "\t ", "  ")
	}
	if err != nil {
		t.Fatal(err)
	}
	return Entry{
		Time: time.Unix(rapid.Int64Range(-6e10, 2e11).Draw(t, "s"), rapid.Int64Range(0, 999999999).Draw(t, "ns")).In(time.FixedZone("", rapid.IntRange(-43200, 43200).Draw(t, "zone"))),
		By:   text.Draw(t, "by"),
		Kind: rapid.StringMatching(`[a-eg-z][a-z0-9_]{0,12}`).Draw(t, "kind"), // none begins with f as "format" does
		Data: data,
	}
}

// Whatever is written is read again as it was sealed, and the head is the one
// that sealing gave.
func TestSealAndRecoverAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		es := append([]Entry{firstEntry()}, rapid.SliceOfN(rapid.Custom(anyEntry), 0, 6).Draw(t, "entries")...)
		want, b, _ := write(t, es...)
		got, tail, err := Recover(b)
		if err != nil || len(tail) > 0 {
			t.Fatalf("Recover: tail %q, %v", tail, err)
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Fatalf("-sealed +recovered:\n%s", d)
		}
		for i, e := range es {
			if d := got[i].Time.Sub(e.Time); d > 0 || d <= -time.Millisecond {
				t.Fatalf("entry %d: time %v became %v", i+1, e.Time, got[i].Time)
			}
			if got[i].By != e.By || got[i].Kind != e.Kind || !sameJSON(got[i].Data, e.Data) {
				t.Fatalf("entry %d: %+v became %+v", i+1, e, got[i])
			}
		}
		lines := bytes.SplitAfter(b, []byte("\n"))
		head, err := HeadOf(got)
		if err != nil || head != (Head{len(es), hashOf(lines[len(es)-1])}) {
			t.Fatalf("HeadOf = %v, %v", head, err)
		}
	})
}

func sameJSON(a, b []byte) bool {
	var x, y any
	if json.Unmarshal(a, &x) != nil || json.Unmarshal(b, &y) != nil {
		return false
	}
	return cmp.Equal(x, y)
}

func TestHash(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var h, g Hash
		copy(h[:], rapid.SliceOfN(rapid.Byte(), 32, 32).Draw(t, "hash"))
		b, err := json.Marshal(h)
		if err != nil || string(b) != fmt.Sprintf(`"%x"`, h[:]) {
			t.Fatalf("Marshal = %s, %v", b, err)
		}
		if err := json.Unmarshal(b, &g); err != nil || g != h {
			t.Fatalf("Unmarshal(%s) = %v, %v", b, g, err)
		}
	})
	for _, s := range []string{"", "00", strings.Repeat("0", 63), strings.Repeat("0", 65), strings.Repeat("A", 64), strings.Repeat("g", 64), strings.Repeat("0", 66)} {
		if h, err := ParseHash(s); err == nil {
			t.Errorf("ParseHash(%q) = %v, nil; want an error", s, h)
		}
	}
}

// What Recover keeps it recovers again unchanged, and what it gives back are
// the very bytes that it read.
func FuzzRecover(f *testing.F) {
	_, whole, ends := write(f, session()...)
	f.Add(whole)
	f.Add(whole[:ends[2]+40])
	f.Add(whole[ends[0]:])
	flipped := bytes.Clone(whole)
	flipped[ends[1]+100] ^= 4
	f.Add(flipped)
	f.Add([]byte("\x00\n"))
	f.Add([]byte("{\"n\":1}\n{"))
	for _, h := range harmed(f) {
		f.Add(h.bytes)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		entries, tail, err := Recover(b)
		var kept []byte
		for _, e := range entries {
			line, err := Encode(e)
			if err != nil {
				t.Fatalf("entry %d was recovered and cannot be encoded: %v", e.N, err)
			}
			kept = append(kept, line...)
		}
		if !bytes.HasPrefix(b, kept) {
			t.Fatalf("kept %q, which is not how %q begins", kept, b)
		}
		if err == nil && len(kept)+len(tail) != len(b) {
			t.Fatalf("%d bytes kept and %d in the tail, of %d", len(kept), len(tail), len(b))
		}
		again, rest, err2 := Recover(kept)
		if err2 != nil || len(rest) != 0 || !cmp.Equal(again, entries) {
			t.Fatalf("recovered again: tail %q, %v\n%s", rest, err2, cmp.Diff(entries, again))
		}
	})
}
