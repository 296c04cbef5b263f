package engine

import (
	"fmt"
	"slices"
	"strings"

	"waywright/checks/quantity"
	"waywright/checks/uncert"
	"waywright/procedures"
)

// sourced returns a budget with its sources in words: "M-3, scatter of 3 takes
// of headstock-end collar".
func (s *State) sourced(est *estimate, budget []uncert.Line) []uncert.Line {
	out := slices.Clone(budget)
	count := map[string]int{}
	for i, l := range out {
		out[i].Source = s.sourceWords(est, l)
		count[out[i].Source]++
	}
	seen := map[string]int{}
	for i, l := range out { // two zeros, two sets of takes: by their steps, else by number
		if count[l.Source] > 1 {
			if st := s.stepOfInput(est, l.On); st != nil {
				out[i].Source += ", " + lowerFirst(s.stepTitle(st))
			}
		}
		if seen[out[i].Source]++; seen[out[i].Source] > 1 {
			out[i].Source += fmt.Sprintf(" (%d)", seen[out[i].Source])
		}
	}
	return out
}

func (s *State) sourceWords(est *estimate, l uncert.Line) string {
	name := est.instrumentName(s, l.On)
	switch {
	case l.Kind == uncert.Drift:
		return "drift from the first reading to the last"
	case name == "" && l.Kind == uncert.Temperature:
		return "temperature, " + s.inputPlaces(est, l.On)
	case name == "":
		return "taken as given: " + s.inputPlaces(est, l.On)
	}
	switch l.Kind {
	case uncert.Takes:
		return name + ", " + s.scatterWords(est, l.On)
	case uncert.Resolution:
		return name + ", its smallest step"
	case uncert.Zero:
		return name + ", its zero"
	case uncert.Indication:
		return name + ", its own error"
	}
	return name + ", " + l.Kind.String()
}

// scatterWords says which takes scatter.
func (s *State) scatterWords(est *estimate, on []int) string {
	if len(on) == 0 || est.obs[on[0]].Apart {
		return "scatter of takes"
	}
	most := 1
	for _, i := range on {
		most = max(most, len(est.obs[i].Takes))
	}
	what := fmt.Sprintf("scatter of %d takes of ", most)
	if most == 1 {
		what = "scatter of a single take of "
	}
	if len(on) > 1 && (most > 1 || len(on) > 2) {
		what += "each of "
	}
	return what + s.inputPlaces(est, on)
}

// inputPlaces names one or two places, and counts more.
func (s *State) inputPlaces(est *estimate, on []int) string {
	if len(on) > 2 {
		return fmt.Sprintf("%d readings", len(on))
	}
	var names []string
	for _, i := range on {
		if n := s.placeName(est.inputs[i].id); !slices.Contains(names, n) {
			names = append(names, n)
		}
	}
	return strings.Join(names, " and ")
}

// placeName is the place that is asked for first in the question for an
// element: "headstock-end collar" of "Headstock-end collar: diameter".
func (s *State) placeName(id string) string {
	ask := strings.ReplaceAll(id, "_", " ")
	if q, ok := s.asked(id); ok && q.Ask != "" {
		ask = q.Ask
	}
	first, rest, ok := strings.Cut(strings.TrimRight(strings.TrimSpace(ask), "?:."), ":")
	if ok && s.plan.givens[headOf(id)] != nil { // the bar's length and the bar's weight
		first += "," + rest
	}
	return lowerFirst(first)
}

func headOf(id string) string {
	first, _ := cut(id)
	return first
}

// instrumentName is the real instrument that the inputs were read with: its
// number, or what the procedure calls it. It is empty where there is none.
func (est *estimate) instrumentName(s *State, on []int) string {
	if len(on) == 0 || on[0] >= len(est.obs) {
		return ""
	}
	name := est.ins[est.obs[on[0]].Instrument].Name
	if p := s.plan.instruments[name]; p != nil {
		return "the " + strings.ReplaceAll(name, "_", " ")
	}
	return name
}

// stepOfInput is the step in which the first of the inputs was read.
func (s *State) stepOfInput(est *estimate, on []int) *procedures.Step {
	if len(on) == 0 || on[0] >= len(est.inputs) {
		return nil
	}
	if r, ok := s.plan.items[headOf(est.inputs[on[0]].id)].(*procedures.Reading); ok {
		return r.Step
	}
	return nil
}

// unitOfInput is the unit in which the first of the inputs is read, as a
// difference; ok is false where it has none.
func (s *State) unitOfInput(est *estimate, on []int) (u quantity.Unit, ok bool) {
	if len(on) == 0 || on[0] >= len(est.inputs) {
		return quantity.Unit{}, false
	}
	name := headOf(est.inputs[on[0]].id)
	var a *quantity.Unit
	if g := s.plan.givens[name]; g != nil {
		a = g.Unit
	} else if r, is := s.plan.items[name].(*procedures.Reading); is {
		a = r.Unit
	}
	if a == nil {
		return quantity.Unit{}, false
	}
	return quantity.InRun(*a, s.begun.Inch).Difference(), true
}
