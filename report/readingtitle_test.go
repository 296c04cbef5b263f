package report_test

import (
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"waywright/engine"
	"waywright/engine/enginetest"
	"waywright/procedures/hclfile"
	"waywright/report"
)

const waysProcedure = `procedure "ways" {
  title   = "Two ways"
  machine = "any"
  revision = "1"
  purpose = "Read both ways."
}
step "read" {
  title = "Read them"
  each "line" { of = ["front", "rear"] }
  reading "way" {
    ask   = each.line == "rear" ? "Rear way, at ${each.station}" : "Front vee, at ${each.station}"
    unit  = "um"
    along = stations(mm(0), mm(100), 2)
    range = [um(-50), um(50)]
  }
  reading "foot" {
    ask   = "Foot of the line ${each.line}"
    unit  = "mm"
    range = [mm(0), mm(50)]
  }
  result "high" {
    title    = "How high"
    value    = mean(reading.way)
    unit     = "um"
    positive = "high"
  }
}
step "judge" {
  title = "Both"
  gate "even" {
    title     = "Both are even"
    of        = spread(result.high)
    at_most   = um(20)
    source    = "shop rule"
    if_failed = [reject]
  }
}
signoff "fitter" { title = "Carried out by" }
`

// A question that is another one in each round has in each the title that was
// asked there, as far as it is the same at all places.
func TestTitleOfAReadingIsOfItsRound(t *testing.T) {
	load := func(string) (*engine.Plan, error) {
		l, ds := hclfile.Parse(hclfile.Source{FS: fstest.MapFS{"ways.hcl": {Data: []byte(waysProcedure)}}, Path: "ways.hcl"})
		if ds.HasErrors() {
			t.Fatal(ds)
		}
		return engine.NewPlan(l.Procedure), nil
	}
	s := enginetest.Play(t, "begin ways\nway.front.0 = 1 2\nfoot.front = 10\nway.rear.0 = 3 4\nfoot.rear = 11\n", load).State()
	var got []string
	for _, rd := range report.Build(s, head, s.Len()).Readings {
		got = append(got, rd.Title)
	}
	if d := cmp.Diff([]string{"Front vee (line front)", "Foot of the line front", "Rear way (line rear)", "Foot of the line rear"}, got); d != "" {
		t.Errorf("(−want +got)\n%s", d)
	}
}
