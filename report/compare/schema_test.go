package compare_test

import (
	"bytes"
	"encoding/json"
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"waywright/report"
	"waywright/report/compare"
	"waywright/report/reporttest"
)

func validate(t testing.TB, c compare.Comparison) error {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(compare.Schema()))
	if err != nil {
		t.Fatal(err)
	}
	comp := jsonschema.NewCompiler()
	if err := comp.AddResource(compare.SchemaID, doc); err != nil {
		t.Fatal(err)
	}
	s, err := comp.Compile(compare.SchemaID)
	if err != nil {
		t.Fatal(err)
	}
	b, err := compare.Marshal(c)
	if err != nil {
		t.Fatal(err)
	}
	in, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return s.Validate(in)
}

func TestComparisonsKeepToTheSchema(t *testing.T) {
	later := reporttest.Bar()
	later.Number = "later"
	hand, err := compare.Of(compare.Input{Name: "bar", Record: reporttest.Bar()}, compare.Input{Name: "tailstock", Record: reporttest.Tailstock()}, compare.Input{Name: "later", Record: later})
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]compare.Comparison{
		"by hand": hand,
		"drift":   of(t, said{day: "2023-03-01", y: 0, u: 1}, said{day: "2024-02-29", found: 5, y: 1, u: 1}, said{day: "2025-02-28", y: 10}),
	} {
		if err := validate(t, c); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		bad := c
		bad.Format = "waywright comparison 9"
		if validate(t, bad) == nil {
			t.Errorf("%s: the schema lets another form pass", name)
		}
	}
}

type object struct {
	Description string `json:"description"`
	Properties  map[string]struct {
		Description string `json:"description"`
	} `json:"properties"`
	Required []string `json:"required"`
}

// Every property of the types is in the schema, described, and no others are.
func TestSchemaDescribesTheTypes(t *testing.T) {
	var doc struct {
		object
		Defs map[string]object `json:"$defs"`
	}
	if err := json.Unmarshal(compare.Schema(), &doc); err != nil {
		t.Fatal(err)
	}
	for _, typ := range []reflect.Type{
		reflect.TypeFor[compare.Comparison](), reflect.TypeFor[compare.Run](), reflect.TypeFor[compare.Test](), reflect.TypeFor[compare.Value](),
		reflect.TypeFor[compare.Entry](), reflect.TypeFor[compare.Place](), reflect.TypeFor[compare.Difference](), reflect.TypeFor[compare.Drift](),
		reflect.TypeFor[report.Number](), reflect.TypeFor[report.Allowed](),
	} {
		o := doc.Defs[strings.ToLower(typ.Name())]
		if typ.Name() == "Comparison" {
			o = doc.object
		}
		var want, required []string
		for i := range typ.NumField() {
			name, opt, _ := strings.Cut(typ.Field(i).Tag.Get("json"), ",")
			want = append(want, name)
			if opt == "" {
				required = append(required, name)
			}
		}
		slices.Sort(want)
		slices.Sort(required)
		slices.Sort(o.Required)
		if d := cmp.Diff(want, slices.Sorted(maps.Keys(o.Properties))); d != "" {
			t.Errorf("%s (−type +schema)\n%s", typ.Name(), d)
		}
		if d := cmp.Diff(required, o.Required, cmpopts.EquateEmpty()); d != "" {
			t.Errorf("%s: required (−type +schema)\n%s", typ.Name(), d)
		}
		for name, p := range o.Properties {
			if len(p.Description) < 4 {
				t.Errorf("%s.%s is not described", typ.Name(), name)
			}
		}
		if o.Description == "" {
			t.Errorf("%s is not described", typ.Name())
		}
	}
}
