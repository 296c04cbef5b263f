package journal

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// harm is a file of testdata/journals.
type harm struct {
	name, how, want string
	bytes           []byte
}

func harmed(t testing.TB) []harm {
	t.Helper()
	names, err := filepath.Glob("../../testdata/journals/*.journal")
	if err != nil || len(names) == 0 {
		t.Fatalf("no journals: %v", err)
	}
	var hs []harm
	for _, name := range names {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		head, body, ok := bytes.Cut(b, []byte("\n----\n"))
		how, want, ok2 := strings.Cut(string(head), "\n# want: ")
		if !ok || !ok2 || len(how) < 10 {
			t.Fatalf("%s does not say what it is", name)
		}
		hs = append(hs, harm{filepath.Base(name), how, want, body})
	}
	return hs
}

func TestJournalsOfTestdata(t *testing.T) {
	for _, h := range harmed(t) {
		t.Run(h.name, func(t *testing.T) {
			entries, tail, err := Recover(h.bytes)
			got := fmt.Sprintf("%d lines, %d bytes torn", len(entries), len(tail))
			if err != nil {
				got = err.Error()
			}
			if got != h.want {
				t.Errorf("Recover: %s\nwant     %s\n%s", got, h.want, h.how)
			}
			var again []byte
			for _, e := range entries {
				line, err := Encode(e)
				if err != nil {
					t.Fatal(err)
				}
				again = append(again, line...)
			}
			if !bytes.HasPrefix(h.bytes, again) || err == nil && len(again)+len(tail) != len(h.bytes) {
				t.Errorf("written again, the lines are\n%s\nand not as the file begins", again)
			}
		})
	}
}

// The two journals that format 1 promises to read hold these values.
func TestFormat1StaysReadable(t *testing.T) {
	read := map[string][]Entry{}
	for _, h := range harmed(t) {
		entries, _, err := Recover(h.bytes)
		if h.name == "whole.journal" || h.name == "recovered.journal" {
			if err != nil {
				t.Fatal(err)
			}
			read[h.name] = entries
		}
	}
	whole, recovered := read["whole.journal"], read["recovered.journal"]
	f, err := whole[0].Format()
	if err != nil || f.Procedure.Name != "lathe/tailstock-by-test-cut" || len(f.Procedure.Files) != 2 {
		t.Errorf("Format = %+v, %v", f, err)
	}
	const near = `{"reading":"near","step":"measure","value":40.012,"unit":"mm","as":"40,012"}`
	if e := whole[3]; string(e.Data) != near || e.By != "P. Osei" || e.Kind != "answered" || e.Time.Sub(whole[0].Time).Seconds() != 3700 {
		t.Errorf("entry 4 = %+v", e)
	}
	c, err := recovered[5].Cut()
	// printf with the first 70 bytes of line 6 of whole.journal, | sha256sum
	const sum = "28e110dca181c98be3c2e87c12e8f89ec3a554294c3220b33553056da5a36ce4"
	if err != nil || c.Bytes != 70 || c.File != "journal.torn-6" || c.SHA256.String() != sum {
		t.Errorf("Cut = %+v, %v", c, err)
	}
	// tail -n 1 whole.journal | tr -d '\n' | sha256sum
	const last = "222aba0de30cc79720940f236e4abaae0f0c0df193173aaed419ca64f120ef89"
	if head, err := HeadOf(whole); err != nil || head.N != 6 || head.Hash.String() != last {
		t.Errorf("HeadOf = %v, %v; want 6, %s", head, err, last)
	}
}
