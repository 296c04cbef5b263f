package engine

import (
	"fmt"
	"math"
	"slices"

	"waywright/checks/uncert"
	"waywright/procedures"
)

// drift is how far the instrument had moved, pass by pass, when the first
// place was read again, and when in the order of taking each place was read.
type drift struct {
	moved []float64          // by pass
	share map[string]float64 // by element and part: 0 the first, 1 the last
}

// driftOf returns the drift of a reading with closure; the zero drift of one
// that is not whole, or without.
func (s *State) driftOf(r *procedures.Reading, round []string) drift {
	if r == nil || r.Closure == nil {
		return drift{}
	}
	key := address(r.Name, round...)
	d, ok := s.drifts[key]
	if ok {
		return d
	}
	places, ok := s.places(r, round)
	if ok && s.whole(r, round) {
		d = drift{share: map[string]float64{}}
		of := slices.IndexFunc(places, func(p place) bool { return p.pass != 0 })
		if of < 0 {
			of = len(places)
		}
		for i, p := range places[:of] {
			d.share[driftKey(p.element(r), p.part)] = float64(i) / math.Max(1, float64(of-1))
		}
		for pass := 0; pass*of < len(places); pass++ {
			moved, _, _ := s.drift(r, round, pass)
			d.moved = append(d.moved, moved)
		}
	}
	put(&s.drifts, key, d)
	return d
}

func driftKey(id string, p part) string { return id + takeMark + string(p) }

// driftIn is how much of the drift is in a take, in even steps over the order
// of taking: it is subtracted (measure rule 6).
func (s *State) driftIn(l leaf, t take) float64 {
	if l.reading == nil || l.reading.Closure == nil {
		return 0
	}
	d := s.driftOf(l.reading, l.round)
	if t.pass >= len(d.moved) {
		return 0
	}
	return d.moved[t.pass] * d.share[driftKey(l.id, t.part)]
}

// meanAt is the mean of takes without their drift.
func (s *State) meanAt(l leaf, takes []take) float64 {
	var drift float64
	for _, t := range takes {
		drift += s.driftIn(l, t)
	}
	return meanOf(takes) - drift/float64(len(takes))
}

// addDrifts adds, for each pass over a reading with closure, what its drift
// leaves open if it was not even: a source of |c|/(2√3) with the coefficient
// 4·t·(1−t) (measure rule 6).
func (s *State) addDrifts(tr *leaves, est *estimate) {
	index := map[string]int{}
	for i, in := range est.inputs {
		l := tr.known[in.id]
		if l.reading == nil || l.reading.Closure == nil {
			continue
		}
		takes := s.live(in.id, l.reading.Step)
		if in.take >= 0 {
			takes = takes[in.take : in.take+1]
		}
		d := s.driftOf(l.reading, l.round)
		for pass, moved := range d.moved {
			var c float64
			for _, t := range takes {
				if at := d.share[driftKey(in.id, t.part)]; t.pass == pass {
					c += 4 * at * (1 - at) / float64(len(takes))
				}
			}
			if c == 0 || moved == 0 {
				continue
			}
			name := fmt.Sprintf("drift of %s@%d, pass %d", address(l.reading.Name, l.round...), s.work[l.reading.Step.Name], pass+1)
			k, ok := index[name]
			if !ok {
				k = len(est.sources)
				index[name] = k
				est.sources = append(est.sources, uncert.Source{ID: name, Kind: uncert.Drift, U: math.Abs(moved) / (2 * math.Sqrt(3)), Limit: true})
			}
			est.sources[k].On = append(est.sources[k].On, uncert.Effect{ID: est.obs[i].ID, Coefficient: c})
		}
	}
}
