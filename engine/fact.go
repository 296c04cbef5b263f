package engine

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"waywright/checks/value"
	"waywright/procedures"
)

// part tells which passage over the places of a reading a take belongs to.
type part string

const (
	going part = ""
	back  part = "back"  // on the way back, where both ways are asked
	again part = "again" // the first place once more, for closure
)

// take is one answer that is kept: a number, or a word.
type take struct {
	n       int // event
	nth     int // of the values of that event, from 0
	at      time.Time
	by      string
	work    int // working of its step in which it was kept
	part    part
	pass    int     // 0, or the further takes it belongs to
	value   float64 // as it counts, base units
	raw     float64 // as it was read, base units
	turned  bool    // value is −raw: the needle read reversed
	bound   int     // number of the binding of its instrument, from 1; 0 when it had none
	typed   Taken
	word    string
	sitting int
	spell   int    // at the machine
	setting string // instrument setting; takes of one setting share its zero
	odd     string
	reason  string
	from    string
	u, dof  float64 // of a value that was taken over: its standard uncertainty, base units
	file    *File
	void    string // why it is not used; "" when it is
	voidN   int    // event that made it so
	amends  []amend
}

// amend is one correction of a take.
type amend struct {
	n      int
	at     time.Time
	by     string
	was    Taken
	wasW   string
	reason string
}

// fact is all that was ever answered at one address.
type fact struct {
	takes  []take
	unable *unable
}

// unable says that something could not be taken.
type unable struct {
	n      int
	at     time.Time
	by     string
	work   int
	reason string
}

// address joins a name and its keys as an answers file writes them.
func address(name string, keys ...string) string {
	switch len(keys) {
	case 0:
		return name
	case 1:
		return name + "." + keys[0]
	}
	return name + "." + strings.Join(keys, ".")
}

// place is one thing to read: an element of a reading, in one passage.
type place struct {
	keys    []string // of the step's round, then of the reading's own each
	key     string   // station or angle as a key, "" for a scalar
	at      float64  // station, mm, or angle, rad
	station int      // index along or around, from 0
	part    part
	pass    int
	takes   int    // how many are wanted here
	id      string // address of the element, where it was worked out before
}

// element is the address of the place's element, whatever the passage.
func (p place) element(r *procedures.Reading) string {
	if p.id != "" {
		return p.id
	}
	a := address(r.Name, p.keys...)
	if p.key != "" {
		a += "." + p.key
	}
	return a
}

// name is the place as a question names it.
func (p place) name(r *procedures.Reading) string {
	a := p.element(r)
	if p.part != going {
		a += "." + string(p.part)
	}
	return a
}

// stationKey writes a station (mm) or an angle (degrees) as a key.
func stationKey(x float64) string {
	return strconv.FormatFloat(math.Round(x*1e6)/1e6, 'f', -1, 64)
}

// combos returns the keys of nested each blocks in the order of asking, the
// last varying fastest; ok is false while a key list is not known.
func (s *State) combos(each []*procedures.Each, e *env) (out [][]string, ok bool) {
	if len(each) == 0 {
		return oneRound, true
	}
	list := each[0].Of.Eval(e)
	if list.State != value.Present {
		return nil, false
	}
	for _, v := range list.Elems {
		k := keyOf(v)
		rest, ok := s.combos(each[1:], e.bind(each[0].Name, keyValue(each[0], k)))
		if !ok {
			return nil, false
		}
		for _, r := range rest {
			out = append(out, append([]string{k}, r...))
		}
	}
	return out, true
}

// keysOf returns the keys of a reading in one round, as combos does.
func (s *State) keysOf(r *procedures.Reading, round []string) ([][]string, bool) {
	if len(r.Each) == 0 {
		return oneRound, true
	}
	key := address(r.Name, round...)
	c, known := s.cache.combos[key]
	if !known {
		c.keys, c.ok = s.combos(r.Each, s.env().in(r.Step, round))
		put(&s.cache.combos, key, c)
	}
	return c.keys, c.ok
}

func keyOf(v value.Value) string {
	if v.Kind == value.Text {
		return v.Text
	}
	return strconv.FormatFloat(v.Num, 'f', -1, 64)
}

// keyValue is the value of each.NAME for a key.
func keyValue(e *procedures.Each, k string) value.Value {
	if e.Key.Count {
		n, err := strconv.ParseFloat(k, 64)
		if err == nil {
			return value.Value{Kind: value.Number, Num: n}
		}
	}
	return value.Value{Kind: value.Text, Text: k}
}

// rounds returns the keys of each round of a step, in order.
func (s *State) rounds(st *procedures.Step) [][]string {
	if len(st.Each) == 0 {
		return oneRound
	}
	if out, ok := s.cache.rounds[st]; ok {
		return out
	}
	out, ok := s.combos(st.Each, s.env())
	if !ok {
		out = nil
	}
	put(&s.cache.rounds, st, out)
	return out
}

var oneRound = [][]string{nil}

// places returns every place of a reading in one round, in the order of
// asking: for each pass, going, coming back, and the first place again. ok is
// false while the keys or stations are not known.
func (s *State) places(r *procedures.Reading, round []string) (out []place, ok bool) {
	key := address(r.Name, round...)
	if p, ok := s.cache.places[key]; ok {
		return p.places, p.ok
	}
	out, ok = s.listPlaces(r, round)
	put(&s.cache.places, key, placesOf{slices.Clip(out), ok})
	return out, ok
}

func (s *State) listPlaces(r *procedures.Reading, round []string) (out []place, ok bool) {
	e := s.env().in(r.Step, round)
	combos, ok := s.keysOf(r, round)
	if !ok {
		return nil, false
	}
	var way []place
	for _, keys := range combos {
		ek := e.bindAll(r.Each, keys)
		full := append(slices.Clone(round), keys...)
		if r.When != nil {
			if w := r.When.Eval(ek); w.State != value.Present || !w.Truth {
				if w.State == value.Missing {
					return nil, false
				}
				continue
			}
		}
		stations, isRow, ok := s.stations(r, ek)
		if !ok {
			return nil, false
		}
		if !isRow {
			p := place{keys: full, takes: r.Repeat}
			p.id = p.element(r)
			way = append(way, p)
			continue
		}
		for i, z := range stations {
			key := z
			if r.Around != nil {
				key = z * 180 / math.Pi
			}
			p := place{keys: full, key: stationKey(key), at: z, station: i, takes: r.Repeat}
			p.id = p.element(r)
			way = append(way, p)
		}
	}
	for pass := range 1 + s.extra[extraKey(r)] {
		out = append(out, onePass(way, r, pass)...)
	}
	return out, true
}

func onePass(way []place, r *procedures.Reading, pass int) []place {
	var out []place
	for _, p := range way {
		p.pass = pass
		out = append(out, p)
	}
	if r.BothWays {
		for _, p := range slices.Backward(way) {
			p.pass, p.part = pass, back
			out = append(out, p)
		}
		return out // the last on the way back is the first place again
	}
	if r.Closure != nil && len(way) > 1 {
		p := way[0]
		p.pass, p.part, p.takes = pass, again, 1
		out = append(out, p)
	}
	return out
}

// stations returns the stations (mm) or angles (rad) of a reading; row is
// false for a scalar.
func (s *State) stations(r *procedures.Reading, e *env) (at []float64, row, ok bool) {
	switch {
	case r.Along != nil:
		v := r.Along.Eval(e)
		return numbers(v), true, v.State == value.Present
	case r.Around != nil:
		v := r.Around.Eval(e)
		if v.State != value.Present {
			return nil, true, false
		}
		if v.Kind == value.List {
			return numbers(v), true, true
		}
		n := int(v.Num)
		for i := range n {
			at = append(at, 2*math.Pi*float64(i)/float64(n))
		}
		return at, true, true
	}
	return nil, false, true
}

func numbers(v value.Value) []float64 {
	out := make([]float64, len(v.Elems))
	for i, e := range v.Elems {
		out[i] = e.Num
	}
	return out
}

func extraKey(r *procedures.Reading) string { return r.Name }
