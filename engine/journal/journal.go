// Package journal turns what happened in a run into lines of bytes and back,
// and tells damage from a line that was only half written.
//
// # The bytes
//
// A journal is UTF-8 text, one JSON object a line. Each line ends with a single
// line feed, the last one too, and holds these seven fields in this order,
// without blanks between them:
//
//	{"n":2,"prev":"9c41…","time":"2026-03-02T07:31:12.480Z","by":"I. Brandt","kind":"answered","data":{"reading":"near"},"sum":"58f0d3a1c27e9b64"}
//
//	n     number of the line, counted from 1
//	prev  SHA-256 of the line before, without its line feed, in 64 lower-case
//	      hex digits; 64 zeros in the first line
//	time  when it happened, RFC 3339 in UTC with three decimals
//	by    who did it
//	kind  what happened, a word of lower-case letters, digits and underscores
//	data  an object whose fields belong to the kind; without blanks, and no
//	      name twice in one object
//	sum   the first 16 hex digits of the SHA-256 of this line up to but without
//	      the bytes ,"sum":
//
// In by, only the quotation mark, the backslash and the characters below
// U+0020 are escaped, the last as \u and four lower-case hex digits. A line is
// at most [MaxLine] bytes long and never holds a NUL.
//
// The first line is of kind "format", and no other is. Its data begin the run:
//
//	{"format":"waywright journal 1","program":"0.1.0","procedure":{"name":"lathe/tailstock-by-test-cut","files":[{"name":"shared.hcl","sha256":"…"}]}}
//
// # What the two hashes are for
//
// prev ties every line to all the lines before it: one cannot be changed, taken
// out or put in without the next one saying so. It does not cover the newest
// line, which has no next one; sum does. So any single changed byte is found,
// wherever it is, and in the line that it is in. Neither withstands a person
// who works out all hashes again: for that, the hash of the newest line, the
// [Head], goes into the record, and the record is signed.
//
// A journal cut off exactly behind a line is a sound, shorter journal. Only a
// head kept elsewhere shows that something is missing.
//
// # What stays readable
//
// Journals of format 1 stay readable by every later version of the program. A
// later format keeps the form of the first line, so that an older program can
// say which format it has met; see [ErrVersion].
//
// Nothing here reads a file or the clock. See journalfile for the disk.
package journal

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"time"
	"unicode/utf8"
)

// MaxLine is the greatest length of a line in bytes, with its line feed. A
// profile of a thousand stations needs a fiftieth of it.
const MaxLine = 1 << 20

const (
	timeLayout = "2006-01-02T15:04:05.000Z"
	sumKey     = `,"sum":"`
	sumDigits  = 16
	sumLen     = len(sumKey) + sumDigits + len(`"}`)
)

// Hash is the SHA-256 of a line without its line feed.
type Hash [sha256.Size]byte

func (h Hash) String() string { return hex.EncodeToString(h[:]) }

// MarshalText writes the hash in lower-case hex.
func (h Hash) MarshalText() ([]byte, error) { return []byte(h.String()), nil }

// UnmarshalText reads 64 lower-case hex digits.
func (h *Hash) UnmarshalText(b []byte) error {
	g, err := ParseHash(string(b))
	if err == nil {
		*h = g
	}
	return err
}

// ParseHash reads 64 lower-case hex digits.
func ParseHash(s string) (Hash, error) {
	var h Hash
	b, err := hex.DecodeString(s)
	if err != nil || len(b) != len(h) || hex.EncodeToString(b) != s {
		return h, fmt.Errorf("journal: %.80q is not a hash: it takes 64 digits 0 to 9 and a to f", s)
	}
	copy(h[:], b)
	return h, nil
}

// Entry is one line of a journal.
type Entry struct {
	N    int
	Prev Hash
	Time time.Time // UTC, whole milliseconds
	By   string
	Kind string
	Data json.RawMessage // an object, without blanks
}

// Encode returns the line of an entry, with its line feed. The same entry
// always gives the same bytes. Blanks in Data are left out, no Data is written
// as {}, and the time is cut to milliseconds.
//
// An error says which part of the entry cannot be written; what Encode writes,
// [Recover] reads.
func Encode(e Entry) ([]byte, error) {
	if err := e.check(); err != nil {
		return nil, fmt.Errorf("journal: entry %d: %w", e.N, err)
	}
	var b bytes.Buffer
	b.WriteString(`{"n":`)
	b.WriteString(strconv.Itoa(e.N))
	b.WriteString(`,"prev":"`)
	b.WriteString(e.Prev.String())
	b.WriteString(`","time":"`)
	b.WriteString(e.Time.UTC().Format(timeLayout))
	b.WriteString(`","by":`)
	writeString(&b, e.By)
	b.WriteString(`,"kind":"`)
	b.WriteString(e.Kind)
	b.WriteString(`","data":`)
	if len(e.Data) == 0 {
		b.WriteString("{}")
	} else if err := json.Compact(&b, e.Data); err != nil {
		return nil, fmt.Errorf("journal: entry %d: data: %w", e.N, err)
	}
	sum := sumOf(b.Bytes())
	b.WriteString(sumKey)
	b.WriteString(sum)
	b.WriteString("\"}\n")
	if b.Len() > MaxLine {
		return nil, fmt.Errorf("journal: entry %d: %d bytes long, and a line has room for %d", e.N, b.Len(), MaxLine)
	}
	return b.Bytes(), nil
}

// check tells what in the entry has no place in a line.
func (e Entry) check() error {
	switch t := e.Time.UTC(); {
	case e.N < 1:
		return errors.New("lines are numbered from 1")
	case (e.N == 1) != (e.Prev == Hash{}):
		return errors.New("the first line, and no other, has nothing before it")
	case e.Time.IsZero():
		return errors.New("it has no time")
	case t.Year() < 1 || t.Year() > 9999:
		return fmt.Errorf("year %d does not have four digits", t.Year())
	case !utf8.ValidString(e.By):
		return fmt.Errorf("by %q is not UTF-8 text", e.By)
	case !isWord(e.Kind):
		return fmt.Errorf("kind %q is not a word of lower-case letters, digits and underscores", e.Kind)
	case (e.N == 1) != (e.Kind == KindFormat):
		return fmt.Errorf("kind %q: the first line, and no other, is of kind %q", e.Kind, KindFormat)
	}
	if len(e.Data) > 0 {
		if err := checkData(e.Data); err != nil {
			return err
		}
	}
	if e.N == 1 {
		_, err := e.Format()
		return err
	}
	return nil
}

// isWord accepts a lower-case letter followed by lower-case letters, digits
// and underscores.
func isWord(s string) bool {
	for i, c := range []byte(s) {
		letter := c >= 'a' && c <= 'z'
		if !letter && (i == 0 || c != '_' && (c < '0' || c > '9')) {
			return false
		}
	}
	return s != ""
}

// writeString is written out here, so that the bytes do not change with the
// escapes that a library prefers.
func writeString(b *bytes.Buffer, s string) {
	b.WriteByte('"')
	for _, c := range []byte(s) {
		switch {
		case c == '"' || c == '\\':
			b.WriteByte('\\')
			b.WriteByte(c)
		case c < ' ':
			fmt.Fprintf(b, `\u%04x`, c)
		default:
			b.WriteByte(c)
		}
	}
	b.WriteByte('"')
}

// sumOf returns the digits of the sum over the first part of a line.
func sumOf(b []byte) string {
	h := sha256.Sum256(b)
	return hex.EncodeToString(h[:])[:sumDigits]
}

// Head is the end of a journal: the number of its newest line and that line's
// hash, which depends on every line before it. The zero Head is that of an
// empty journal.
type Head struct {
	N    int  `json:"n"`
	Hash Hash `json:"hash"`
}

// Seal gives the entry its number and its tie to the line before, and cuts its
// time to what a line holds. It returns the entry as [Recover] will read it,
// its line, and the head after it. N and Prev of e are not looked at.
func (h Head) Seal(e Entry) (Entry, []byte, Head, error) {
	e.N, e.Prev = h.N+1, h.Hash
	e.Time = e.Time.UTC().Truncate(time.Millisecond)
	line, err := Encode(e)
	if err != nil {
		return e, nil, h, err
	}
	from, to := bytes.Index(line, []byte(`,"data":`))+len(`,"data":`), len(line)-1-sumLen
	e.Data = json.RawMessage(bytes.Clone(line[from:to]))
	return e, line, Head{N: e.N, Hash: hashOf(line)}, nil
}

// HeadOf returns the head of a journal with these entries.
func HeadOf(entries []Entry) (Head, error) {
	if len(entries) == 0 {
		return Head{}, nil
	}
	last := entries[len(entries)-1]
	line, err := Encode(last)
	if err != nil {
		return Head{}, err
	}
	return Head{N: last.N, Hash: hashOf(line)}, nil
}

// hashOf is the hash of a line given with its line feed.
func hashOf(line []byte) Hash { return sha256.Sum256(line[:len(line)-1]) }
