package quantity

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	reference "waywright/checks/internal/published"
)

// ucumAtoms gives the atoms of UCUM that we use in mm, kg, s, K and rad, each
// from its definition in the UCUM table, from memory of version 2.1:
// [in_i] = 2.54 cm, [mil_i] = 0.001 [in_i], [lbf_av] = [lb_av].[g],
// [psi] = [lbf_av]/[in_i]2, deg = 2 [pi].rad/360, ' = deg/60, ” = '/60,
// [degR] = 5/9 K, % = 10*-2, [ppm] = 10*-6.
var ucumAtoms = map[string]struct {
	size   float64
	d      Dim
	metric bool // takes prefixes
}{
	"m":        {1000, Length, true},
	"g":        {1e-3, Mass, true},
	"s":        {1, Time, true},
	"min":      {60, Time, false},
	"h":        {3600, Time, false},
	"d":        {86400, Time, false},
	"K":        {1, TempDiff, true},
	"Cel":      {1, TempDiff, true},
	"[degF]":   {5. / 9, TempDiff, false},
	"[degR]":   {5. / 9, TempDiff, false},
	"rad":      {1, Angle, true},
	"deg":      {math.Pi / 180, Angle, false},
	"'":        {math.Pi / 180 / 60, Angle, false},
	"''":       {math.Pi / 180 / 3600, Angle, false},
	"[in_i]":   {25.4, Length, false},
	"[ft_i]":   {12 * 25.4, Length, false},
	"[mil_i]":  {0.0254, Length, false},
	"[lb_av]":  {7000 * 64.79891e-6, Mass, false}, // 7000 grains
	"[lbf_av]": {7000 * 64.79891e-6 * 9806.65, Force, false},
	"[psi]":    {7000 * 64.79891e-6 * 9806.65 / 25.4 / 25.4, Pressure, false},
	"N":        {1000, Force, true},
	"Pa":       {1e-3, Pressure, true},
	"bar":      {100, Pressure, true},
	"Hz":       {1, Frequency, true},
	"%":        {1e-2, Ratio, false},
	"[ppm]":    {1e-6, Ratio, false},
}

var ucumPrefixes = map[string]float64{"n": 1e-9, "u": 1e-6, "m": 1e-3, "c": 1e-2, "k": 1e3, "M": 1e6}

var ucumSimple = regexp.MustCompile(`^(\[[a-z_A-Z]+\]|''|'|%|[A-Za-z]+)([0-9]*)`)

// ucumValue reads a UCUM code: terms joined by . and / from left to right, in
// brackets or not.
func ucumValue(code string) (size float64, d Dim, rest string, err error) {
	size = 1
	for s, op := code, "."; ; s = s[1:] {
		if strings.HasPrefix(s, "/") && s == code {
			op, s = "/", s[1:]
		}
		v, e, after, err := ucumTerm(s)
		if err != nil {
			return 0, d, "", fmt.Errorf("%s: %w", code, err)
		}
		if op == "." {
			size, d = size*v, d.Mul(e)
		} else {
			size, d = size/v, d.Div(e)
		}
		s = after
		if s == "" || s[0] != '.' && s[0] != '/' {
			return size, d, s, nil
		}
		op = s[:1]
	}
}

func ucumTerm(s string) (float64, Dim, string, error) {
	switch {
	case strings.HasPrefix(s, "("):
		v, d, rest, err := ucumValue(s[1:])
		if err == nil && !strings.HasPrefix(rest, ")") {
			err = fmt.Errorf("no bracket at %q", rest)
		}
		return v, d, strings.TrimPrefix(rest, ")"), err
	case strings.HasPrefix(s, "{"):
		_, rest, _ := strings.Cut(s, "}")
		return 1, Ratio, rest, nil
	case strings.HasPrefix(s, "10*"):
		m := regexp.MustCompile(`^-?[0-9]+`).FindString(s[3:])
		n, err := strconv.Atoi(m)
		return math.Pow10(n), Ratio, s[3+len(m):], err
	}
	if m := regexp.MustCompile(`^[0-9]+`).FindString(s); m != "" {
		n, err := strconv.ParseFloat(m, 64)
		return n, Ratio, s[len(m):], err
	}
	m := ucumSimple.FindStringSubmatch(s)
	if m == nil {
		return 0, Ratio, s, fmt.Errorf("no atom at %q", s)
	}
	v, d, err := ucumAtom(m[1])
	n := 1
	if m[2] != "" {
		n, _ = strconv.Atoi(m[2])
	}
	return math.Pow(v, float64(n)), d.Pow(n), s[len(m[0]):], err
}

func ucumAtom(s string) (float64, Dim, error) {
	if a, ok := ucumAtoms[s]; ok {
		return a.size, a.d, nil
	}
	if a, ok := ucumAtoms[s[1:]]; ok && a.metric && ucumPrefixes[s[:1]] != 0 {
		return ucumPrefixes[s[:1]] * a.size, a.d, nil
	}
	return 0, Ratio, fmt.Errorf("no atom is called %q", s)
}

// The UCUM code of every unit means what the unit means: its definition gives
// our factor and our dimension.
func TestUCUMCodes(t *testing.T) {
	units := Units()
	for _, name := range compounds {
		units = append(units, mustLookup(name))
	}
	for _, u := range units {
		got, d, rest, err := ucumValue(u.UCUM)
		if err != nil || rest != "" {
			t.Errorf("%s: UCUM code %q: %v, left %q", u.Name, u.UCUM, err, rest)
			continue
		}
		if d != u.Dim || reference.Digits(got, u.Factor) < 14 {
			t.Errorf("%s: UCUM code %s is %.16g and %v, want %.16g and %v", u.Name, u.UCUM, got, d, u.Factor, u.Dim)
		}
	}
}

// compounds are units made of others, as procedures use them.
var compounds = []string{
	"um/m", "mm/m", "mm/300mm", "mm/1000mm", "thou/ft", "in/ft", "tenth_thou/ft", "tenth_thou/in",
	"arcsec/m", "deg/m", "arcmin/ft", "mm2", "in2", "tenth_thou^2", "um/m/K", "/K", "um/m/°F", "K/m", "N/um",
	"N/mm2", "kg/m3", "mm/min", "mm/s", "rpm/%", "mm/rpm", "mm/(300mm·K)", "ft/min", "lb/in", "kg*mm2/s2", "um/N",
}
