package report

import (
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/engine"
)

func (b *builder) givens() []Given {
	var out []Given
	assumed := map[string]*LeftOut{}
	for _, x := range b.s.Assumptions() {
		assumed[x.Name] = &LeftOut{Agreed: x.Agreed, Because: x.Because, At: at(x.Stamp)}
	}
	for _, f := range b.s.Givens() {
		g := Given{Name: f.Name, Title: f.Title, From: f.From, Exact: f.Exact && f.U == 0, At: at(f.Stamp), Reason: f.Reason, Assumed: assumed[f.Name]}
		if n := len(f.Takes); n > 0 {
			t := f.Takes[n-1]
			g.Typed, g.Odd = t.Typed, t.Odd
		}
		u := quantity.Unit{UCUM: "1", Factor: 1}
		if f.Unit != nil {
			u = b.unit(*f.Unit)
		}
		switch v := f.Value.Mean(); v.Kind {
		case value.Number, value.Point:
			places := asItIs
			if f.Unit != nil {
				places = b.enough(v.Num, u, quantity.Usual(u))
			}
			if g.Number = number(v.Num, u, places); g.Number != nil {
				g.Number.Text = unpadded(g.Number.Text) // as it was given, not as an instrument shows it
				g.Text = g.Number.WithUnit()
			}
		case value.Truth:
			g.Text = map[bool]string{true: "yes", false: "no"}[v.Truth]
		default:
			g.Text = v.Text
		}
		if f.U > 0 {
			g.U = number(f.U, u.Difference(), placesFor(f.U, u))
		}
		for _, p := range b.proc.Givens {
			if named(f.Name, p.Name) && p.With != nil {
				g.Instrument = b.bindingAt(p.With, f.N)
			}
		}
		out = append(out, g)
	}
	return out
}

func (b *builder) roles() []Role {
	var out []Role
	for _, r := range b.s.Roles() {
		x := Role{Name: r.Role.Name, Title: r.Title, Concedes: r.Role.Concedes}
		if x.Title == "" {
			x.Title = capital(strings.ReplaceAll(x.Name, "_", " "))
		}
		if o := r.Role.OtherThan; o != nil {
			x.OtherThan = b.s.Words(o.Title, nil, nil)
			if x.OtherThan == "" {
				x.OtherThan = o.Name
			}
		}
		if r.Signed != nil {
			st := at(*r.Signed)
			x.Signed, x.How, x.At = r.Name, "typed", &st
		}
		out = append(out, x)
	}
	return out
}

// concessions also puts each that stands beside its test.
func (b *builder) concessions() []Concession {
	var out []Concession
	for i, c := range b.s.Concessions() {
		x := Concession{No: i + 1, Test: c.Gate, Title: c.Title, Reason: c.Reason, Asked: at(c.Stamp), Role: b.roleTitle(c.Role), Because: c.Because}
		switch {
		case c.Lapsed:
			x.State, x.Said = "lapsed", "It lapsed: what it was asked for was measured again or changed."
		case c.Decided && c.Granted:
			x.State, x.Said = "granted", "Granted."
		case c.Decided:
			x.State, x.Said = "refused", "Refused."
		default:
			x.State, x.Said = "asked", "Asked for, not decided yet."
		}
		if c.Decided && !c.Lapsed {
			x.Decided = b.decidedAt(c.Gate, c.N)
		}
		for k := range b.record.Tests {
			t := &b.record.Tests[k]
			if t.Name == c.Gate {
				x.TestNo, x.Word = t.No, t.Word
				if x.State != "lapsed" {
					mine := x
					t.Concession = &mine
				}
			}
		}
		out = append(out, x)
	}
	return out
}

func (b *builder) decidedAt(gate string, after int) *Stamp {
	var out *Stamp
	for _, ev := range b.live {
		if d, ok := ev.Data.(engine.Decided); ok && d.Gate == gate && ev.N > after {
			st := atEvent(ev)
			out = &st
		}
	}
	return out
}

func (b *builder) roleTitle(name string) string {
	for _, r := range b.record.Roles {
		if r.Name == name {
			return r.Title
		}
	}
	return name
}

func (b *builder) confirms() []Confirm {
	var out []Confirm
	for _, f := range b.s.Confirms() {
		out = append(out, Confirm{Name: f.Name, Title: f.Title, Step: f.Step.Title, Answer: f.Value.Text, Reason: f.Reason, Stale: f.Stale, At: at(f.Stamp)})
	}
	return out
}

func (b *builder) cautions() []Caution {
	var out []Caution
	for _, c := range b.s.Cleared() {
		out = append(out, Caution{Step: b.workTitle(strings.TrimSuffix(c.Name, ".clear")), Texts: c.Texts, Spindle: c.Spindle, Skipped: c.Skipped, Reason: c.Reason, At: at(c.Stamp)})
	}
	return out
}

// workTitle is the title of the step or correction with that name; a step may
// have the keys of its round behind it.
func (b *builder) workTitle(name string) string {
	label, keys, _ := strings.Cut(name, ".")
	for _, st := range b.proc.Steps {
		if st.Name != label {
			continue
		}
		var round []string
		if len(st.Each) > 0 && keys != "" {
			round = strings.SplitN(keys, ".", len(st.Each))
		}
		return b.s.Words(st.Title, st, round)
	}
	if c := b.correctionNamed(label); c != nil {
		return b.s.Words(c.Title, nil, nil)
	}
	return name
}

func (b *builder) releases() []Release {
	var out []Release
	for _, r := range b.s.Released() {
		out = append(out, Release{Step: r.Step, Role: r.Role, Name: r.Name, At: at(r.Stamp)})
	}
	return out
}

var waitSaid = map[string]string{
	"over": "It was over.", "stated": "It was stated to be over.", "short": "It was cut short.", "skipped": "It was skipped.",
}

func (b *builder) waits() []Wait {
	var out []Wait
	for _, w := range b.s.Waits() {
		x := Wait{Name: w.Name, Why: w.Why, How: w.How, Said: waitSaid[w.How], Reason: w.Reason, At: at(w.Stamp)}
		if x.Said == "" {
			x.How, x.Said = "over", "It was over."
		}
		if u, err := quantity.Lookup("min"); err == nil && w.Asked > 0 {
			x.Asked = number(w.Asked.Seconds(), u, asItIs)
		}
		for _, t := range w.Readings {
			u := t.Unit
			if n := number(t.Value, u, b.enough(t.Value, u, quantity.Usual(u))); n != nil && u.Name != "" {
				x.Values = append(x.Values, *n)
			}
		}
		out = append(out, x)
	}
	return out
}

func (b *builder) metal() []Metal {
	var out []Metal
	for _, l := range b.s.Ledger() {
		u := b.unit(l.Unit)
		places := quantity.Usual(u)
		m := Metal{
			Place: l.Place, Correction: b.s.Words(l.Correction.Title, nil, nil), Amount: b.amount(l.Amount, u, places, l.Way),
			Planned: l.Planned, At: Stamp{Entry: l.N, Time: clock(l.At), By: l.By},
		}
		if m.Total = number(l.Total, u, places); m.Total != nil {
			m.TotalSaid = strings.TrimSpace(m.Total.WithUnit() + " " + l.Way)
		}
		out = append(out, m)
	}
	return out
}

func (b *builder) amendments() []Amendment {
	var out []Amendment
	for _, a := range b.s.Amendments() {
		out = append(out, Amendment{Name: a.Name, Title: a.Title, Take: a.Take, From: a.Was, To: a.To, Reason: a.Reason, At: at(a.Stamp)})
	}
	return out
}

func (b *builder) withdrawals() []Withdrawal {
	var out []Withdrawal
	for _, w := range b.s.Withdrawals() {
		what, said, _ := strings.Cut(w.What, " = ")
		out = append(out, Withdrawal{Of: atEvent(b.eventNumbered(w.Of)), What: b.ask(what), Said: said, At: at(w.Stamp)})
	}
	return out
}

// ask is what was asked under a name, or the name.
func (b *builder) ask(name string) string {
	if a := b.asks[name]; a != "" {
		return a
	}
	for _, g := range b.record.Givens {
		if g.Name == name {
			return g.Title
		}
	}
	if p := b.instrumentNamed(strings.TrimPrefix(name, "instrument.")); p != nil && strings.HasPrefix(name, "instrument.") {
		return "Instrument: " + b.instrumentOf(p).Kind
	}
	return name
}

func (b *builder) disturbances() []Disturbance {
	var out []Disturbance
	for _, d := range b.s.Disturbances() {
		x := Disturbance{What: d.What, Reason: d.Reason, At: Stamp{Entry: d.N, Time: clock(d.At), By: d.By}}
		switch d.What {
		case "step":
			x.Title = b.workTitle(d.Name)
		case "instrument":
			x.Title = d.Name
			if p := b.instrumentNamed(d.Name); p != nil {
				x.Title = b.instrumentOf(p).Kind
			}
		}
		out = append(out, x)
	}
	return out
}

func (b *builder) unmeasured() []Unmeasured {
	var out []Unmeasured
	for _, u := range b.s.Unmeasured() {
		x := Unmeasured{Name: u.Name, Title: u.Title, Reason: u.Reason, Stands: u.Lasting, At: at(u.Stamp)}
		if x.Title == x.Name {
			x.Title = b.ask(u.Name)
		}
		out = append(out, x)
	}
	return out
}

func (b *builder) notes() []Note {
	var out []Note
	for _, ev := range b.live {
		if d, ok := ev.Data.(engine.Noted); ok {
			out = append(out, Note{Where: b.where(d.Name), Text: d.Text, About: d.About, File: file(d.File), At: atEvent(ev)})
		}
	}
	return out
}
