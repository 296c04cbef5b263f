package quantity

// inInch and inMetric pair the units of the two kinds of run.
var (
	inInch = map[string]string{
		"mm": "inch", "cm": "inch", "um": "thou", "nm": "microinch", "m": "foot",
		"mm/m": "thou/foot", "um/m": "thou/foot", "mm/300mm": "inch/foot", "mm/1000mm": "thou/foot",
		"mm2": "inch2", "cm2": "inch2", "m2": "foot2", "mm3": "inch3", "cm3": "inch3",
		"mm/min": "inch/min", "m/min": "foot/min",
		"arcsec/m": "arcsec/foot",
	}
	inMetric = map[string]string{
		"inch": "mm", "thou": "um", "tenth_thou": "um", "microinch": "nm", "foot": "m",
		"thou/foot": "um/m", "inch/foot": "mm/m", "thou/inch": "mm/m", "tenth_thou/foot": "um/m",
		"inch2": "mm2", "foot2": "m2", "inch3": "mm3",
		"inch/min": "mm/min", "foot/min": "m/min",
		"arcsec/foot": "arcsec/m",
	}
)

// InRun returns the unit in which a run shows what a procedure states in u:
// in an inch run inches for millimetres and thous for micrometres, in a metric
// run the other way. It changes only what is made of lengths; a temperature, a
// force or an angle stays as the procedure has it, because a bare number that
// changes its meaning is a trap, and inch shops read both thermometers.
func InRun(u Unit, inch bool) Unit {
	other := inMetric
	if inch {
		other = inInch
	}
	if name, ok := other[u.Name]; ok {
		return mustLookup(name)
	}
	return u
}

// Beside returns the unit in which a value is shown a second time, in
// brackets, for people who think in the other system; ok tells whether there
// is one.
func Beside(u Unit) (other Unit, ok bool) {
	if other = InRun(u, false); other != u {
		return other, true
	}
	other = InRun(u, true)
	return other, other != u
}
