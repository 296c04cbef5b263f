// Package rehearse plays the rehearsals of a procedure: a small model of the
// machine answers the readings and reacts to the corrections, a rehearsed
// person carries out what the engine asks, and how the run ends is held
// against what the author states (semantics rules 49 and 50).
//
// Nothing here is measured and nothing is left to chance: noise comes from a
// seed, and one seed gives the same run everywhere. The clock of a rehearsal is
// its own. Numbers are in base units (mm, rad, s; see quantity).
package rehearse

import (
	"hash/fnv"
	"sync"

	"waywright/engine"
	"waywright/procedures"
)

// Ended is how one seed of a rehearsal ended.
type Ended struct {
	Seed    int // from 1
	Outcome engine.Outcome
	Answers int
	Rounds  map[string]int      // how often each correction was reported
	Said    map[string][]string // words about each correction and reading, in order
	Seen    *Seen
	Failure *Failure // nil where it ended as it says
}

// One plays a rehearsal of the plan's procedure with one seed, from 1.
func One(plan *engine.Plan, r *procedures.Rehearsal, seed int) Ended {
	p := newPlay(plan, r, seed)
	p.work()
	p.holdEnds()
	return Ended{Seed: seed, Outcome: p.outcome(), Answers: p.answers, Rounds: p.rounds, Said: p.said, Seen: p.seen, Failure: p.failure}
}

// Seeds plays a rehearsal with the seeds from 1 to n on so many workers, and
// returns how each ended, in order.
func Seeds(plan *engine.Plan, r *procedures.Rehearsal, n, workers int) []Ended {
	plan = plan.Unread()
	out := make([]Ended, n)
	share(n, workers, func(i int) { out[i] = One(plan, r, i+1) })
	return out
}

// share calls f with the numbers below n on several goroutines.
func share(n, workers int, f func(i int)) {
	workers = max(1, min(workers, n))
	next := make(chan int)
	var wg sync.WaitGroup
	for range workers {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := range next {
				f(i)
			}
		}()
	}
	for i := range n {
		next <- i
	}
	close(next)
	wg.Wait()
}

// number tells the streams of rehearsals apart.
func number(procedure, rehearsal string) uint64 {
	h := fnv.New64a()
	// A hash never fails to take bytes.
	_, _ = h.Write([]byte(procedure + "\x00" + rehearsal))
	return h.Sum64()
}
