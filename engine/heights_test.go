package engine_test

import (
	"strings"
	"testing"
)

const surveyed = `
step "survey" {
  title = "Survey"
  reading "slope" {
    each "line" { of = ["nw_se", "ne_sw", "nw_ne", "sw_se", "nw_sw", "ne_se", "w_e", "n_s"] }
    ask   = "Line ${each.line}: slope"
    unit  = "um/m"
    along = each.line == "nw_se" || each.line == "ne_sw" ? [mm(0), mm(100)] : each.line == "nw_sw" || each.line == "ne_se" || each.line == "n_s" ? [mm(0), mm(60)] : [mm(0), mm(80)]
    range = [um(-500) / m(1), um(500) / m(1)]
    with  = instrument.foot
  }
HEIGHTS
  result "flatness" {
    title    = "Flatness"
    value    = flatness(FROM, "least_squares")
    unit     = "um"
    positive = "never below nothing"
  }
  gate "flat" {
    title     = "Flat"
    of        = result.flatness
    at_most   = um(40)
    source    = "test"
    if_failed = [reject]
  }
}
instrument "foot" {
  kind          = "electronic level"
  resolution    = um(1) / m(1)
  error         = um(2) / m(1)
  turn          = um(20) / m(1)
  repeatability = um(4) / m(1)
}
`

// Heights over a plane carry the doubt of the readings to what is worked out
// from them, by way of a result of their own as in one formula.
func TestMeasureRule1HeightsCarryTheirDoubt(t *testing.T) {
	plate := "plate(reading.slope, mm(160), mm(120))"
	heights := "result \"heights\" {\n title = \"Heights\"\n value = " + plate + "\n unit = \"um\"\n positive = \"high\"\n}"
	script := "omit\n"
	for _, line := range []string{"nw_se", "ne_sw", "nw_ne", "sw_se", "nw_sw", "ne_se", "w_e", "n_s"} {
		script += "slope." + line + ".0 = 100 -100\n"
	}
	whole := judgementOf(t, playInline(t, strings.NewReplacer("HEIGHTS", "", "FROM", plate).Replace(surveyed), script).State(), "flat")
	apart := judgementOf(t, playInline(t, strings.NewReplacer("HEIGHTS", heights, "FROM", "result.heights").Replace(surveyed), script).State(), "flat")
	if !(whole.U > 0) {
		t.Fatalf("in one formula %s, U = %g, %s", whole.Verdict, whole.U, whole.Why)
	}
	nearly(t, "flatness", apart.Value, whole.Value, 1e-12)
	nearly(t, "U of it", apart.U*1000, whole.U*1000, 0.05*whole.U*1000) // drawn with seeds of their own
}
