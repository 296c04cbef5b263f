package document_test

import (
	"bytes"
	"flag"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/report"
	"waywright/report/document"
	"waywright/report/reporttest"
)

var update = flag.Bool("update", false, "write the golden files anew")

// records are two made by hand, an empty one, and those that runs gave.
func records(t testing.TB) map[string]report.Record {
	t.Helper()
	out := map[string]report.Record{"tailstock": reporttest.Tailstock(), "bar": reporttest.Bar(), "nothing": {Format: report.Format}}
	files, err := filepath.Glob("../testdata/*.golden.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("no records of runs: %v", err)
	}
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		r, err := report.Parse(b)
		if err != nil {
			t.Fatal(err)
		}
		out["run-"+strings.TrimSuffix(filepath.Base(f), ".golden.json")] = r
	}
	return out
}

func plain(t testing.TB, r report.Record, sigs ...report.Signature) string {
	t.Helper()
	d, err := document.Of(r, sigs...)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := document.WritePlain(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The words of a record, as every form has them: read the difference before it
// goes in.
func TestWords(t *testing.T) {
	all := records(t)
	for _, name := range []string{"tailstock", "bar", "nothing", "run-headstock", "run-lap-bar", "run-rejected", "run-unmeasured"} {
		got := plain(t, all[name])
		golden := filepath.Join("testdata", name+".golden.txt")
		if *update {
			if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(string(want), got); d != "" {
			t.Errorf("%s (−want +got):\n%s", name, d)
		}
	}
}

// byKey are signatures made by keys, beside a record.
var byKey = []report.Signature{
	{Role: "fitter", Name: "Anna Kowalska", When: "2026-11-04T09:20:00Z", Statement: "I measured", How: report.ByName, Entry: 62},
	{Role: "inspector", Name: "Ben Osei", When: "2026-11-05T10:00:00Z", Statement: "I accept as stated", How: report.ByKey,
		Fingerprint: "SHA256:AbCdEfGhIjKlMnOpQrStUvWxYz0123456789+/AbCdE", KeyType: "ssh-ed25519", File: "record.json.inspector.sig", Entry: 63},
}

// unsigned is the record before anybody signed it.
func unsigned() report.Record {
	r := reporttest.Tailstock()
	for i := range r.Roles {
		r.Roles[i].Signed, r.Roles[i].How, r.Roles[i].At = "", "", nil
	}
	return r
}

// What is signed beside the record stands in it like what was typed: who, when,
// what was signed, with which key; and the commands that check it.
func TestSignaturesBesideARecord(t *testing.T) {
	got := strings.Join(strings.Fields(plain(t, unsigned(), byKey...)), " ")
	for _, want := range []string{
		"Signed Carried out by: Anna Kowalska, 4 November 2026 Accepted by: Ben Osei, 5 November 2026",
		"Signed: “I accept as stated” Signed by a key, ssh-ed25519, fingerprint SHA256 AbCd EfGh IjKl MnOp QrSt UvWx Yz01 2345 6789 +/Ab CdE",
		"Anna Kowalska, 4 Nov 2026, 09:20 Signed: “I measured” Signed by a typed name, not by a key.",
		"inspector ssh-ed25519 AAAA…",
		"ssh-keygen -Y verify -f signers -I inspector -n waywright-record -s record.json.inspector.sig < record.json",
		"Do not take the key from the folder unasked.",
		"Good “waywright-record” signature",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("the record does not say %q", want)
		}
	}
	if strings.Contains(got, "DRAFT") || strings.Contains(got, "-I fitter") || strings.Contains(got, "not signed") {
		t.Error("a record that is signed is a draft, or a typed name is checked like a key")
	}
}

// A command stays one command, whatever a role is called.
func TestCommandsAreHarmless(t *testing.T) {
	sig := report.Signature{Role: "x; rm -rf '$HOME'", Name: "N", How: report.ByKey, File: "a b"}
	want := `-I 'x; rm -rf '\''$HOME'\''' -n waywright-record -s 'a b' < record.json`
	if got := plain(t, reporttest.Tailstock(), sig); !strings.Contains(got, want) {
		t.Errorf("the record does not say %s", want)
	}
}

// A record of which nobody, or not everybody, has signed is a draft, and page
// one says who is missing.
func TestDraftUntilSigned(t *testing.T) {
	for _, tt := range []struct {
		name  string
		sigs  []report.Signature
		draft bool
		says  string
	}{
		{"nobody", nil, true, "Still in the way:\n- Carried out by: not signed.\n- Accepted by: not signed.\n"},
		{"one", byKey[:1], true, "NOT DECIDED\nStill in the way:\n- Accepted by: not signed.\n"},
		{"both", byKey, false, "ACCEPTED\n1 test agreed"},
	} {
		d, err := document.Of(unsigned(), tt.sigs...)
		if err != nil {
			t.Fatal(err)
		}
		if got := plain(t, unsigned(), tt.sigs...); d.Draft != tt.draft || !strings.Contains(got, tt.says) {
			t.Errorf("%s: draft %v, want %v; %q is said: %v", tt.name, d.Draft, tt.draft, tt.says, strings.Contains(got, tt.says))
		}
	}
}

// A record that corrects a signed one names it, with the reason.
func TestCorrectedRecordNamesTheOld(t *testing.T) {
	r := reporttest.Tailstock()
	r.Replaces = "lathe-2-old"
	r.Supersedes = &report.Supersedes{Number: "lathe-2-old", SHA256: "00", Because: "the serial was wrong", Carried: 60}
	got := plain(t, r)
	for _, want := range []string{
		", in the place of lathe-2-old\n", "Corrects\n  Record lathe-2-old, because the serial was wrong.\n  The first 60 entries of its journal were taken over as they were.\n",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("the record does not say %q", want)
		}
	}
}

// A document is made from the record alone: from its JSON comes the same.
func TestDocumentOfTheRecordAlone(t *testing.T) {
	for name, r := range records(t) {
		b, err := report.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		back, err := report.Parse(b)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(plain(t, r), plain(t, back)); d != "" {
			t.Errorf("%s: the record read back says something else:\n%s", name, d)
		}
		d, err := document.Of(r)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(d.JSON, b) || !strings.HasPrefix(d.Digest, d.Short) || len(d.Short) != 8 {
			t.Errorf("%s: the document does not hold the record's bytes and digest", name)
		}
	}
}

// Making a document changes nothing of the record.
func TestRecordStaysAsItIs(t *testing.T) {
	for name, r := range records(t) {
		before, err := report.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		sigs := slices.Clone(byKey)
		plain(t, r, sigs...)
		after, err := report.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(before, after) || cmp.Diff(byKey, sigs) != "" {
			t.Errorf("%s: the record, or a signature, was changed", name)
		}
	}
}

// Page one says in this order what is, what falls short, what is closest, and
// for what it holds.
func TestPageOneOrder(t *testing.T) {
	page, _, _ := strings.Cut(plain(t, reporttest.Bar()), "TEST SHEET\n")
	at := -1
	for _, s := range []string{
		"NOT DECIDED", "4 tests agreed", "Not to be measured here", "What is not as the limits ask", "FAIL", "NOT MEASURED", "CANNOT TELL",
		"Closest to their limits", "V: the limit", "PASS only where", "Temperatures read", "not signed", "record.html",
		"Holds for this machine only", "Local codes",
	} {
		n := strings.Index(page[max(at, 0):], s)
		if n < 0 {
			t.Fatalf("page one does not say %q behind what comes before it:\n%s", s, page)
		}
		at = max(at, 0) + n
	}
}

// Words that a record does not use: nothing is certified, scored or passed over.
func TestNotPrinted(t *testing.T) {
	words := regexp.MustCompile(`(?i)certified|guarantee|conforms to|\bscore|\bN/A\b|\bOK\b|!|[ (]-[0-9]`)
	for name, r := range records(t) {
		for line := range strings.Lines(plain(t, r)) {
			code := strings.Contains(line, "journal.jsonl") || strings.HasPrefix(line, "  (") || strings.Contains(line, "ssh-keygen")
			if m := words.FindString(line); m != "" && !code {
				t.Errorf("%s: says %q: %s", name, m, line)
			}
		}
	}
}

// A number that is not finite cannot be in a record.
func TestOfFails(t *testing.T) {
	r := reporttest.Tailstock()
	r.Tests[0].Found.K = math.NaN()
	if _, err := document.Of(r); err == nil {
		t.Error("a record with NaN became a document")
	}
}

// Whatever a record holds, its document can be made, has no control characters
// and says the number of every test.
func FuzzOf(f *testing.F) {
	for _, r := range records(f) {
		b, err := report.Marshal(r)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		r, err := report.Parse(b)
		if err != nil {
			return
		}
		text := plain(t, r, byKey...)
		if i := strings.IndexFunc(text, func(r rune) bool { return r < ' ' && r != '\n' || r == 0x202E || r == 0x2066 }); i >= 0 {
			t.Errorf("a control character stands in %q", text[max(0, i-20):min(len(text), i+20)])
		}
		if !strings.Contains(text, "END OF RECORD") {
			t.Error("the document has no end")
		}
	})
}
