package engine

import (
	"fmt"
	"slices"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures"
)

// Procedure returns the procedure of the run.
func (s *State) Procedure() *procedures.Procedure { return s.plan.proc }

// BeganAt returns when and by which event the run began.
func (s *State) BeganAt() Stamp {
	if len(s.events) == 0 {
		return Stamp{}
	}
	ev := s.events[0]
	return Stamp{N: ev.N, Time: ev.Time, By: ev.By}
}

// Open returns, in sentences, what stands in the way of signing.
func (s *State) Open() []string {
	var out []string
	if s.rejected == nil && !s.settled() {
		q := s.Next(s.last)
		if q.Kind == AskOperator {
			t := s.clone()
			t.seated = true
			q = t.next(s.last)
		}
		out = append(out, "next to be settled: "+strings.TrimRight(q.called(), ", ?.:"))
	}
	return append(out, s.obstacles()...)
}

// called is what is asked, as a person knows it.
func (q Question) called() string {
	switch {
	case q.Gate != nil && q.Gate.Title != "":
		return "what to do about “" + q.Gate.Title + "”"
	case q.Ask != "":
		return q.Ask
	case q.Why != "":
		return q.Why
	case q.Step.Title != "":
		return q.Step.Title
	}
	return q.Name
}

// Obstacles returns, in sentences, what was skipped and hinders every signature;
// nothing of what is only still to be done.
func (s *State) Obstacles() []string { return s.obstacles() }

// Rejected returns who gave the run up and why; nil when nobody did.
func (s *State) Rejected() *Rejection {
	if s.rejected != nil {
		return s.rejected
	}
	for name, c := range s.conceded {
		if c.Decided && !c.Granted && s.concession(name) != nil {
			for _, ev := range s.Events() {
				if d, ok := ev.Data.(Decided); ok && d.Gate == name {
					return &Rejection{Gate: name, Reason: d.Reason, By: ev.By, At: ev.Time, N: ev.N}
				}
			}
		}
	}
	return nil
}

// Sittings returns the stretches of work.
func (s *State) Sittings() []Sitting { return s.sittings }

// Bindings returns every real instrument that was named, in order.
func (s *State) Bindings() []Binding { return s.bindings }

// InstrumentInHand returns a procedure's instrument with what is bound to it.
func (s *State) InstrumentInHand(p *procedures.Instrument) *InHand { return s.inHand(p) }

// Notes returns the remarks.
func (s *State) Notes() []Remark { return s.notes }

// Disturbances returns what was reported to be disturbed.
func (s *State) Disturbances() []DisturbRecord { return s.disturbs }

// SkippedClears returns the cautions that were not acknowledged.
func (s *State) SkippedClears() []Skipped { return s.skipped }

func stamp(ev Event, reason string) Stamp {
	return Stamp{N: ev.N, Time: ev.Time, By: ev.By, Reason: reason}
}

// lasting calls f with every event that was not withdrawn.
func (s *State) lasting(f func(Event)) {
	for _, ev := range s.events {
		if s.gone[ev.N] == 0 {
			f(s.byName(ev))
		}
	}
}

// Cleared returns the acknowledged cautions and changes of the spindle.
func (s *State) Cleared() []Clearing {
	var out []Clearing
	s.lasting(func(ev Event) {
		d, ok := ev.Data.(Cleared)
		if !ok {
			return
		}
		c := Clearing{Stamp: stamp(ev, d.Reason), Name: d.Name, Spindle: d.Spindle, Skipped: d.Skipped}
		for _, name := range d.Cautions {
			for _, ca := range s.plan.proc.Cautions {
				if ca.Name == name {
					c.Texts = append(c.Texts, words(ca.Text, s.env()))
				}
			}
		}
		out = append(out, c)
	})
	return out
}

// Released returns the hold points that were released.
func (s *State) Released() []Release {
	var out []Release
	s.lasting(func(ev Event) {
		d, ok := ev.Data.(Answered)
		if !ok || !strings.HasSuffix(d.Name, ".release") {
			return
		}
		first, _ := cut(d.Name)
		if st := s.plan.steps[first]; st != nil && st.HoldPoint != nil {
			out = append(out, Release{stamp(ev, ""), s.stepTitle(st), words(st.HoldPoint.Title, s.env()), d.Word, st.HoldPoint})
		}
	})
	return out
}

// Waits returns the waits that ended, stale ones too.
func (s *State) Waits() []WaitRecord {
	var out []WaitRecord
	for _, st := range s.plan.proc.Steps {
		for _, it := range st.Items {
			w, ok := it.(*procedures.Wait)
			if !ok {
				continue
			}
			for _, round := range s.rounds(st) {
				out = append(out, s.waitRecords(w, st, round)...)
			}
		}
	}
	slices.SortFunc(out, func(a, b WaitRecord) int { return a.N - b.N })
	return out
}

func (s *State) waitRecords(w *procedures.Wait, st *procedures.Step, round []string) []WaitRecord {
	id := address(w.Name, round...)
	f := s.facts[id]
	if f == nil {
		return nil
	}
	e := s.env().in(st, round)
	var out []WaitRecord
	for _, t := range f.takes {
		r := WaitRecord{Stamp: Stamp{t.n, t.at, t.by, t.reason}, Name: id, Why: words(w.Why, e), How: t.word, Stale: t.work != s.work[st.Name]}
		if w.AtLeast != nil {
			r.Asked = seconds(w.AtLeast.Eval(e).Num)
		}
		if u := s.facts[id+".until"]; u != nil {
			for i, rt := range u.takes {
				if rt.work == t.work {
					r.Readings = append(r.Readings, s.takeRecord(rt, i+1))
				}
			}
		}
		out = append(out, r)
	}
	return out
}

func (s *State) takeRecord(t take, n int) TakeRecord {
	r := TakeRecord{
		Stamp: Stamp{t.n, t.at, t.by, t.reason}, Take: n, Back: t.part == back, Closure: t.part == again, Pass: t.pass,
		Typed: t.typed.Typed, Value: t.value, Word: t.word, File: t.file, Odd: t.odd, From: t.from,
	}
	if u, err := quantity.Lookup(t.typed.Unit); err == nil {
		r.Unit = u
	}
	for _, a := range t.amends {
		r.Amended = append(r.Amended, Amendment{Stamp: Stamp{a.n, a.at, a.by, a.reason}, Take: n, WasTyped: a.was.Typed + a.wasW})
	}
	return r
}

// Amendments returns every correction of an answer.
func (s *State) Amendments() []Amendment {
	var out []Amendment
	s.lasting(func(ev Event) {
		d, ok := ev.Data.(Amended)
		if !ok {
			return
		}
		a := Amendment{Stamp: stamp(ev, d.Reason), Name: d.Name, Take: d.Take, To: d.Word}
		if d.Name == operatorName {
			a.Title, a.Take = fmt.Sprintf("Who was at the machine, sitting %d", d.Take), 0
			a.Was = s.operatorBefore(ev.N, d.Take)
			a.WasTyped = a.Was
			out = append(out, a)
			return
		}
		if q, ok := s.asked(d.Name); ok {
			a.Title = q.Ask
		}
		if d.To.Unit != "" {
			a.To = s.inUnit(d.Name, d.To)
		}
		if m, ok := s.amendedBy(ev.N); ok {
			a.WasTyped, a.Was = m.was.Typed+m.wasW, m.wasW
			if m.was.Unit != "" {
				a.Was = s.inUnit(d.Name, m.was)
			}
		}
		out = append(out, a)
	})
	return out
}

// Withdrawals returns the answers that were taken back.
func (s *State) Withdrawals() []Withdrawal {
	var out []Withdrawal
	for _, ev := range s.events {
		d, ok := ev.Data.(Withdrawn)
		if !ok {
			continue
		}
		w := Withdrawal{Stamp: stamp(ev, ""), Of: d.Of}
		for _, o := range s.events {
			if o.N == d.Of {
				w.What = whatWas(o.Data)
			}
		}
		out = append(out, w)
	}
	return out
}

func whatWas(d Data) string {
	switch d := d.(type) {
	case Answered:
		var v []string
		for _, t := range d.Takes {
			v = append(v, t.Typed)
		}
		return strings.TrimSpace(d.Name + " = " + strings.Join(v, " ") + d.Word)
	case Waited:
		return d.Name + " = " + d.How
	case Chosen:
		return d.Gate + " = " + d.Way
	case Cleared:
		return d.Name
	case Bound:
		return "instrument." + d.Name + " = " + d.ID
	case Unable:
		return d.Name + " cannot be taken: " + d.Reason
	case LeftOut:
		return "Left out by agreement = " + d.Gate
	case Assumed:
		return "Assumed by agreement = " + d.Name
	case Noted:
		if d.File != nil {
			return "File kept = " + strings.TrimSpace(d.File.Name+" "+d.Text)
		}
		return "Note = " + d.Text
	}
	return d.Kind()
}

// Unmeasured returns what could not be taken.
func (s *State) Unmeasured() []UnableRecord {
	var out []UnableRecord
	s.lasting(func(ev Event) {
		d, ok := ev.Data.(Unable)
		if !ok {
			return
		}
		r, id := s.readingOf(d.Name)
		u := UnableRecord{Stamp: stamp(ev, d.Reason), Name: d.Name, Title: d.Name}
		if r != nil {
			u.Lasting = s.unableAt(r, id) != "" && s.facts[id].unable.n == ev.N
			if q, ok := s.asked(d.Name); ok && q.Ask != "" {
				u.Title = q.Ask
			}
		}
		out = append(out, u)
	})
	return out
}

// Concessions returns the concessions asked for, lapsed ones too.
func (s *State) Concessions() []ConcessionRecord {
	var out []ConcessionRecord
	s.lasting(func(ev Event) {
		switch d := ev.Data.(type) {
		case Chosen:
			if d.Way != string(WayConcession) {
				return
			}
			c := ConcessionRecord{Stamp: stamp(ev, d.Reason), Gate: d.Gate, Lapsed: true}
			if g, round, ok := s.gateAt(d.Gate); ok {
				c.Title = g.Title.Words(s.env().in(g.Step, round))
			}
			if a := s.conceded[d.Gate]; a != nil && a.n == ev.N && s.concession(d.Gate) != nil {
				c.Lapsed, c.Decided, c.Granted, c.Role, c.Because, c.Decider = false, a.Decided, a.Granted, a.Role, a.Concession.Because, a.Decider
			}
			out = append(out, c)
		}
	})
	return out
}

// Roles returns every role that signs.
func (s *State) Roles() []RoleRecord {
	var out []RoleRecord
	for _, role := range s.plan.proc.Signoffs {
		r := RoleRecord{Role: role, Title: words(role.Title, s.env())}
		for _, g := range s.signed {
			if g.Role == role {
				r.Name, r.Signed = g.Name, &Stamp{N: g.N, Time: g.At, By: g.Name}
			}
		}
		out = append(out, r)
	}
	return out
}

// Results returns every result and round as it stands.
func (s *State) Results() []ResultValue {
	var out []ResultValue
	for _, st := range s.plan.proc.Steps {
		for _, it := range st.Items {
			res, ok := it.(*procedures.Result)
			if !ok {
				continue
			}
			for _, round := range s.rounds(st) {
				out = append(out, s.resultValue(res, round))
			}
		}
	}
	return out
}

func (s *State) resultValue(res *procedures.Result, round []string) ResultValue {
	e := s.env().in(res.Step, round)
	v := ResultValue{Result: res, Name: address(res.Name, round...), Title: words(res.Title, e), Keys: round, Value: e.result(res, round)}
	for _, r := range res.Value.Refs() {
		v.Inputs = append(v.Inputs, r.String())
	}
	if st, _ := v.Value.Worst(); st != value.Present {
		return v
	}
	switch v.Value.Mean().Kind {
	case value.Profile, value.Turn:
		v.EachU = s.doubts(res, round)
		return v
	case value.Number:
	default:
		return v
	}
	est, ok := s.estimate(ofResult(res, round))
	if ok && len(est.e) == 1 && !est.e[0].Undefined() {
		r := est.e[0]
		v.U, v.K, v.Dof, v.Budget, v.HasU = r.U, r.K, r.DoF, s.sourced(&est, r.Budget), true
	}
	return v
}

// doubts returns how well each number of a profile or a turn is known, where
// that follows from slopes alone: to draw many trials for a picture would take
// too long.
func (s *State) doubts(res *procedures.Result, round []string) []float64 {
	if t := s.plan.traits(res.Value); t.Kinked {
		return nil
	}
	est, ok := s.estimate(ofResult(res, round))
	if !ok {
		return nil
	}
	var out []float64
	for _, e := range est.e {
		if e.Undefined() {
			return nil
		}
		out = append(out, e.U)
	}
	return out
}

// Feeds returns what a gate stands on, at any depth, in the order of the file.
func (s *State) Feeds(gate string) (readings, givens, results []string) {
	g, _, ok := s.gateAt(gate)
	if !ok {
		return nil, nil, nil
	}
	return s.plan.inputs(gatePrograms(g)...)
}
