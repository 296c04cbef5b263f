package report_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"waywright/report"
	"waywright/report/reporttest"
)

func samples() map[string]report.Record {
	return map[string]report.Record{"tailstock": reporttest.Tailstock(), "bar": reporttest.Bar(), "empty": {
		Format:    report.Format,
		Outcome:   report.Outcome{Word: report.NotDecided},
		Procedure: report.Procedure{Rule: report.Rule{Name: "guarded"}, Digest: strings.Repeat("0", 64)},
		Journal:   report.Journal{Head: strings.Repeat("0", 64)},
		Begun:     report.Stamp{Time: "2026-11-03T08:00:00Z"}, Last: report.Stamp{Time: "2026-11-03T08:00:00Z"},
	}}
}

func compile(t testing.TB) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(report.Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource(report.SchemaID, doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(report.SchemaID)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func validate(t testing.TB, s *jsonschema.Schema, b []byte) error {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return s.Validate(doc)
}

func TestRecordsKeepToTheSchema(t *testing.T) {
	s := compile(t)
	for name, r := range samples() {
		b, err := report.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		if err := validate(t, s, b); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// What the schema is for: each of these is a record that must not pass.
func TestSchemaRefuses(t *testing.T) {
	s := compile(t)
	for name, change := range map[string]func(*report.Record){
		"another form":      func(r *report.Record) { r.Format = "waywright record 3" },
		"unknown outcome":   func(r *report.Record) { r.Outcome.Word = "certified" },
		"unknown verdict":   func(r *report.Record) { r.Tests[0].Verdict = "good" },
		"local time":        func(r *report.Record) { r.Begun.Time = "2026-11-03T08:00:00+01:00" },
		"no time":           func(r *report.Record) { r.Begun.Time = "yesterday" },
		"short hash":        func(r *report.Record) { r.Journal.Head = "3b1f" },
		"no such due date":  func(r *report.Record) { r.Instruments[0].Due = "2026-02-30" },
		"unknown set state": func(r *report.Record) { r.Readings[0].State = "kept" },
	} {
		r := reporttest.Tailstock()
		change(&r)
		b, err := report.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		if validate(t, s, b) == nil {
			t.Errorf("%s: the schema lets it pass", name)
		}
	}
	b, _ := report.Marshal(reporttest.Tailstock())
	extra := bytes.Replace(b, []byte(`"title"`), []byte(`"score": 97, "title"`), 1)
	if validate(t, s, extra) == nil {
		t.Error("the schema lets an unknown property pass")
	}
}

// Every property of the types is in the schema under the same name, described,
// and no others are; and a property that may be left out is not required.
func TestSchemaDescribesTheTypes(t *testing.T) {
	describes(t, report.Schema(), reflect.TypeFor[report.Record]())
	describes(t, report.WholeSchema(), reflect.TypeFor[report.Whole]())
}

func describes(t *testing.T, schema []byte, typ reflect.Type) {
	t.Helper()
	var doc struct {
		object
		Defs map[string]object `json:"$defs"`
	}
	if err := json.Unmarshal(schema, &doc); err != nil {
		t.Fatal(err)
	}
	used := map[string]bool{}
	var check func(where string, o object, typ reflect.Type)
	check = func(where string, o object, typ reflect.Type) {
		if o.Description == "" {
			t.Errorf("%s has no description", where)
		}
		var names, required []string
		for i := range typ.NumField() {
			f := typ.Field(i)
			name, opt, _ := strings.Cut(f.Tag.Get("json"), ",")
			names = append(names, name)
			if opt == "" {
				required = append(required, name)
			}
			p, ok := o.Properties[name]
			if !ok {
				t.Errorf("%s.%s is not in the schema", where, name)
				continue
			}
			if len(p.Description) < 4 {
				t.Errorf("%s.%s has no description", where, name)
			}
			elem := f.Type
			for elem.Kind() == reflect.Slice || elem.Kind() == reflect.Pointer {
				elem = elem.Elem()
			}
			ref := p.Ref + p.Items.Ref
			if (elem.Kind() == reflect.Struct) != (ref != "") {
				t.Errorf("%s.%s: %s in Go, %q in the schema", where, name, f.Type, ref)
			}
			if def := strings.TrimPrefix(ref, "#/$defs/"); ref != "" && !used[def] {
				used[def] = true
				check(def, doc.Defs[def], elem)
			}
		}
		slices.Sort(names)
		slices.Sort(required)
		got := make([]string, 0, len(o.Properties))
		for n := range o.Properties {
			got = append(got, n)
		}
		slices.Sort(got)
		slices.Sort(o.Required)
		if d := cmp.Diff(names, got); d != "" {
			t.Errorf("%s: properties (−type +schema):\n%s", where, d)
		}
		if d := cmp.Diff(required, o.Required, cmpopts.EquateEmpty()); d != "" {
			t.Errorf("%s: required (−type +schema):\n%s", where, d)
		}
	}
	check("record", doc.object, typ)
	for name := range doc.Defs {
		if !used[name] {
			t.Errorf("$defs/%s is used by nothing", name)
		}
	}
}

type object struct {
	Description string                `json:"description"`
	Properties  map[string]properties `json:"properties"`
	Required    []string              `json:"required"`
}

type properties struct {
	Description string `json:"description"`
	Ref         string `json:"$ref"`
	Items       struct {
		Ref string `json:"$ref"`
	} `json:"items"`
}

func TestMarshalParse(t *testing.T) {
	for name, r := range samples() {
		b, err := report.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		got, err := report.Parse(b)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if d := cmp.Diff(r, got, cmpopts.EquateEmpty()); d != "" {
			t.Errorf("%s changed (−before +after):\n%s", name, d)
		}
		again, err := report.Marshal(got)
		if err != nil || !bytes.Equal(b, again) {
			t.Errorf("%s: not the same bytes again (%v)", name, err)
		}
	}
}

func TestMarshalDoesNotTouchTheRecord(t *testing.T) {
	r := report.Record{Tests: []report.Test{{}}, Readings: []report.Reading{{}}}
	if _, err := report.Marshal(r); err != nil {
		t.Fatal(err)
	}
	if r.Tests[0].Attempts != nil || r.Readings[0].Places != nil || r.Notes != nil {
		t.Error("Marshal filled lists of its argument")
	}
}

func TestMarshalKeepsTextAsItIs(t *testing.T) {
	b, err := report.Marshal(reporttest.Bar())
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`<script>`, `Ünïcode`, `2 µm`, `−0.2`} {
		if !bytes.Contains(b, []byte(want)) {
			t.Errorf("the JSON does not hold %q as it is", want)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	good, _ := report.Marshal(reporttest.Tailstock())
	for name, b := range map[string][]byte{
		"nothing":            nil,
		"no JSON":            []byte("RECORD OF ACCEPTANCE"),
		"unknown property":   bytes.Replace(good, []byte(`"title"`), []byte(`"score": 97, "title"`), 1),
		"something after it": append(slices.Clone(good), good...),
		"a list":             []byte("[]"),
	} {
		if _, err := report.Parse(b); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	later := bytes.Replace(good, []byte("waywright record 2"), []byte("waywright record 9"), 1)
	if _, err := report.Parse(later); !errors.Is(err, report.ErrFormat) {
		t.Errorf("a later form: %v, want %v", err, report.ErrFormat)
	}
}

// What Parse takes, Marshal writes, and it is the same record when read again.
func FuzzParse(f *testing.F) {
	for _, r := range samples() {
		b, _ := report.Marshal(r)
		f.Add(b)
	}
	f.Add([]byte(`{"format":"waywright record 1"}`))
	f.Fuzz(func(t *testing.T, b []byte) {
		r, err := report.Parse(b)
		if err != nil {
			return
		}
		once, err := report.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		again, err := report.Parse(once)
		if err != nil {
			t.Fatal(err)
		}
		if twice, err := report.Marshal(again); err != nil || !bytes.Equal(once, twice) {
			t.Fatalf("%v: %s\nthen %s", err, once, twice)
		}
	})
}
