package report_test

import (
	"bytes"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"waywright/report"
	"waywright/report/reporttest"
)

func TestWholesKeepToTheSchema(t *testing.T) {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(report.WholeSchema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource(report.WholeSchemaID, doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(report.WholeSchemaID)
	if err != nil {
		t.Fatal(err)
	}
	old := issued(t, "a", reporttest.Tailstock())
	old.Replaced = "b"
	full, err := report.Join("lathe-2", []report.RunIssue{old, issued(t, "b", later().SpoiltSince([]report.Spoilt{{Said: "x", Time: "2026-12-10T08:00:00Z", Run: "9"}})), issued(t, "bar", reporttest.Bar())},
		[]report.Missing{{Kind: report.MissNever, What: "task bed of plan", Why: "it is not begun yet"}})
	if err != nil {
		t.Fatal(err)
	}
	empty, err := report.Join("lathe-2", nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, w := range map[string]report.Whole{"full": full, "empty": empty} {
		b, err := report.MarshalWhole(w)
		if err != nil {
			t.Fatal(err)
		}
		if err := validate(t, s, b); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		for what, change := range map[string]func() []byte{
			"a word that is none": func() []byte {
				return bytes.Replace(b, []byte(`"word": "not_decided"`), []byte(`"word": "perhaps"`), 1)
			},
			"a property that is none": func() []byte { return bytes.Replace(b, []byte(`"text"`), []byte(`"score": 97, "text"`), 1) },
			"another form":            func() []byte { return bytes.Replace(b, []byte("record 1"), []byte("record 9"), 1) },
		} {
			if bad := change(); bytes.Equal(bad, b) || validate(t, s, bad) == nil {
				t.Errorf("%s: the schema lets %s pass", name, what)
			}
		}
	}
}
