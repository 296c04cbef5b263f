package quantity

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	reference "waywright/checks/internal/published"
)

const published = "../../testdata/published/units"

// The names of factors.csv that are not ours.
var publishedNames = map[string]string{
	"thou (mil, 0.001 in)": "thou",
	"tenth (0.0001 in)":    "tenth_thou",
	"micron":               "um",
	"degree":               "deg",
	"arc minute":           "arcmin",
	"arc second":           "arcsec",
	"in/ft":                "inch/foot",
	"0.001 in/ft":          "thou/foot",
	"thou/in":              "thou/inch",
	"degF interval":        "fahrenheit_degree",
	"1/degF":               "1/fahrenheit_degree",
	"1/degC":               "1/kelvin",
	"lbf ft":               "foot_pound",
	"N m":                  "newton_metre",
}

func TestPublishedFactors(t *testing.T) {
	f, err := os.Open(filepath.Join(published, "factors.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		from, to := publishedUnit(t, row[0]), publishedUnit(t, row[1])
		want, err := strconv.ParseFloat(row[2], 64)
		if err != nil {
			t.Fatalf("%v: %v", row, err)
		}
		got := from.Factor / to.Factor
		if strings.HasPrefix(row[4], "small angle") {
			if from.Dim == to.Dim {
				t.Errorf("%s and %s have one dimension: an angle is not a slope", from.Name, to.Name)
			}
		} else if got = to.Of(from.Base(1)); from.Dim != to.Dim {
			t.Errorf("%s is %v, %s is %v", from.Name, from.Dim, to.Name, to.Dim)
		}
		reference.Agree(t, row[4], row[0]+" in "+row[1], got, want, 13.5)
	}
}

func publishedUnit(t *testing.T, name string) Unit {
	t.Helper()
	if ours, ok := publishedNames[name]; ok {
		name = ours
	}
	u, err := Lookup(name)
	if err != nil {
		t.Fatal(err)
	}
	return u
}

func TestPublishedTemperatures(t *testing.T) {
	b, err := os.ReadFile(filepath.Join(published, "temperature_points.json"))
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Published []struct{ Quantity, Value, Where string }
	}
	if err := json.Unmarshal(b, &file); err != nil {
		t.Fatal(err)
	}
	if len(file.Published) < 4 {
		t.Fatalf("only %d temperatures", len(file.Published))
	}
	for _, p := range file.Published {
		got, err := ParseOne(p.Quantity, Context{Unit: mustLookup("celsius")})
		want, _ := strconv.ParseFloat(p.Value, 64)
		if err != nil || got.Value != want {
			t.Errorf("ParseOne(%q) = %v °C, %v; want exactly %v (%s)", p.Quantity, got.Value, err, want, p.Where)
		}
	}
}

// Factors as NIST SP 811 (2008), table B.8, prints them to seven figures,
// from memory of that table.
func TestFactorsOfSP811(t *testing.T) {
	tests := []struct {
		from, to string
		want     float64
	}{
		{"inch", "m", 2.54e-2},
		{"microinch", "um", 2.54e-2},
		{"foot", "m", 3.048e-1},
		{"deg", "rad", 1.745329e-2},
		{"arcmin", "rad", 2.908882e-4},
		{"arcsec", "rad", 4.848137e-6},
		{"day", "s", 8.64e4},
		{"h", "s", 3.6e3},
		{"lb", "kg", 4.535924e-1},
		{"lbf", "N", 4.448222},
		{"foot_pound", "newton_metre", 1.355818},
		{"psi", "Pa", 6.894757e3},
		{"bar", "kPa", 1e2},
		{"lb/ft^3", "kg/m3", 1.601846e1},
		{"lbf/in", "N/m", 1.751268e2},
		{"fahrenheit_degree", "kelvin", 5.555556e-1},
	}
	for _, tt := range tests {
		from, to := mustLookup(tt.from), mustLookup(tt.to)
		if tt.from == "lbf/in" && from.Dim != to.Dim {
			t.Fatalf("%v and %v", from, to)
		}
		got := from.Factor / to.Factor
		if math.Abs(got-tt.want) > 0.51e-6*tt.want {
			t.Errorf("one %s is %.9g %s, want %.7g", tt.from, got, tt.to, tt.want)
		}
	}
}

func TestLookup(t *testing.T) {
	tests := []struct{ name, want, symbol, ucum string }{
		{"mm", "mm", "mm", "mm"},
		{"µm", "um", "µm", "um"}, // U+00B5
		{"μm", "um", "µm", "um"}, // U+03BC
		{"micron", "um", "µm", "um"},
		{"MM", "mm", "mm", "mm"},
		{"in", "inch", "in", "[in_i]"},
		{"tenths of a thou", "tenth_thou", "tenths of a thou", "10*-4.[in_i]"},
		{"minutes", "min", "min", "min"},
		{"min", "min", "min", "min"},
		{"arcmin", "arcmin", "′", "'"},
		{"radian", "rad", "rad", "rad"},
		{"celsius", "celsius", "°C", "Cel"},
		{"K", "kelvin", "K", "K"},
		{"percent", "%", "%", "%"},
		{"1", "1", "", "1"},
		{"um/m", "um/m", "µm/m", "um/m"},
		{"µm / m", "um/m", "µm/m", "um/m"},
		{"mm per m", "mm/m", "mm/m", "mm/m"},
		{"mm/300mm", "mm/300mm", "mm/300 mm", "mm/(300.mm)"},
		{"mm/300 mm", "mm/300mm", "mm/300 mm", "mm/(300.mm)"},
		{"in/ft", "inch/foot", "in/ft", "[in_i]/[ft_i]"},
		{"tenth_thou/ft", "tenth_thou/foot", "tenths of a thou/ft", "10*-4.[in_i]/[ft_i]"},
		{"arcsec/m", "arcsec/m", "″/m", "''/m"},
		{"mm²", "mm2", "mm²", "mm2"},
		{"mm^2", "mm2", "mm²", "mm2"},
		{"N/mm2", "N/mm2", "N/mm²", "N/mm2"},
		{"N*m", "newton_metre", "N·m", "N.m"},
		{"Nm", "newton_metre", "N·m", "N.m"},
		{"nm", "nm", "nm", "nm"},
		{"lbf-ft", "foot_pound", "lbf·ft", "[lbf_av].[ft_i]"},
		{"um/(m·K)", "um/m/kelvin", "µm/m/K", "um/m/K"},
		{"um/m/°C", "um/m/kelvin", "µm/m/K", "um/m/K"},
		{"1/K", "1/kelvin", "/K", "/K"},
		{"mm/min", "mm/min", "mm/min", "mm/min"},
		{"rev/min", "rpm", "rpm", "{rev}/min"},
	}
	for _, tt := range tests {
		u, err := Lookup(tt.name)
		if err != nil {
			t.Errorf("Lookup(%q): %v", tt.name, err)
			continue
		}
		if u.Name != tt.want || u.Symbol != tt.symbol || u.UCUM != tt.ucum {
			t.Errorf("Lookup(%q) = %s, %s, %s; want %s, %s, %s", tt.name, u.Name, u.Symbol, u.UCUM, tt.want, tt.symbol, tt.ucum)
		}
		if again, err := Lookup(u.Name); err != nil || again != u {
			t.Errorf("Lookup(%q) = %v, %v; want the same as for %q", u.Name, again, err, tt.name)
		}
	}
}

func TestLookupUnknown(t *testing.T) {
	tests := []struct{ name, want string }{
		{"arcses", `no unit is named "arcses"; did you mean "arcsec"?`},
		{"mircon", `no unit is named "mircon"; did you mean "um"?`},
		{"um/metr", `no unit is named "metr"; did you mean "m"?`},
		{"furlong", `no unit is named "furlong"; units are written like mm, um, arcsec, um/m, %`},
		{"", `no unit is named ""; units are written like mm, um, arcsec, um/m, %`},
		{nothing, `no unit is named "nm⁹·nm⁹·nm⁹·nm⁹·nm⁹·nm⁹·nm⁹·nm⁹"; units are written like mm, um, arcsec, um/m, %`},
		{"mm/", `no unit is named "mm/"; did you mean "mm"?`},
		{"/", `no unit is named "/"; units are written like mm, um, arcsec, um/m, %`},
		{"um/(m", `no unit is named "um/(m"; units are written like mm, um, arcsec, um/m, %`},
		{"3 mm", `no unit is named "3 mm"; units are written like mm, um, arcsec, um/m, %`},
		{"NM", `no unit is named "NM"; did you mean "newton_metre"?`},
		{"tenths", `unit "tenths" may mean 0.1 mm or 0.0001 inch; write mm, um, thou or tenth_thou`},
		{"mil", `unit "mil" may mean 1 mm or 0.001 inch; write mm, um, thou or tenth_thou`},
	}
	for _, tt := range tests {
		u, err := Lookup(tt.name)
		var ue *UnitError
		if !errors.As(err, &ue) || err.Error() != tt.want {
			t.Errorf("Lookup(%q) = %v, %v; want %s", tt.name, u, err, tt.want)
		}
		if u != (Unit{}) {
			t.Errorf("Lookup(%q) returns %v with its error", tt.name, u)
		}
	}
}

// Names are unique, and name, symbol and each other spelling find the unit
// where its dimension is asked for.
func TestEverySpellingIsFound(t *testing.T) {
	seen := map[string]bool{}
	for _, e := range entries {
		if seen[e.Name] {
			t.Errorf("two units are called %s", e.Name)
		}
		seen[e.Name] = true
		if u, err := Lookup(e.Name); err != nil || u != e.Unit {
			t.Errorf("Lookup(%q) = %v, %v", e.Name, u, err)
		}
		for _, s := range append([]string{e.Symbol}, e.aliases...) {
			if s == "" {
				continue
			}
			got, err := lookup(s, func(u Unit) bool { return u.Dim == e.Dim && u.Point == e.Point })
			if err != nil || got.Unit != e.Unit {
				t.Errorf("%q, where %s is wanted, is %v, %v; want %s", s, e.What(), got.Unit, err, e.Name)
			}
		}
	}
}

func TestLiterals(t *testing.T) {
	// The literals that the language has, by the list of its units and of the
	// functions added by the semantics.
	for _, name := range strings.Fields("mm um inch thou tenth_thou deg arcmin arcsec celsius kelvin minutes newton newton_metre percent m radian days hours") {
		if _, ok := LiteralUnit(name); !ok {
			t.Errorf("no literal %s", name)
		}
	}
	for _, l := range Literals() {
		if u, ok := LiteralUnit(l.Name); !ok || u != l.Unit {
			t.Errorf("LiteralUnit(%q) = %v, %v; want %v", l.Name, u, ok, l.Unit)
		}
		if l.Doc == "" || !(l.Unit.Factor > 0) {
			t.Errorf("literal %+v is not whole", l)
		}
	}
	if u, ok := LiteralUnit("furlong"); ok {
		t.Errorf(`LiteralUnit("furlong") = %v`, u)
	}
}

// The value of a literal is the correctly rounded one, so that limits written
// in one unit meet readings typed in another exactly.
func TestBaseIsExact(t *testing.T) {
	tests := []struct {
		unit string
		v    float64
		want float64
	}{
		{"um", 3, 0.003},
		{"um", 16.7, 0.0167},
		{"um", 7, 0.007},
		{"tenth_thou", 3, 0.00762},
		{"thou", 1.1, 0.02794},
		{"inch", 1.2538, 31.84652},
		{"deg", 180, math.Pi},
		{"deg", 45, math.Pi / 4},
		{"%", 7, 0.07},
		{"fahrenheit", 68, 20},
		{"fahrenheit", 98.6, 37},
		{"um/m", 20, 2e-5},
		{"N", 50, 50000},
		{"mm/300mm", 0.03, 1e-4},
	}
	for _, tt := range tests {
		u := mustLookup(tt.unit)
		if got := u.Base(tt.v); got != tt.want {
			t.Errorf("%v %s = %.17g, want %.17g", tt.v, tt.unit, got, tt.want)
		}
		if got := u.Of(tt.want); got != tt.v {
			t.Errorf("%.17g in %s = %.17g, want %.17g", tt.want, tt.unit, got, tt.v)
		}
	}
	if got := mustLookup("mm").Base(math.Inf(1)); !math.IsInf(got, 1) {
		t.Errorf("Base(+Inf) = %v", got)
	}
}

func TestInRun(t *testing.T) {
	tests := []struct {
		unit string
		inch bool
		want string
	}{
		{"mm", true, "inch"},
		{"mm", false, "mm"},
		{"um", true, "thou"},
		{"inch", true, "inch"},
		{"inch", false, "mm"},
		{"tenth_thou", true, "tenth_thou"},
		{"tenth_thou", false, "um"},
		{"um/m", true, "thou/foot"},
		{"thou/ft", false, "um/m"},
		{"arcsec", true, "arcsec"},
		{"celsius", true, "celsius"},
		{"%", true, "%"},
	}
	for _, tt := range tests {
		if got := InRun(mustLookup(tt.unit), tt.inch); got.Name != tt.want {
			t.Errorf("InRun(%s, %v) = %s, want %s", tt.unit, tt.inch, got.Name, tt.want)
		}
	}
	for _, m := range []map[string]string{inInch, inMetric} {
		for from, to := range m {
			a, b := mustLookup(from), mustLookup(to)
			if a.Dim != b.Dim || a.Name != from || b.Name != to {
				t.Errorf("%s is shown as %s, by name %s as %s", from, to, a.Name, b.Name)
			}
			for _, inch := range []bool{true, false} {
				if once := InRun(a, inch); InRun(once, inch) != once {
					t.Errorf("InRun(%s, %v) is not settled: %s", from, inch, once.Name)
				}
			}
		}
	}
	if u, ok := Beside(mustLookup("inch")); !ok || u.Name != "mm" {
		t.Errorf("beside inches: %v, %v", u, ok)
	}
	if u, ok := Beside(mustLookup("arcsec")); ok {
		t.Errorf("beside seconds of angle: %v", u)
	}
}
