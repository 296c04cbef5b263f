package engine

import (
	"fmt"
	"slices"

	"waywright/checks/value"
	"waywright/procedures"
)

// elements lists the addresses of a reading's elements in one round.
func (s *State) elements(r *procedures.Reading, round []string) []string {
	places, _ := s.places(r, round)
	var out []string
	for _, p := range places {
		if p.pass == 0 && p.part == going {
			out = append(out, p.element(r))
		}
	}
	return out
}

// Readings returns every set that was ever taken, stale and void ones too, in
// the order of their first takes.
func (s *State) Readings() []ReadingSet {
	var out []ReadingSet
	for _, st := range s.plan.proc.Steps {
		for _, it := range st.Items {
			if r, ok := it.(*procedures.Reading); ok {
				out = append(out, s.setsOf(r)...)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b ReadingSet) int { return a.firstN() - b.firstN() })
	return out
}

func (r *ReadingSet) firstN() int {
	if len(r.Takes) == 0 {
		return r.SinceN
	}
	return r.Takes[0].N
}

// setsOf lists the sets of one reading: by row (keys), working and void set.
func (s *State) setsOf(r *procedures.Reading) []ReadingSet {
	var out []ReadingSet
	for _, round := range s.rounds(r.Step) {
		places, _ := s.places(r, round)
		var rows []string
		byRow := map[string][]place{}
		for _, p := range places {
			if p.pass != 0 || p.part != going {
				continue
			}
			row := address(r.Name, p.keys...)
			if _, ok := byRow[row]; !ok {
				rows = append(rows, row)
			}
			byRow[row] = append(byRow[row], p)
		}
		for _, row := range rows {
			out = append(out, s.rowSets(r, round, row, byRow[row])...)
		}
	}
	return out
}

type setKey struct {
	work  int
	voidN int
}

func (s *State) rowSets(r *procedures.Reading, round []string, row string, places []place) []ReadingSet {
	found := map[setKey]*ReadingSet{}
	var order []setKey
	for i, p := range places {
		f := s.facts[p.element(r)]
		if f == nil {
			continue
		}
		count := map[setKey]map[part]int{}
		for _, t := range f.takes {
			k := setKey{t.work, t.voidN}
			set := found[k]
			if set == nil {
				set = s.newSet(r, round, row, p, t)
				found[k] = set
				order = append(order, k)
			}
			if count[k] == nil {
				count[k] = map[part]int{}
			}
			count[k][t.part]++
			rec := s.takeRecord(t, count[k][t.part])
			if p.key != "" {
				rec.Station, rec.At = i+1, p.at
			}
			set.Takes = append(set.Takes, rec)
		}
		if u := f.unable; u != nil {
			k := setKey{u.work, 0}
			if found[k] == nil {
				found[k] = s.newSet(r, round, row, p, take{n: u.n, at: u.at, by: u.by, work: u.work, sitting: len(s.sittings)})
				order = append(order, k)
			}
			if u.work == s.work[r.Step.Name] {
				found[k].State, found[k].Why, found[k].SinceN = "unmeasured", u.reason, u.n
			}
		}
	}
	var out []ReadingSet
	for _, k := range order {
		set := found[k]
		slices.SortStableFunc(set.Takes, inOrderOfTaking)
		s.finishSet(set, r, round, places)
		out = append(out, *set)
	}
	return out
}

// inOrderOfTaking orders the takes of a set. Those of one row were read along
// its stations, or back along them.
func inOrderOfTaking(a, b TakeRecord) int {
	if a.N == b.N && a.Back && b.Back {
		return b.Station - a.Station
	}
	return a.N - b.N
}

func (s *State) newSet(r *procedures.Reading, round []string, row string, p place, t take) *ReadingSet {
	e := s.env().in(r.Step, round).bindAll(r.Each, p.keys[len(round):])
	set := &ReadingSet{
		ID: fmt.Sprintf("%s#%d", row, t.n), Name: row, Reading: r, Ask: words(r.Ask, e), Keys: p.keys, Working: t.work + 1,
		Step:       Place{N: slices.Index(s.plan.proc.Steps, r.Step) + 1, Of: len(s.plan.proc.Steps), Name: r.Step.Name, Title: words(r.Step.Title, e), Keys: round},
		Instrument: s.inHandAt(r.With, t.n), Sitting: t.sitting, State: "used",
		Round: fmt.Sprintf("%s@%d.%d", address(r.Name, round...), t.work, t.voidN),
	}
	for _, x := range append(slices.Clone(r.Step.Each), r.Each...) {
		set.KeyNames = append(set.KeyNames, x.Name)
	}
	switch {
	case t.void == "closure":
		set.State, set.Why, set.SinceN = "void", "the first place had moved when it was read again", t.voidN
	case t.void != "":
		set.State, set.Why, set.SinceN = "broken", t.void, t.voidN
	case t.work != s.work[r.Step.Name]:
		set.State = "stale"
		for _, sp := range s.spoils {
			if sp.step == r.Step && sp.work == t.work {
				set.Why, set.SinceN = sp.why, sp.n
			}
		}
	}
	set.Nudge, set.Turned = s.nudgeAt(r, round, t.n), t.turned
	return set
}

// nudgeAt is what the needle did before event n.
func (s *State) nudgeAt(r *procedures.Reading, round []string, n int) string {
	word, last := "", 0
	if r.Nudge == nil {
		return word
	}
	for _, at := range s.testedAt(r, round) {
		if f := s.facts[at.id]; f != nil {
			for _, t := range f.takes {
				if t.n < n && t.n > last {
					word, last = t.word, t.n
				}
			}
		}
	}
	return word
}

// inHandAt is the instrument as it was bound at event n.
func (s *State) inHandAt(p *procedures.Instrument, n int) *InHand {
	if p == nil {
		return nil
	}
	h := s.inHand(p)
	h.ID, h.Due = "", ""
	for _, ev := range s.events {
		if b, ok := ev.Data.(Bound); ok && b.Name == p.Name && ev.N < n && s.gone[ev.N] == 0 {
			h.ID, h.Due = b.ID, b.Due
			if b.Resolution > 0 {
				h.Resolution = b.Resolution * factor(b.Unit, p.Unit)
			}
		}
	}
	return h
}

func (s *State) finishSet(set *ReadingSet, r *procedures.Reading, round []string, places []place) {
	var used []float64
	var first, last []float64
	for _, t := range set.Takes {
		if t.Unit.Name == "" {
			continue
		}
		if !t.Closure {
			used = append(used, t.Value)
		}
		if t.Station <= 1 && !t.Closure && !t.Back {
			first = append(first, t.Value)
		}
		if t.Closure || t.Back && t.Station <= 1 {
			last = append(last, t.Value)
		}
	}
	if len(used) > 0 && places[0].key == "" {
		m := mean(used)
		set.Mean = &m
	}
	if r.Closure != nil && len(first) > 0 && len(last) > 0 {
		if lim := r.Closure.Eval(s.env().in(r.Step, round)); lim.State == value.Present {
			set.Drift = &Drift{Moved: mean(last) - mean(first), Allowed: lim.Num, Reading: r, Voids: s.voids[address(r.Name, round...)]}
		}
	}
}

func mean(x []float64) float64 {
	var sum float64
	for _, v := range x {
		sum += v - x[0]
	}
	return x[0] + sum/float64(len(x))
}
