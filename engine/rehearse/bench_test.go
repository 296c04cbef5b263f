package rehearse_test

import (
	"runtime"
	"testing"

	"waywright/engine"
	"waywright/engine/rehearse"
	"waywright/procedures"
)

// One seed of the rehearsal with most answers of each procedure that ships.
func BenchmarkPlay(b *testing.B) {
	benchmarkPlays(b, func(b *testing.B, plan *engine.Plan, r *procedures.Rehearsal) {
		seed, answers := 0, 0
		for b.Loop() {
			seed++
			answers += rehearse.One(plan, r, seed).Answers
		}
		b.ReportMetric(float64(answers)/float64(seed), "answers/play")
	})
}

// A hundred seeds of it on all processors.
func BenchmarkPlayHundred(b *testing.B) {
	benchmarkPlays(b, func(b *testing.B, plan *engine.Plan, r *procedures.Rehearsal) {
		for b.Loop() {
			rehearse.Seeds(plan, r, 100, runtime.GOMAXPROCS(0), nil)
		}
	})
}

func benchmarkPlays(b *testing.B, play func(*testing.B, *engine.Plan, *procedures.Rehearsal)) {
	for _, tt := range []struct{ procedure, rehearsal string }{
		{"lathe/tailstock-by-test-cut", "out towards the back, put right"},
		{"lathe/headstock-align", "both planes out, one spoils the other"},
	} {
		plan := fromLibrary(b, tt.procedure).Unread()
		for _, r := range plan.Procedure().Rehearsals {
			if r.Name == tt.rehearsal {
				b.Run(tt.procedure, func(b *testing.B) { play(b, plan, r) })
			}
		}
	}
}
