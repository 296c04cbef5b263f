// Package register holds what a shop's logbook knows before a run: its
// machines, its instruments, the people who sign, and what it asks of every run.
//
// Numbers are in base units (mm, rad, s; see quantity). The files are read by
// [waywright/procedures/hclfile].
package register

import (
	"slices"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures/source"
)

// Machine is an entry of machines.hcl.
type Machine struct {
	ID     string // "lathe-2"
	Class  string // "centre lathe": what procedures ask for
	Title  string // what it is called in the shop
	Maker  string
	Serial string
	Stands string          // where it stands
	Taper  string          // of the spindle: "MT3"
	Sizes  map[string]Size // by path: "test_bar.length"
	At     source.Range
}

// Size is a size of a machine.
type Size struct {
	Value value.Value
	Type  value.Type
	Unit  quantity.Unit // as it was written
}

// Value returns what machine.PATH is in a formula. It is missing where the
// entry does not have it.
func (m Machine) Value(path string) value.Value {
	words := map[string]string{
		"id": m.ID, "class": m.Class, "title": m.Title, "maker": m.Maker,
		"serial": m.Serial, "stands": m.Stands, "spindle_taper": m.Taper,
	}
	if s, ok := words[path]; ok {
		if s == "" {
			return value.NotYet()
		}
		return value.Str(s)
	}
	if s, ok := m.Sizes[path]; ok {
		return s.Value
	}
	return value.NotYet()
}

// Instrument is an entry of instruments.hcl: a real instrument of the shop.
type Instrument struct {
	ID               string // "M-3"
	Kind             string // "outside micrometer"
	Resolution       float64
	Error            float64 // limit of indication error
	HasError         bool
	Repeatability    float64 // standard deviation of one take
	RepeatabilityDoF float64
	Turn             float64 // one turn of screw or pointer
	Division         float64 // one division of its scale; the resolution where not written
	Zero             float64 // limit of the error of its zero
	HasZero          bool
	Uncertainty      float64 // expanded, of its certificate; 0: none
	Coverage         float64 // the factor k of Uncertainty; 2 unless written
	From, To         float64 // what it can read, on its own scale
	HasRange         bool
	Certificate      string // its number
	Calibrated, Due  string // dates, 2026-11-25; empty: not written
	CalibratedBy     string
	Maker, Serial    string
	History          []Happening // in the order of days
	Dim              quantity.Dim
	Unit             quantity.Unit // the one that Resolution was written in
	At               source.Range
}

// Happening is a line in the life of an instrument.
type Happening struct {
	Day  string // 2025-11-03
	What string // "new spindle nut"
	By   string
	At   source.Range
}

// Person is an entry of people.hcl.
type Person struct {
	ID    string
	Name  string
	Roles []string // labels of sign-offs: "fitter", "inspector"
	Key   string   // public key, or empty
	At    source.Range
}

// Shop is what a shop.hcl says.
type Shop struct {
	Decision checks.Rule  // asked for in every run, where the procedure asks for less; NoRule: not written
	Paper    string       // that records are printed on: a4 or letter; "": not written
	At       source.Range // of the decision
}

// Known is a size that machines often have, so that procedures can rely on
// its name.
type Known struct {
	Path string
	Type value.Type
	Unit *quantity.Unit // nil for words
	Doc  string
}

// known are the sizes that have a fixed meaning. A shop may write others.
var known = func() []Known {
	mm := func(path, doc string) Known {
		u := quantity.Length.Default()
		return Known{Path: path, Type: value.NumberType(quantity.Length), Unit: &u, Doc: doc}
	}
	word := func(path, doc string) Known { return Known{Path: path, Type: value.TextType(), Doc: doc} }
	return []Known{
		word("id", "The label of its entry."),
		word("class", "Its class: \"centre lathe\"."),
		word("title", "What it is called in the shop."),
		word("maker", "Who made it."),
		word("serial", "Its serial number."),
		word("stands", "Where it stands."),
		word("spindle_taper", "The taper of its spindle: \"MT3\"."),
		mm("centre_height", "Height of the centres above the ways."),
		mm("swing", "Largest diameter that turns over the bed."),
		mm("between_centres", "Longest work between centres."),
		mm("spindle_bore", "Diameter of the bore through the spindle."),
		mm("feet_across", "Distance between the feet, across the bed."),
		mm("feet_along", "Distance between the feet, along the bed."),
		mm("table_length", "Length of the table."),
		mm("table_width", "Width of the table."),
		mm("travel_x", "Travel along the table or the bed."),
		mm("travel_y", "Travel across."),
		mm("travel_z", "Travel up and down."),
		mm("test_bar.length", "Length of the test bar that goes with it."),
		mm("test_bar.diameter", "Diameter of the test bar that goes with it."),
	}
}()

// Sizes returns the entries that have a fixed meaning.
func Sizes() []Known { return slices.Clone(known) }

// SizeOf returns what is known of machine.PATH; ok is false where the name has
// no fixed meaning.
func SizeOf(path string) (k Known, ok bool) {
	for _, k := range known {
		if k.Path == path {
			return k, true
		}
	}
	return Known{}, false
}
