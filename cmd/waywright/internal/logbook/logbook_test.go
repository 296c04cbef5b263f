package logbook

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"waywright/checks/quantity"
	"waywright/engine"
	"waywright/procedures"
	"waywright/procedures/hclfile"
	"waywright/procedures/library"
	"waywright/report/evidence"
)

func now() time.Time { return time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC) }

// made returns a new logbook.
func made(t testing.TB) Book {
	t.Helper()
	b := Book{Dir: filepath.Join(t.TempDir(), "shop")}
	if made, err := b.Make(); !made || err != nil {
		t.Fatalf("Make = %v, %v; want true, nil", made, err)
	}
	return b
}

func tailstock(t testing.TB) *procedures.Procedure {
	t.Helper()
	src, ok := library.Source("lathe/tailstock-by-test-cut")
	if !ok {
		t.Fatal("the library has no lathe/tailstock-by-test-cut")
	}
	l, ds := hclfile.Parse(src)
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	return l.Procedure
}

func TestNewLogbookIsEmptyAndSound(t *testing.T) {
	b := made(t)
	if again, err := b.Make(); again || err != nil {
		t.Errorf("Make again = %v, %v; want false, nil", again, err)
	}
	ms, err := b.Machines()
	if len(ms) != 0 || err != nil {
		t.Errorf("Machines = %v, %v; want none", ms, err)
	}
	if is, err := b.Instruments(); len(is) != 0 || err != nil {
		t.Errorf("Instruments = %v, %v; want none", is, err)
	}
	if ps, err := b.People(); len(ps) != 0 || err != nil {
		t.Errorf("People = %v, %v; want none", ps, err)
	}
	if names, err := b.Names(); len(names) != 0 || err != nil {
		t.Errorf("Names = %v, %v; want none", names, err)
	}
}

// What is shown as an example at the top of a new register can be used.
func TestExamplesOfRegistersAreSound(t *testing.T) {
	b := made(t)
	for name, head := range heads {
		lines := strings.SplitAfter(head, "\n")
		text := ""
		for _, l := range lines[1:] {
			text += strings.TrimPrefix(strings.TrimPrefix(l, "#"), " ")
		}
		if err := os.WriteFile(filepath.Join(b.Dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if ms, err := b.Machines(); len(ms) != 1 || err != nil {
		t.Errorf("Machines = %v, %v; want one", ms, err)
	}
	if is, err := b.Instruments(); len(is) != 1 || err != nil {
		t.Errorf("Instruments = %v, %v; want one", is, err)
	}
	if ps, err := b.People(); len(ps) != 1 || err != nil {
		t.Errorf("People = %v, %v; want one", ps, err)
	}
}

func TestRunsAreNamedAfterProcedureAndMachine(t *testing.T) {
	b := made(t)
	p := tailstock(t)
	var names []string
	for range 3 {
		r, err := b.Begin(Start{Procedure: p, Machine: engine.Machine{ID: "lathe-4"}, Program: "test"}, now)
		if err != nil {
			t.Fatal(err)
		}
		names = append(names, r.Name)
		if r.State.Len() != 2 || r.Head.N != 2 {
			t.Errorf("a new run has %d events and %d lines; want its beginning in line 2", r.State.Len(), r.Head.N)
		}
		if err := r.Close(); err != nil {
			t.Fatal(err)
		}
	}
	want := []string{"tailstock-by-test-cut-lathe-4", "tailstock-by-test-cut-lathe-4.2", "tailstock-by-test-cut-lathe-4.3"}
	if d := cmp.Diff(want, names); d != "" {
		t.Errorf("names (-want +got):\n%s", d)
	}
	if got, err := b.Names(); err != nil || cmp.Diff(want, got) != "" {
		t.Errorf("Names = %v, %v; want %v", got, err, want)
	}
	left, err := filepath.Glob(filepath.Join(b.Dir, "runs", ".*"))
	if len(left) != 0 || err != nil {
		t.Errorf("left over: %v, %v", left, err)
	}
}

// The digest of a procedure can be had without this program: it is what
// sha256sum says of what sha256sum says of its files.
func TestDigestOfProcedure(t *testing.T) {
	b := made(t)
	p := tailstock(t)
	r, err := b.Begin(Start{Procedure: p, Machine: engine.Machine{ID: "lathe-4"}, Program: "test"}, now)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	list := ""
	for _, f := range p.Files {
		kept, err := os.ReadFile(filepath.Join(r.Dir, "procedure", filepath.FromSlash(f.Name)))
		if err != nil || string(kept) != string(f.Bytes) {
			t.Errorf("%s is not kept as it was: %v", f.Name, err)
		}
		list += fmt.Sprintf("%x  %s\n", sha256.Sum256(kept), f.Name)
	}
	sum := sha256.Sum256([]byte(list))
	if got, want := r.State.Begun().Digest, hex.EncodeToString(sum[:]); got != want {
		t.Errorf("Digest = %s; want %s", got, want)
	}
}

// A journal that was made by somebody else names no file outside its folder.
func TestPinnedNamesStayInside(t *testing.T) {
	for _, name := range []string{"../secret", "/etc/passwd", "a/../../b", ".", "", "a//b", "a/./b"} {
		if p, err := inside("procedure", name); err == nil {
			t.Errorf("inside(%q) = %q; want an error", name, p)
		}
		if _, _, err := pin(t.TempDir(), []procedures.File{{Name: name}}); err == nil {
			t.Errorf("pin(%q): want an error", name)
		}
	}
	if p, err := inside("procedure", "lathe/shared.hcl"); err != nil || p != filepath.Join("procedure", "lathe", "shared.hcl") {
		t.Errorf("inside = %q, %v", p, err)
	}
}

func TestRunNamesStayInside(t *testing.T) {
	b := made(t)
	for _, name := range []string{"..", ".", "", "../shop", "a/b", ".new-1", "/"} {
		if _, err := b.Read(name); err == nil || strings.Contains(err.Error(), "no such file") {
			t.Errorf("Read(%q) = %v; want an error about the name", name, err)
		}
	}
}

func TestBoundHasTheFiguresOfTheRegister(t *testing.T) {
	b := made(t)
	for _, in := range []NewInstrument{
		{ID: "M-7", Kind: "outside micrometer", Due: "2028-02-16", Coverage: "2", Sizes: []NewSize{{"resolution", "1um"}, {"error", "0.004 mm"}, {"turn", "0,5mm"}, {"uncertainty", "1.5 um"}}},
		{ID: "L-1", Kind: "precision level", Sizes: []NewSize{{"resolution", "5 um/m"}, {"error", "0.01 mm/m"}}},
	} {
		if err := b.AddInstrument(in); err != nil {
			t.Fatal(err)
		}
	}
	real, err := b.Instruments()
	if err != nil || len(real) != 2 {
		t.Fatalf("Instruments = %v, %v; want two", real, err)
	}
	want := engine.Bound{
		Name: "mic", ID: "M-7", What: "outside micrometer", Unit: "um",
		Resolution: 1, Error: 4, Turn: 500, CertU: 1.5, CertK: 2, Due: "2028-02-16",
	}
	if d := cmp.Diff(want, Bound("mic", real[0])); d != "" {
		t.Errorf("Bound (-want +got):\n%s", d)
	}
	level := Bound("level", real[1])
	u, err := quantity.Lookup(level.Unit)
	if err != nil {
		t.Fatalf("Bound of a level has the unit %q: %v", level.Unit, err)
	}
	for _, f := range []struct {
		what      string
		got, want float64 // mm per mm
	}{{"resolution", u.Base(level.Resolution), 5e-6}, {"error", u.Base(level.Error), 10e-6}} {
		if diff := f.got - f.want; diff > 1e-15 || diff < -1e-15 {
			t.Errorf("%s of a level = %g; want %g", f.what, f.got, f.want)
		}
	}
}

func TestMachineOf(t *testing.T) {
	b := made(t)
	err := b.AddMachine(NewMachine{ID: "lathe-4", Class: "centre lathe", Serial: "2207", Taper: "MT4",
		Sizes: []NewSize{{"centre_height", "5.5 inch"}, {"test_bar.length", "320 mm"}}})
	if err != nil {
		t.Fatal(err)
	}
	ms, err := b.Machines()
	if err != nil || len(ms) != 1 {
		t.Fatalf("Machines = %v, %v; want one", ms, err)
	}
	want := engine.Machine{ID: "lathe-4", Class: "centre lathe", Serial: "2207",
		Text:    map[string]string{"id": "lathe-4", "class": "centre lathe", "serial": "2207", "spindle_taper": "MT4"},
		Numbers: map[string]engine.Stored{"centre_height": {Value: 5.5, Unit: "inch"}, "test_bar.length": {Value: 320, Unit: "mm"}}}
	if d := cmp.Diff(want, MachineOf(ms[0])); d != "" {
		t.Errorf("MachineOf (-want +got):\n%s", d)
	}
}

// Whatever words are entered, the register gives them back, and what stood in
// it stays.
func TestPropertyRegisterGivesBackWords(t *testing.T) {
	words := rapid.StringMatching(`[a-zäß°"'\\$%{}#/*=<>& .,-]{0,12}[a-z"\\$%{}]`)
	rapid.Check(t, func(rt *rapid.T) {
		b := made(t)
		first := NewMachine{ID: "a", Class: words.Draw(rt, "class"), Title: words.Draw(rt, "title")}
		second := NewMachine{ID: "b", Class: words.Draw(rt, "class of the second"), Stands: words.Draw(rt, "place")}
		for _, m := range []NewMachine{first, second} {
			if err := b.AddMachine(m); err != nil {
				rt.Fatalf("AddMachine(%q): %v", m, err)
			}
		}
		ms, err := b.Machines()
		if err != nil || len(ms) != 2 {
			rt.Fatalf("Machines = %v, %v; want two", ms, err)
		}
		if ms[0].Class != first.Class || ms[0].Title != first.Title || ms[1].Class != second.Class || ms[1].Stands != second.Stands {
			rt.Fatalf("entered %q and %q; read %+v and %+v", first, second, ms[0], ms[1])
		}
	})
}

func TestPlainName(t *testing.T) {
	for in, want := range map[string]string{
		"tailstock-by-test-cut-lathe-4": "tailstock-by-test-cut-lathe-4",
		"bow-Nr. 3/b":                   "bow-Nr.-3-b",
		"..":                            "",
		"-x-":                           "x",
		"größe":                         "gr--e",
	} {
		if got := plainName(in); got != want {
			t.Errorf("plainName(%q) = %q; want %q", in, got, want)
		}
	}
}

// A file finds the shared definitions beside it and above it.
func TestFileSourceFindsItsRoot(t *testing.T) {
	dir := t.TempDir()
	for _, f := range []string{"lib/shared.hcl", "lib/lathe/shared.hcl", "lib/lathe/bow.hcl", "lib/mill/table.hcl", "alone/x.hcl"} {
		if err := os.MkdirAll(filepath.Dir(filepath.Join(dir, f)), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, f), nil, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for file, want := range map[string]string{
		"lib/lathe/bow.hcl":  "lathe/bow.hcl",
		"lib/mill/table.hcl": "mill/table.hcl",
		"alone/x.hcl":        "x.hcl",
	} {
		src, err := FileSource(filepath.Join(dir, filepath.FromSlash(file)))
		if err != nil || src.Path != want {
			t.Errorf("FileSource(%s) = %s, %v; want %s below its root", file, src.Path, err, want)
		}
	}
}

func TestAttachKeepsByHash(t *testing.T) {
	b := made(t)
	r, err := b.Begin(Start{Procedure: tailstock(t), Machine: engine.Machine{ID: "lathe-4"}, Program: "test"}, now)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	place, err := os.ReadFile("../../../../report/evidence/testdata/place.jpg")
	if err != nil {
		t.Fatal(err)
	}
	photo := filepath.Join(t.TempDir(), "dial at zero.png") // its name is wrong, what it holds is not
	if err := os.WriteFile(photo, place, 0o600); err != nil {
		t.Fatal(err)
	}
	whole := sha256.Sum256(place)
	for range 2 { // the same file twice is one
		f, err := r.Attach(photo, evidence.AsItIs)
		if err != nil {
			t.Fatal(err)
		}
		want := &engine.File{Name: "dial at zero.png", SHA256: hex.EncodeToString(whole[:]), Size: int64(len(place)), Type: "image/jpeg", Place: true}
		if d := cmp.Diff(want, f); d != "" {
			t.Errorf("Attach (-want +got):\n%s", d)
		}
	}
	if f, err := r.Attach(photo, evidence.AskPlace); !errors.Is(err, evidence.ErrSaysPlace) {
		t.Errorf("Attach = %+v, %v; want that it asks about the place", f, err)
	}
	bare, removed, err := evidence.Without(place)
	if err != nil {
		t.Fatal(err)
	}
	less := sha256.Sum256(bare)
	f, err := r.Attach(photo, evidence.NoPlace)
	want := &engine.File{
		Name: "dial at zero.png", SHA256: hex.EncodeToString(less[:]), Size: int64(len(bare)), Type: "image/jpeg", Removed: removed,
		Original: &engine.WasFile{SHA256: hex.EncodeToString(whole[:]), Size: int64(len(place))},
	}
	if d := cmp.Diff(want, f); d != "" || err != nil {
		t.Errorf("Attach without the place: %v (-want +got):\n%s", err, d)
	}
	kept, err := filepath.Glob(filepath.Join(r.Dir, "evidence", "*"))
	names := []string{hex.EncodeToString(whole[:]) + ".jpg", hex.EncodeToString(less[:]) + ".jpg"}
	slices.Sort(names)
	if err != nil || len(kept) != 2 || filepath.Base(kept[0]) != names[0] || filepath.Base(kept[1]) != names[1] {
		t.Errorf("evidence holds %v, %v; want files named by their hashes", kept, err)
	}
	if got := r.Evidence(f.SHA256); !bytes.Equal(got, bare) {
		t.Errorf("Evidence gives %d bytes, want %d", len(got), len(bare))
	}
	if got := r.Evidence("../journal.jsonl"); got != nil {
		t.Errorf("Evidence gives %d bytes of a file that is none", len(got))
	}
	text := filepath.Join(t.TempDir(), "notes.jpg")
	if err := os.WriteFile(text, []byte("not really a photograph"), 0o600); err != nil {
		t.Fatal(err)
	}
	large := filepath.Join(t.TempDir(), "large.jpg")
	if err := os.WriteFile(large, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(large, evidence.MostBytes+1); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{
		filepath.Dir(photo): "it is a folder; name one file", photo + ".missing": "no such file or directory", text: evidence.ErrUnknown.Error(),
		large: "it has more than the 64 MB that are kept. Save the photograph smaller, or scan it in grey",
	} {
		if f, err := r.Attach(path, evidence.AsItIs); err == nil || err.Error() != want {
			t.Errorf("Attach(%s) = %+v, %v; want %s", filepath.Base(path), f, err, want)
		}
	}
}
