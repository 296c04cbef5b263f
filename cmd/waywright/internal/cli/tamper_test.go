package cli

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"image"
	"image/png"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"waywright/cmd/waywright/internal/logbook"
	"waywright/engine/journal"
	"waywright/procedures"
	"waywright/report"
	"waywright/report/seal"
)

// command runs the program in a folder, as a shop would.
func command(t testing.TB, dir, in string, want int, args ...string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "in")
	if err := os.WriteFile(file, []byte(in), 0o600); err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var out strings.Builder
	env := map[string]string{"WAYWRIGHT_LOGBOOK": filepath.Join(dir, "book"), "HOME": dir}
	code := Main(args, Streams{In: f, Out: &out, Err: &out, Now: time.Now, Env: func(k string) string { return env[k] }})
	if code != want {
		t.Fatalf("waywright %s: exit code %d, want %d\n%s", strings.Join(args, " "), code, want, out.String())
	}
	return out.String()
}

const spacer = `procedure "spacer" {
  title    = "A spacer is 20 mm thick"
  machine  = "any"
  revision = "1"
  purpose  = "Measure a spacer and hold it against its size."
}
step "measure" {
  title = "Measure the spacer"
  reading "thickness" {
    ask   = "Middle of the spacer: thickness"
    unit  = "mm"
    range = [mm(19), mm(21)]
  }
  gate "size" {
    title     = "Thick enough, and not too thick"
    of        = reading.thickness
    within    = between(mm(19.98), mm(20.02))
    source    = "the drawing"
    if_failed = [concession]
  }
}
signoff "fitter" { title = "Measured by" }
signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
  concedes   = true
}
`

// photograph is a small PNG.
func photograph(t testing.TB) string {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 4, 3))); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// signedRun makes a small run with a photograph, a concession, a signature by a
// key and one by a typed name, and returns its folder in memory.
func signedRun(t testing.TB) (seal.Files, string) {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{
		"spacer.hcl": spacer,
		"photo.png":  photograph(t),
		"answers": "operator = Ana Ruiz\nattach " + filepath.Join(dir, "photo.png") + "\nthickness = 20.03 mm\n" +
			"size = concession because it is faced off later\ninspector.decides = Ben Osei\nsize.concession = grant because it is faced off later\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	command(t, dir, "", paused, "run", filepath.Join(dir, "spacer.hcl"), "--answers", filepath.Join(dir, "answers"))
	command(t, dir, "", done, "key", "new", "--name", "Ana Ruiz", "--role", "fitter", "--no-passphrase", "--file", filepath.Join(dir, "ana"))
	command(t, dir, "", done, "sign", "--as", "fitter", "--key", filepath.Join(dir, "ana"), "--yes")
	command(t, dir, "", done, "sign", "--as", "inspector", "--name", "Ben Osei", "--yes")
	runs, err := filepath.Glob(filepath.Join(dir, "book", "runs", "*"))
	if err != nil || len(runs) != 1 {
		t.Fatalf("runs: %v, %v", runs, err)
	}
	return load(t, runs[0]), runs[0]
}

func load(t testing.TB, dir string) seal.Files {
	t.Helper()
	out := seal.Files{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		out[filepath.ToSlash(rel)], err = os.ReadFile(path)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func checker() *seal.Checker {
	return seal.NewChecker(seal.Options{Compile: logbook.Compile, Program: version(), Exact: true, Now: time.Now()})
}

// overlay is a folder in which one file is another one, that works out the
// hashes of the others once.
type overlay struct {
	seal.Files
	sums  map[string][sha256.Size]byte
	name  string
	bytes []byte
}

func (o overlay) Read(name string) ([]byte, error) {
	if name == o.name {
		return o.bytes, nil
	}
	return o.Files.Read(name)
}

func (o overlay) Sum(name string) ([sha256.Size]byte, int64, error) {
	if name == o.name {
		return sha256.Sum256(o.bytes), int64(len(o.bytes)), nil
	}
	return o.sums[name], int64(len(o.Files[name])), nil
}

func sums(f seal.Files) map[string][sha256.Size]byte {
	out := map[string][sha256.Size]byte{}
	for name, b := range f {
		out[name] = sha256.Sum256(b)
	}
	return out
}

// step is every which byte of a file is changed. Forms are long, and are held
// against one hash each.
func step(name string) int {
	if seal.IsForm(name) {
		return 11
	}
	return 1
}

// Whatever single byte is changed in whatever file of a signed run, it is
// found.
func TestEveryChangedByteIsFound(t *testing.T) {
	files, _ := signedRun(t)
	c := checker()
	if v := c.Verify(files); v.Result() != seal.Holds {
		t.Fatalf("the run as it is: %+v", v.Checks)
	}
	for _, want := range []string{
		"journal.jsonl", "record.json", "record.html", "record.pdf", "signatures.json", "record.json.fitter.sig", "procedure/spacer.hcl",
	} {
		if len(files[want]) == 0 {
			t.Fatalf("no %s among %v", want, files.Names())
		}
	}
	known := sums(files)
	for _, name := range files.Names() {
		var wg sync.WaitGroup
		workers := runtime.GOMAXPROCS(0)
		for w := range workers {
			wg.Go(func() {
				b := slices.Clone(files[name])
				for i := w * step(name); i < len(b); i += workers * step(name) {
					bit := byte(1) << (i % 8)
					b[i] ^= bit
					if v := c.Verify(overlay{files, known, name, b}); v.Result() != seal.Fails {
						t.Errorf("%s, byte %d of %d, bit %#02x: not found", name, i, len(b), bit)
					}
					b[i] ^= bit
				}
			})
		}
		wg.Wait()
	}
}

// The same over a longer run, at bytes drawn by lot.
func TestChangedBytesOfALongerRunAreFound(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(filepath.Join(dir, "book"), os.DirFS(filepath.Join("..", "..", "..", "..", "testdata", "demo", "logbook"))); err != nil {
		t.Fatal(err)
	}
	answers := filepath.Join("..", "..", "..", "..", "testdata", "demo", "wrong-way-first.answers")
	command(t, dir, "", done, "run", "lathe/tailstock-by-test-cut", "--machine", "lathe-4", "--answers", answers)
	files := load(t, filepath.Join(dir, "book", "runs", "tailstock-by-test-cut-lathe-4"))
	c, known := checker(), sums(files)
	if v := c.Verify(files); v.Result() != seal.Holds {
		t.Fatalf("the run as it is: %+v", v.Checks)
	}
	lot := rand.New(rand.NewPCG(6, 5))
	for _, name := range files.Names() {
		if len(files[name]) == 0 {
			continue
		}
		for range 60 {
			b := slices.Clone(files[name])
			i, bit := lot.IntN(len(b)), byte(1)<<lot.IntN(8)
			b[i] ^= bit
			if v := c.Verify(overlay{files, known, name, b}); v.Result() != seal.Fails {
				t.Errorf("%s, byte %d of %d, bit %#02x: not found", name, i, len(b), bit)
			}
		}
	}
}

// failing returns the checks that fail.
func failing(v seal.Verdict) []seal.Check {
	return slices.DeleteFunc(slices.Clone(v.Checks), func(c seal.Check) bool { return c.Result != seal.Fails })
}

// What fails is named to file, line and field.
func TestWhatFailsIsNamed(t *testing.T) {
	files, _ := signedRun(t)
	for _, tt := range []struct {
		name, file, old, new string
		part, where, said    string
	}{
		{"a reading in the record", "record.json", `"said": "20.030 mm"`, `"said": "20.000 mm"`, "record", "tests[0].found.said", `"said": "20.030 mm"`},
		{"a reading in the journal", "journal.jsonl", `"value":20.03`, `"value":20.01`, "journal", "journal.jsonl line 5", "sum"},
		{"who signed", "signatures.json", `"name": "Ben Osei"`, `"name": "Bob Osei"`, "signatures", "signatures[1].name", `"name": "Ben Osei"`},
		{"the limit", "procedure/spacer.hcl", "20.02", "20.05", "procedure", "procedure/spacer.hcl", "was changed"},
		{"a signature", "record.json.fitter.sig", "SSH", "ssh", "signature", "record.json.fitter.sig", "was changed"},
		{"a page", "record.html", "CONCESSION", "concession", "forms", "record.html", "changed after it was made"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			harmed := maps.Clone(files)
			harmed[tt.file] = []byte(strings.Replace(string(files[tt.file]), tt.old, tt.new, 1))
			if string(harmed[tt.file]) == string(files[tt.file]) {
				t.Fatalf("%s has no %s:\n%s", tt.file, tt.old, files[tt.file])
			}
			got := failing(checker().Verify(harmed))
			if !slices.ContainsFunc(got, func(c seal.Check) bool {
				return c.Part == tt.part && strings.Contains(c.Where, tt.where) && strings.Contains(c.Said, tt.said)
			}) {
				t.Errorf("%+v\nwant one of %s at %q that says %q", got, tt.part, tt.where, tt.said)
			}
		})
	}
	for _, name := range []string{"journal.jsonl", "record.json", "signatures.json", "record.json.fitter.sig", "procedure/spacer.hcl"} {
		harmed := maps.Clone(files)
		delete(harmed, name)
		if got := failing(checker().Verify(harmed)); len(got) == 0 || got[0].Where != name {
			t.Errorf("without %s: %+v", name, got)
		}
	}
	for name := range files {
		if !strings.HasPrefix(name, "evidence/") {
			continue
		}
		harmed := maps.Clone(files)
		delete(harmed, name)
		if got := failing(checker().Verify(harmed)); len(got) != 1 || got[0].Part != "evidence" || !strings.Contains(got[0].Said, "photo.png is missing") {
			t.Errorf("without the photograph: %+v", got)
		}
	}
}

// chained writes the lines of a journal again, each with the hash of the one
// before and its own sum, as somebody would who knows how it is made.
func chained(t *testing.T, entries []journal.Entry) ([]journal.Entry, []byte) {
	t.Helper()
	var head journal.Head
	var out []journal.Entry
	var all []byte
	for _, e := range entries {
		sealed, line, next, err := head.Seal(e)
		if err != nil {
			t.Fatal(err)
		}
		out, all, head = append(out, sealed), append(all, line...), next
	}
	return out, all
}

// replaced returns the lines with a text in the data of one kind changed.
func replaced(t *testing.T, entries []journal.Entry, kind, old, with string) []journal.Entry {
	t.Helper()
	out := slices.Clone(entries)
	n := 0
	for i := range out {
		if was := string(out[i].Data); out[i].Kind == kind && strings.Contains(was, old) {
			out[i].Data = []byte(strings.ReplaceAll(was, old, with))
			n++
		}
	}
	if n == 0 {
		t.Fatalf("no line of kind %s holds %s", kind, old)
	}
	return out
}

// Who changes a reading and works out every hash again, makes the record again
// and its list of signatures, is found by the signature of a key all the same.
func TestAForgeryThatHoldsTogetherIsFoundByTheSignature(t *testing.T) {
	files, _ := signedRun(t)
	entries, _, err := journal.Recover(files["journal.jsonl"])
	if err != nil {
		t.Fatal(err)
	}
	entries = slices.DeleteFunc(entries, func(e journal.Entry) bool { return e.Kind == "issued" })
	entries, _ = chained(t, replaced(t, entries, "answered", "20.03", "20.01"))
	pinned := []procedures.File{{Name: "spacer.hcl", Bytes: files["procedure/spacer.hcl"]}}
	r, err := seal.Rebuild(entries, pinned, logbook.Compile)
	if err != nil {
		t.Fatal(err)
	}
	entries, text := chained(t, replaced(t, entries, "sealed", r.State.Seal().Digest, r.Issue.Digest()))
	if r, err = seal.Rebuild(entries, pinned, logbook.Compile); err != nil {
		t.Fatal(err)
	}
	forged := maps.Clone(files)
	delete(forged, "record.html")
	delete(forged, "record.pdf")
	forged["journal.jsonl"], forged["record.json"], forged["signatures.json"] = text, r.Issue.JSON, r.Signatures
	got := failing(checker().Verify(forged))
	if len(got) != 1 || got[0].Where != "record.json.fitter.sig" || !strings.Contains(got[0].Said, "not over these bytes") {
		t.Errorf("found: %+v\nwant the signature of the fitter, and nothing else", got)
	}
}

// Times that go back are named; a clock that was put right by a minute is not.
func TestTimesOutOfOrderAreNamed(t *testing.T) {
	files, _ := signedRun(t)
	entries, _, err := journal.Recover(files["journal.jsonl"])
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		by    time.Duration
		found bool
	}{{time.Minute, false}, {3 * time.Minute, true}} {
		es := slices.Clone(entries)
		for i := range es[:4] {
			es[i].Time = es[i].Time.Add(tt.by)
		}
		harmed := maps.Clone(files)
		_, harmed["journal.jsonl"] = chained(t, es)
		named := slices.ContainsFunc(failing(checker().Verify(harmed)), func(c seal.Check) bool {
			return c.Part == "times" && c.Where == "journal.jsonl line 5, time"
		})
		if named != tt.found {
			t.Errorf("put back by %v: named %v, want %v", tt.by, named, tt.found)
		}
	}
	late := seal.NewChecker(seal.Options{Compile: logbook.Compile, Program: version(), Now: time.Now().Add(-time.Hour)})
	if got := failing(late.Verify(files)); len(got) != 1 || got[0].Part != "times" || !strings.Contains(got[0].Said, "in the future") {
		t.Errorf("an hour before it was signed: %+v", got)
	}
}

// Another version of the program may word a record in another way: then it is
// said, and the seal holds all the same; a changed byte is still found.
func TestAnotherVersionCanStillCheckTheSeal(t *testing.T) {
	files, _ := signedRun(t)
	entries, _, err := journal.Recover(files["journal.jsonl"])
	if err != nil {
		t.Fatal(err)
	}
	// sealed as an older version would have, had it written from for to
	sealed := func(from, to string) seal.Files {
		t.Helper()
		old := maps.Clone(files)
		text := strings.ReplaceAll(string(files["record.json"]), from, to)
		if text == string(files["record.json"]) {
			t.Fatalf("the record has no %s", from)
		}
		old["record.json"] = []byte(text)
		was, is := fmt.Sprintf("%x", sha256.Sum256(files["record.json"])), fmt.Sprintf("%x", sha256.Sum256([]byte(text)))
		es := replaced(t, replaced(t, entries, "sealed", was, is), "sealed", version(), "0.0.1")
		es = slices.DeleteFunc(es, func(e journal.Entry) bool {
			return e.Kind == "issued" || e.Kind == "signed" && strings.Contains(string(e.Data), `"key"`)
		})
		_, old["journal.jsonl"] = chained(t, es)
		old["signatures.json"] = signaturesOf(t, old)
		for _, name := range []string{"record.html", "record.pdf", "record.json.fitter.sig"} {
			delete(old, name)
		}
		return old
	}
	of := func(v seal.Verdict, part string) (out seal.Check) {
		for _, c := range v.Checks {
			if c.Part == part {
				out = c
			}
		}
		return out
	}
	for _, tt := range []struct {
		from, to string
		want     seal.Result
		said     string
	}{
		{`"said": "Granted."`, `"said": "It was granted."`, seal.Holds, "In other words"},
		{`"title": "Thick enough`, `"title": "Stout enough`, seal.Open, `"Stout enough`},
		{`"word": "FAIL"`, `"word": "PASS"`, seal.Open, `.word has "PASS", and this version "FAIL"`},
		{`"value": 20.03`, `"value": 20.02`, seal.Open, "has 20.02, and this version 20.03"},
		{`"text": "20.03`, `"text": "20.02`, seal.Open, `has "20.02`},
		{`"conceded": 1`, `"conceded": 0`, seal.Open, "has 0, and this version 1"},
		{`"source": "the drawing"`, `"source": "ISO 230"`, seal.Open, `has "ISO 230"`},
		{`"by": "Ben Osei"`, `"by": "Ben Oser"`, seal.Open, `has "Ben Oser"`},
	} {
		old := sealed(tt.from, tt.to)
		v := checker().Verify(old)
		facts := of(v, "facts")
		if got := failing(v); len(got) > 0 || facts.Result != tt.want || !strings.Contains(facts.Said, tt.said) || !strings.Contains(facts.Said, "Version 0.0.1 sealed it") {
			t.Errorf("%s: %s, %s\n%+v", tt.to, facts.Result, facts.Said, got)
		}
		if c := of(v, "signatures"); c.Result != seal.Holds {
			t.Errorf("%s: signatures.json: %+v", tt.to, c)
		}
		for _, name := range []string{"record.json", "signatures.json"} {
			harmed := maps.Clone(old)
			harmed[name] = append(slices.Clone(old[name]), ' ')
			if got := failing(checker().Verify(harmed)); len(got) == 0 {
				t.Errorf("%s: a byte more in %s is not found", tt.to, name)
			}
		}
	}
	// The build that sealed it makes its very bytes, or something is wrong.
	same := seal.NewChecker(seal.Options{Compile: logbook.Compile, Program: "0.0.1", Exact: true, Now: time.Now()})
	if got := failing(same.Verify(sealed(`"said": "Granted."`, `"said": "It was granted."`))); len(got) == 0 || got[0].Part != "record" {
		t.Errorf("the build that sealed it: %+v", got)
	}
}

// signaturesOf makes signatures.json of a folder whose record is as it was sealed.
func signaturesOf(t *testing.T, files seal.Files) []byte {
	t.Helper()
	entries, _, err := journal.Recover(files["journal.jsonl"])
	if err != nil {
		t.Fatal(err)
	}
	format, err := entries[0].Format()
	if err != nil {
		t.Fatal(err)
	}
	var kept []procedures.File
	for _, f := range format.Procedure.Files {
		kept = append(kept, procedures.File{Name: f.Name, Bytes: files["procedure/"+f.Name]})
	}
	r, err := seal.Rebuild(entries, kept, logbook.Compile)
	if err != nil {
		t.Fatal(err)
	}
	i, ok := report.SealedIssue(r.State, files["record.json"])
	if !ok {
		t.Fatal("the record is not as it was sealed")
	}
	b, err := report.MarshalSignatures(report.SignaturesOf(r.State, i))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// What another version sealed stays as it is when its forms are made again, and
// a damaged record.json is not made up anew.
func TestAnotherVersionLeavesTheSealedRecord(t *testing.T) {
	files, dir := signedRun(t)
	entries, _, err := journal.Recover(files["journal.jsonl"])
	if err != nil {
		t.Fatal(err)
	}
	old := strings.ReplaceAll(string(files["record.json"]), "Thick enough", "Thick ENOUGH")
	was, is := fmt.Sprintf("%x", sha256.Sum256(files["record.json"])), fmt.Sprintf("%x", sha256.Sum256([]byte(old)))
	_, text := chained(t, replaced(t, replaced(t, entries, "sealed", was, is), "sealed", version(), "0.0.1"))
	write := func(name string, b []byte) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(dir, name), b, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	write("journal.jsonl", text)
	write("record.json", []byte(old))
	book := filepath.Join(dir, "..", "..", "..")
	command(t, book, "", done, "report")
	if b, err := os.ReadFile(filepath.Join(dir, "record.json")); err != nil || string(b) != old {
		t.Errorf("record.json was written again (%v)", err)
	}
	if b, err := os.ReadFile(filepath.Join(dir, "record.html")); err != nil || !strings.Contains(string(b), "Thick ENOUGH") {
		t.Errorf("the page is not made from the sealed record (%v)", err)
	}
	write("record.json", []byte(old+" "))
	if out := command(t, book, "", unable, "report"); !strings.Contains(out, "this version of the program cannot make it again") || !strings.Contains(out, "version 0.0.1") {
		t.Errorf("a damaged record is answered with\n%s", out)
	}
	if b, err := os.ReadFile(filepath.Join(dir, "record.json")); err != nil || string(b) != old+" " {
		t.Errorf("the damaged record was written over (%v)", err)
	}
}

// A journal that was made by hand, with whole hashes, is found by what it says:
// one person in two roles that must be two people, and a seal on what was open.
func TestWhatMustHaveHeldAtTheSealIsChecked(t *testing.T) {
	files, _ := signedRun(t)
	entries, _, err := journal.Recover(files["journal.jsonl"])
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name string
		es   []journal.Entry
		part string
		said string
	}{
		{"one name", replaced(t, entries, "signed", "Ben Osei", "ana  RUIZ"), "signature", "must be two people"},
		{"not decided", slices.DeleteFunc(slices.Clone(entries), func(e journal.Entry) bool { return e.Kind == "decided" }), "seal", "neither granted nor refused"},
	} {
		es := slices.Clone(tt.es)
		for i := range es {
			if es[i].Kind == "sealed" {
				es[i].Data = []byte(strings.Replace(string(es[i].Data), fmt.Sprintf(`"lines":%d`, es[i].N-1), fmt.Sprintf(`"lines":%d`, i), 1))
			}
		}
		harmed := maps.Clone(files)
		_, harmed["journal.jsonl"] = chained(t, es)
		got := failing(checker().Verify(harmed))
		if !slices.ContainsFunc(got, func(c seal.Check) bool { return c.Part == tt.part && strings.Contains(c.Said, tt.said) }) {
			t.Errorf("%s: %+v; want %s with %q", tt.name, got, tt.part, tt.said)
		}
	}
}
