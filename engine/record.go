package engine

import (
	"math"
	"slices"
	"strings"
	"time"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/checks/uncert"
	"waywright/checks/value"
	"waywright/procedures"
)

// Stamp says when something happened, by whom, and in which line of the
// journal.
type Stamp struct {
	N      int
	Time   time.Time
	By     string
	Reason string
}

// TakeRecord is one answer with all that became of it.
type TakeRecord struct {
	Stamp
	Take        int     // from 1 at its place
	Station     int     // from 1 along a profile or turn; 0 elsewhere
	At          float64 // mm or rad
	Back        bool
	Closure     bool
	Pass        int // 0, or the number of the further takes it belongs to
	Typed       string
	Value       float64 // base units, as it counts
	Unit        quantity.Unit
	Word        string
	File        *File
	Odd         string
	From        string
	Amended     []Amendment
	Withdrawn   bool
	WithdrawnAt Stamp
}

// Amendment is a correction of an answer.
type Amendment struct {
	Stamp
	Name     string
	Title    string
	Take     int
	Was, To  string // as they are shown, with unit
	WasTyped string
}

// Fact is a given or a confirmation.
type Fact struct {
	Stamp
	Name, Title string
	Step        Place
	Keys        []string
	Value       value.Value
	Unit        *quantity.Unit
	Takes       []TakeRecord
	From        string
	U           float64
	Exact       bool
	Instrument  *InHand
	Stale       bool
	Why         string
}

// ReadingSet is what was read of one reading, at one place or along one row,
// in one working and pass.
type ReadingSet struct {
	ID         string // name#event of its first take
	Name       string // with keys, without station: front.marked.near.180
	Reading    *procedures.Reading
	Ask        string
	Step       Place
	Keys       []string
	KeyNames   []string
	Working    int
	Round      string // the set that is asked again whole
	Takes      []TakeRecord
	Mean       *float64
	Drift      *Drift
	Nudge      string
	Turned     bool
	Instrument *InHand
	State      string // used, stale, void, broken, unmeasured
	Why        string
	SinceN     int
	Sitting    int
}

// ResultValue is a result as it stands.
type ResultValue struct {
	Result      *procedures.Result
	Name, Title string
	Keys        []string
	Value       value.Value
	U, K, Dof   float64
	HasU        bool
	Budget      []uncert.Line
	Inputs      []string
}

// WaitRecord is a wait that ended.
type WaitRecord struct {
	Stamp
	Name, Why, How string
	Asked          time.Duration
	Readings       []TakeRecord
	Stale          bool
}

// Clearing is an acknowledgement of cautions or of the state of the spindle.
type Clearing struct {
	Stamp
	Name    string
	Texts   []string
	Spindle string
	Skipped bool
}

// Release is a hold point that was released.
type Release struct {
	Stamp
	Step, Role, Name string
}

// Withdrawal is an answer that was taken back.
type Withdrawal struct {
	Stamp
	Of   int
	What string
}

// UnableRecord is something that could not be taken.
type UnableRecord struct {
	Stamp
	Name, Title string
	Lasting     bool // it still stands
}

// ConcessionRecord is a concession that was asked for.
type ConcessionRecord struct {
	Stamp
	Gate, Title string
	Decided     bool
	Granted     bool
	Role        string
	Because     string
	Lapsed      bool
}

// RoleRecord is a role that signs, and who did.
type RoleRecord struct {
	Role   *procedures.Signoff
	Title  string
	Signed *Stamp
	Name   string
}

// Attempt is one judgement of a gate that was reached on whole inputs.
type Attempt struct {
	Judgement
	At         Stamp
	Working    []string // IDs of the reading sets it stands on
	Stands     bool
	Ended      string
	Chosen     *Chosen
	ChosenAt   Stamp
	Correction *Attempted
}

// Attempted is a correction that was chosen, and what became of it.
type Attempted struct {
	Correction *procedures.Correction
	Title      string
	Do         []string
	N          int
	HasAmount  bool
	Planned    float64
	PlannedWay string
	At         []float64
	Amounts    []float64
	Gain       float64
	Moved      []Movement
	MovedSum   *float64
	MovedWay   string
	Judged     []Judged
	Response   *Response
	Disturbed  []string
	Report     Stamp
}

// Movement is one movement as it was read.
type Movement struct {
	Stamp
	Typed string
	Value float64
	Way   string
}

// Judged is an answer to a movement that was not as asked.
type Judged struct {
	Stamp
	MoveJudged
}

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
		out = append(out, "next to be settled: "+strings.TrimRight(q.Name+", "+q.Ask, ", ?.:"))
	}
	return append(out, s.obstacles()...)
}

// Rejected returns who gave the run up and why; nil when nobody did.
func (s *State) Rejected() *Rejection {
	if s.rejected != nil {
		return s.rejected
	}
	for name, c := range s.conceded {
		if c.Decided && !c.Granted && s.concession(name) != nil {
			for _, ev := range s.events {
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

// Ledger returns the metal removed and added, and parts moved.
func (s *State) Ledger() []LedgerLine { return s.ledger }

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
			f(ev)
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
		c := Clearing{Stamp: stamp(ev, ""), Name: d.Name, Spindle: d.Spindle, Skipped: d.Skipped}
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
			out = append(out, Release{stamp(ev, ""), s.stepTitle(st), words(st.HoldPoint.Title, s.env()), d.Word})
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
		if q, ok := s.asked(d.Name); ok {
			a.Title = q.Ask
		}
		if d.To.Unit != "" {
			a.To = s.inUnit(d.Name, d.To)
		}
		for _, f := range s.facts {
			for _, t := range f.takes {
				for _, m := range t.amends {
					if m.n == ev.N {
						a.WasTyped = m.was.Typed + m.wasW
						a.Was = m.wasW
						if m.was.Unit != "" {
							a.Was = s.inUnit(d.Name, m.was)
						}
					}
				}
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
				c.Lapsed, c.Decided, c.Granted, c.Role, c.Because = false, a.Decided, a.Granted, a.Role, a.Concession.Because
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
	if st, _ := v.Value.Worst(); st != value.Present || v.Value.Mean().Kind != value.Number {
		return v
	}
	est, ok := s.estimate(func(e *env) ([]float64, bool) {
		x := e.result(res, round).Mean()
		return []float64{x.Num}, x.State == value.Present
	})
	if ok && len(est.c) == 1 {
		r := est.combine(est.row(0))
		v.U, v.K, v.Dof, v.Budget, v.HasU = r.U, r.K, r.DoF, r.Budget, !math.IsNaN(r.U)
	}
	return v
}

// Feeds returns what a gate stands on, at any depth, in the order of the file.
func (s *State) Feeds(gate string) (readings, givens, results []string) {
	g, _, ok := s.gateAt(gate)
	if !ok {
		return nil, nil, nil
	}
	return s.plan.inputs(gatePrograms(g)...)
}

// History returns the judgements of a gate, oldest first: one for each time
// that its inputs were whole.
func (s *State) History(gate string) []Attempt {
	var out []Attempt
	t := New(s.plan)
	prev := ""
	for _, ev := range s.events {
		if _, ok := ev.Data.(Withdrawn); ok || s.gone[ev.N] != 0 {
			t.events = append(t.events, ev)
			continue
		}
		u := t.clone()
		if err := u.apply(ev); err != nil {
			return out
		}
		t = u
		g, round, ok := t.gateAt(gate)
		if !ok {
			continue
		}
		j := t.judge(g, round)
		key := feedKey(t.feedTakes(g))
		switch {
		case j.Verdict == checks.Open:
			if n := len(out); n > 0 && out[n-1].Ended == "" && key != prev {
				out[n-1].Stands, out[n-1].Ended = false, t.lastSpoil()
			}
		case key != prev:
			if n := len(out); n > 0 && out[n-1].Stands {
				out[n-1].Stands, out[n-1].Ended = false, "further takes"
			}
			out = append(out, Attempt{Judgement: j, At: stamp(ev, ""), Working: t.setIDs(g), Stands: true})
			prev = key
		default:
			out[len(out)-1].Judgement = j // an amendment or a concession
		}
		if c, ok := ev.Data.(Chosen); ok && c.Gate == gate && len(out) > 0 {
			out[len(out)-1].Chosen, out[len(out)-1].ChosenAt = &c, stamp(ev, c.Reason)
		}
	}
	s.addCorrections(gate, out)
	return out
}

func (s *State) lastSpoil() string {
	if n := len(s.spoils); n > 0 {
		return s.spoils[n-1].why
	}
	return "read again"
}

// addCorrections joins what was chosen at each attempt with what became of it.
func (s *State) addCorrections(gate string, out []Attempt) {
	for i := range s.attempts {
		a := &s.attempts[i]
		for k := range out {
			if a.gate == gate && out[k].ChosenAt.N == a.chosen && a.reported != 0 {
				out[k].Correction = s.attempted(a)
			}
		}
	}
}

func (s *State) attempted(a *attempt) *Attempted {
	e := s.env()
	ad := s.adviceOf(a, e)
	t := &Attempted{
		Correction: a.corr, Title: ad.Title, Do: ad.Do, N: a.number, HasAmount: ad.HasAmount, Planned: a.amount(),
		PlannedWay: ad.Direction, At: a.stations, Amounts: a.planned, Gain: a.gain, Response: s.response(a),
		Disturbed: append(slices.Clip(ad.Spoils), ad.Disturbs...), Report: Stamp{N: a.reported, Time: a.reportedAt, By: a.by},
	}
	for _, m := range a.moves {
		t.Moved = append(t.Moved, Movement{Stamp{N: m.n, Time: m.at, By: m.by}, m.typed.Typed, m.value, direction(a.corr, m.value, e)})
	}
	if a.hasMoved {
		sum := a.moved()
		t.MovedSum, t.MovedWay = &sum, direction(a.corr, sum, e)
	}
	for _, j := range a.judgements {
		t.Judged = append(t.Judged, Judged{Stamp{N: j.n, Time: j.at, By: j.by}, j.MoveJudged})
	}
	return t
}

// Corrections returns every correction that was reported, in order.
func (s *State) Corrections() []Attempted {
	var out []Attempted
	for i := range s.attempts {
		if a := &s.attempts[i]; a.reported != 0 {
			out = append(out, *s.attempted(a))
		}
	}
	return out
}
