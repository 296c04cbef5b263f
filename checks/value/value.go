// Package value holds the kinds of value that formulas compute with: numbers
// with a dimension, repeated takes, profiles along stations, readings round a
// turn, values by key, and the rest of the list in [Kind].
//
// Numbers are in the base units of [quantity]. A Value is never changed once
// made: functions return new ones.
package value

import "waywright/checks/quantity"

// Kind is a kind of value.
type Kind uint8

// The kinds.
const (
	Number  Kind = iota + 1 // a number with a dimension
	Point                   // a temperature, °C
	Truth                   // true or false
	Text                    // words
	Takes                   // repeated numbers of one thing; stand for their mean where one number is wanted
	Profile                 // values at stations along a line
	Turn                    // values at angles of the spindle
	Keyed                   // values by key, in the order of taking
	List                    // values in order, without keys
	Net                     // heights over points of a plane
	Zone                    // the two limits of a tolerance; either may be infinite
	Object                  // values of different kinds by name, that belong together
)

// Type says what a formula gives, before it is evaluated.
type Type struct {
	Kind  Kind
	Dim   quantity.Dim // of Number, Takes, Zone and Net
	Count bool         // Number: a whole number, written without a unit
	Words []string     // Text: the only words it may be, or nil when any
	Key   Key          // Keyed; of Object the names are its Words
	Elem  *Type        // Profile, Turn, Keyed, List: of the elements; Takes, Zone: [PointType] when they are of temperatures
	Parts []Type       // Object: one for each of Key.Words
}

// Key describes the keys of a Keyed type.
type Key struct {
	Name  string   // the label of the each block, or "" for a written object
	Count bool     // keys are the whole numbers 1, 2, 3 …
	Words []string // the keys, where known before the run
}

// State says whether a value is there, and if not, why not.
type State uint8

// The states. When several inputs of a formula are not present, the result
// has the greatest of their states.
const (
	Present    State = iota
	Unmeasured       // could not be taken, with a reason
	Absent           // does not apply: a condition is false, a key is not there, a computation is not defined
	Missing          // not answered yet, or stale
)

// Value is a value of any kind. Only the fields of its kind are set.
type Value struct {
	Kind  Kind
	State State
	Why   string // for Absent and Unmeasured: the reason, in words

	Num   float64   // Number (base units), Point (°C)
	Truth bool      // Truth
	Text  string    // Text
	Takes []float64 // Takes, base units
	At    []float64 // Profile: stations, mm; Turn: angles, rad
	Keys  []string  // Keyed: keys, counts in decimal; Object: names
	Elems []Value   // Profile, Turn, Keyed, List, Object: one for each of At, Keys, or in order
	X, Y  []float64 // Net: the places of the heights, mm
	Z     []float64 // Net: the heights, base units
	Lo    float64   // Zone: lower limit, −Inf when there is none
	Hi    float64   // Zone: upper limit, +Inf when there is none
}
