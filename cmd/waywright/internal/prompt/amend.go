package prompt

import (
	"fmt"
	"math"
	"strings"

	"waywright/checks/quantity"
	"waywright/cmd/waywright/internal/voice"
	"waywright/engine"
)

// mostAmended is how many answers are listed; older ones are amended by name.
const mostAmended = 200

// amendList shows the latest answers, to choose the one to amend.
func (t *talk) amendList() reply {
	var kept []engine.KeptAnswer
	if st := t.s.State(); st != nil {
		kept = st.Amendable(mostAmended)
	}
	if len(kept) == 0 {
		return stays(t, "There is no answer to amend yet.")
	}
	p := page{screen: lines("Which?"), help: amendHelp, pick: func(i int) reply { return t.amendValue(answerLabel(kept, kept[i]), kept[i]) }}
	var labels []string
	odd := oddOneOut(kept)
	for i, k := range kept {
		label := voice.You(answerLabel(kept, k) + ": " + k.Value)
		if i == odd {
			label += ", far from the others"
		}
		labels = append(labels, label)
	}
	return t.choose(p, labels, 0)
}

var amendHelp = lines(
	"An answer that was mistyped or misread is put right here. Both values stay in the record, and what was decided from it is decided again.",
	"What has to be read again is not amended: say what was disturbed, or take the last answer back with  back.")

// answerLabel names an answer as it was asked; the take only where there are
// several.
func answerLabel(kept []engine.KeptAnswer, k engine.KeptAnswer) string {
	several := takenAgain(kept, k)
	label := strings.TrimRight(k.Ask, "?.: ")
	if label == "" {
		label = strings.NewReplacer("_", " ", ".", ", ").Replace(k.Name)
	}
	switch {
	case !several || k.Name == operatorName:
	case k.Moved > 0:
		label += fmt.Sprintf(", movement %d", k.Moved)
	default:
		label += fmt.Sprintf(", take %d", k.Take)
	}
	return label
}

// operatorName is the name under which who is at the machine is amended.
const operatorName = "operator"

// takenAgain tells whether there are several takes at the place of an answer.
func takenAgain(kept []engine.KeptAnswer, k engine.KeptAnswer) bool {
	several := k.Take > 1
	for _, o := range kept {
		several = several || o.Name == k.Name && o.Take > 1
	}
	return several
}

// oddOneOut returns the index of the answer that lies farthest from the
// others of its reading, where that is plain to see, or −1.
func oddOneOut(kept []engine.KeptAnswer) int {
	groups := map[string][]int{}
	values := make([]float64, len(kept))
	for i, k := range kept {
		typed, err := quantity.Parse(k.Value, quantity.Context{Any: true})
		if err != nil || len(typed) != 1 {
			continue
		}
		values[i] = typed[0].Value
		group := k.Name // the takes of a place; of places read once, those of the reading
		if !takenAgain(kept, k) {
			group, _, _ = strings.Cut(k.Name, ".")
		}
		groups[group] = append(groups[group], i)
	}
	best, most := -1, 0.0
	for _, g := range groups {
		if len(g) < 3 {
			continue
		}
		for _, i := range g {
			apart, spread := distance(values, g, i)
			if apart > 3*spread && apart > most {
				best, most = i, apart
			}
		}
	}
	return best
}

// distance tells how far value i lies from the nearest of the others, and how
// far those lie from each other.
func distance(values []float64, group []int, i int) (apart, spread float64) {
	lo, hi := math.Inf(1), math.Inf(-1)
	apart = math.Inf(1)
	for _, k := range group {
		if k == i {
			continue
		}
		lo, hi = math.Min(lo, values[k]), math.Max(hi, values[k])
		apart = math.Min(apart, math.Abs(values[k]-values[i]))
	}
	return apart, hi - lo
}

func (t *talk) amendValue(label string, k engine.KeptAnswer) reply {
	ask := lines(voice.Capital(voice.You(label+": "+k.Value)) + ". It should be?")
	return t.open(page{screen: ask, help: amendHelp, typed: func(value string) reply {
		return t.why("Why?", []string{"mistyped", "misread", "wrong place"}, func(reason string) reply {
			return t.say(engine.Input{Verb: engine.Amend, Name: k.Name, Take: k.Take, Text: value, Reason: reason})
		})
	}})
}

// cannot asks why something cannot be taken, and says what that means before
// it is kept.
func (t *talk) cannot() reply {
	if t.q.Kind != engine.AskReading {
		return stays(t, "Only a reading can be left out so.")
	}
	return t.open(page{
		screen:  lines("Why?"),
		options: []string{"cannot reach it", "no instrument here", "not on this machine", "later today"},
		pick: func(i int) reply {
			switch i {
			case 0:
				return t.why("What is in the way?", nil, func(what string) reply {
					return t.unable("cannot reach it: " + what)
				})
			case 1:
				return t.unable("no instrument here")
			case 2:
				return t.why("What shows that it is not on this machine?", nil, func(what string) reply {
					return t.unable("not on this machine: " + what)
				})
			}
			return t.stopNow()
		},
		typed: func(line string) reply { return t.unable(line) },
	})
}

func (t *talk) unable(reason string) reply {
	what := strings.TrimRight(voice.You(t.q.Ask), "?.: ")
	return t.open(page{
		screen: lines(what+": NOT MEASURED, then. So is every test that needs it.",
			"Page one will say so, and nothing is accepted without a concession."),
		options: []string{"try another way first", "so be it"},
		pick: func(i int) reply {
			if i == 0 {
				return t.again()
			}
			return t.say(engine.Input{Verb: engine.Cannot, Reason: reason})
		},
	})
}

// row shows a profile that was typed as one row as a small picture, with its
// numbers, where the next question does not show it. It is called after the
// answer was kept, with the question before it.
func (t *talk) row(q engine.Question) voice.Screen {
	st := t.s.State()
	if st == nil || q.Stations < 2 || q.Unit == nil {
		return nil
	}
	events := st.Events()
	if len(events) == 0 || t.q.Kind == engine.AskReading && len(t.q.So) > 0 { // the next question shows it
		return nil
	}
	a, ok := events[len(events)-1].Data.(engine.Answered)
	if !ok || a.Name != q.Name || len(a.Takes) < 2 {
		return nil
	}
	so, ok := filled(q, a.Takes)
	if !ok {
		return nil
	}
	q.Take = 0 // every take is there: none is hidden
	q.So = so
	return t.v.Row(q)
}

// filled puts the takes of a row where they belong: one after the other from
// the present place on, so many at each place as are wanted there.
func filled(q engine.Question, takes []engine.Taken) (so []float64, ok bool) {
	so = append(so, q.So...)
	if len(so) == 0 {
		return nil, false
	}
	place, have := (q.Station-1)%len(so), max(q.Take-1, 0)
	var sum float64
	n := 0
	for _, t := range takes {
		u, err := quantity.Lookup(t.Unit)
		if err != nil || place >= len(so) {
			return nil, false
		}
		sum, n, have = sum+u.Base(t.Value), n+1, have+1
		so[place] = sum / float64(n)
		if have >= max(q.Takes, 1) {
			place, have, sum, n = place+1, 0, 0, 0
		}
	}
	return so, true
}
