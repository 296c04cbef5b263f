package report_test

import (
	"math"
	"testing"

	"waywright/checks/quantity"
	"waywright/report"
)

// JCGM 100:2008, 7.2.6: an uncertainty to two figures, the value to its last
// place; but never so few that what is less than its doubt prints as much.
func TestDiffering(t *testing.T) {
	for _, tt := range []struct {
		by, u      float64
		unit       string
		want, wide string
	}{
		{-0.1486667, 0.0039965, "um", "−148.7", "4.0"},
		{0.00301, 0.003, "um", "3.01", "3.00"},
		{0.0029999, 0.003, "um", "2.9999", "3.0000"},
		{2, 0.5, "celsius", "2.00", "0.50"},
		{0.002, 0, "um", "2.0", ""},
	} {
		u, err := quantity.Lookup(tt.unit)
		if err != nil {
			t.Fatal(err)
		}
		by, bigU := report.Differing(tt.by, tt.u, u)
		wide := ""
		if bigU != nil {
			wide = bigU.Text
		}
		if by.Text != tt.want || wide != tt.wide {
			t.Errorf("Differing(%v, %v, %s) = %s, %s; want %s, %s", tt.by, tt.u, tt.unit, by.Text, wide, tt.want, tt.wide)
		}
	}
	if by, u := report.Differing(math.NaN(), 1, quantity.Unit{Factor: 1}); by != nil || u != nil {
		t.Errorf("no number: %v, %v", by, u)
	}
}

// Every unit is found again from what a record has of it: ″ is a second of
// arc there, though it is an inch to those who type it.
func TestUnitOf(t *testing.T) {
	us := quantity.Units()
	for _, name := range []string{"um/m", "mm/300mm", "mm/1000mm", "arcsec/m", "thou/foot", "N*m", "mm2", "um/m/K"} {
		u, err := quantity.Lookup(name)
		if err != nil {
			t.Fatal(err)
		}
		us = append(us, u)
	}
	for _, u := range us {
		got, ok := report.UnitOf(report.Number{Unit: u.Symbol, Code: u.UCUM})
		if !ok || got.Dim != u.Dim || got.Factor != u.Factor || got.Point != u.Point {
			t.Errorf("%s, printed %q, code %q, is read as %+v", u.Name, u.Symbol, u.UCUM, got)
		}
	}
	for _, tt := range []struct {
		n    report.Number
		name string
		ok   bool
	}{
		{report.Number{Unit: "Mikrometer", Code: "um"}, "um", true},
		{report.Number{Unit: "µm"}, "um", true},
		{report.Number{Unit: "″"}, "arcsec", true},
		{report.Number{}, "", true},
		{report.Number{Unit: "furlong", Code: "[fur_us]"}, "", false},
	} {
		u, ok := report.UnitOf(tt.n)
		if ok != tt.ok || u.Name != tt.name {
			t.Errorf("UnitOf(%v) = %q, %v; want %q, %v", tt.n, u.Name, ok, tt.name, tt.ok)
		}
	}
}
