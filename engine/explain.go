package engine

import (
	"math"
	"slices"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures"
	"waywright/procedures/formula"
)

// Explain says what the question is for, how its number is come by and what a
// good one looks like, a line each.
func (s *State) Explain(q Question) []string {
	var out []string
	add := func(label, text string) {
		if strings.TrimSpace(text) != "" {
			out = append(out, label+text)
		}
	}
	add("What for: ", s.purpose(q))
	add("", meaning[q.Kind])
	if q.Kind == AskGrade {
		out = append(out, s.explainGrades()...)
	}
	if in := q.Instrument; in != nil {
		add("With: ", strings.TrimSpace(in.Kind+" "+in.ID)+", "+s.known(in))
	}
	add("Plus means: ", q.Positive)
	add("Angles run: ", q.Turning)
	for _, c := range q.Cautions {
		add("Caution from: ", c.Source)
	}
	if g := q.Gate; g != nil {
		out = append(out, s.explainGate(g)...)
	}
	for _, w := range q.Ways {
		if ad := w.Advice; ad != nil && ad.Correction.Amount != nil {
			add("Amount of "+w.Name+": ", oneLine(ad.Correction.Amount))
		}
	}
	return out
}

// meaning says of questions that are the same in every procedure what their answer
// is for.
var meaning = map[Kind]string{
	AskOperator:   "The name stands in the record beside all that is kept in this sitting. One that was mistyped is put right with amend.",
	AskInstrument: "Its number ties what is read to its calibration. One of the logbook brings its own figures; one without a number counts with those of the procedure.",
	AskClear:      "It is asked in each sitting, and kept: a run in which it was skipped cannot be signed.",
	AskRelease:    "Nothing goes on here before somebody else has looked. The name stands in the record.",
	AskNudge:      "It shows which way is plus, before a reading counts. A needle that reads the other way round is then turned.",
	AskWait:       "It goes on while the program is closed, and may be cut short with a reason.",
	AskSign:       "The first signature seals the record: nothing in it changes after that.",
}

// explainGrades lists what each limit is under each grade.
func (s *State) explainGrades() []string {
	var out []string
	for _, t := range s.plan.proc.Tables {
		for _, r := range t.Rows {
			if !s.plan.usesRow(t.Name + "." + r.Name) {
				continue
			}
			var values []string
			for _, g := range t.Grades {
				if v, ok := r.Values[g]; ok {
					values = append(values, g+" "+quantity.Plain(v.Num, quantity.InRun(r.Unit, s.begun.Inch)))
				}
			}
			out = append(out, r.Title+": "+strings.Join(values, ", "), "  from "+r.Source)
		}
	}
	return out
}

// usesRow reports whether a gate's limit or a result is made from a row of a
// table.
func (pl *Plan) usesRow(name string) bool {
	for _, it := range pl.items {
		var programs []*formula.Program
		switch it := it.(type) {
		case *procedures.Gate:
			programs = gatePrograms(it)
		case *procedures.Result:
			programs = []*formula.Program{it.Value}
		}
		for _, p := range programs {
			if p != nil && slices.Contains(p.Refs(), formula.Ref{Space: formula.Table, Name: name}) {
				return true
			}
		}
	}
	return false
}

func (s *State) explainGate(g *Judgement) []string {
	var out []string
	if g.Gate.Of != nil {
		out = append(out, "Judged: "+oneLine(g.Gate.Of))
	}
	_, _, results := s.plan.inputs(gatePrograms(g.Gate)...)
	for _, name := range results {
		if res, ok := s.plan.items[name].(*procedures.Result); ok {
			out = append(out, s.working(res, g.Keys)...)
		}
	}
	for _, lim := range []*formula.Program{g.Gate.Within, g.Gate.AtMost, g.Gate.AtLeast, g.Gate.Holds} {
		if lim != nil {
			out = append(out, "Limit: "+oneLine(lim))
		}
	}
	if g.Source != "" {
		out = append(out, "Limit from: "+g.Source)
	}
	return append(out, "Rule: "+g.Rule.String())
}

// known says in words how well an instrument shows what it reads.
func (s *State) known(in *InHand) string {
	p := s.plan.instruments[in.Name]
	if p == nil {
		return "nothing is stated of it"
	}
	u := s.instrument(p)
	parts := []string{"reads " + quantity.Short(u.Resolution, in.Unit)}
	if u.HasError {
		parts = append(parts, "right to "+quantity.Plain(tidy(u.Error), in.Unit))
	}
	if u.Repeatability > 0 {
		parts = append(parts, "good takes lie within "+quantity.Short(3*u.Repeatability, in.Unit))
	}
	return strings.Join(parts, ", ")
}

// purpose names what a given or a reading is used for: the results, gates and
// corrections that stand on it.
func (s *State) purpose(q Question) string {
	first, _ := cut(q.Name)
	if q.Kind != AskGiven && q.Kind != AskReading {
		return ""
	}
	var uses []string
	note := func(title string, programs ...*formula.Program) {
		for _, p := range programs {
			if p != nil && usesName(p, first) {
				uses = append(uses, lowerFirst(title))
				return
			}
		}
	}
	for _, st := range s.plan.proc.Steps {
		for _, it := range st.Items {
			switch it := it.(type) {
			case *procedures.Result:
				note(words(it.Title, s.env().in(st, nil)), it.Value)
			case *procedures.Gate:
				note("the limit of "+lowerFirst(words(it.Title, s.env().in(st, nil))), gatePrograms(it)...)
			}
		}
	}
	for _, c := range s.plan.proc.Corrections {
		note("the amount of “"+words(c.Title, s.env())+"”", c.Amount)
	}
	if len(uses) == 0 {
		return "it stands in the record"
	}
	return strings.Join(uses, "; ")
}

func usesName(p *formula.Program, name string) bool {
	for _, r := range p.Refs() {
		if r.Name == name && (r.Space == formula.Given || r.Space == formula.Reading) {
			return true
		}
	}
	return false
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

func oneLine(p *formula.Program) string { return strings.Join(strings.Fields(p.Source()), " ") }

// working shows a result's formula with the values of its inputs.
func (s *State) working(res *procedures.Result, round []string) []string {
	if len(res.Step.Each) != len(round) {
		round = nil
		if len(res.Step.Each) > 0 {
			return []string{res.Name + " = " + res.Value.Source()}
		}
	}
	e := s.env().in(res.Step, round)
	line := res.Name + " = " + strings.Join(strings.Fields(res.Value.Source()), " ")
	var parts []string
	for _, r := range res.Value.Used(e) {
		v := e.Value(r).Mean()
		if v.State != value.Present || v.Kind != value.Number || math.IsNaN(v.Num) {
			continue
		}
		t, _ := res.Value.RefType(r)
		parts = append(parts, r.String()+" "+plain(v.Num, t))
	}
	out := []string{line}
	if len(parts) > 0 {
		out = append(out, "  with "+strings.Join(parts, ", "))
	}
	return out
}

func plain(v float64, t value.Type) string {
	return quantity.Plain(v, t.Dim.Default())
}
