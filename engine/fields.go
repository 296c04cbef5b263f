package engine

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"waywright/procedures"
)

// Every thing that is asked has a number on a work sheet. It hangs on the
// procedure alone, and not on how many screws or stations there are, so that a
// sheet printed for any machine is typed in by its numbers. Behind the number
// stand a letter for each key of the step's round, then the place of each key of
// the reading and of the station: 12, 12b, 12.3, 12b.2.3.

// number gives everything that is asked its number.
func (pl *Plan) number() {
	pl.blocks = map[*procedures.Step][]correctionsAt{}
	n := 0
	give := func(name string) {
		if pl.numbers[name] == "" {
			n++
			pl.numbers[name] = strconv.Itoa(n)
		}
	}
	for _, name := range []string{sheetDay, sheetName, sheetTemperature} {
		give(name)
	}
	if len(pl.proc.Grades) > 0 {
		give("grade")
	}
	for _, in := range pl.instrumentsRead() {
		pl.readWith = append(pl.readWith, in)
		give("instrument." + in.Name)
	}
	for _, g := range pl.proc.Givens {
		give(g.Name)
	}
	seen := map[*procedures.Correction]bool{}
	for _, st := range pl.proc.Steps {
		pl.numberStep(st, give)
		pl.blocks[st] = blocksOf(st)
		blocks := pl.blocks[st]
		for i, it := range st.Items {
			for len(blocks) > 0 && blocks[0].before <= i {
				pl.numberCorrections(blocks[0].list, seen, give)
				blocks = blocks[1:]
			}
			switch it := it.(type) {
			case *procedures.Confirm, *procedures.Wait:
				give(it.ItemName())
			case *procedures.Reading:
				if it.Nudge != nil {
					give(it.Name + ".nudge")
				}
				give(it.Name)
			}
		}
		for _, b := range blocks {
			pl.numberCorrections(b.list, seen, give)
		}
	}
}

func (pl *Plan) numberStep(st *procedures.Step, give func(string)) {
	if pl.perishable(st) {
		give(st.Name + "." + inTimeWord)
	}
	if len(st.Cautions) > 0 || st.Spindle != procedures.AnySpindle {
		give(st.Name + ".clear")
	}
	if st.HoldPoint != nil {
		give(st.Name + ".release")
	}
	if asksNothing(st) && len(st.Do) > 0 {
		give(st.Name)
	}
}

func (pl *Plan) numberCorrections(list []*procedures.Correction, seen map[*procedures.Correction]bool, give func(string)) {
	for _, c := range list {
		if seen[c] {
			continue
		}
		seen[c] = true
		if len(c.Cautions) > 0 || c.Spindle != procedures.AnySpindle {
			give(c.Name + ".clear")
		}
		if c.Moved == nil {
			give(c.Name)
			continue
		}
		if c.Moved.With != nil {
			give("instrument." + c.Moved.With.Name)
		}
		give(c.Name + ".moved")
	}
}

// perishable tells whether a step needs one whose facts do not last.
func (pl *Plan) perishable(st *procedures.Step) bool {
	return slices.ContainsFunc(pl.proc.Steps, func(n *procedures.Step) bool { return n != st && n.GoodFor != nil && needs(st, n) })
}

// correctionsAt are the corrections that stand on a sheet before an item of a
// step: behind the last of the gates that name them and follow one another.
type correctionsAt struct {
	before int // index of the item; the number of items at the end
	list   []*procedures.Correction
	gates  []*procedures.Gate
}

func blocksOf(st *procedures.Step) []correctionsAt {
	var out []correctionsAt
	var now correctionsAt
	flush := func(i int) {
		if len(now.list) > 0 {
			now.before = i
			out = append(out, now)
		}
		now = correctionsAt{}
	}
	for i, it := range st.Items {
		switch it := it.(type) {
		case *procedures.Gate:
			for _, w := range it.IfFailed {
				if w.Correction == nil {
					continue
				}
				if !slices.Contains(now.list, w.Correction) {
					now.list = append(now.list, w.Correction)
				}
				if !slices.Contains(now.gates, it) {
					now.gates = append(now.gates, it)
				}
			}
		case *procedures.Result:
		default:
			flush(i)
		}
	}
	flush(len(st.Items))
	return out
}

// instrumentsRead lists the instruments that something is read with, without
// those that only show how far a correction moved.
func (pl *Plan) instrumentsRead() []*procedures.Instrument {
	used := map[*procedures.Instrument]bool{}
	for _, g := range pl.proc.Givens {
		used[g.With] = true
	}
	for _, in := range pl.proc.Instruments {
		if slices.ContainsFunc(pl.proc.Steps, func(st *procedures.Step) bool { return uses(st, in) }) {
			used[in] = true
		}
	}
	var out []*procedures.Instrument
	for _, in := range pl.proc.Instruments {
		if used[in] {
			out = append(out, in)
		}
	}
	return out
}

// fieldOf is the number of a question on the sheet; "" where it has none.
func (s *State) fieldOf(q Question) string {
	switch q.Kind {
	case AskOperator, AskDecider, AskConcession, AskSign, Blocked, End:
		return ""
	case AskWay: // how the correction is reported that is offered first
		if len(q.Also) == 0 {
			return ""
		}
		return s.plan.numbers[q.Also[0]]
	}
	first, rest := cut(q.Name)
	if no := s.plan.numbers[q.Name]; no != "" && s.plan.items[first] == nil && s.plan.steps[first] == nil {
		return no + s.furtherOf(q)
	}
	switch {
	case s.plan.givens[first] != nil:
		g := s.plan.givens[first]
		return s.plan.numbers[first] + dotted(s.indices(g.Each, rest, s.env()))
	case s.plan.steps[first] != nil:
		slot := first
		if q.Kind != AskDone { // clear, release, in_time
			slot += "." + rest[len(rest)-1]
		}
		return s.roundNumber(slot, s.plan.steps[first], q.Step.Keys)
	}
	r, ok := s.plan.items[first].(*procedures.Reading)
	switch st := s.plan.stepOf[first]; {
	case st == nil:
		return ""
	case !ok:
		return s.roundNumber(first, st, q.Step.Keys)
	case q.Kind == AskNudge:
		return s.roundNumber(first+".nudge", st, q.Step.Keys)
	}
	return s.readingNumber(r, q)
}

// furtherOf marks a movement that follows another.
func (s *State) furtherOf(q Question) string {
	if q.Kind == AskMove {
		return ", further"
	}
	return ""
}

func (s *State) roundNumber(slot string, st *procedures.Step, round []string) string {
	no := s.plan.numbers[slot]
	if no == "" {
		return ""
	}
	if strings.HasSuffix(slot, ".clear") { // once for all rounds: nothing changes between them
		round = nil
	}
	return no + letters(s.indices(st.Each, round, s.env())) + s.againMark(st, nameIn(slot))
}

func (s *State) readingNumber(r *procedures.Reading, q Question) string {
	n := min(len(r.Step.Each), len(q.Keys))
	round, own := q.Keys[:n], q.Keys[n:]
	no := s.plan.numbers[r.Name] + letters(s.indices(r.Step.Each, round, s.env())) + dotted(s.indices(r.Each, own, s.env().in(r.Step, round)))
	if i := slices.IndexFunc(q.At, func(x float64) bool { return math.Abs(x-q.Where) < 1e-9 }); i >= 0 && (r.Along != nil || r.Around != nil) {
		no += "." + strconv.Itoa(i+1)
	}
	switch {
	case q.Further:
		return no + " further"
	case q.Again:
		no += " once more"
	case q.Back:
		no += " back"
	}
	return no + s.againMark(r.Step, r.Name)
}

// againMark is said of what is read again behind a correction. What was spoilt
// before it was answered is read for the first time.
func (s *State) againMark(st *procedures.Step, name string) string {
	works := map[int]bool{}
	for id, f := range s.facts {
		first := nameIn(id)
		if first != name && !(name == st.Name && s.plan.stepOf[first] == st) {
			continue
		}
		for _, t := range f.takes {
			if t.work < s.work[st.Name] {
				works[t.work] = true
			}
		}
	}
	switch n := len(works); n {
	case 0:
		return ""
	case 1:
		return " again"
	default:
		return fmt.Sprintf(" again (%d)", n)
	}
}

// indices are the places of keys in the lists of their each blocks, from 0.
// Counted keys have their own number, in whatever order they are taken.
func (s *State) indices(each []*procedures.Each, keys []string, e *env) []int {
	var out []int
	for i, k := range keys {
		if i >= len(each) {
			break
		}
		out = append(out, placeOfKey(each[i], k, e))
		e = e.bind(each[i].Name, keyValue(each[i], k))
	}
	return out
}

func placeOfKey(each *procedures.Each, k string, e *env) int {
	if n, err := strconv.Atoi(k); err == nil && each.Key.Count && n > 0 {
		return n - 1
	}
	for i, v := range each.Of.Eval(e).Elems {
		if keyOf(v) == k {
			return i
		}
	}
	return 0
}

// letters writes the places of a round's keys: b, or b2 beyond the alphabet.
func letters(at []int) string {
	var b strings.Builder
	for _, i := range at {
		b.WriteByte(byte('a' + i%26))
		if i >= 26 {
			b.WriteString(strconv.Itoa(i/26 + 1))
		}
	}
	return b.String()
}

func dotted(at []int) string {
	var b strings.Builder
	for _, i := range at {
		b.WriteString("." + strconv.Itoa(i+1))
	}
	return b.String()
}

// FieldNumber is the number on a work sheet of what is asked under a name,
// without keys: of a given, a reading, an instrument.
func (s *State) FieldNumber(name string) string { return s.plan.numbers[name] }
