package report

import (
	"fmt"
	"strings"

	"waywright/checks/quantity"
	"waywright/engine"
	"waywright/procedures"
)

// bound keeps a real instrument that was taken in hand. What was not stated of
// it is as the procedure has it.
func (b *builder) bound(ev engine.Event, d engine.Bound) {
	p := b.instrumentNamed(d.Name)
	if p == nil {
		return
	}
	i := b.instrumentOf(p)
	i.ID, i.Number, i.What, i.Due, i.Reason, i.At = fmt.Sprintf("%s#%d", d.Name, ev.N), d.ID, d.What, d.Due, d.Reason, atEvent(ev)
	i.Skipped = d.Skipped || d.ID == ""
	i.Maker, i.Serial, i.CertificateNo = d.Maker, d.Serial, d.Certificate
	i.Calibrated, i.CalibratedBy = d.Calibrated, d.CalibratedBy
	for _, o := range d.Odd {
		i.Odd = append(i.Odd, Oddity{o.What, o.Said})
	}
	u, err := quantity.Lookup(d.Unit)
	if err != nil {
		u = p.Unit
	}
	own := func(x float64, n **Number) { *n = number(u.Base(x), u.Difference(), asItIs) }
	for _, f := range []struct {
		x    float64
		have bool
		n    **Number
	}{
		{d.Resolution, d.Resolution > 0, &i.Resolution}, {d.Error, d.Error > 0, &i.Error}, {d.Zero, d.HasZero, &i.Zero},
		{d.Repeatability, d.Repeatability > 0, &i.Repeats}, {d.Turn, d.Turn > 0, &i.Turn}, {d.CertU, d.CertU > 0, &i.Certificate},
	} {
		if f.have {
			own(f.x, f.n)
		}
	}
	if len(d.Reads) == 2 {
		own(d.Reads[0], &i.From)
		own(d.Reads[1], &i.To)
	}
	if d.RepeatabilityDoF > 0 {
		i.RepeatsDoF = d.RepeatabilityDoF
	}
	if d.CertU > 0 {
		i.K = d.CertK
	}
	b.relieved(d.Name, i.At)
	b.instruments = append(b.instruments, i)
}

// relieved notes when another instrument took the place of the one that was in
// the hand.
func (b *builder) relieved(name string, at Stamp) {
	for n := len(b.instruments) - 1; n >= 0; n-- {
		if i := &b.instruments[n]; i.Name == name {
			if i.Until == nil {
				i.Until = &at
			}
			return
		}
	}
}

func (b *builder) instrumentNamed(name string) *procedures.Instrument {
	for _, p := range b.proc.Instruments {
		if p.Name == name {
			return p
		}
	}
	return nil
}

// instrumentOf is an instrument with the procedure's figures.
func (b *builder) instrumentOf(p *procedures.Instrument) Instrument {
	i := Instrument{Name: p.Name, Kind: p.Kind, Source: p.Source}
	if i.Kind == "" {
		i.Kind = strings.ReplaceAll(p.Name, "_", " ")
	}
	for _, x := range []struct {
		base float64
		n    **Number
	}{{p.Resolution, &i.Resolution}, {p.Repeatability, &i.Repeats}, {p.Turn, &i.Turn}} {
		if x.base > 0 {
			*x.n = b.figure(x.base, p)
		}
	}
	if p.HasError {
		i.Error = b.figure(p.Error, p)
	}
	if p.HasZero {
		i.Zero = b.figure(p.Zero, p)
	}
	if p.Repeatability > 0 {
		i.RepeatsDoF = p.RepeatabilityDoF
	}
	return i
}

// figure is a figure of an instrument, in the instrument's own unit in every
// run.
func (b *builder) figure(base float64, p *procedures.Instrument) *Number {
	u := p.Unit
	if u.Name == "" {
		u = p.Dim.Default()
	}
	return number(base, u.Difference(), asItIs)
}

// bindingAt is the id of the instrument that stood for p at an entry of the
// journal. One that was never named gets an entry of its own.
func (b *builder) bindingAt(p *procedures.Instrument, entry int) string {
	id := ""
	for _, i := range b.instruments {
		if i.Name == p.Name && i.At.Entry <= entry {
			id = i.ID
		}
	}
	if id != "" {
		return id
	}
	i := b.instrumentOf(p)
	i.ID, i.Skipped, i.At = p.Name+"#0", true, Stamp{Entry: entry, Time: clock(b.eventNumbered(entry).Time)}
	for _, have := range b.instruments {
		if have.ID == i.ID {
			return i.ID
		}
	}
	b.instruments = append(b.instruments, i)
	b.record.Instruments = b.instruments
	return i.ID
}

// overdue marks the instruments whose calibration had ended when they were
// used.
func (b *builder) overdue() {
	for n := range b.instruments {
		i := &b.instruments[n]
		if i.Due == "" {
			continue
		}
		used := i.At.Time
		for _, r := range b.record.Readings {
			if r.Instrument == i.ID && r.To.Time > used {
				used = r.To.Time
			}
		}
		i.Overdue = used[:len(i.Due)] > i.Due // both begin with year, month, day
	}
	b.record.Instruments = b.instruments
}
