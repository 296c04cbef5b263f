package prompt

import (
	"strings"

	"waywright/cmd/waywright/internal/voice"
	"waywright/engine"
)

// held are the values of a row that were typed behind an odd one. They are
// added to it once it is there, and are judged then.
type held struct {
	at   asking // the question for the odd one
	rest []string
}

// asking is a question with the place that it asks for.
type asking struct {
	name string
	take int
}

func askingOf(q engine.Question) asking { return asking{q.Name, q.Take} }

// insistInRow does what was chosen about the odd value of a row. The values
// before it are kept one by one, as they were found good; those behind it wait.
func (t *talk) insistInRow(r engine.Refusal, o voice.Option) reply {
	before, rest := r.Row[:r.At-1], r.Row[r.At:]
	switch o.Act {
	case voice.Stays:
		t.held = nil
		return t.again()
	case voice.Retakes:
		return t.inParts(before, nil, rest)
	case voice.Because:
		return t.why(o.Prompt, o.Reasons, func(reason string) reply {
			return t.inParts(before, &engine.Input{Text: o.Word, Reason: reason}, rest)
		})
	}
	return t.inParts(before, &engine.Input{Text: o.Word}, rest)
}

// inParts says the good beginning of a row, one value at a time, then the odd
// one as it is to be kept, where it is; the rest is held for after it.
func (t *talk) inParts(before []string, odd *engine.Input, rest []string) reply {
	t.held = nil
	var log voice.Screen
	for i, text := range before {
		r := t.say(engine.Input{Text: text})
		log = append(log, r.log...)
		if t.page != nil || !r.fresh || t.result != nil { // it is odd by itself: it is asked about, and what follows waits
			t.hold(append(before[i+1:len(before):len(before)], rest...))
			r.log = log
			return r
		}
	}
	t.hold(rest)
	if odd == nil {
		r := t.again()
		r.log = log
		if t.held != nil {
			r.remark = voice.Screen{t.v.Held(t.held.rest)}
		}
		return r
	}
	r := t.say(*odd)
	r.log = append(log, r.log...)
	return r
}

// hold keeps values back until the question that is open now is answered.
func (t *talk) hold(rest []string) {
	if len(rest) > 0 {
		t.held = &held{askingOf(t.q), rest}
	}
}

// release adds the values that were held to the one that was kept at question q;
// ok is false where there are none, or it is not their turn. Values that have no
// place any more are said to be dropped.
func (t *talk) release(q engine.Question, in engine.Input) (r reply, ok bool) {
	h := t.held
	switch {
	case h == nil || askingOf(t.q) == h.at:
		return reply{}, false // it is still to be answered
	case in.Verb == engine.Answer && askingOf(q) == h.at && t.q.Kind == engine.AskReading && t.q.Remaining == len(h.rest):
		t.held = nil
		return t.say(engine.Input{Text: strings.Join(h.rest, " ")}), true
	}
	t.held = nil
	return remark("What was typed behind it is not kept: " + strings.Join(h.rest, " ")), true
}
