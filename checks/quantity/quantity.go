// Package quantity holds dimensions and units: what a number is a number of,
// how a person may type it, and how it is printed.
//
// Every number inside the program is a float64 in the coherent base unit of
// its dimension: mm, kg, s, K, rad and their products (so a newton is
// 1000 kg·mm/s²). A temperature point is the exception: it is held in degrees
// Celsius as typed, because the only sums it takes part in are differences.
//
// Units are converted by exact fractions and rounded once, so that a reading
// typed as 3 µm and a limit written as mm(0.003) are one number. Printing
// rounds halves away from zero by the decimal that a number prints as, and so
// rounds alike in every unit. Nothing here panics on what a person typed.
package quantity

// Dim is a dimension: the exponents of the base units. The zero Dim is a
// ratio (slopes, shares, counts). An angle is a dimension of its own, so that
// a slope and an angle cannot be mistaken for each other.
type Dim struct {
	Length, Mass, Time, Temp, Angle int8
}

// The dimensions that occur in procedures.
var (
	Ratio        = Dim{}
	Length       = Dim{Length: 1}
	Mass         = Dim{Mass: 1}
	Time         = Dim{Time: 1}
	TempDiff     = Dim{Temp: 1}
	Angle        = Dim{Angle: 1}
	Area         = Dim{Length: 2}
	Force        = Dim{Length: 1, Mass: 1, Time: -2}
	Torque       = Dim{Length: 2, Mass: 1, Time: -2}
	Pressure     = Dim{Length: -1, Mass: 1, Time: -2}
	Frequency    = Dim{Time: -1}
	AnglePerLong = Dim{Angle: 1, Length: -1}
)

// Unit is a unit of measurement. Base = typed × Factor. Point is true for a
// temperature point (celsius, fahrenheit); then Base = typed × Factor + Offset
// in degrees Celsius. [Unit.Base] and [Unit.Of] convert exactly; the bare
// factor is quicker, and may be off by the last bit.
type Unit struct {
	Name   string  // as procedures and people write it: "mm", "um", "um/m", "arcsec", "%"
	Symbol string  // as it is printed: "mm", "µm", "µm/m", "″", "%", "°C"
	UCUM   string  // the machine-readable code: "mm", "um", "um/m", "''", "%", "Cel"
	Dim    Dim     //
	Factor float64 // base units in one of this unit
	Offset float64 // only for points
	Point  bool
}
