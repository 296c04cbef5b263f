package voice

import (
	"strings"
	"time"

	"waywright/checks/quantity"
	"waywright/engine"
)

// wait says how long still, and what ends it.
func (v Voice) wait(q engine.Question, now time.Time, a *Asked) {
	a.Body = v.work(q)
	w := q.Wait
	if w == nil {
		w = &engine.Waiting{}
	}
	if q.Why != "" {
		a.Body = append(a.Body, Line{Text: "WAIT: " + strings.TrimRight(You(q.Why), ".") + "."})
	}
	if w.Reading {
		work := a.Body
		v.value(q, a)
		a.Body = work
		if len(w.Last) > 0 && q.Unit != nil {
			a.Body = append(a.Body, labelled("Read", v.readings(w.Last, q)))
		}
		a.Body = append(a.Body, Line{Text: v.agreement(w, q)})
		a.Ask = append(a.Ask, detail("or type  short  and say why"))
		return
	}
	if w.Takes > 0 {
		if len(w.Last) > 0 && q.Unit != nil {
			a.Body = append(a.Body, labelled("Read", v.readings(w.Last, q)))
		}
		a.Body = append(a.Body, Line{Text: v.agreement(w, q)})
	}
	left := w.Over.Sub(now)
	switch {
	case w.Takes > 0 && len(w.Last) >= w.Takes:
		a.Ask = say("THE READINGS STILL DO NOT AGREE.")
		a.Options = []Option{
			{Label: "stop for today", Act: Leaves},
			{Label: "go on all the same, and say why", Act: Because, Word: "short", Prompt: "Why may it go on?", Reasons: disagreeReasons},
		}
		return
	case w.Over.IsZero() || left <= 0:
		a.Ask = say("THE TIME IS UP.")
		a.Options = []Option{{Label: "go on", Word: "over"}}
		return
	}
	if v.Watched {
		a.Body = append(a.Body, Line{Text: v.bar(now.Sub(w.From), left)})
	}
	a.Ask = say(v.Left(w.Over, now))
	a.Options = []Option{
		{Label: "cut it short, and say why", Act: Because, Word: "short", Prompt: "Why may it be short?", Reasons: shortReasons},
		{Label: "it has passed already, and say how you know", Act: Because, Word: "stated", Prompt: "How do you know?", Reasons: statedReasons},
		{Label: "stop for today", Act: Leaves},
	}
}

// Left says how long a wait still is.
func (v Voice) Left(over, now time.Time) string {
	return countdown(over.Sub(now)) + " left, until " + over.Local().Format("15:04") + "."
}

// bar shows how much of a wait has passed; the words below it say the same.
func (v Voice) bar(passed, left time.Duration) string {
	width := min(v.columns()-2, 40)
	done := int(float64(width) * float64(max(0, passed)) / float64(max(1, passed+left)))
	done = min(max(0, done), width)
	return "[" + strings.Repeat("#", done) + strings.Repeat(".", width-done) + "]"
}

func (v Voice) readings(last []float64, q engine.Question) string {
	out := make([]string, len(last))
	for i, y := range last {
		out[i] = quantity.Number(y, *q.Unit, q.Decimals)
	}
	return strings.Join(out, "  ")
}

func (v Voice) agreement(w *engine.Waiting, q engine.Question) string {
	if q.Unit == nil {
		return ""
	}
	s := "Done when two readings"
	if w.Every > 0 {
		s += ", " + duration(w.Every) + " apart,"
	}
	return s + " agree within " + hold(quantity.Plain(w.Agree, q.Unit.Difference())) + "."
}
