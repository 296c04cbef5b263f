package journalfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"waywright/engine/journal"
)

var began = time.Date(2026, 3, 2, 7, 31, 12, 480e6, time.UTC)

func first() journal.Entry {
	return journal.Entry{Time: began, By: "I. Brandt", Kind: journal.KindFormat,
		Data: json.RawMessage(`{"format":"waywright journal 1","program":"0.1.0","procedure":{"name":"bed","files":[]}}`)}
}

// reading is the entry that the tests append: the n-th of its kind.
func reading(n int) journal.Entry {
	return journal.Entry{Time: began.Add(time.Duration(n) * time.Second), By: "P. Osei", Kind: "answered",
		Data: json.RawMessage(fmt.Sprintf(`{"reading":"near","value":%d}`, n))}
}

// begin makes a journal of lines 1 to n in a new folder and closes it.
func begin(t testing.TB, n int) (dir string, entries []journal.Entry) {
	t.Helper()
	dir = filepath.Join(t.TempDir(), "run")
	f, entries, err := Create(dir, first())
	if err != nil {
		t.Fatal(err)
	}
	for i := 2; i <= n; i++ {
		es, err := f.Append(reading(i))
		if err != nil {
			t.Fatal(err)
		}
		entries = append(entries, es...)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	return dir, entries
}

func readFile(t testing.TB, dir, name string) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func writeFile(t testing.TB, dir, name string, b []byte) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, name), b, 0o666); err != nil {
		t.Fatal(err)
	}
}

// files returns what is in a folder, without the lock file.
func files(t testing.TB, dir string) map[string]string {
	t.Helper()
	es, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	m := map[string]string{}
	for _, e := range es {
		if e.Type().IsRegular() && e.Name() != LockName {
			m[e.Name()] = string(readFile(t, dir, e.Name()))
		}
	}
	return m
}

func TestCreateAppendOpen(t *testing.T) {
	dir, want := begin(t, 5)
	f, got, notice, err := Open(dir)
	if err != nil || notice.String() != "" {
		t.Fatalf("Open: notice %q, %v", notice, err)
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("Open differs from what Create and Append returned (-want +got):\n%s", d)
	}
	es, err := f.Append(reading(6), reading(7))
	if err != nil || len(es) != 2 || es[0].N != 6 || es[1].N != 7 {
		t.Fatalf("Append = %+v, %v; want entries 6 and 7", es, err)
	}
	// Readers need no lock, and the bytes are there before Append returns.
	read, notice, err := Read(filepath.Join(dir, Name))
	if d := cmp.Diff(append(want, es...), read); d != "" || err != nil || notice.String() != "" {
		t.Errorf("Read beside the writer: notice %q, %v (-want +got):\n%s", notice, err, d)
	}
	head, err := journal.HeadOf(read)
	if err != nil || f.Head() != head {
		t.Errorf("Head = %v; want %v, %v", f.Head(), head, err)
	}
	if f.Dir() != dir {
		t.Errorf("Dir = %s; want %s", f.Dir(), dir)
	}
	if err := errors.Join(f.Close(), f.Close()); err != nil {
		t.Errorf("Close, twice: %v", err)
	}
	if es, err := f.Append(reading(8)); err == nil {
		t.Errorf("Append after Close = %v, nil", es)
	}
	if have := files(t, dir); len(have) != 1 {
		t.Errorf("the folder holds %v; want the journal alone", have)
	}
}

func TestAppendNothing(t *testing.T) {
	dir, _ := begin(t, 2)
	f, _, _, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if es, err := f.Append(); len(es) != 0 || err != nil {
		t.Errorf("Append() = %v, %v; want nothing, nil", es, err)
	}
}

// What cannot be written is refused as a whole, and the journal goes on.
func TestAppendRefuses(t *testing.T) {
	dir, _ := begin(t, 2)
	before := files(t, dir)
	f, _, _, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	bad := reading(4)
	bad.Data = json.RawMessage(`{"a":1,"a":2}`)
	long := reading(4)
	long.Data = json.RawMessage(`{"a":"` + strings.Repeat("x", journal.MaxLine) + `"}`)
	for _, e := range []journal.Entry{bad, long, first()} {
		if es, err := f.Append(reading(3), e); err == nil || es != nil || errors.As(err, new(*NotKept)) {
			t.Errorf("Append of %.60s = %v, %v; want a refusal", e.Data, es, err)
		}
	}
	if d := cmp.Diff(before, files(t, dir)); d != "" {
		t.Errorf("a refused entry changed the folder:\n%s", d)
	}
	if es, err := f.Append(reading(3)); err != nil || es[0].N != 3 {
		t.Errorf("Append after refusals = %v, %v", es, err)
	}
}

// A journal that is full says so before it becomes one that cannot be opened.
func TestAppendToFullJournal(t *testing.T) {
	dir, _ := begin(t, 1)
	f, _, _, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	f.size = MaxSize - 10 // the file itself stays small
	es, err := f.Append(reading(2))
	if err == nil || es != nil || !strings.Contains(err.Error(), "it has room for 10") {
		t.Errorf("Append = %v, %v; want an error that says what room there is", es, err)
	}
}

// The journal is cut at every byte, opened, and gone on with. The bytes cut off
// are kept, said, and recorded by the next entry.
func TestOpenCutAtEveryByte(t *testing.T) {
	dir, entries := begin(t, 3)
	whole := readFile(t, dir, Name)
	ends := []int{}
	for i, c := range whole {
		if c == '\n' {
			ends = append(ends, i+1)
		}
	}
	for cut := ends[0]; cut <= len(whole); cut++ {
		n := 0
		for n < len(ends) && ends[n] <= cut {
			n++
		}
		torn := whole[ends[n-1]:cut]
		dir := t.TempDir()
		writeFile(t, dir, Name, whole[:cut])

		// A reader sees it without touching it.
		read, notice, err := Read(filepath.Join(dir, Name))
		if err != nil || len(read) != n || (len(torn) > 0) != (notice.String() != "") {
			t.Fatalf("cut at byte %d: Read = %d entries, notice %q, %v", cut, len(read), notice, err)
		}
		if b := readFile(t, dir, Name); len(b) != cut {
			t.Fatalf("cut at byte %d: Read changed the journal", cut)
		}

		f, got, notice, err := Open(dir)
		if err != nil {
			t.Fatalf("cut at byte %d: %v", cut, err)
		}
		if d := cmp.Diff(entries[:n], got); d != "" {
			t.Fatalf("cut at byte %d:\n%s", cut, d)
		}
		if len(torn) > 0 && !strings.Contains(notice.String(), fmt.Sprintf("kept in journal.torn-%d.", n+1)) {
			t.Fatalf("cut at byte %d: notice %q", cut, notice)
		}
		next := f.Next()
		es, err := f.Append(reading(9))
		if err != nil {
			t.Fatal(err)
		}
		if last := es[len(es)-1]; last.N != next {
			t.Fatalf("cut at byte %d: Next = %d before Append; the entry got number %d", cut, next, last.N)
		}
		checkCut(t, dir, es, torn, n+1)
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
		_, again, notice, err := Open(dir)
		if d := cmp.Diff(append(got, es...), again); d != "" || err != nil || notice.String() != "" {
			t.Fatalf("cut at byte %d, gone on, opened again: notice %q, %v\n%s", cut, notice, err, d)
		}
	}
}

// checkCut checks what was appended after a cut: a "recovered" entry with the
// time and author of the one after it, and the bytes themselves.
func checkCut(t *testing.T, dir string, es []journal.Entry, torn []byte, line int) {
	t.Helper()
	if len(torn) == 0 {
		if len(es) != 1 || es[0].Kind == journal.KindRecovered {
			t.Fatalf("nothing was torn, and the entries are %+v", es)
		}
		return
	}
	if len(es) != 2 || es[0].By != es[1].By || !es[0].Time.Equal(es[1].Time) {
		t.Fatalf("%d bytes torn: appended %+v; want a recovered entry of the same author and time in front", len(torn), es)
	}
	c, err := es[0].Cut()
	want := cutOf(fmt.Sprintf("journal.torn-%d", line), torn)
	if err != nil || c != want {
		t.Fatalf("recovered entry says %+v, %v; want %+v", c, err, want)
	}
	if kept := readFile(t, dir, c.File); !bytes.Equal(kept, torn) {
		t.Fatalf("%s holds %q; want %q", c.File, kept, torn)
	}
}

// The program may stop between any two steps of cutting a torn line off. The
// states in between are laid down by hand here.
func TestOpenAfterStopWhileCutting(t *testing.T) {
	whole, _ := begin(t, 3)
	b := readFile(t, whole, Name)
	for _, tt := range []struct {
		name  string
		files map[string]string // beside the journal
		tail  string
		want  map[string]string // files of torn lines afterwards
	}{
		{"half of the copy is written", map[string]string{"journal.torn-4.new": "{\"n\""}, `{"n":4,"pr`, map[string]string{"journal.torn-4": `{"n":4,"pr`}},
		{"copied and not cut", map[string]string{"journal.torn-4": `{"n":4,"pr`}, `{"n":4,"pr`, map[string]string{"journal.torn-4": `{"n":4,"pr`}},
		{"cut and not recorded", map[string]string{"journal.torn-4": `{"n":4,"pr`}, ``, map[string]string{"journal.torn-4": `{"n":4,"pr`}},
		{"the record of the cut is torn too", map[string]string{"journal.torn-4": `{"n":4,"pr`}, `{"n":4`, map[string]string{"journal.torn-4": `{"n":4,"pr`, "journal.torn-4-2": `{"n":4`}},
		{"a third time", map[string]string{"journal.torn-4": `{"n":4,"pr`, "journal.torn-4-2": `{"n":4`}, `{`, map[string]string{"journal.torn-4": `{"n":4,"pr`, "journal.torn-4-2": `{"n":4`, "journal.torn-4-3": `{`}},
		{"files that are not ours", map[string]string{"journal.torn-": "a", "journal.torn-04": "b", "journal.torn-4-1": "c", "journal.torn-4~": "d", "journal.torn-9": "later"}, ``, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			dir := t.TempDir()
			writeFile(t, dir, Name, append(bytes.Clone(b), tt.tail...))
			for name, s := range tt.files {
				writeFile(t, dir, name, []byte(s))
			}
			f, _, notice, err := Open(dir)
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			if got := strings.Count(notice.String(), "kept in"); got != len(tt.want) {
				t.Errorf("notice %q tells of %d cuts; want %d", notice, got, len(tt.want))
			}
			es, err := f.Append(reading(4))
			if err != nil {
				t.Fatal(err)
			}
			got := map[string]string{}
			for _, e := range es[:len(es)-1] {
				c, err := e.Cut()
				if err != nil {
					t.Fatal(err)
				}
				kept := readFile(t, dir, c.File)
				if cutOf(c.File, kept) != c {
					t.Errorf("%+v does not fit the file", c)
				}
				got[c.File] = string(kept)
			}
			if d := cmp.Diff(tt.want, got); d != "" && len(tt.want)+len(got) > 0 {
				t.Errorf("recorded (-want +got):\n%s", d)
			}
			if es, err := f.Append(reading(5)); err != nil || len(es) != 1 {
				t.Errorf("the next Append = %+v, %v; want the one entry", es, err)
			}
		})
	}
}

// A journal that cannot be gone on with is left alone to the last byte.
func TestOpenRefuses(t *testing.T) {
	whole, _ := begin(t, 4)
	b := readFile(t, whole, Name)
	line2 := bytes.IndexByte(b, '\n') + 1
	flipped := bytes.Clone(b)
	flipped[line2+120] ^= 1
	zero := bytes.Clone(b)
	copy(zero[line2+20:], make([]byte, 40))
	for _, tt := range []struct {
		name  string
		bytes []byte
		want  string
		as    func(error) bool
	}{
		{"flipped bit", flipped, "line 2, byte ", isDamage},
		{"zeros", zero, "line 2, byte ", isDamage},
		{"empty", nil, "the journal holds no whole line", func(err error) bool { return errors.Is(err, ErrNotBegun) }},
		{"torn first line", b[:50], "the journal holds no whole line", func(err error) bool { return errors.Is(err, ErrNotBegun) }},
		{"binary", []byte("\x7fELF\x02\x01\x01\x00\n\x00\xff"), "line 1, byte 7: it holds a NUL", isDamage},
		{"binary without a line feed", bytes.Repeat([]byte{0xfe}, journal.MaxLine+5), "line 1, byte 1048576: 1048581 bytes without a line feed", isDamage},
	} {
		t.Run(tt.name, func(t *testing.T) {
			dir := t.TempDir()
			writeFile(t, dir, Name, tt.bytes)
			f, entries, _, err := Open(dir)
			if f != nil || entries != nil || !tt.as(err) || !strings.Contains(err.Error(), tt.want) || !strings.Contains(err.Error(), dir) {
				t.Errorf("Open = %v, %d entries, %v; want …%s", f, len(entries), err, tt.want)
			}
			if _, _, rerr := Read(filepath.Join(dir, Name)); !tt.as(rerr) {
				t.Errorf("Read: %v; want the same trouble as %v", rerr, err)
			}
			if d := cmp.Diff(map[string]string{Name: string(tt.bytes)}, files(t, dir)); d != "" {
				t.Errorf("the folder was changed:\n%s", d)
			}
			// The lock was given back: the second try fails the same way.
			if _, _, _, again := Open(dir); again == nil || again.Error() != err.Error() {
				t.Errorf("second Open: %v; want %v", again, err)
			}
			if _, _, cerr := Create(dir, first()); !errors.Is(cerr, fs.ErrExist) {
				t.Errorf("Create over it: %v; want that it exists", cerr)
			}
			if d := cmp.Diff(map[string]string{Name: string(tt.bytes)}, files(t, dir)); d != "" {
				t.Errorf("Create changed the folder:\n%s", d)
			}
		})
	}
}

func isDamage(err error) bool { return errors.As(err, new(*journal.Damage)) }

// With damage come the lines that hold.
func TestReadDamaged(t *testing.T) {
	dir, entries := begin(t, 4)
	b := readFile(t, dir, Name)
	b[len(b)-5] ^= 1
	writeFile(t, dir, Name, b)
	got, _, err := Read(filepath.Join(dir, Name))
	dmg := new(journal.Damage)
	if !errors.As(err, &dmg) || dmg.Line != 4 {
		t.Errorf("Read: %v; want damage in line 4", err)
	}
	if d := cmp.Diff(entries[:3], got); d != "" {
		t.Errorf("entries (-want +got):\n%s", d)
	}
}

func TestPathsThatAreNoJournal(t *testing.T) {
	dir := t.TempDir()
	writeFile(t, dir, "a-file", []byte("text"))
	if err := os.MkdirAll(filepath.Join(dir, "folder", Name), 0o777); err != nil {
		t.Fatal(err)
	}
	huge := filepath.Join(dir, "huge")
	if err := os.Mkdir(huge, 0o777); err != nil {
		t.Fatal(err)
	}
	writeFile(t, huge, Name, nil)
	if err := os.Truncate(filepath.Join(huge, Name), MaxSize+1); err != nil { // sparse
		t.Fatal(err)
	}
	for _, tt := range []struct{ dir, open, create string }{
		{"nowhere", "no such file or directory", ""},
		{"a-file", "not a directory", "a-file is a file, not a folder. Nothing was recorded"},
		{"a-file/run", "not a directory", "not a directory. Nothing was recorded"},
		{"folder", "it is a folder, not a file", "file already exists"},
		{"huge", "it is larger than 64 MiB", "file already exists"},
	} {
		path := filepath.Join(dir, tt.dir)
		if _, _, _, err := Open(path); err == nil || !strings.HasPrefix(err.Error(), "open journal "+path) || !strings.Contains(err.Error(), tt.open) {
			t.Errorf("Open(%s): %v; want …%s", tt.dir, err, tt.open)
		}
		if _, _, err := Read(filepath.Join(path, Name)); err == nil || !strings.Contains(err.Error(), tt.open) {
			t.Errorf("Read(%s): %v; want …%s", tt.dir, err, tt.open)
		}
		if tt.create == "" {
			continue
		}
		if _, _, err := Create(path, first()); err == nil || !strings.Contains(err.Error(), tt.create) {
			t.Errorf("Create(%s): %v; want …%s", tt.dir, err, tt.create)
		}
	}
	if _, err := os.Lstat(filepath.Join(dir, "nowhere")); err == nil {
		t.Error("Open made the folder that was not there")
	}
	if b := readFile(t, dir, "a-file"); string(b) != "text" {
		t.Errorf("a-file is now %q", b)
	}
}

func TestCreateRefusesABadFirstEntry(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "run")
	if _, _, err := Create(dir, reading(1)); err == nil {
		t.Error("Create with a reading as first line: no error")
	}
	if _, err := os.Lstat(dir); err == nil {
		t.Error("the folder was made all the same")
	}
}

// Another program writes to the journal, or takes it away, in spite of the
// lock, as can happen on a network share.
func TestAppendFindsTheFileChanged(t *testing.T) {
	for _, tt := range []struct {
		name, want string
		do         func(path string) error
	}{
		{"written to", "another program wrote to the file", func(path string) error {
			f, err := os.OpenFile(path, os.O_WRONLY|os.O_APPEND, 0)
			if err != nil {
				return err
			}
			defer f.Close()
			_, err = f.WriteString("x\n")
			return err
		}},
		{"cut", "another program wrote to the file", func(path string) error { return os.Truncate(path, 10) }},
		{"removed", "moved or removed", os.Remove},
		{"replaced", "replaced", func(path string) error {
			b, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			return errors.Join(os.WriteFile(path+"2", b, 0o666), os.Rename(path+"2", path))
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			dir, _ := begin(t, 3)
			f, _, _, err := Open(dir)
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			if err := tt.do(filepath.Join(dir, Name)); err != nil {
				t.Fatal(err)
			}
			before := files(t, dir)
			for range 2 { // it stays so
				es, err := f.Append(reading(4))
				nk := new(NotKept)
				if es != nil || !errors.As(err, &nk) || nk.Kept != 3 || !strings.Contains(err.Error(), tt.want) {
					t.Errorf("Append = %v, %v; want …%s", es, err, tt.want)
				}
			}
			if d := cmp.Diff(before, files(t, dir)); d != "" {
				t.Errorf("the folder was changed:\n%s", d)
			}
		})
	}
}

func BenchmarkAppend(b *testing.B) {
	f, _, err := Create(filepath.Join(b.TempDir(), "run"), first())
	if err != nil {
		b.Fatal(err)
	}
	defer f.Close()
	for n := 2; b.Loop(); n++ {
		if _, err := f.Append(reading(n)); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkOpen1000(b *testing.B) {
	dir, _ := begin(b, 1000)
	for b.Loop() {
		f, _, _, err := Open(dir)
		if err != nil {
			b.Fatal(err)
		}
		f.Close()
	}
}
