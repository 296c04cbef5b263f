package journalfile

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"waywright/engine/journal"
)

const memDir = "run"

// Bytes are on the disk before a name leads to them, and a name before the
// caller hears of it.
func TestOrderOfCalls(t *testing.T) {
	d := newMemDisk()
	f, _, err := create(d, memDir, first())
	if err != nil {
		t.Fatal(err)
	}
	expect := func(what string, want ...string) {
		t.Helper()
		if diff := cmp.Diff(want, d.calls); diff != "" {
			t.Errorf("%s (-want +got):\n%s", what, diff)
		}
		d.calls = nil
	}
	expect("create", "mkdir", "lock", "exists journal.jsonl",
		"open journal.jsonl.new", "write journal.jsonl.new", "sync journal.jsonl.new", "rename journal.jsonl.new journal.jsonl", "syncDir",
		"open journal.jsonl")
	if _, err := f.Append(reading(2), reading(3)); err != nil {
		t.Fatal(err)
	}
	expect("append two", "still journal.jsonl", "write journal.jsonl", "sync journal.jsonl")
	f.Close()

	journalOf(d).now = append(journalOf(d).now, "{\"n\""...)
	if _, _, _, err := open(d, memDir); err != nil {
		t.Fatal(err)
	}
	expect("open a torn journal", "read journal.jsonl", "lock", "read journal.jsonl", "open journal.jsonl",
		"sync journal.jsonl", "names", "exists journal.torn-4",
		"open journal.torn-4.new", "write journal.torn-4.new", "sync journal.torn-4.new", "rename journal.torn-4.new journal.torn-4", "syncDir",
		"syncDir", "truncate journal.jsonl", "sync journal.jsonl", "still journal.jsonl")
}

func journalOf(d *memDisk) *memFile { return d.now[filepath.Join(memDir, Name)] }

// A write or a sync fails. The journal takes nothing more, says what is kept,
// and can be gone on with when it is opened again.
func TestAppendFails(t *testing.T) {
	for _, tt := range []struct {
		call      string
		ops, part int
		want      string
		lines     int // whole lines found afterwards
	}{
		{"write, nothing written", 2, 0, "0 of", 3},
		{"write, half a line written", 2, 50, "50 of", 3},
		{"write, one line and a half of two written", 2, 250, "250 of", 4},
		{"write, all written but the last byte", 2, -1, "of", 4},
		{"sync", 3, 0, "sync journal.jsonl", 5},
	} {
		t.Run(tt.call, func(t *testing.T) {
			d := newMemDisk()
			f, _, err := create(d, memDir, first())
			if err != nil {
				t.Fatal(err)
			}
			if _, err := f.Append(reading(2), reading(3)); err != nil {
				t.Fatal(err)
			}
			before := f.Head()
			d.ops, d.part = tt.ops, tt.part
			if tt.part < 0 {
				_, lines, _, err := f.seal([]journal.Entry{reading(4), reading(5)}, reading(4).Time, reading(4).By)
				if err != nil {
					t.Fatal(err)
				}
				d.part = len(lines) - 1
			}
			es, err := f.Append(reading(4), reading(5))
			nk := new(NotKept)
			if es != nil || !errors.As(err, &nk) || nk.Kept != 3 || !errors.Is(err, errFault) || !strings.Contains(err.Error(), tt.want) {
				t.Fatalf("Append = %v, %v; want NotKept with …%s", es, err, tt.want)
			}
			if want := "line 4 was not accepted: "; !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), "Lines 1 to 3 and all that was accepted are safe.") {
				t.Errorf("%v\nwant …%s", err, want)
			}
			had := bytes.Clone(journalOf(d).now)
			if es, again := f.Append(reading(4)); es != nil || again == nil || again.Error() != err.Error() {
				t.Errorf("the next Append = %v, %v; want the same refusal", es, again)
			}
			if !bytes.Equal(had, journalOf(d).now) || f.Head() != before {
				t.Errorf("the next Append wrote to the journal")
			}
			f.Close()

			g, got, notice, err := open(d, memDir)
			if err != nil || len(got) != tt.lines {
				t.Fatalf("open = %d entries, %v; want %d", len(got), err, tt.lines)
			}
			if torn := tt.part != 0; torn != (notice.String() != "") {
				t.Errorf("notice %q", notice)
			}
			if es, err := g.Append(reading(6)); err != nil || es[len(es)-1].N != g.Head().N {
				t.Errorf("Append after open = %v, %v", es, err)
			}
		})
	}
}

// Whichever call of Open or Create fails, the error is clear, the journal is as
// it was or without its torn tail, and a second try succeeds.
func TestOpenAndCreateFailAtEveryCall(t *testing.T) {
	const tail = `{"n":4,"prev":"00`
	for ops := 1; ; ops++ {
		d := newMemDisk()
		f, _, err := create(d, memDir, first())
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.Append(reading(2), reading(3)); err != nil {
			t.Fatal(err)
		}
		f.Close()
		whole := bytes.Clone(journalOf(d).now)
		journalOf(d).now = append(journalOf(d).now, tail...)
		d.restart()
		d.ops, d.part = ops, 5
		_, _, _, err = open(d, memDir)
		if err == nil {
			if ops < 12 {
				t.Fatalf("open made only %d calls", ops)
			}
			break
		}
		if !errors.Is(err, errFault) || !strings.HasPrefix(err.Error(), "open journal run/journal.jsonl: ") {
			t.Errorf("call %d fails: %v", ops, err)
		}
		if d.holding {
			t.Errorf("call %d fails: the lock was not given back", ops)
		}
		if now := journalOf(d).now; !bytes.Equal(now, whole) && string(now) != string(whole)+tail {
			t.Errorf("call %d fails: the journal ends in %q", ops, now[min(len(now), len(whole)):])
		}
		g, es, notice, err := open(d, memDir)
		if err != nil || len(es) != 3 || len(notice.Cuts) != 1 || notice.Cuts[0] != cutOf("journal.torn-4", []byte(tail)) {
			t.Fatalf("call %d failed, second try: %d entries, %+v, %v", ops, len(es), notice, err)
		}
		g.Close()
	}
	for ops := 1; ; ops++ {
		d := newMemDisk()
		d.ops, d.part = ops, 5
		f, _, err := create(d, memDir, first())
		if err == nil {
			if ops < 9 {
				t.Fatalf("create made only %d calls", ops)
			}
			f.Close()
			break
		}
		if !errors.Is(err, errFault) || !strings.HasPrefix(err.Error(), "begin journal run/journal.jsonl: ") || d.holding {
			t.Errorf("call %d fails: %v, lock held: %v", ops, err, d.holding)
		}
		if journalOf(d) == nil { // a journal that has its name has its first line
			if f, _, err = create(d, memDir, first()); err != nil {
				t.Fatalf("call %d failed, second try: %v", ops, err)
			}
		} else if f, _, _, err = open(d, memDir); err != nil {
			t.Fatalf("call %d failed, opened: %v", ops, err)
		}
		f.Close()
	}
}

// A run goes through sessions, each ended by a failing call, by the end of the
// program or by a loss of power at any call. Afterwards
//
//   - every entry that Create, Append or Open returned is there, in its place;
//   - every torn line that was ever found is in a file of its own;
//   - every such file is recorded, with its right size and hash.
func TestNothingAcceptedIsLost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := newMemDisk()
		h := &history{d: d}
		for range rapid.IntRange(1, 8).Draw(t, "sessions") {
			d.ops = rapid.IntRange(1, 40).Draw(t, "ops")
			d.power = rapid.Bool().Draw(t, "power")
			d.part = rapid.IntRange(0, 700).Draw(t, "part")
			h.session(t, rapid.IntRange(0, 5).Draw(t, "appends"))
			if d.power {
				h.loose = ""
				d.lose(func(n int) int { return rapid.IntRange(0, n-1).Draw(t, "kept") })
			} else {
				d.restart()
			}
			h.look(t)
		}
		h.session(t, 2) // nothing fails in this one
		h.look(t)
		h.checkCopies(t)
	})
}

// history is what has been promised.
type history struct {
	d        *memDisk
	accepted []journal.Entry
	tails    []string // torn lines found after a session
	loose    string   // one that the next loss of power may take away
}

// session opens or begins the journal and appends.
func (h *history) session(t *rapid.T, appends int) {
	f, es, _, err := open(h.d, memDir)
	if journalOf(h.d) == nil {
		f, es, err = create(h.d, memDir, first())
	}
	if err != nil {
		if isDamage(err) || errors.Is(err, ErrNotBegun) {
			t.Fatalf("%d entries accepted: %v", len(h.accepted), err)
		}
		return
	}
	h.accept(t, 0, es)
	for range appends {
		n := f.Head().N
		es := []journal.Entry{reading(n + 1), reading(n + 2), reading(n + 3)}
		sealed, err := f.Append(es[:rapid.IntRange(1, 3).Draw(t, "entries")]...)
		if err == nil {
			h.accept(t, n, sealed)
		}
	}
	f.Close()
}

// accept notes entries that follow the first n. Entries beyond those accepted
// may be new: an Append that failed may have left whole lines.
func (h *history) accept(t *rapid.T, n int, es []journal.Entry) {
	have := append(slices.Clone(h.accepted[:n]), es...)
	if !begins(have, h.accepted) {
		t.Fatalf("accepted %d entries, now %d:\n%s", len(h.accepted), len(have), cmp.Diff(h.accepted, have))
	}
	h.accepted = have
}

func begins(es, with []journal.Entry) bool {
	return len(es) >= len(with) && slices.EqualFunc(es[:len(with)], with, func(a, b journal.Entry) bool { return cmp.Equal(a, b) })
}

// look reads the journal as a later program would find it.
func (h *history) look(t *rapid.T) {
	f := journalOf(h.d)
	if f == nil {
		if len(h.accepted) > 0 {
			t.Fatalf("the journal with %d accepted entries is gone", len(h.accepted))
		}
		return
	}
	es, tail, err := journal.Recover(f.now)
	if err != nil || len(es) == 0 {
		t.Fatalf("Recover = %d entries, %v", len(es), err)
	}
	if !begins(es, h.accepted) {
		t.Fatalf("accepted entries are missing:\n%s", cmp.Diff(h.accepted, es))
	}
	if h.loose != "" && h.loose != string(tail) { // it was dealt with
		h.tails = append(h.tails, h.loose)
	}
	h.loose = ""
	switch {
	case len(tail) == 0:
	case bytes.Equal(f.now, f.kept):
		h.tails = append(h.tails, string(tail))
	default:
		h.loose = string(tail)
	}
}

func (h *history) checkCopies(t *rapid.T) {
	copies := map[string]string{}
	for name, f := range h.d.now {
		if _, _, ok := parseCopyName(filepath.Base(name)); ok {
			copies[filepath.Base(name)] = string(f.now)
		}
	}
	for _, tail := range h.tails {
		if !slices.Contains(slices.Collect(maps.Values(copies)), tail) {
			t.Fatalf("the torn line %q is in none of %q", tail, copies)
		}
	}
	for _, e := range h.accepted {
		if e.Kind != journal.KindRecovered {
			continue
		}
		c, err := e.Cut()
		if err != nil || cutOf(c.File, []byte(copies[c.File])) != c {
			t.Fatalf("entry %d says %+v, %v; the file holds %q", e.N, c, err, copies[c.File])
		}
		delete(copies, c.File)
	}
	if len(copies) > 0 {
		t.Fatalf("no entry records %q", fmt.Sprint(copies))
	}
}
