package turning

import (
	_ "embed" // the table of tapers
	"math"
	"slices"
	"strconv"
	"strings"

	"waywright/checks/internal/table"
)

//go:embed tapers.csv
var tapersText string

var tapers = table.Parse(tapersText)

// Taper is a standard taper. A diameter or length that its table does not
// state is 0.
type Taper struct {
	Ratio         float64 // change of diameter for each length
	GaugeDiameter float64 // mm, at the gauge line or the end of the socket
	SmallDiameter float64 // mm, at the small end of the plug
	Length        float64 // mm, between these two
	Source        string  // in words, also whether it is from memory
}

// TaperSeries lists the series that [StandardTaper] knows.
func TaperSeries() []string {
	var out []string
	for _, r := range tapers.Rows {
		if !slices.Contains(out, r["series"]) {
			out = append(out, r["series"])
		}
	}
	return out
}

// TaperSizes lists the sizes of a series.
func TaperSizes(series string) []float64 {
	var out []float64
	for _, r := range tapers.Rows {
		if r["series"] == series {
			out = append(out, figure(r["size"]))
		}
	}
	return out
}

// StandardTaper returns the taper of that series and size, such as Morse 3 or
// Morse 4.5, written 4½ elsewhere; ok tells whether it is known here.
func StandardTaper(series string, size float64) (t Taper, ok bool) {
	for _, r := range tapers.Rows {
		if r["series"] != series || figure(r["size"]) != size {
			continue
		}
		over, under, _ := strings.Cut(r["taper"], "/")
		unit := 1.0
		if r["unit"] == "in" {
			unit = 25.4
		}
		return Taper{
			Ratio:         figure(over) / figure(under),
			GaugeDiameter: figure(r["gauge"]) * unit,
			SmallDiameter: figure(r["small"]) * unit,
			Length:        figure(r["length"]) * unit,
			Source:        tapers.Source(r),
		}, true
	}
	return Taper{}, false
}

// figure reads a figure of the table; one that is not stated is 0.
func figure(s string) float64 {
	if s == "" {
		return 0
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(x) {
		panic("turning: the table of tapers has " + strconv.Quote(s) + " for a figure")
	}
	return x
}
