package voice

import (
	"strings"
	"time"

	"waywright/engine"
	"waywright/procedures"
)

// Meanwhile says of a wait that went on while nobody was at the machine how far
// it has come. Clear is what has to be clear before it goes on: a spindle that
// has to turn had stopped, and its time begins again.
func (v Voice) Meanwhile(q engine.Question, clear procedures.Spindle, now time.Time) Screen {
	w := q.Wait
	if q.Kind != engine.AskWait || w == nil {
		return nil
	}
	why := ""
	if q.Why != "" {
		why = ": " + strings.TrimRight(You(q.Why), ".")
	}
	left := w.Over.Sub(now)
	switch {
	case clear == procedures.Turning && left > 0:
		return say("The wait begins again" + why + ". The spindle had stopped; it is " + countdown(left) + " from when it turns.")
	case w.Takes > 0 && len(w.Last) >= w.Takes:
		return say("A wait stands open" + why + ". Its readings did not agree.")
	case w.Takes > 0 && left <= 0:
		return say("A wait goes on" + why + ". The next reading is due.")
	case left <= 0:
		return say("A wait is over" + why + ".")
	}
	return say("A wait goes on" + why + ". " + v.Left(w.Over, now))
}
