package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"
)

// Damage is the error for a line that this package did not write, or that was
// changed, moved or taken away afterwards.
type Damage struct {
	Line int    // counted from 1
	Byte int    // offset in the journal, from 0, at or before which the trouble is; 0 where it is not known
	What string // what is wrong
	Mend string // what to do
}

func (d *Damage) Error() string {
	where := fmt.Sprintf("line %d", d.Line)
	if d.Byte > 0 {
		where += fmt.Sprintf(", byte %d", d.Byte)
	}
	return where + ": " + d.What + ". " + d.Mend
}

// Recover reads a journal. It returns the entries of the whole lines, and the
// bytes behind the last line feed, which are a line that was being written
// when the program or the machine stopped: nobody was told that it was kept.
// They are not looked into, but for this: if they begin with a whole line,
// something has changed its line feed, and that is damage.
//
// Anything else wrong is a [*Damage] error that names the first bad line; the
// entries before it are returned with it. A journal of another format gives
// [ErrVersion]. A time earlier than that of the line before is no damage:
// clocks are put right.
//
// What Recover keeps it recovers again unchanged: the entries, encoded one
// after the other, are the bytes that they were read from.
func Recover(b []byte) (entries []Entry, tail []byte, err error) {
	var head Head
	for off := 0; ; {
		end := bytes.IndexByte(b[off:], '\n')
		if end < 0 {
			tail = b[off:]
			if t := tornTrouble(tail); t != nil {
				return entries, nil, t.damage(head.N+1, off)
			}
			return entries, tail, nil
		}
		line := b[off : off+end+1]
		e, t := parse(line)
		if t == nil {
			t = chainTrouble(head, e)
		}
		if t != nil {
			return entries, nil, t.damage(head.N+1, off)
		}
		if e.N == 1 {
			if _, err := e.Format(); err != nil {
				return nil, nil, fmt.Errorf("line 1: %w", err)
			}
		}
		entries = append(entries, e)
		head = Head{N: e.N, Hash: hashOf(line)}
		off += end + 1
	}
}

// trouble is what is wrong in one line, at an offset in that line.
type trouble struct {
	at   int
	what string
	mend string // empty: put a copy back
}

func (t *trouble) damage(n, off int) *Damage {
	d := &Damage{Line: n, Byte: off + t.at, What: t.what, Mend: t.mend}
	if d.Mend == "" {
		switch n {
		case 1:
			d.Mend = "Nothing was overwritten. Put a copy of the file from before the damage in its place"
		case 2:
			d.Mend = "Line 1 holds, and nothing was overwritten. Put a copy of the file from before the damage in its place"
		default:
			d.Mend = fmt.Sprintf("Lines 1 to %d hold, and nothing was overwritten. Put a copy of the file from before the damage in its place", n-1)
		}
	}
	return d
}

// tornTrouble tells why the bytes behind the last line feed cannot be a line
// that was being written.
func tornTrouble(tail []byte) *trouble {
	if len(tail) > MaxLine {
		return &trouble{at: MaxLine, what: fmt.Sprintf("%d bytes without a line feed, and a line has at most %d", len(tail), MaxLine)}
	}
	dec := json.NewDecoder(bytes.NewReader(tail))
	var v json.RawMessage
	if dec.Decode(&v) != nil {
		return nil
	}
	if at := int(dec.InputOffset()); at < len(tail) && sumHolds(tail[:at]) {
		return &trouble{at: at, what: "a whole line is followed by something that is not a line feed"}
	}
	return nil
}

// sumHolds tells whether a line without line feed ends in its own sum.
func sumHolds(line []byte) bool {
	n := len(line) - sumLen
	return n > 0 && string(line[n:]) == sumKey+sumOf(line[:n])+`"}`
}

// chainTrouble tells why an entry, sound in itself, does not come next.
func chainTrouble(head Head, e Entry) *trouble {
	switch {
	case e.N > head.N+1:
		return &trouble{what: fmt.Sprintf("it says that it is line %d: what stood before it is missing", e.N)}
	case e.N < head.N+1:
		return &trouble{what: fmt.Sprintf("it says that it is line %d, which has been already", e.N)}
	case e.Prev != head.Hash:
		return &trouble{what: fmt.Sprintf("it was not written after this line %d: that line was replaced, or this one is from another journal", head.N)}
	}
	return nil
}

// parse reads one line, given with its line feed.
func parse(line []byte) (Entry, *trouble) {
	if len(line) > MaxLine {
		return Entry{}, &trouble{what: fmt.Sprintf("it is %d bytes long, and a line has at most %d", len(line), MaxLine)}
	}
	body := line[:len(line)-1]
	if t := textTrouble(body); t != nil {
		return Entry{}, t
	}
	f, t := fields(body)
	if t != nil {
		return Entry{}, t
	}
	if !sumHolds(body) {
		return Entry{}, &trouble{what: "the line and its sum do not agree: something in it was changed after it was written"}
	}
	e, t := f.entry()
	if t != nil {
		return Entry{}, t
	}
	if want, err := Encode(e); errors.Is(err, ErrVersion) {
		return e, nil // Recover says so
	} else if err != nil {
		return Entry{}, &trouble{what: strings.TrimPrefix(err.Error(), fmt.Sprintf("journal: entry %d: ", e.N))}
	} else if !bytes.Equal(want, line) {
		return Entry{}, &trouble{at: firstDifference(want, line), what: "it is not written as this program writes: it holds blanks, another order of fields or other escapes",
			mend: "Another program has written to this file. Put back a copy from before that"}
	}
	return e, nil
}

func firstDifference(a, b []byte) int {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return n
}

// textTrouble tells why bytes are not a JSON value in UTF-8.
func textTrouble(body []byte) *trouble {
	const asBytes = "An editor, or a transfer as text, has changed the file. Put back a copy from before that, and copy it as bytes"
	if at := len(body) - 1; at >= 0 && body[at] == '\r' {
		return &trouble{at: at, what: "it ends with a carriage return before the line feed", mend: asBytes}
	}
	if bytes.HasPrefix(body, []byte("\ufeff")) {
		return &trouble{what: "it begins with a byte order mark", mend: asBytes}
	}
	if at := bytes.IndexByte(body, 0); at >= 0 {
		return &trouble{at: at, what: "it holds a NUL: this is not text, or the disk has lost a part of it"}
	}
	if !utf8.Valid(body) {
		at := 0
		for r, n := utf8.DecodeRune(body); r != utf8.RuneError || n != 1; r, n = utf8.DecodeRune(body[at:]) {
			at += n
		}
		return &trouble{at: at, what: fmt.Sprintf("byte %02x is not UTF-8 text here", body[at])}
	}
	if len(bytes.TrimSpace(body)) == 0 {
		return &trouble{what: "the line is empty"}
	}
	var v json.RawMessage
	if err := json.Unmarshal(body, &v); err != nil {
		t := &trouble{what: "it is not JSON: " + err.Error()}
		if s := new(json.SyntaxError); errors.As(err, &s) {
			t.at = int(max(s.Offset-1, 0))
		}
		return t
	}
	if body[0] != '{' {
		return &trouble{what: "it is not an object"}
	}
	return nil
}

// lineFields are the values of a line as they are written.
type lineFields struct{ n, prev, time, by, kind, data, sum json.RawMessage }

// fields takes the object of a line apart. The body must be valid JSON.
func fields(body []byte) (lineFields, *trouble) {
	var f lineFields
	order := []struct {
		name string
		to   *json.RawMessage
	}{{"n", &f.n}, {"prev", &f.prev}, {"time", &f.time}, {"by", &f.by}, {"kind", &f.kind}, {"data", &f.data}, {"sum", &f.sum}}

	dec := json.NewDecoder(bytes.NewReader(body))
	dec.Token() // the brace
next:
	for dec.More() {
		at := int(dec.InputOffset())
		tok, err := dec.Token()
		name, ok := tok.(string)
		if err != nil || !ok {
			return f, &trouble{at: at, what: fmt.Sprintf("it is not JSON: %v", err)}
		}
		for _, o := range order {
			if o.name != name {
				continue
			}
			if *o.to != nil {
				return f, &trouble{at: at, what: fmt.Sprintf("it holds the field %q twice", name)}
			}
			if err := dec.Decode(o.to); err != nil {
				return f, &trouble{at: at, what: fmt.Sprintf("it is not JSON: %v", err)}
			}
			continue next
		}
		return f, &trouble{at: at, what: fmt.Sprintf("it holds a field %.40q, which this format does not have", name)}
	}
	for _, o := range order {
		if *o.to == nil {
			return f, &trouble{what: fmt.Sprintf("it lacks the field %q", o.name)}
		}
	}
	return f, nil
}

// entry reads the fields. What is legal JSON but not as this package writes it
// (1.0 for 1) may pass here: [parse] compares the bytes.
func (f lineFields) entry() (Entry, *trouble) {
	e := Entry{Data: bytes.Clone(f.data)}
	var when string
	for _, p := range []struct {
		name string
		from json.RawMessage
		to   any
	}{{"n", f.n, &e.N}, {"prev", f.prev, &e.Prev}, {"time", f.time, &when}, {"by", f.by, &e.By}, {"kind", f.kind, &e.Kind}} {
		if err := json.Unmarshal(p.from, p.to); err != nil {
			return e, &trouble{what: fmt.Sprintf("its field %q cannot be %.80s", p.name, p.from)}
		}
	}
	var err error
	if e.Time, err = time.Parse(timeLayout, when); err != nil {
		return e, &trouble{what: fmt.Sprintf("its time %.40q is not written like 2026-03-02T07:31:12.480Z", when)}
	}
	return e, nil
}

// checkData tells why bytes cannot be the data of an entry: they must be one
// object, and no object in it may hold a name twice, since programs differ in
// which of the two they take.
func checkData(b []byte) error {
	if !utf8.Valid(b) {
		return errors.New("data: not UTF-8 text")
	}
	var v json.RawMessage
	if err := json.Unmarshal(b, &v); err != nil {
		return fmt.Errorf("data: %w", err)
	}
	if v[0] != '{' {
		return errors.New("data: not an object")
	}
	dec := json.NewDecoder(bytes.NewReader(b))
	dec.UseNumber()
	return namesOnce(dec)
}

// level is an object or, without names, a list that is being read.
type level struct {
	names map[string]bool
	name  bool // a name comes next
}

// namesOnce reads valid JSON to its end. It keeps its own stack, because data
// may be nested as deep as the reader allows.
func namesOnce(dec *json.Decoder) error {
	var stack []*level
	for {
		tok, err := dec.Token()
		if err != nil { // the end: the caller has checked the syntax
			return nil
		}
		var top *level
		if len(stack) > 0 {
			top = stack[len(stack)-1]
		}
		if d, ok := tok.(json.Delim); ok && (d == '}' || d == ']') {
			stack = stack[:len(stack)-1]
			continue
		}
		if top != nil && top.names != nil {
			if top.name {
				name := tok.(string)
				if top.names[name] {
					return fmt.Errorf("data: an object holds %.40q twice", name)
				}
				top.names[name] = true
			}
			top.name = !top.name
		}
		switch tok {
		case json.Delim('{'):
			stack = append(stack, &level{names: map[string]bool{}, name: true})
		case json.Delim('['):
			stack = append(stack, &level{})
		}
	}
}
