package quantity

import (
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestDimNames(t *testing.T) {
	tests := []struct {
		d    Dim
		want string
	}{
		{Length, "a length"},
		{Angle, "an angle"},
		{Ratio, "a ratio"},
		{Area, "an area"},
		{Force, "a force"},
		{TempDiff, "a temperature difference"},
		{Length.Pow(2).Mul(Mass), "a length²·mass"},
		{Length.Pow(2).Mul(Mass).Div(Time.Pow(3)), "a length²·mass/time³"},
		{Ratio.Div(Mass.Pow(12)), "a 1/mass¹²"},
	}
	for _, tt := range tests {
		if got := tt.d.String(); got != tt.want {
			t.Errorf("%#v.String() = %q, want %q", tt.d, got, tt.want)
		}
	}
}

func TestDimOfProducts(t *testing.T) {
	tests := []struct {
		name      string
		got, want Dim
	}{
		{"force times length is a torque", Force.Mul(Length), Torque},
		{"force over area is a pressure", Force.Div(Area), Pressure},
		{"length over length is a ratio", Length.Div(Length), Ratio},
		{"an angle over a length keeps the angle", Angle.Div(Length), AnglePerLong},
		{"once per time is a frequency", Ratio.Div(Time), Frequency},
		{"length squared is an area", Length.Pow(2), Area},
		{"nothing comes of the power 0", Torque.Pow(0), Ratio},
		{"exponents stop and do not wrap round", Length.Pow(100).Mul(Length.Pow(100)), Dim{Length: 127}},
		{"a power stops too", Length.Pow(-1 << 62), Dim{Length: -127}},
	}
	for _, tt := range tests {
		if tt.got != tt.want {
			t.Errorf("%s: got %+v, want %+v", tt.name, tt.got, tt.want)
		}
	}
}

func anyDim() *rapid.Generator[Dim] {
	e := rapid.Int8Range(-6, 6)
	return rapid.Custom(func(t *rapid.T) Dim {
		return Dim{e.Draw(t, "length"), e.Draw(t, "mass"), e.Draw(t, "time"), e.Draw(t, "temp"), e.Draw(t, "angle")}
	})
}

func TestDimAlgebra(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyDim().Draw(t, "a"), anyDim().Draw(t, "b")
		if a.Mul(b) != b.Mul(a) {
			t.Fatalf("%v times %v depends on the order", a, b)
		}
		if got := a.Mul(b).Div(b); got != a {
			t.Fatalf("%v times and over %v gives %v", a, b, got)
		}
		root, ok := a.Pow(2).Root()
		if !ok || root != a {
			t.Fatalf("the root of %v squared is %v, %v", a, root, ok)
		}
		if _, ok := a.Pow(2).Mul(Angle).Root(); ok {
			t.Fatalf("%v has a root", a.Pow(2).Mul(Angle))
		}
	})
}

// Every dimension has a unit to be shown in and a way to be written.
func TestDimDefaultAndExample(t *testing.T) {
	check := func(t interface{ Fatalf(string, ...any) }, d Dim) {
		u := d.Default()
		if u.Dim != d || !(u.Factor > 0) || u.Point {
			t.Fatalf("(%v).Default() = %+v", d, u)
		}
		if got := writtenDim(t, d.Example()); got != d {
			t.Fatalf("(%v).Example() = %s, which is %v", d, d.Example(), got)
		}
	}
	for d := range known {
		check(t, d)
	}
	rapid.Check(t, func(t *rapid.T) {
		e := rapid.Int8Range(-2, 2)
		check(t, Dim{e.Draw(t, "length"), e.Draw(t, "mass"), e.Draw(t, "time"), e.Draw(t, "temp"), e.Draw(t, "angle")})
	})
}

func TestUnitExample(t *testing.T) {
	tests := []struct{ unit, want string }{
		{"um", "um(20)"},
		{"%", "percent(20)"},
		{"um/m", "um(20)/m(1)"},
		{"thou/ft", "thou(20)/foot(1)"},
		{"celsius", "celsius(20)"},
		{"fahrenheit", "fahrenheit(68)"},
		{"N", "newton(20)"},
		{"kN", "newton(50)"},
	}
	for _, tt := range tests {
		u := mustLookup(tt.unit)
		if got := u.Example(); got != tt.want {
			t.Errorf("Example of %s = %s, want %s", tt.unit, got, tt.want)
		}
		if got := writtenDim(t, tt.want); got != u.Dim {
			t.Errorf("%s is %v, but %s is %v", tt.want, got, tt.unit, u.Dim)
		}
	}
}

var call = regexp.MustCompile(`^(\w+)\([0-9.]+\)`)

// writtenDim works out the dimension of literals joined by * and /.
func writtenDim(t interface{ Fatalf(string, ...any) }, expr string) Dim {
	var d Dim
	op := "*"
	s := expr
	if rest, ok := strings.CutPrefix(expr, "1/"); ok {
		op, s = "/", rest
	}
	for {
		m := call.FindStringSubmatch(s)
		if m == nil {
			t.Fatalf("%s: no literal at %q", expr, s)
		}
		u, ok := LiteralUnit(m[1])
		if !ok {
			t.Fatalf("%s: no literal is called %s", expr, m[1])
		}
		if op == "*" {
			d = d.Mul(u.Dim)
		} else {
			d = d.Div(u.Dim)
		}
		if s = s[len(m[0]):]; s == "" {
			return d
		}
		op = s[:1]
		if !strings.Contains("*/", op) {
			t.Fatalf("%s: %q joins two literals", expr, op)
		}
		s = s[1:]
	}
}
