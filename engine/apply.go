package engine

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures"
)

// apply adds one event. The receiver is a fresh clone.
func (s *State) apply(ev Event) error {
	if b, ok := ev.Data.(Begun); ok != !s.started {
		if ok {
			return fmt.Errorf("engine: event %d begins a run that has begun", ev.N)
		}
		return fmt.Errorf("engine: event %d comes before the run has begun", ev.N)
	} else if ok && b.Procedure != s.plan.proc.Name {
		return fmt.Errorf("engine: the run is of %q, but the files are of %q", b.Procedure, s.plan.proc.Name)
	}
	s.events = append(s.events, ev)
	s.forget()
	if err := s.take(ev); err != nil {
		return fmt.Errorf("engine: event %d: %w", ev.N, err)
	}
	s.forget()
	s.begunLast(ev.Time)
	s.follow(ev)
	return nil
}

func (s *State) forget() {
	s.memo = map[string]value.Value{}
	s.judged = map[string]Judgement{}
}

func (s *State) take(ev Event) error {
	switch d := ev.Data.(type) {
	case Begun:
		s.begun, s.started = d, true
	case Sat:
		s.sit(ev, d)
	case Answered:
		return s.answered(ev, d)
	case Cleared:
		s.last = ev.Time
		s.clear(ev, d)
	case Bound:
		return s.bind(ev, d)
	case Waited:
		s.last = ev.Time
		return s.waited(ev, d)
	case Chosen:
		s.last = ev.Time
		return s.choose(ev, d)
	case Reported:
		s.last = ev.Time
		return s.reported(ev, d)
	case MoveJudged:
		s.last = ev.Time
		return s.moveJudged(ev, d)
	case Unable:
		s.last = ev.Time
		return s.unable(ev, d)
	case Amended:
		return s.amended(ev, d)
	case Disturbed:
		return s.disturbed(ev, d)
	case Noted:
		s.notes = append(s.notes, Remark{d.Name, d.Text, ev.By, d.File, ev.Time})
	case Paused:
		s.seated = false
	case Decided:
		return s.decided(ev, d)
	case Signed:
		return s.sign(ev, d)
	default:
		return fmt.Errorf("an event of type %T is not known", d)
	}
	return nil
}

// sit opens a sitting: cautions and the state of the spindle are asked
// afresh, and sets that are not whole are broken (semantics rule 22).
func (s *State) sit(ev Event, d Sat) {
	s.seated = true
	s.sittings = append(s.sittings, Sitting{N: len(s.sittings) + 1, Operator: d.Operator, From: ev.Time, To: ev.Time})
	s.cleared = map[string]bool{}
	s.spindle = procedures.AnySpindle
	s.breakSets("a new sitting began before the set was whole", func(*procedures.Reading) bool { return true })
}

// isSet reports whether the readings must be taken in one go.
func isSet(r *procedures.Reading) bool { return r.Closure != nil || r.Nudge != nil }

func (s *State) breakSets(why string, hit func(*procedures.Reading) bool) {
	for _, st := range s.plan.proc.Steps {
		for _, it := range st.Items {
			r, ok := it.(*procedures.Reading)
			if !ok || !isSet(r) || !hit(r) {
				continue
			}
			for _, round := range s.rounds(st) {
				if open, ok := s.open(r, round); ok && len(open) > 0 {
					s.voidSet(r, round, open[0].pass, why)
				}
			}
		}
	}
}

// voidSet marks the takes of one pass of a set as not used.
func (s *State) voidSet(r *procedures.Reading, round []string, pass int, why string) {
	places, _ := s.places(r, round)
	for _, p := range places {
		id := p.element(r)
		if s.facts[id] == nil {
			continue
		}
		f := s.edit(id)
		for i, t := range f.takes {
			if t.void == "" && t.pass == pass && t.work == s.work[r.Step.Name] {
				f.takes[i].void, f.takes[i].voidN = why, s.Len()
			}
		}
	}
}

// edit returns the fact at an address, copied so that it may be changed.
func (s *State) edit(id string) *fact {
	f := &fact{}
	if old := s.facts[id]; old != nil {
		f.takes = slices.Clone(old.takes)
		f.unable = old.unable
	}
	s.facts[id] = f
	return f
}

func (s *State) clear(ev Event, d Cleared) {
	for _, c := range d.Cautions {
		s.cleared[c] = true
	}
	switch d.Spindle {
	case procedures.Stopped.String():
		s.spindle = procedures.Stopped
	case procedures.Turning.String():
		s.spindle = procedures.Turning
	}
	if d.Skipped {
		s.skipped = append(s.skipped, Skipped{d.Name, ev.Time, ev.N})
	}
}

func (s *State) bind(ev Event, d Bound) error {
	p, ok := s.plan.instruments[d.Name]
	if !ok {
		return fmt.Errorf("the procedure has no instrument %q", d.Name)
	}
	old, was := s.bound[d.Name]
	s.bound[d.Name] = d
	s.bindings = append(s.bindings, Binding{d, ev.Time, ev.By})
	if was && old.ID != d.ID {
		s.breakSets("another instrument was taken before the set was whole", func(r *procedures.Reading) bool { return r.With == p })
	}
	return nil
}

// stepNamed finds what a name of the form STEP.KEYS.WORD belongs to.
func cut(name string) (first string, rest []string) {
	parts := strings.Split(name, ".")
	return parts[0], parts[1:]
}

// answered keeps an answer at its address.
func (s *State) answered(ev Event, d Answered) error {
	first, rest := cut(d.Name)
	if _, ok := s.plan.items[first].(*procedures.Wait); !ok {
		s.last = ev.Time // a wait counts from the answer before it, not from its own readings
	}
	if first == "grade" || s.plan.givens[first] != nil {
		t := s.newTake(ev, d)
		if len(d.Takes) > 0 {
			if err := t.number(d.Takes[0]); err != nil {
				return err
			}
		}
		f := s.edit(d.Name)
		f.takes = []take{t}
		return nil
	}
	if st := s.plan.steps[first]; st != nil {
		s.expire(ev, st)
		s.keepWord(ev, d, st)
		return nil
	}
	it := s.plan.items[first]
	st := s.plan.stepOf[first]
	if it == nil {
		return fmt.Errorf("it answers %q, which the procedure does not ask", d.Name)
	}
	s.expire(ev, st)
	switch it := it.(type) {
	case *procedures.Confirm:
		s.keepWord(ev, d, st)
		if d.Word == "no" {
			s.spoil([]*procedures.Step{st}, "answered no: "+words(it.Ask, s.env()))
		}
		return nil
	case *procedures.Wait:
		t := s.newTake(ev, d)
		t.work = s.work[st.Name]
		if len(d.Takes) == 0 || it.Until == nil {
			return fmt.Errorf("it answers %q without a value", d.Name)
		}
		if err := t.number(d.Takes[0]); err != nil {
			return err
		}
		f := s.edit(d.Name + ".until")
		f.takes = append(f.takes, t)
		return nil
	case *procedures.Reading:
		if n := len(rest); n > 0 && rest[n-1] == "nudge" {
			s.keepWord(ev, d, st)
			return nil
		}
		return s.keepReading(ev, d, it)
	}
	return fmt.Errorf("it answers %q, which is not asked but worked out", d.Name)
}

func (s *State) newTake(ev Event, d Answered) take {
	return take{n: ev.N, at: ev.Time, by: ev.By, word: d.Word, odd: d.Odd, reason: d.Reason, from: d.From, file: d.File, sitting: len(s.sittings)}
}

// number sets what a take measured.
func (t *take) number(k Taken) error {
	u, err := quantity.Lookup(k.Unit)
	if err != nil {
		return err
	}
	t.typed = k
	t.raw = u.Base(k.Value)
	t.value = t.raw
	if math.IsNaN(t.raw) || math.IsInf(t.raw, 0) {
		return fmt.Errorf("%v %s is not a number that can be kept", k.Value, k.Unit)
	}
	return nil
}

func (s *State) keepWord(ev Event, d Answered, st *procedures.Step) {
	t := s.newTake(ev, d)
	t.work = s.work[st.Name]
	f := s.edit(d.Name)
	f.takes = append(f.takes, t)
}

// keepReading spreads the takes of an answer over the places that are open,
// from the one that was asked on.
func (s *State) keepReading(ev Event, d Answered, r *procedures.Reading) error {
	round, open, ok := s.findOpen(r, d.Name)
	if !ok {
		return fmt.Errorf("it answers %q, which was not open", d.Name)
	}
	sign := 1.0
	if s.nudged(r, round) == "minus" {
		sign = -1
	}
	values := max(len(d.Takes), 1)
	for i := range values {
		if i >= len(open) {
			return fmt.Errorf("it gives %d values for %q, where %d were wanted", values, d.Name, len(open))
		}
		p := open[i]
		t := s.newTake(ev, d)
		t.work, t.part, t.pass = s.work[r.Step.Name], p.part, p.pass
		if len(d.Takes) > 0 {
			if err := t.number(d.Takes[i]); err != nil {
				return err
			}
			t.value = sign * t.raw
		}
		t.setting = s.setting(r)
		f := s.edit(p.element(r))
		f.takes = append(f.takes, t)
		f.unable = nil
	}
	s.forget()
	s.close(r, round, open[0].pass, d.Reason != "")
	return nil
}

// findOpen returns the open places of the reading's round to which a
// question's name belongs, from that place on.
func (s *State) findOpen(r *procedures.Reading, name string) (round []string, open []place, ok bool) {
	for _, round := range s.rounds(r.Step) {
		open, _ := s.open(r, round)
		for i, p := range open {
			if p.name(r) == name {
				return round, open[i:], true
			}
		}
	}
	return nil, nil, false
}

// open returns the places of a reading that still want a take, one entry for
// each take wanted, in the order of asking; ok is false while its keys or
// stations are not known.
func (s *State) open(r *procedures.Reading, round []string) (out []place, ok bool) {
	places, ok := s.places(r, round)
	if !ok {
		return nil, false
	}
	for _, p := range places {
		id := p.element(r)
		if s.unableAt(r, id) != "" {
			continue
		}
		have := 0
		if f := s.facts[id]; f != nil {
			for _, t := range f.takes {
				if t.void == "" && t.part == p.part && t.pass == p.pass && t.work == s.work[r.Step.Name] {
					have++
				}
			}
		}
		for range p.takes - have {
			out = append(out, p)
		}
	}
	return out, true
}

// whole tells whether nothing of a reading's round is open.
func (s *State) whole(r *procedures.Reading, round []string) bool {
	open, ok := s.open(r, round)
	return ok && len(open) == 0
}

// close judges the drift of a pass that has become whole. Beyond the
// closure's limit the pass is void, unless a reason was given.
func (s *State) close(r *procedures.Reading, round []string, pass int, kept bool) {
	if r.Closure == nil || kept {
		return
	}
	open, ok := s.open(r, round)
	if !ok || len(open) > 0 && open[0].pass == pass {
		return
	}
	moved, allowed, ok := s.drift(r, round, pass)
	if ok && math.Abs(moved) > allowed {
		s.voidSet(r, round, pass, "closure")
		s.voids[address(r.Name, round...)]++
	}
}

// drift returns by how much the first place of a pass had moved when it was
// read again, and how much is allowed.
func (s *State) drift(r *procedures.Reading, round []string, pass int) (moved, allowed float64, ok bool) {
	places, ok := s.places(r, round)
	if !ok || len(places) == 0 || r.Closure == nil {
		return 0, 0, false
	}
	f := s.facts[places[0].element(r)]
	if f == nil {
		return 0, 0, false
	}
	var first, last []take
	for _, t := range f.takes {
		if t.void != "" || t.pass != pass || t.work != s.work[r.Step.Name] {
			continue
		}
		if t.part == going {
			first = append(first, t)
		} else {
			last = append(last, t)
		}
	}
	lim := r.Closure.Eval(s.env().in(r.Step, round))
	if len(first) == 0 || len(last) == 0 || lim.State != value.Present {
		return 0, 0, false
	}
	return meanOf(last) - meanOf(first), lim.Num, true
}

// nudged returns which way the needle went, while that still holds: in the
// same working, sitting and with the same instrument.
func (s *State) nudged(r *procedures.Reading, round []string) string {
	f := s.facts[address(r.Name, append(slices.Clone(round), "nudge")...)]
	if f == nil {
		return ""
	}
	t := f.takes[len(f.takes)-1]
	if t.work != s.work[r.Step.Name] || t.sitting != len(s.sittings) || s.boundSince(r.With, t.n) {
		return ""
	}
	return t.word
}

// boundSince reports whether the instrument was changed after event n.
func (s *State) boundSince(p *procedures.Instrument, n int) bool {
	if p == nil {
		return false
	}
	for _, ev := range slices.Backward(s.events) {
		if ev.N <= n {
			return false
		}
		if b, ok := ev.Data.(Bound); ok && b.Name == p.Name && s.gone[ev.N] == 0 {
			return true
		}
	}
	return false
}

// setting names what readings with one instrument have in common: one zero.
// A micrometer's lasts the sitting, another's one working of the steps that
// belong together (semantics rule 22).
func (s *State) setting(r *procedures.Reading) string {
	if r.With == nil {
		return ""
	}
	id := fmt.Sprintf("%s %s, sitting %d", r.With.Name, s.bound[r.With.Name].ID, len(s.sittings))
	if strings.Contains(strings.ToLower(r.With.Kind), "micrometer") {
		return id
	}
	root := r.Step
	for _, st := range s.plan.proc.Steps {
		if (st == r.Step || needs(r.Step, st)) && uses(st, r.With) {
			root = st
			break
		}
	}
	return fmt.Sprintf("%s, %s %d", id, root.Name, s.work[root.Name])
}

func uses(st *procedures.Step, in *procedures.Instrument) bool {
	for _, it := range st.Items {
		if r, ok := it.(*procedures.Reading); ok && r.With == in {
			return true
		}
	}
	return false
}

// spoil begins new workings of steps: what was read there is stale.
func (s *State) spoil(steps []*procedures.Step, why string) {
	for _, st := range steps {
		s.spoils = append(s.spoils, spoilt{st, s.work[st.Name], s.Len(), why})
		s.work[st.Name]++
		for _, it := range st.Items {
			if r, ok := it.(*procedures.Reading); ok {
				delete(s.extra, extraKey(r))
				maps.DeleteFunc(s.voids, func(k string, _ int) bool {
					return k == r.Name || strings.HasPrefix(k, r.Name+".")
				})
			}
		}
	}
	s.forget()
}

// expire begins a new working of a step whose facts no longer hold by age,
// when it is answered again.
func (s *State) expire(ev Event, st *procedures.Step) {
	if s.expired(st, ev.Time) {
		s.breakSets("a step that it needs had to be worked again", func(r *procedures.Reading) bool { return needs(r.Step, st) })
		s.spoil([]*procedures.Step{st}, "it no longer held, by its age")
	}
}

func (s *State) waited(ev Event, d Waited) error {
	first, _ := cut(d.Name)
	if _, ok := s.plan.items[first].(*procedures.Wait); !ok {
		return fmt.Errorf("it ends the wait %q, which the procedure does not have", d.Name)
	}
	st := s.plan.stepOf[first]
	s.expire(ev, st)
	s.keepWord(ev, Answered{Name: d.Name, Word: d.How, Reason: d.Reason}, st)
	return nil
}

func (s *State) unable(ev Event, d Unable) error {
	first, _ := cut(d.Name)
	r, ok := s.plan.items[first].(*procedures.Reading)
	if !ok {
		return fmt.Errorf("it says that %q cannot be taken, which is not a reading", d.Name)
	}
	round, open, ok := s.findOpen(r, d.Name)
	if !ok {
		return fmt.Errorf("it says that %q cannot be taken, which was not open", d.Name)
	}
	f := s.edit(open[0].element(r))
	f.unable = &unable{n: ev.N, at: ev.Time, by: ev.By, work: s.work[r.Step.Name], reason: d.Reason}
	s.forget()
	s.close(r, round, open[0].pass, false)
	return nil
}

func (s *State) amended(ev Event, d Amended) error {
	id, i, ok := s.takeAt(d.Name, d.Take)
	if !ok {
		return fmt.Errorf("it amends %q, take %d, which is not there", d.Name, d.Take)
	}
	f := s.edit(id)
	t := f.takes[i]
	t.amends = append(slices.Clip(t.amends), amend{n: ev.N, at: ev.Time, by: ev.By, was: t.typed, wasW: t.word, reason: d.Reason})
	if d.Word != "" {
		t.word = d.Word
	} else {
		turned := t.value == -t.raw && t.raw != 0
		if err := t.number(d.To); err != nil {
			return err
		}
		if turned {
			t.value = -t.raw
		}
	}
	f.takes[i] = t
	return nil
}

// takeAt finds the take that a name and a number (from 1; 0 is the last) mean
// among those that count.
func (s *State) takeAt(name string, number int) (id string, index int, ok bool) {
	id = name
	p := going
	for _, suffix := range []part{again, back} {
		if rest, ok := strings.CutSuffix(name, "."+string(suffix)); ok {
			id, p = rest, suffix
		}
	}
	f := s.facts[id]
	if f == nil {
		return "", 0, false
	}
	first, _ := cut(id)
	st := s.plan.stepOf[first]
	n := 0
	last := -1
	for i, t := range f.takes {
		if t.void != "" || t.part != p || st != nil && t.work != s.work[st.Name] {
			continue
		}
		n++
		last = i
		if n == number {
			return id, i, true
		}
	}
	return id, last, number == 0 && last >= 0
}

func (s *State) disturbed(ev Event, d Disturbed) error {
	var hit []*procedures.Step
	for _, st := range s.plan.proc.Steps {
		switch d.What {
		case "machine":
			hit = append(hit, st)
		case "step":
			if o := s.plan.steps[d.Name]; o != nil && (st == o || needs(st, o)) {
				hit = append(hit, st)
			}
		case "instrument":
			if in := s.plan.instruments[d.Name]; in != nil && uses(st, in) {
				hit = append(hit, st)
			}
		}
	}
	if len(hit) == 0 {
		return fmt.Errorf("it disturbs %s %q, which the procedure does not have", d.What, d.Name)
	}
	s.disturbs = append(s.disturbs, DisturbRecord{d, ev.By, ev.Time, ev.N})
	s.cleared, s.spindle = map[string]bool{}, procedures.AnySpindle // what was said before does not hold for another try
	s.spoil(hit, "disturbed: "+d.Reason)
	return nil
}

func (s *State) decided(ev Event, d Decided) error {
	c := s.conceded[d.Gate]
	if c == nil || s.plan.signoffs[d.Role] == nil {
		return fmt.Errorf("it decides a concession at %q that nobody asked for", d.Gate)
	}
	e := *c
	e.Decided, e.Granted, e.Role, e.Because = true, d.Granted, d.Role, d.Reason
	s.conceded[d.Gate] = &e
	return nil
}

func (s *State) sign(ev Event, d Signed) error {
	role := s.plan.signoffs[d.Role]
	if role == nil {
		return fmt.Errorf("it signs as %q, a role that the procedure does not have", d.Role)
	}
	s.signed = append(s.signed, Signature{role, d.Name, ev.Time, ev.N})
	return nil
}
