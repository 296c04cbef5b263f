package engine_test

import (
	"math/rand/v2"
	"testing"

	"waywright/engine"
	"waywright/engine/enginetest"
)

// A whole run each, by a person who errs at first: some hundred answers.

func BenchmarkTailstockRun(b *testing.B) {
	plan := fromLibrary(b, "lathe/tailstock-by-test-cut")
	benchmarkRuns(b, plan, func(*enginetest.Runner) machine {
		l := newLathe(rand.New(rand.NewPCG(4, 1)))
		l.wrongFirst = true
		return l
	})
}

func BenchmarkHeadstockRun(b *testing.B) {
	plan := fromLibrary(b, "lathe/headstock-align")
	benchmarkRuns(b, plan, func(*enginetest.Runner) machine {
		h := newHead(rand.New(rand.NewPCG(4, 2)))
		h.wrongFirst = true
		h.sag = func() float64 { return 1 }
		return h
	})
}

func benchmarkRuns(b *testing.B, plan *engine.Plan, m func(*enginetest.Runner) machine) {
	events := 0
	for b.Loop() {
		r, err := enginetest.Begin(plan, engine.Begun{Accepted: beforeHeadstock})
		if err != nil {
			b.Fatal(err)
		}
		if err := (&person{m: m(r)}).work(r); err != nil {
			b.Fatal(err)
		}
		events = len(r.Events())
	}
	b.ReportMetric(float64(events), "events/run")
}
