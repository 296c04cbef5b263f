package engine_test

import (
	"encoding/json"
	"reflect"
	"testing"
	"time"

	"waywright/engine"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// every is one of each kind of event.
var every = []engine.Data{
	engine.Begun{}, engine.Sat{}, engine.Answered{}, engine.Cleared{}, engine.Bound{}, engine.Waited{}, engine.Chosen{}, engine.Reported{},
	engine.MoveJudged{}, engine.Unable{}, engine.Amended{}, engine.Withdrawn{}, engine.Disturbed{}, engine.Noted{}, engine.Paused{},
	engine.Decided{}, engine.Signed{}, engine.Sealed{}, engine.Deciding{}, engine.Issued{}, engine.Superseding{}, engine.Found{}, engine.LeftOut{},
}

// Whatever an event holds comes back from its journal form, empty lists apart,
// which the form does not tell from none.
func TestEncodeDecodeLosesNothing(t *testing.T) {
	for _, d := range every {
		t.Run(d.Kind(), func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				v := reflect.New(reflect.TypeOf(d)).Elem()
				fill(t, v)
				want := v.Interface().(engine.Data)
				kind, data, err := engine.Encode(want)
				if err != nil {
					t.Fatal(err)
				}
				got, err := engine.Decode(kind, data)
				if err != nil {
					t.Fatalf("%s %s: %v", kind, data, err)
				}
				if diff := cmp.Diff(want, got); diff != "" {
					t.Errorf("%s (-kept +read):\n%s", kind, diff)
				}
			})
		})
	}
}

// fill sets every field to something.
func fill(t *rapid.T, v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(rapid.String().Draw(t, "text"))
	case reflect.Bool:
		v.SetBool(rapid.Bool().Draw(t, "truth"))
	case reflect.Int, reflect.Int64:
		v.SetInt(rapid.Int64().Draw(t, "count"))
	case reflect.Float64:
		v.SetFloat(rapid.Float64().Draw(t, "number"))
	case reflect.Pointer:
		if rapid.Bool().Draw(t, "there") {
			v.Set(reflect.New(v.Type().Elem()))
			fill(t, v.Elem())
		}
	case reflect.Slice:
		if n := rapid.IntRange(0, 3).Draw(t, "length"); n > 0 {
			v.Set(reflect.MakeSlice(v.Type(), n, n))
			for i := range n {
				fill(t, v.Index(i))
			}
		}
	case reflect.Map:
		if n := rapid.IntRange(0, 3).Draw(t, "length"); n > 0 {
			v.Set(reflect.MakeMap(v.Type()))
			for range n {
				k, e := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
				fill(t, k)
				fill(t, e)
				v.SetMapIndex(k, e)
			}
		}
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[time.Time]() {
			v.Set(reflect.ValueOf(time.Unix(rapid.Int64Range(0, 1<<33).Draw(t, "seconds"), 0).UTC()))
			return
		}
		for i := range v.NumField() {
			fill(t, v.Field(i))
		}
	}
}

func TestDecodeRefuses(t *testing.T) {
	for _, tt := range []struct{ kind, data string }{
		{"answered", `{"name":"near","takes":7}`},
		{"answered", `{"name":"near","colour":"red"}`}, // of a later format
		{"reported", ``},
		{"noted", `{"text":"once"} {"text":"twice"}`},
		{"", `{}`},
		{"burnt", `{}`},
	} {
		if d, err := engine.Decode(tt.kind, []byte(tt.data)); err == nil {
			t.Errorf("Decode(%q, %s) = %+v, want an error", tt.kind, tt.data, d)
		}
	}
}

// FuzzDecode: whatever is read is kept the same way again.
func FuzzDecode(f *testing.F) {
	for _, d := range every {
		kind, data, err := engine.Encode(d)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(kind, data)
	}
	f.Add("answered", []byte(`{"name":"near","takes":[{"typed":"1,5","value":1.5,"unit":"mm"}]}`))
	f.Add("chosen", []byte(`{"gate":"g","way":"c","amounts":[{"value":1e999,"unit":"mm"}]}`))
	f.Fuzz(func(t *testing.T, kind string, data []byte) {
		d, err := engine.Decode(kind, data)
		if err != nil {
			return
		}
		k, again, err := engine.Encode(d)
		if err != nil || k != kind || !json.Valid(again) {
			t.Fatalf("%s %q is read as %+v, and kept as %s %q: %v", kind, data, d, k, again, err)
		}
		e, err := engine.Decode(k, again)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(d, e, cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("%s %q (-first +again):\n%s", kind, data, diff)
		}
	})
}
