package cli

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// What rehearse --json says has the form that is described: of rehearsals that
// hold, of one that fails, and of machines drawn at random. The description lets
// in no field that it does not name, so a new one is described with it.
func TestRehearseJSONHasTheFormDescribed(t *testing.T) {
	raw, err := os.ReadFile("rehearsal.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("rehearsal.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	form, err := c.Compile("rehearsal.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	const lathe = "../../../../procedures/library/lathe/"
	dir := t.TempDir()
	for from, to := range map[string]string{"shared.hcl": "shared.hcl", "tailstock-by-test-cut.hcl": "other.hcl"} {
		text, err := os.ReadFile(lathe + from)
		if err != nil {
			t.Fatal(err)
		}
		spoilt := strings.ReplaceAll(string(text), `procedure "tailstock-by-test-cut"`, `procedure "other"`)
		spoilt = strings.ReplaceAll(spoilt, `outcome = "accepted"`, `outcome = "rejected"`)
		if err := os.WriteFile(filepath.Join(dir, to), []byte(spoilt), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for _, tt := range []struct {
		args []string
		code int
		has  string
	}{
		{[]string{"--seeds", "2", "lathe/tailstock-by-test-cut"}, 0, `"never_reached"`},
		{[]string{"--seeds", "1", filepath.Join(dir, "other.hcl")}, 1, `"last_answers"`},
		{[]string{"--risk", "20", "lathe/tailstock-by-test-cut"}, 0, `"rule_kept"`},
	} {
		var out, errs bytes.Buffer
		code := Main(append([]string{"rehearse", "--json"}, tt.args...), Streams{In: os.Stdin, Out: &out, Err: &errs, Now: time.Now, Env: func(string) string { return "" }})
		if code != tt.code || !strings.Contains(out.String(), tt.has) {
			t.Errorf("%v: code %d, want %d with %s; it says\n%s", tt.args, code, tt.code, tt.has, errs.String())
			continue
		}
		said, err := jsonschema.UnmarshalJSON(bytes.NewReader(out.Bytes()))
		if err != nil {
			t.Fatalf("%v: %v", tt.args, err)
		}
		if err := form.Validate(said); err != nil {
			t.Errorf("%v: %v", tt.args, err)
		}
	}
}
