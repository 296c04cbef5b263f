package value

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"waywright/checks/quantity"
)

var length = NumberType(quantity.Length)

func TestTypeString(t *testing.T) {
	seat := Key{Name: "seat", Words: []string{"marked", "turned"}}
	for _, tt := range []struct {
		t    Type
		want string
	}{
		{length, "a length"},
		{NumberType(quantity.Angle), "an angle"},
		{NumberType(quantity.Ratio), "a ratio"},
		{NumberType(quantity.TempDiff), "a temperature difference"},
		{NumberType(quantity.AnglePerLong), "an angle per length"},
		{CountType(), "a whole number"},
		{PointType(), "a temperature"},
		{TruthType(), "true or false"},
		{TextType(), "a text"},
		{TextType("all"), "the word all"},
		{TextType("large", "small"), "one of large, small"},
		{TakesType(length), "takes of a length"},
		{TakesType(PointType()), "takes of a temperature"},
		{ZoneType(length), "limits of a length"},
		{NetType(quantity.Length), "heights over a plane, each a length"},
		{ProfileType(length), "a profile of lengths"},
		{ProfileType(TakesType(length)), "a profile of takes of lengths"},
		{TurnType(NumberType(quantity.Angle)), "a turn of angles"},
		{ListType(NumberType(quantity.Mass)), "a list of masses"},
		{ListType(NumberType(quantity.Frequency)), "a list of frequencies"},
		{ListType(NumberType(quantity.AnglePerLong)), "a list of angles per length"},
		{ListType(CountType()), "a list of whole numbers"},
		{ListType(NumberType(quantity.Dim{Length: 2, Mass: 3})), "a list of values of length²·mass³"},
		{KeyedType(seat, length), "lengths keyed by seat"},
		{KeyedType(seat, TakesType(length)), "takes of lengths keyed by seat"},
		{KeyedType(seat, ProfileType(PointType())), "profiles of temperatures keyed by seat"},
		{KeyedType(Key{Name: "screw", Count: true}, KeyedType(Key{Name: "torque"}, length)), "lengths keyed by screw and torque"},
		{KeyedType(Key{}, length), "lengths keyed by key"},
	} {
		if got := tt.t.String(); got != tt.want {
			t.Errorf("%+v is %q, want %q", tt.t, got, tt.want)
		}
	}
}

func TestRule06ElementsAreOfOneKind(t *testing.T) {
	near := Key{Name: "station", Words: []string{"near", "far"}}
	for _, tt := range []struct {
		name string
		a, b Type
		want *Type
	}{
		{"lengths", length, length, &length},
		{"a count and a ratio", CountType(), NumberType(quantity.Ratio), ptr(NumberType(quantity.Ratio))},
		{"counts", CountType(), CountType(), ptr(CountType())},
		{"a length and an angle", length, NumberType(quantity.Angle), nil},
		{"a length and a temperature", length, PointType(), nil},
		{"a difference and a point of temperature", NumberType(quantity.TempDiff), PointType(), nil},
		{"two words", TextType("a"), TextType("b"), ptr(TextType("a", "b"))},
		{"a word and any text", TextType("a"), TextType(), ptr(TextType())},
		{"takes and one number", TakesType(length), length, nil},
		{"limits of points and of differences", ZoneType(PointType()), ZoneType(NumberType(quantity.TempDiff)), nil},
		{"profiles", ProfileType(CountType()), ProfileType(NumberType(quantity.Ratio)), ptr(ProfileType(NumberType(quantity.Ratio)))},
		{"profiles of two dimensions", ProfileType(length), ProfileType(CountType()), nil},
		{"keyed alike", KeyedType(near, length), KeyedType(near, length), ptr(KeyedType(near, length))},
		{"other keys", KeyedType(near, length), KeyedType(Key{Name: "station", Words: []string{"near"}}, length), ptr(KeyedType(Key{Name: "station"}, length))},
		{"counted keys and words", KeyedType(Key{Count: true}, length), KeyedType(near, length), nil},
	} {
		got, ok := tt.a.Join(tt.b)
		if ok != (tt.want != nil) || (ok && !got.Equal(*tt.want)) {
			t.Errorf("%s: %v, %v; want %v", tt.name, got, ok, tt.want)
		}
		back, okBack := tt.b.Join(tt.a)
		if okBack != ok || back.Kind != got.Kind || back.Count != got.Count {
			t.Errorf("%s: the other way round %v, %v", tt.name, back, okBack)
		}
	}
}

func ptr[T any](x T) *T { return &x }

func TestTypeEqual(t *testing.T) {
	types := []Type{
		length, NumberType(quantity.Angle), CountType(), PointType(), TextType(), TextType("a"), TakesType(length),
		TakesType(PointType()), TakesType(NumberType(quantity.TempDiff)), ProfileType(length), TurnType(length), ListType(length),
		KeyedType(Key{Name: "a"}, length), KeyedType(Key{Name: "b"}, length), KeyedType(Key{Name: "a", Count: true}, length), NetType(quantity.Length),
	}
	for i, a := range types {
		for j, b := range types {
			if got := a.Equal(b); got != (i == j) {
				t.Errorf("%v equal %v: %v", a, b, got)
			}
		}
	}
}

func TestRule07TakesStandForTheirMean(t *testing.T) {
	got := TakesOf(0.001, 0.002, 0.006).Mean()
	if !near(got, 0.003) {
		t.Errorf("mean of takes is %v", got)
	}
	in := ProfileOf([]float64{0, 100}, []Value{TakesOf(1, 3), KeyedOf([]string{"a"}, []Value{TakesOf(5, 7)})})
	want := ProfileOf([]float64{0, 100}, []Value{Num(2), KeyedOf([]string{"a"}, Nums(6))})
	if diff := cmp.Diff(want, in.Mean()); diff != "" {
		t.Errorf("inside collections (-want +got):\n%s", diff)
	}
	if in.Elems[0].Kind != Takes {
		t.Error("the value itself was changed")
	}
	if v := TakesOf().Mean(); v.State != Absent || v.Why == "" {
		t.Errorf("mean of no takes is %+v", v)
	}
	if v := (Value{Kind: Takes, State: Missing}).Mean(); v.State != Missing {
		t.Errorf("mean of missing takes is %+v", v)
	}
	if got := ProfileType(TakesType(PointType())).Mean(); !got.Equal(ProfileType(PointType())) {
		t.Errorf("the type becomes %v", got)
	}
}

func near(v Value, want float64) bool {
	return v.State == Present && v.Kind == Number && math.Abs(v.Num-want) < 1e-15
}

func TestRule08AnIndexIsAKey(t *testing.T) {
	v := KeyedOf([]string{"2", "1"}, Nums(20, 10))
	if got := v.Index("2"); !near(got, 20) {
		t.Errorf("key 2 gives %v, want the value taken first", got)
	}
	if got := v.Index("3"); got.State != Absent || got.Why != "there is no 3; there is 2, 1" {
		t.Errorf("key 3 gives %+v", got)
	}
	if got := NotYet().Index("1"); got.State != Missing {
		t.Errorf("a key of what is missing gives %+v", got)
	}
}

// minus takes the second of two numbers off the first.
func minus(v []Value) Value { return Num(v[0].Num - v[1].Num) }

func TestRule10ElementByElement(t *testing.T) {
	at := []float64{0, 50, 100}
	p := ProfileOf(at, Nums(1, 2, 3))
	for _, tt := range []struct {
		name string
		in   []Value
		want Value
	}{
		{"two numbers", []Value{Num(5), Num(3)}, Num(2)},
		{"a profile and a number", []Value{p, Num(1)}, ProfileOf(at, Nums(0, 1, 2))},
		{"a number and a profile", []Value{Num(1), p}, ProfileOf(at, Nums(0, -1, -2))},
		{"two profiles", []Value{p, p}, ProfileOf(at, Nums(0, 0, 0))},
		{"stations that rounding moved", []Value{p, ProfileOf([]float64{0, 50, 100.00000000000001}, Nums(1, 2, 3))}, ProfileOf(at, Nums(0, 0, 0))},
		{"stations read the other way", []Value{p, ProfileOf([]float64{100, 50, 0}, Nums(3, 2, 1))}, ProfileOf(at, Nums(0, 0, 0))},
		{"keys in another order", []Value{KeyedOf([]string{"0", "180"}, Nums(5, 7)), KeyedOf([]string{"180", "0"}, Nums(1, 2))}, KeyedOf([]string{"0", "180"}, Nums(3, 6))},
		{"a table and a number", []Value{KeyedOf([]string{"a"}, []Value{KeyedOf([]string{"b"}, Nums(4))}), Num(1)}, KeyedOf([]string{"a"}, []Value{KeyedOf([]string{"b"}, Nums(3))})},
		{"lists", []Value{ListOf(Nums(1, 2)...), ListOf(Nums(2, 2)...)}, ListOf(Nums(-1, 0)...)},
		{"turns", []Value{TurnOf([]float64{0, 3}, Nums(1, 2)), Num(1)}, TurnOf([]float64{0, 3}, Nums(0, 1))},
	} {
		got, err := Zip(minus, tt.in...)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
		}
		if diff := cmp.Diff(tt.want, got, cmpopts.EquateApprox(0, 1e-12)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, diff)
		}
	}
}

func TestRule10DifferentStationsAreRefused(t *testing.T) {
	p := ProfileOf([]float64{0, 50}, Nums(1, 2))
	for _, tt := range []struct {
		name string
		b    Value
		want string
	}{
		{"other stations", ProfileOf([]float64{0, 60}, Nums(1, 2)), "stations 0, 50 mm are not stations 0, 60 mm"},
		{"fewer stations", ProfileOf([]float64{0}, Nums(1)), "stations 0, 50 mm are not stations 0 mm"},
		{"a turn", TurnOf([]float64{0, math.Pi}, Nums(1, 2)), "stations 0, 50 mm and angles 0, 180° do not go together"},
	} {
		_, err := Zip(minus, p, tt.b)
		var m *MismatchError
		if !errors.As(err, &m) || err.Error() != tt.want {
			t.Errorf("%s: %v, want %q", tt.name, err, tt.want)
		}
	}
	_, err := Zip(minus, KeyedOf([]string{"near", "far"}, Nums(1, 2)), KeyedOf([]string{"near", "mid"}, Nums(1, 2)))
	if err == nil || err.Error() != "keys near, far are not keys near, mid" {
		t.Errorf("keys: %v", err)
	}
	_, err = Zip(minus, ListOf(Nums(1)...), ListOf(Nums(1, 2)...))
	if err == nil || err.Error() != "the lists have 1 and 2 elements" {
		t.Errorf("lists: %v", err)
	}
}

func TestRule11AbsenceSpreads(t *testing.T) {
	absent, missing := AbsentFor("no screw 3"), NotYet()
	unmeasured := Value{State: Unmeasured, Why: "no room"}
	if b, ok := Blocked(Num(1), unmeasured, absent); !ok || b.State != Absent || b.Why != "no screw 3" {
		t.Errorf("blocked by %+v", b)
	}
	if b, ok := Blocked(absent, KeyedOf([]string{"a", "b"}, []Value{Num(1), missing})); !ok || b.State != Missing {
		t.Errorf("blocked by %+v", b)
	}
	if b, ok := Blocked(Num(1), ListOf(Nums(1, 2)...)); ok {
		t.Errorf("blocked by %+v", b)
	}
	// Element by element, only the element is not there.
	got, err := Zip(minus, KeyedOf([]string{"a", "b"}, []Value{Num(1), absent}), Num(1))
	want := KeyedOf([]string{"a", "b"}, []Value{Num(0), absent})
	if err != nil || !Equal(got, want) || got.Elems[1].Why != "no screw 3" {
		t.Errorf("%+v, %v; want %+v", got, err, want)
	}
	if got, err := Zip(minus, absent, ListOf(Nums(1)...)); err != nil || got.Elems[0].State != Absent {
		t.Errorf("with a list: %+v, %v", got, err)
	}
	if got := Map(func(v Value) Value { return Num(-v.Num) }, want); got.Elems[0].Num != 0 || got.Elems[1].State != Absent {
		t.Errorf("mapped: %+v", got)
	}
}

func TestEqual(t *testing.T) {
	values := []Value{
		Num(1), Num(2), Celsius(1), Bool(true), Bool(false), Str("a"), TakesOf(1), TakesOf(1, 1), ListOf(Nums(1)...), ListOf(),
		ProfileOf([]float64{1}, Nums(1)), TurnOf([]float64{1}, Nums(1)), KeyedOf([]string{"a"}, Nums(1)), KeyedOf([]string{"b"}, Nums(1)),
		NetOf([]float64{1}, []float64{1}, []float64{1}), NetOf([]float64{1}, []float64{1}, []float64{2}), ZoneOf(0, 1), ZoneOf(0, math.Inf(1)), NotYet(), AbsentFor("x"),
	}
	for i, a := range values {
		for j, b := range values {
			if got := Equal(a, b); got != (i == j) {
				t.Errorf("%+v equal %+v: %v", a, b, got)
			}
		}
	}
}
