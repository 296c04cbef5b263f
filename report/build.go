package report

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"sort"
	"strings"
	"time"
	"unicode"

	"waywright/checks/quantity"
	"waywright/engine"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// Build makes the record of a run. head is the SHA-256 of the newest line of
// its journal in hexadecimal, lines the number of that line. The same events
// give the same record. That of a sealed run is made from the state before its
// seal: see [engine.State.BeforeSeal].
func Build(s *engine.State, head string, lines int) Record {
	b := &builder{s: s, proc: s.Procedure(), inch: s.Inch()}
	b.worked, b.corrections = s.Results(), s.Corrections()
	b.events()
	b.record = Record{
		Format: Format, Title: b.proc.Title, Procedure: b.procedure(), Machine: b.machine(),
		Journal: Journal{Head: head, Entries: lines, Program: s.Begun().Program},
		Begun:   at(s.BeganAt()), Inch: b.inch, Overhaul: s.Begun().Overhaul, Task: s.Begun().Task,
	}
	if x := s.Begun(); len(x.Waits) > 0 {
		b.record.OutOfOrder = &OutOfOrder{Against: x.Waits, Because: x.Because}
	}
	if x := s.Begun().Anew; x != nil {
		b.record.Anew = &Anew{Since: x.Since.UTC().Format(time.RFC3339), Because: x.Because}
	}
	r := &b.record
	if x := s.Supersedes(); x != nil {
		r.Replaces = x.Number
		r.Supersedes = &Supersedes{Number: x.Number, Run: x.Run, SHA256: x.Digest, Because: x.Because, Carried: x.Carried, At: at(x.Stamp)}
	}
	if n := len(s.Events()); n > 0 {
		ev := s.Events()[n-1]
		r.Last = at(engine.Stamp{N: ev.N, Time: ev.Time, By: ev.By})
	}
	r.Number = recordNumber(s.Begun().Machine.ID, b.proc.Name, s.BeganAt().Time, head)
	r.Sittings, r.Instruments = b.sittings, b.instruments
	r.Readings = b.readings()
	b.overdue()
	r.Givens, r.Results = b.givens(), b.results()
	r.Tests, r.Risk = b.tests(), b.runRisk()
	r.Roles, r.Concessions = b.roles(), b.concessions()
	r.Confirms, r.Cautions, r.Releases, r.Waits = b.confirms(), b.cautions(), b.releases(), b.waits()
	r.Metal, r.Amendments, r.Withdrawals = b.metal(), b.amendments(), b.withdrawals()
	r.Disturbed, r.Unmeasured, r.Notes = b.disturbances(), b.unmeasured(), b.notes()
	r.Evidence, r.WorkSheets = b.evidence(), b.workSheets()
	r.Outcome = b.outcome()
	fill(r)
	return *r
}

// builder holds what the parts of a record need of each other.
type builder struct {
	s           *engine.State
	proc        *procedures.Procedure
	inch        bool
	record      Record
	live        []engine.Event // not withdrawn
	sittings    []Sitting
	seated      bool // somebody is at the machine
	instruments []Instrument
	worked      []engine.ResultValue
	corrections []engine.Attempted
	ids         map[string]string // reading of a set, by the set's id
	asks        map[string]string // what was asked under a name
}

// recordNumber names a record by machine, procedure, the day on which the run
// began and the beginning of the journal's head.
func recordNumber(machine, procedure string, began time.Time, head string) string {
	return strings.Join([]string{slug(machine), slug(procedure), began.UTC().Format("20060102"), head[:min(8, len(head))]}, "-")
}

// slug keeps the letters and figures of a name.
func slug(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return '-'
	}, s)
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return r == '-' }), "-")
}

func at(st engine.Stamp) Stamp {
	return Stamp{Entry: st.N, Time: clock(st.Time), By: st.By}
}

func atEvent(ev engine.Event) Stamp { return Stamp{Entry: ev.N, Time: clock(ev.Time), By: ev.By} }

func clock(t time.Time) string { return t.UTC().Format(time.RFC3339) }

// unit is the unit in which the run shows u.
func (b *builder) unit(u quantity.Unit) quantity.Unit { return quantity.InRun(u, b.inch) }

// events sorts out the events that stand, and reads from them what only they
// tell: the sittings and the instruments in the hand.
func (b *builder) events() {
	gone := map[int]bool{}
	for _, ev := range b.s.Events() {
		if w, ok := ev.Data.(engine.Withdrawn); ok {
			gone[w.Of] = true
		}
	}
	for _, ev := range b.s.Events() {
		b.sitting(ev)
		if gone[ev.N] {
			continue
		}
		b.live = append(b.live, ev)
		if d, ok := ev.Data.(engine.Bound); ok {
			b.bound(ev, d)
		}
	}
}

func (b *builder) sitting(ev engine.Event) {
	if d, ok := ev.Data.(engine.Sat); ok {
		b.seated = true
		b.sittings = append(b.sittings, Sitting{N: len(b.sittings) + 1, Operator: d.Operator, From: clock(ev.Time)})
	}
	if len(b.sittings) == 0 || !b.seated {
		return // nobody was at the machine
	}
	now := &b.sittings[len(b.sittings)-1]
	now.To = clock(ev.Time)
	now.Entries++
	if d, ok := ev.Data.(engine.Paused); ok {
		now.Paused = d.Reason
		b.seated = false
	}
}

func (b *builder) procedure() Procedure {
	p := Procedure{
		Name: b.proc.Name, Revision: b.proc.Revision, Class: b.proc.Machine, Purpose: b.proc.Purpose,
		Rule: rule(b.s.RuleFor(nil)), Grade: b.s.Grade(), Sources: b.sources(), Digest: b.s.Begun().Digest,
	}
	for _, f := range b.proc.Files {
		sum := sha256.Sum256(f.Bytes)
		p.Files = append(p.Files, File{Name: baseName(f.Name), SHA256: hex.EncodeToString(sum[:]), Size: int64(len(f.Bytes))})
	}
	return p
}

// sources are those that the procedure names, and those of the tables in which
// its formulas looked values up.
func (b *builder) sources() []string {
	out := slices.Clone(b.proc.Sources)
	add := func(p *formula.Program) {
		if p == nil {
			return
		}
		for _, s := range p.Cites() {
			if !slices.Contains(out, s) {
				out = append(out, s)
			}
		}
	}
	for _, r := range b.worked {
		add(r.Result.Value)
	}
	for _, j := range b.s.Judgements() {
		for _, p := range []*formula.Program{j.Gate.Of, j.Gate.Within, j.Gate.AtMost, j.Gate.AtLeast, j.Gate.Holds} {
			add(p)
		}
	}
	return out
}

// baseName leaves the folders out of a file's name.
func baseName(name string) string {
	return name[strings.LastIndexAny(name, `/\`)+1:]
}

// private names entries of a machine that say where it stands or whose it is.
var private = []string{"address", "place", "where", "stands", "location", "owner", "customer", "path"}

func (b *builder) machine() Machine {
	e := b.s.Begun().Machine
	m := Machine{ID: e.ID, Class: e.Class, Serial: e.Serial}
	for _, name := range sortedKeys(e.Text) {
		hidden := slices.ContainsFunc(strings.Split(strings.ToLower(name), "."), func(w string) bool { return slices.Contains(private, w) })
		if !hidden {
			m.Facts = append(m.Facts, Fact{Name: name, Text: e.Text[name]})
		}
	}
	for _, name := range sortedKeys(e.Numbers) {
		if n := b.stored(e.Numbers[name]); n != nil {
			m.Sizes = append(m.Sizes, Measure{Name: name, Number: *n})
		}
	}
	return m
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}

// stored is a number as a journal keeps it, in the unit it is kept in.
func (b *builder) stored(x engine.Stored) *Number {
	u, err := quantity.Lookup(x.Unit)
	if err != nil {
		u = quantity.Unit{Symbol: x.Unit, UCUM: "1", Factor: 1}
	}
	return number(u.Base(x.Value), u, asItIs)
}

func (b *builder) outcome() Outcome {
	o := Outcome{Word: string(b.s.OnceSigned())}
	for _, t := range b.record.Tests {
		o.Counts.add(t)
	}
	o.Counts.Agreed = len(b.record.Tests) - o.Counts.NotApplied - o.Counts.Noted
	o.Text = outcomeText(o.Word, o.Counts.Conceded)
	for _, r := range b.record.Roles {
		if r.Signed == "" && b.s.Outcome() == engine.NotDecided {
			o.Awaits = append(o.Awaits, r.Title)
		}
	}
	switch o.Word {
	case NotDecided:
		o.Draft = true
		o.Open = b.open()
	case Abandoned:
		x := b.s.Abandoned()
		o.Draft, o.Reason, o.By = true, x.Reason, &Stamp{Entry: x.N, Time: clock(x.At), By: x.By}
	case Rejected:
		if x := b.s.Rejected(); x != nil {
			o.Reason = x.Reason
			o.By = &Stamp{Entry: x.N, Time: clock(x.At), By: x.By}
		}
	}
	return o
}

// open says in sentences what stands in the way of a decision.
func (b *builder) open() []string {
	var out []string
	for _, s := range b.s.Unsealable() {
		out = append(out, capital(strings.TrimRight(s, "."))+".")
	}
	return out
}
