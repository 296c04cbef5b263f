package catalogue

// kinked are the functions whose slopes do not tell how errors spread: those
// that choose among their values, or take an amount, a root or a rounded step.
var kinked = []string{
	"abs", "at", "backlash", "bar_runout", "cyclic", "differs", "eccentricity", "flatness", "from_zone", "greatest", "high_spot", "hypot",
	"least", "lobes", "pads", "repeatability", "roundness", "runout", "scaled", "scrape_stripes", "socket_runout",
	"spread", "standard_error", "stdev", "straightness", "twist", "where_greatest",
}

// kinkedIn are the functions that have a kink in one of their arguments alone,
// by its place: between stations a profile is interpolated, so that its value
// has a kink where the place that is asked for is a station.
var kinkedIn = map[string][]int{"at": {1}}

// nonNegative are the functions that never give less than nought, and more
// than the truth on average.
var nonNegative = []string{
	"abs", "backlash", "bar_runout", "cyclic", "eccentricity", "flatness", "hypot", "lobes", "repeatability", "roundness",
	"runout", "socket_runout", "spread", "standard_error", "stdev", "straightness", "twist",
}

// keepsSign are the functions, besides the units, that give nothing below
// nought where no argument is.
var keepsSign = []string{
	"airy", "around", "along", "at", "at_20", "atan", "bar_axis", "bessel", "count", "first", "greatest", "growth", "half_angle", "kappa",
	"last", "least", "level_profile", "level_slope", "mean", "per_length", "reversed", "seat_shift", "set_over", "sum", "tool_spring",
}
