package elastic

import (
	_ "embed" // the table of coefficients
	"strconv"

	"waywright/checks/internal/table"
)

//go:embed expansion.csv
var expansionText string

var (
	expansion    = table.Parse(expansionText)
	coefficients = readCoefficients()
)

func readCoefficients() map[string]float64 {
	out := map[string]float64{}
	for _, r := range expansion.Rows {
		k, err := strconv.ParseFloat(r["coefficient"], 64)
		if err != nil {
			panic("elastic: the table of coefficients has " + strconv.Quote(r["coefficient"]))
		}
		out[r["material"]] = k
	}
	return out
}

// Expansion returns a material's coefficient of expansion, for each kelvin; ok
// tells whether it is known here. Tables differ by several per cent.
func Expansion(material string) (coefficient float64, ok bool) {
	coefficient, ok = coefficients[material]
	return coefficient, ok
}

// ExpansionSource returns where a material's coefficient is from, in words.
func ExpansionSource(material string) string {
	for _, r := range expansion.Rows {
		if r["material"] == material {
			return expansion.Source(r)
		}
	}
	return ""
}

// Materials lists what [Expansion] knows.
func Materials() []string {
	var out []string
	for _, r := range expansion.Rows {
		out = append(out, r["material"])
	}
	return out
}
