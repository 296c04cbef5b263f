package catalogue

// kinked are the functions whose slopes do not tell how errors spread: those
// that choose among their values, or take an amount, a root or a rounded step.
var kinked = []string{
	"abs", "eccentricity", "flatness", "greatest", "high_spot", "hypot", "least", "lobes", "roundness", "runout", "scaled",
	"spread", "standard_error", "stdev", "straightness", "twist", "where_greatest",
}

// nonNegative are the functions that never give less than nought, and more
// than the truth on average.
var nonNegative = []string{
	"abs", "eccentricity", "flatness", "hypot", "lobes", "roundness", "runout", "spread", "standard_error", "stdev", "straightness", "twist",
}

// keepsSign are the functions, besides the units, that give nothing below
// nought where no argument is.
var keepsSign = []string{"count", "greatest", "least", "mean", "sum"}
