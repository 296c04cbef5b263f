package uncert

import (
	"math"
	"strings"
)

// addSettings adds, for each setting of an instrument, its zero (measure rule
// 4) and its indication errors (rule 5).
func (m *Model) addSettings(instruments []Instrument, observations []Observation) {
	type setting struct {
		instrument int
		name       string
	}
	var order []setting
	members := make(map[setting][]int)
	for i, o := range observations {
		s := setting{o.Instrument, o.Setting}
		if members[s] == nil {
			order = append(order, s)
		}
		members[s] = append(members[s], i)
	}
	told := make(map[int]bool)
	for _, s := range order {
		in := instruments[s.instrument]
		m.addZero(in, s.name, members[s], observations)
		if l := m.addIndication(in, s.name, members[s], observations); l && !told[s.instrument] {
			told[s.instrument] = true
			m.notes = append(m.notes, Note{Kind: ReachUnknown, Instrument: in.Name})
		}
	}
}

// indication returns the standard uncertainty of a single indication. A limit
// of error is taken as rectangular (JCGM 100:2008, 4.3.7).
func (in Instrument) indication() float64 {
	switch {
	case in.certified() && in.CertK > 0:
		return in.CertU / in.CertK
	case in.certified():
		return in.CertU / 2
	case in.HasError || in.Error > 0:
		return in.Error / math.Sqrt(3)
	}
	return in.Resolution / math.Sqrt(3)
}

// certified tells whether a certificate states the indication's uncertainty.
func (in Instrument) certified() bool { return in.CertU > 0 }

// zero returns the standard uncertainty of the zero of a setting. Where
// nothing is known of it, it is as doubtful as any other place of the scale.
func (in Instrument) zero() float64 {
	if in.HasZero || in.Zero > 0 {
		return in.Zero / math.Sqrt(3)
	}
	return in.indication()
}

func (m *Model) addZero(in Instrument, name string, members []int, observations []Observation) {
	l := line{kind: Zero, name: settingName(in, name), u: in.zero(), dof: math.Inf(1), rectangular: !in.certified() || in.HasZero || in.Zero > 0}
	var p part
	for _, i := range members {
		if !observations[i].Moved {
			p.on = append(p.on, coef{i, sense(observations[i])})
		}
	}
	if len(p.on) > 0 && l.u > 0 {
		l.parts = []part{p}
		m.lines = append(m.lines, l)
	}
}

// addIndication adds the indication errors of one setting and tells whether
// the reach of their likeness had to be known and is not.
func (m *Model) addIndication(in Instrument, name string, members []int, observations []Observation) (unknown bool) {
	reach, known := in.reach()
	if !known {
		reach = math.NaN()
	}
	l := line{kind: Indication, name: settingName(in, name), u: in.indication(), dof: math.Inf(1),
		spaced: true, reach: reach, rectangular: !in.certified()}
	for _, i := range members {
		o := observations[i]
		c := sense(o)
		l.parts = append(l.parts, part{on: []coef{{i, c}}, at: c * o.Value})
		if o.Moved {
			l.parts = append(l.parts, part{on: []coef{{i, -c}}, at: 0})
		}
	}
	if l.u > 0 {
		m.lines = append(m.lines, l)
	}
	return l.u > 0 && len(l.parts) > 1 && !known
}

func settingName(in Instrument, setting string) string {
	if setting == "" {
		return in.Name
	}
	return in.Name + " " + setting
}

// sense is −1 where the instrument's own scale runs against the recorded
// value.
func sense(o Observation) float64 {
	if o.Turned {
		return -1
	}
	return 1
}

func (in Instrument) reach() (float64, bool) {
	if in.Turn > 0 {
		return in.Turn, true
	}
	return Reach(in.Kind, in.Resolution)
}

// Reach returns how far apart on the scale, in mm, two readings must lie for
// their indication errors to be independent: one turn of screw or pointer,
// told from the kind of instrument in words. For a level it is one division,
// for which its resolution stands, in the unit of that; the error of a
// thermometer is one wherever it reads (measure rule 7). ok is false for a kind
// that is not known.
//
// The lengths are common practice: a micrometer's screw of 0.5 mm, a dial of
// 1 mm a turn, a lever indicator of 0.2 mm.
func Reach(kind string, resolution float64) (reach float64, ok bool) {
	words := strings.FieldsFunc(strings.ToLower(kind), func(r rune) bool {
		return r < 'a' || r > 'z'
	})
	has := func(want string) bool {
		for _, w := range words {
			if w == want {
				return true
			}
		}
		return false
	}
	switch {
	case has("micrometer"):
		return 0.5, true
	case has("thermometer"):
		return math.Inf(1), true
	case has("lever"), has("test") && has("indicator"):
		return 0.2, true
	case has("dial"), has("plunger"):
		return 1, true
	case has("level") && resolution > 0:
		return resolution, true
	}
	return 0, false
}
