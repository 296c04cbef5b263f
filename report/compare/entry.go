package compare

import (
	"math"
	"time"

	"waywright/checks/quantity"
	"waywright/report"
)

// entry is a value of one record with all that is needed to compare it. The
// numbers are in base units.
type entry struct {
	place    Place
	record   *report.Record
	test     *report.Test
	at       time.Time
	stamp    string
	finding  *report.Finding
	verdict  string
	word     string
	worst    string
	readings []string
	bindings []string

	unit     quantity.Unit
	hasValue bool
	numbers  []known // one; or one a place
}

// known is a number with its standard uncertainty.
type known struct {
	where string // how the place is printed; "" for a single value
	y, u  float64
	dof   float64
}

// entry returns the value of a test as found or as left; nil where there is
// none.
func (c *comparer) entry(i int, t *report.Test, state string) *entry {
	if t == nil {
		return nil
	}
	e := &entry{place: Place{c.out.Runs[i].Letter, state}, record: &c.records[i].Record, test: t}
	var elements []report.Element
	switch state {
	case AsLeft:
		if t.Found == nil {
			return nil
		}
		e.finding, e.verdict, e.word, e.worst, elements = t.Found, t.Verdict, t.Word, t.Worst, t.Elements
		e.readings, e.bindings, e.stamp = t.Readings, t.Instruments, e.record.Last.Time
		for _, a := range t.Attempts {
			if a.Stands {
				e.stamp = a.At.Time
			}
		}
	case AsFound:
		if !t.AsFound.Read || t.AsFound.Found == nil {
			return nil
		}
		e.finding, e.verdict, e.word, e.stamp = t.AsFound.Found, t.AsFound.Verdict, t.AsFound.Word, e.record.Begun.Time
		for _, a := range t.Attempts {
			if a.AsFound {
				e.stamp, e.worst, elements, e.readings, e.bindings = a.At.Time, a.Worst, a.Elements, a.Readings, a.Instruments
			}
		}
	}
	e.at = when(e.stamp)
	e.measured(elements)
	return e
}

func (e *entry) measured(elements []report.Element) {
	f := e.finding
	if f.Value == nil {
		return
	}
	var ok bool
	if e.unit, ok = report.UnitOf(*f.Value); !ok {
		return
	}
	dof := f.DoF
	if dof <= 0 {
		dof = math.Inf(1)
	}
	k := f.K
	if !(k > 0) {
		k = math.Inf(1) // nothing is stated: it counts as exact
	}
	number := func(where string, y report.Number, bigU *report.Number) (known, bool) {
		u, okU := report.UnitOf(y)
		if !okU || u.Dim != e.unit.Dim {
			return known{}, false
		}
		n := known{where: where, y: u.Base(y.Value), dof: dof}
		if bigU != nil && f.K > 0 {
			ud, okD := report.UnitOf(*bigU)
			if !okD {
				return known{}, false
			}
			n.u = ud.Base(bigU.Value) / k
		}
		return n, finite(n.y) && finite(n.u) && n.u >= 0
	}
	e.hasValue = true
	if len(elements) == 0 {
		n, ok := number("", *f.Value, f.U)
		e.numbers, e.hasValue = []known{n}, ok
		return
	}
	// The factor k is that of the value that decides: places of one test are read
	// with one instrument, and known about alike.
	for _, x := range elements {
		where := x.Key
		if x.At != nil {
			where = x.At.WithUnit()
		}
		n, ok := number(where, x.Value, x.U)
		if !ok {
			e.hasValue = false
			return
		}
		e.numbers = append(e.numbers, n)
	}
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// number returns the number at a place.
func (e *entry) number(where string) (known, bool) {
	for _, n := range e.numbers {
		if n.where == where {
			return n, true
		}
	}
	return known{}, false
}

// shown is the entry as a comparison prints it.
func (e *entry) shown() *Entry {
	if e == nil {
		return nil
	}
	f := e.finding
	return &Entry{
		At: e.stamp, Said: f.Said, Value: f.Value, U: f.U, K: f.K, DoF: f.DoF, Exact: f.Exact,
		Verdict: e.verdict, Word: e.word, Worst: e.worst,
	}
}

// bias is what the errors make a value that cannot be negative too large by on
// average. It is known of what stands only.
func (e *entry) bias() (b float64, ok bool) {
	m := e.test.Method
	if m == nil || m.Name != "drawn" {
		return 0, true
	}
	if e.place.State == AsFound && len(e.test.Attempts) > 1 || m.Bias == nil {
		return 0, false
	}
	u, ok := report.UnitOf(*m.Bias)
	return u.Base(m.Bias.Value), ok
}
