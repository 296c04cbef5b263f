package rehearse_test

import (
	"testing"

	"waywright/engine/rehearse"
)

// One seed of the rehearsal with most answers of each procedure that ships.
func BenchmarkSeed(b *testing.B) {
	for _, tt := range []struct{ procedure, rehearsal string }{
		{"lathe/tailstock-by-test-cut", "out towards the back, put right"},
		{"lathe/headstock-align", "both planes out, one spoils the other"},
	} {
		b.Run(tt.procedure, func(b *testing.B) {
			plan := fromLibrary(b, tt.procedure).Unread()
			for _, r := range plan.Procedure().Rehearsals {
				if r.Name != tt.rehearsal {
					continue
				}
				seed, answers := 0, 0
				for b.Loop() {
					seed++
					answers += rehearse.One(plan, r, seed).Answers
				}
				b.ReportMetric(float64(answers)/float64(seed), "answers/run")
			}
		})
	}
}
