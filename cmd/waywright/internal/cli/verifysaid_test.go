package cli

import (
	"bytes"
	"maps"
	"slices"
	"strings"
	"testing"

	"waywright/report/seal"
)

// saysOf returns what is said of a part, in order.
func saysOf(v seal.Verdict, part string) []seal.Check {
	return slices.DeleteFunc(slices.Clone(v.Checks), func(c seal.Check) bool { return c.Part != part })
}

// A journal that was changed in one byte takes nothing from a signature over
// record.json: it is checked all the same, and files that only the journal could
// tell of are not called strangers.
func TestASignatureIsCheckedUnderADamagedJournal(t *testing.T) {
	files, _ := signedRun(t)
	harmed := maps.Clone(files)
	harmed["journal.jsonl"] = bytes.Replace(files["journal.jsonl"], []byte(`"value":20.03`), []byte(`"value":20.01`), 1)
	v := checker().Verify(harmed)
	if v.Result() != seal.Fails {
		t.Errorf("it %s", v.Result())
	}
	got := saysOf(v, "signature")
	if len(got) != 1 || got[0].Result != seal.Holds || !strings.HasPrefix(got[0].Said, "fitter: good signature over record.json") {
		t.Errorf("the signature: %+v", got)
	}
	for _, c := range v.Checks {
		if strings.Contains(c.Said, "Not part of the run") || strings.Contains(c.Said, "has no signature") {
			t.Errorf("a damaged journal cannot tell that: %+v", c)
		}
	}
	if got := saysOf(v, "files"); len(got) != 1 || !strings.Contains(got[0].Said, "procedure/spacer.hcl, signatures.json") {
		t.Errorf("the files: %+v", got)
	}
	if !strings.HasSuffix(v.Record.Outcome.Text, ", as record.json says itself") || v.Record.Number == "" {
		t.Errorf("the record is %q: %s", v.Record.Number, v.Record.Outcome.Text)
	}
	// One that does not fit the record is found without the journal too.
	harmed["record.json"] = bytes.Replace(files["record.json"], []byte(`20.030 mm`), []byte(`20.000 mm`), 1)
	if got := saysOf(checker().Verify(harmed), "signature"); len(got) != 1 || got[0].Result != seal.Fails {
		t.Errorf("over another record: %+v", got)
	}
}

// Lines that end as on another system are called that, in every file that is
// held against a hash. Where a byte differs besides, they are not.
func TestChangedLineEndingsAreCalledThat(t *testing.T) {
	files, _ := signedRun(t)
	for _, name := range []string{"journal.jsonl", "record.json", "signatures.json", "record.json.fitter.sig", "procedure/spacer.hcl"} {
		harmed := maps.Clone(files)
		harmed[name] = bytes.ReplaceAll(files[name], []byte("\n"), []byte("\r\n"))
		said := 0
		for _, c := range failing(checker().Verify(harmed)) {
			if c.Where == name && strings.Contains(c.Said, "ine endings were changed, and nothing else") {
				said++
			} else if c.Part != "signature" || name != "record.json" { // which is over its bytes
				t.Errorf("%s: also %+v", name, c)
			}
		}
		if said != 1 {
			t.Errorf("%s: said %d times, want once: %+v", name, said, failing(checker().Verify(harmed)))
		}
		i := len(harmed[name]) / 2
		for harmed[name][i] <= ' ' {
			i++
		}
		harmed[name][i] ^= 1
		for _, c := range failing(checker().Verify(harmed)) {
			if strings.Contains(c.Said, "nothing else") {
				t.Errorf("%s with a letter changed besides: %s", name, c.Said)
			}
		}
	}
}

// A file of signers that is not there is said in plain words.
func TestSignersThatAreNotThere(t *testing.T) {
	_, dir := signedRun(t)
	if out := command(t, t.TempDir(), "", unable, "verify", dir, "--signers", "nosuch"); !strings.Contains(out, "--signers nosuch: there is no such file") {
		t.Errorf("it says: %s", out)
	}
}
