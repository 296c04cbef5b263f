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
	"sync/atomic"

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
	return newPlay(plan, r, seed).toItsEnd()
}

func (p *play) toItsEnd() Ended {
	p.work()
	p.holdEnds()
	return Ended{Seed: p.seed, Outcome: p.outcome(), Answers: p.answers, Rounds: p.rounds, Said: p.said, Seen: p.seen, Failure: p.failure}
}

// mostExplained is of how many failures of one rehearsal all is told.
const mostExplained = 20

// Seeds plays a rehearsal with the seeds from 1 to n on so many workers, and
// returns how each ended, in order: the same whatever the number of workers. Of
// the failures but the first few it does not tell how the gates stood. Whenever
// one is played, done is told how many are, by one worker at a time; it may be
// nil.
func Seeds(plan *engine.Plan, r *procedures.Rehearsal, n, workers int, done func(int)) []Ended {
	plan = plan.Unread()
	out := make([]Ended, n)
	share(n, workers, done, func(i int) {
		p := newPlay(plan, r, i+1)
		p.explains = false
		out[i] = p.toItsEnd()
	})
	failed := 0
	for i := range out {
		if out[i].Failure != nil && failed < mostExplained {
			out[i] = One(plan, r, i+1)
			failed++
		}
	}
	return out
}

// share calls f with the numbers below n on several goroutines.
func share(n, workers int, done func(int), f func(i int)) {
	var next, played atomic.Int64
	var telling sync.Mutex
	work := func() {
		for {
			i := int(next.Add(1)) - 1
			if i >= n {
				return
			}
			f(i)
			if k := int(played.Add(1)); done != nil {
				telling.Lock()
				done(k)
				telling.Unlock()
			}
		}
	}
	var wg sync.WaitGroup
	for range max(1, min(workers, n)) {
		wg.Go(work)
	}
	wg.Wait()
}

// number tells the streams of rehearsals apart.
func number(procedure, rehearsal string) uint64 {
	h := fnv.New64a()
	// A hash never fails to take bytes.
	_, _ = h.Write([]byte(procedure + "\x00" + rehearsal))
	return h.Sum64()
}
