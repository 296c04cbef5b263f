package prompt

import (
	"fmt"
	"strings"

	"waywright/cmd/waywright/internal/voice"
	"waywright/engine"
)

// leftOut are the tests that can still be left out by agreement: none once
// somebody has sat down.
func (t *talk) leftOut() []engine.Choice {
	if st := t.s.State(); st != nil && t.q.Kind == engine.AskOperator {
		return st.LeavesOut()
	}
	return nil
}

// leaveOut asks which test is left out by agreement, with whom, and why.
func (t *talk) leaveOut() reply {
	tests := t.leftOut()
	if len(tests) == 0 {
		return stays(t, "A test is left out before the work begins, or not at all.")
	}
	p := page{screen: lines("Which test is not measured, by an agreement made beforehand?"), help: leaveOutHelp}
	var titles []string
	for _, c := range tests {
		titles = append(titles, voice.You(c.Label))
	}
	p.pick = func(i int) reply {
		return t.open(page{screen: lines("Who agreed to it, by name?"), help: leaveOutHelp, typed: func(name string) reply {
			if !named(name) {
				return remark("I read " + name + ". That is not a name.")
			}
			return t.why("Why is it left out?", nil, func(reason string) reply {
				return t.say(engine.Input{Verb: engine.Exclude, Name: tests[i].Word, Text: name, Reason: reason})
			})
		}})
	}
	p.typed = func(line string) reply {
		for i, c := range tests {
			if strings.EqualFold(c.Word, line) || strings.EqualFold(titles[i], line) {
				return p.pick(i)
			}
		}
		return remark(fmt.Sprintf("I read %q. Type one of the numbers, or the test's name; * goes back.", line))
	}
	return t.choose(p, titles, 0)
}

var leaveOutHelp = lines(
	"A test that is left out is not measured, and the record says which, with whom it was agreed, and why.",
	"What is read for it alone is not asked. It can be said before the work begins only: what cannot be measured later is NOT MEASURED.")

// abandon asks why a run is closed for good.
func (t *talk) abandon() reply {
	return t.why("This closes the run for good: nobody can go on with it. Why?", voice.AbandonReasons, func(reason string) reply {
		return t.say(engine.Input{Verb: engine.Abandon, Reason: reason})
	})
}
