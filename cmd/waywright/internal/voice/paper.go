package voice

import (
	"strings"

	"waywright/engine"
	"waywright/procedures"
)

// onPaper turns a question into one about what stands on a work sheet: the
// number of its field first, nothing of what was to be done then, and of waits
// and cautions what was ticked there.
func (v Voice) onPaper(q engine.Question, a Asked) Asked {
	switch q.Kind {
	case engine.AskClear:
		a.Body = nil
		a.Ask = say(question(ticked(q) + ": is it ticked"))
		a.Options = []Option{{Label: "ticked", Word: "yes"},
			{Label: "not ticked, and say why", Act: Because, Word: "skip", Prompt: "Why not?", Reasons: untickedReasons}}
	case engine.AskWait:
		v.waited(q, &a)
	case engine.AskConfirm:
		a.Body = nil
		if strings.HasSuffix(q.Name, ".in_time") {
			a.Options = []Option{{Label: "yes", Word: "yes"}, {Label: "no, and say why", Act: Because, Word: "no", Prompt: "Why?", Reasons: lateReasons}}
		}
	case engine.AskDone, engine.AskNudge, engine.AskInstrument, engine.AskRelease:
		if len(q.Ways) == 0 {
			a.Body = nil
		}
	case engine.AskGiven, engine.AskReading, engine.AskGrade:
		a.Body = v.Row(q)
	case engine.AskSheet:
		v.sheet(q, &a)
	default: // at a gate, or of a movement: as at the machine
		return a
	}
	if q.Stations > 1 && len(a.Ask) > 1 {
		a.Ask = a.Ask[1:] // the number says which place it is
	}
	if q.Field != "" && len(a.Ask) > 0 {
		a.Ask = append(Screen(nil), a.Ask...)
		a.Ask[0].Text = q.Field + "  " + a.Ask[0].Text
		a.Ask[0].Hang = len(q.Field) + 2
	}
	a.Head = withoutSpindle(a.Head)
	return a
}

// withoutSpindle leaves out what the spindle does: nobody stands at it.
func withoutSpindle(head Screen) Screen {
	var out Screen
	for _, l := range head {
		if l.Text != spindle(procedures.Stopped) && l.Text != spindle(procedures.Turning) {
			out = append(out, l)
		}
	}
	return out
}

// ticked is what a box stands for.
func ticked(q engine.Question) string {
	switch q.SpindleTo {
	case procedures.Turning:
		return "All clear, the spindle will turn"
	case procedures.Stopped:
		return "All so, spindle at rest"
	}
	return "All clear"
}

// waited asks whether a wait was kept. The clock was not there.
func (v Voice) waited(q engine.Question, a *Asked) {
	w := q.Wait
	why := strings.TrimRight(You(q.Why), ".")
	if w.Takes > 0 {
		if w.Reading {
			a.Body = say("WAIT: " + why + ".")
			if len(w.Last) > 0 && q.Unit != nil {
				a.Body = append(a.Body, labelled("Read", v.readings(w.Last, q)))
			}
		}
		return
	}
	a.Body = say("WAIT: " + why + ".")
	asked := "Was it waited for"
	if d := w.Over.Sub(w.Since); !w.Over.IsZero() && d > 0 {
		asked = "At least " + engine.Period(d) + ": was it so"
	}
	a.Ask = say(question(asked))
	a.Options = []Option{{Label: "yes", Word: "yes"}, {Label: "no, and say why", Act: Because, Word: "no", Prompt: "Why?", Reasons: shortReasons}}
}

// sheet asks for what stands at the head of a sheet, and at a gate whether it
// goes on.
func (v Voice) sheet(q engine.Question, a *Asked) {
	if q.Gate != nil {
		a.Body = append(v.Judged(*q.Gate), Line{})
		a.Ask, a.Options = say(question(q.Ask)), nil
		for _, c := range q.Choices {
			a.Options = append(a.Options, Option{Label: c.Label, Word: c.Word})
		}
		return
	}
	a.Head = v.title()
	a.Ask = say(question(q.Ask))
	a.Value = true
	switch {
	case strings.HasSuffix(q.Name, ".day"):
		a.Ask = append(a.Ask, detail("as 2026-03-02 or 2.3.2026; today, yesterday"))
	case q.Optional:
		a.Ask = append(a.Ask, detail("-  none"))
	}
}

// Common reasons, to be chosen by number.
var (
	untickedReasons = []string{"forgotten on the sheet, it was so", "nobody asked"}
	lateReasons     = []string{"the work took longer", "it was interrupted"}
)
