package engine

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/checks/response"
	"waywright/procedures"
)

// Notices tells what is to be said after the step from one state to the next:
// what was kept, what was settled, what has to be done again.
func Notices(before, after *State, now time.Time) []Notice {
	var out []Notice
	for _, ev := range after.events[len(before.events):] {
		out = append(out, after.kept(before, ev)...)
	}
	out = append(out, voided(before.voids, after)...)
	out = append(out, lapsed(before, after)...)
	out = append(out, redone(before, after)...)
	out = append(out, answered(before, after)...)
	out = append(out, settledGates(before, after)...)
	onceOnly(out)
	if q := after.Next(now); q.Kind == End && before.Next(now).Kind != End {
		out = append(out, Notice{Kind: Ended, Outcome: after.Outcome(), Text: endText(after.Outcome())})
	}
	return out
}

// onceOnly leaves out of a gate's notice that no difference is shown where that
// is said of the correction already, in the same figures.
func onceOnly(all []Notice) {
	for i := range all {
		for _, n := range all {
			if n.Response != nil && all[i].Change.saidOf(n.Response) {
				all[i].Change = nil
			}
		}
	}
}

// saidOf reports whether a correction's effect says already that there is no
// difference.
func (c *Change) saidOf(r *Response) bool {
	return c != nil && !c.Shown && !r.Shown && r.Cannot == "" && r.Finding.Word != response.AsExpected && r.Before == c.From && r.After == c.To
}

func endText(o Outcome) string {
	switch o {
	case Accepted:
		return "Accepted."
	case AsFound:
		return "Recorded as found."
	case Conceded:
		return "Accepted with concessions."
	case Rejected:
		return "Rejected."
	case Discontinued:
		return "Abandoned."
	}
	return "Not decided."
}

// kept reads an event back.
func (s *State) kept(before *State, ev Event) []Notice {
	one := func(name, text string) []Notice { return []Notice{{Kind: Kept, Name: name, Text: text}} }
	switch d := ev.Data.(type) {
	case Answered:
		return s.keptAnswer(before, d)
	case Bound:
		if text := s.keptInstrument(before, ev, d); text != "" {
			return one("instrument."+d.Name, text)
		}
		return nil
	case Sat:
		return s.endedSince(before, ev)
	case Cleared:
		if d.Skipped && d.Reason != "" {
			return one(d.Name, "Not acknowledged: "+skippedText(d)+". A run that skipped it cannot be signed.")
		}
		return nil
	case Waited:
		switch d.How {
		case "over":
			if first, _ := cut(d.Name); s.plan.items[first].(*procedures.Wait).Until != nil {
				return one(d.Name, "The readings agree. The wait is over.")
			}
			return one(d.Name, "The wait is over.")
		case "short":
			return one(d.Name, "Wait cut short: "+d.Reason+". The record says so.")
		}
		return one(d.Name, "Wait kept as "+d.How+".")
	case Chosen:
		return one(d.Gate, s.chosenText(before, d))
	case Reported:
		if d.Moved == nil {
			return one(d.Correction, s.attempts[s.lastAttempt(d.Correction)].doneText(s.begun.Inch))
		}
		a := &s.attempts[s.lastAttempt(d.Correction)]
		m := a.moves[len(a.moves)-1].value
		text := shown(*a.corr.Unit, m, s.begun.Inch)
		if way := a.way(m); way != "" {
			text = shown(*a.corr.Unit, abs(m), s.begun.Inch) + " " + way
		}
		return one(d.Correction+".moved", "Moved "+text+". Kept.")
	case MoveJudged:
		return s.keptMove(d)
	case Unable:
		return one(d.Name, d.Name+": not measured, "+d.Reason+". Kept.")
	case Amended:
		return one(d.Name, s.amendText(ev.N, d))
	case Withdrawn:
		if ev.N != s.Len() {
			return nil // one of several that were one answer
		}
		return one("", s.withdrawnText(d))
	case Disturbed:
		return one("", "Noted: "+d.Reason+".")
	case Found:
		return one("", foundText(d))
	case Noted:
		return one("", d.said())
	case Decided:
		w := "refused"
		if d.Granted {
			w = "granted"
		}
		return one(d.Gate, "Concession "+w+": "+d.Reason+".")
	case Abandoned:
		return one("", "Abandoned: "+strings.TrimRight(d.Reason, ".")+". Nobody goes on with this run; what was done in it stays in its record.")
	case LeftOut:
		return one(d.Gate, s.leftOutText(d))
	case Assumed:
		return one(d.Name, s.assumedText(d))
	case Sealed:
		return one("", "Sealed: the record stays as it is from here on.")
	case Signed:
		return one(d.Role, "Signed by "+d.Name+".")
	}
	return nil
}

func abs(x float64) float64 { return max(x, -x) }

// shown writes a number with its unit, as the run shows it.
func shown(u quantity.Unit, v float64, inch bool) string {
	return quantity.Plain(v, quantity.InRun(u, inch))
}

func (s *State) keptMove(d MoveJudged) []Notice {
	switch d.How {
	case "minus":
		return []Notice{{Kind: SignTurn, Name: d.Correction, Text: "Then it reads reversed. Noted; its signs are turned from here on."}}
	case "plus":
		return []Notice{{Kind: Kept, Name: d.Correction, Text: "Then the needle is right. Noted."}}
	case "nowhere":
		if d.Skipped {
			return nil
		}
		return []Notice{{Kind: Kept, Name: d.Correction, Text: "Then the tip does not touch. Set it, and read again."}}
	case "carry_on":
		if d.Skipped {
			return []Notice{{Kind: Kept, Name: d.Correction, Text: "Nothing was said of it: it goes on as it stands."}}
		}
	case "wrong_way":
		return []Notice{{Kind: Kept, Name: d.Correction, Text: "Typed the wrong way. Turned round."}}
	}
	return nil
}

func (s *State) withdrawnText(d Withdrawn) string {
	for _, ev := range s.events {
		if ev.N != d.Of {
			continue
		}
		switch a := ev.Data.(type) {
		case Amended:
			return "The amendment of " + a.Name + " was taken back: the value before it counts again. Both stay in the record."
		case Noted:
			if a.File != nil {
				return "The file " + a.File.Name + " was taken back. It stays in the journal."
			}
			return "The note was taken back. It stays in the record."
		case LeftOut:
			return "It is not left out any more. Both stay in the record."
		}
	}
	return "The last answer was taken back. It stays in the record."
}

func (s *State) chosenText(before *State, d Chosen) string {
	switch d.Way {
	case string(WayAgain):
		if g, round, ok := before.gateAt(d.Gate); ok && before.judge(g, round).Verdict == checks.NotMeasured {
			return "It is measured again."
		}
		return "Measured again: further takes."
	case string(WayConcession):
		return "A concession is asked for: " + d.Reason + "."
	case string(WayReject):
		return "Given up: " + d.Reason + "."
	}
	return "Chosen: " + s.attempts[s.lastAttempt(d.Way)].title + "."
}

func (s *State) inUnit(name string, t Taken) string {
	q, ok := s.asked(name)
	if !ok {
		return t.Typed
	}
	return inUnitOf(q, t)
}

// inUnitOf writes a kept value in the unit of its question, with as many
// decimals as the instrument shows, or more where more was typed.
func inUnitOf(q Question, t Taken) string {
	u, err := quantity.Lookup(t.Unit)
	if q.Unit == nil || err != nil {
		return t.Typed
	}
	v, same := u.Base(asTyped(t.Value)), u.Name == q.Unit.Name
	n := max(q.Decimals, typedDecimals(t, u, *q.Unit))
	scale := math.Pow10(n)
	switch {
	case same && math.Abs(math.Round(t.Value*scale)/scale-t.Value) > 1e-9*math.Max(1, math.Abs(t.Value)):
		return quantity.Short(v, *q.Unit) // a fraction: half a micrometre must not read as one
	case q.Instrument != nil:
		return quantity.Format(v, *q.Unit, n)
	case same || v == 0:
		return quantity.Short(v, *q.Unit)
	}
	// Six figures are enough beside what was typed.
	x := q.Unit.Of(v)
	scale = math.Pow10(5 - int(math.Floor(math.Log10(math.Abs(x)))))
	return quantity.Plain(q.Unit.Base(math.Round(x*scale)/scale), *q.Unit)
}

// asTyped takes away what changing units has left in the last digits of a value
// in the unit that it was typed in.
func asTyped(x float64) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 12, 64), 64)
	if err != nil {
		return x
	}
	return y
}

// typedDecimals is how many decimals of the shown unit are needed to read back
// what was typed.
func typedDecimals(t Taken, from, to quantity.Unit) int {
	if from.Name != to.Name {
		return 0
	}
	text := t.Typed
	if i := strings.IndexAny(text, ".,"); i >= 0 {
		n := 0
		for _, r := range text[i+1:] {
			if r < '0' || r > '9' {
				break
			}
			n++
		}
		return n
	}
	return 0
}

// keptAnswer reads an answer back with the words it was asked in.
func (s *State) keptAnswer(before *State, d Answered) []Notice {
	q := before.Next(before.timeOfLast())
	label := d.Name
	if q.Name == d.Name && q.Ask != "" {
		label = strings.TrimRight(q.Ask, "?.: ")
		if q.Takes > 1 && len(d.Takes) == 1 {
			label += fmt.Sprintf(", take %d", q.Take)
		}
	}
	switch {
	case q.Kind == AskRelease && q.Name == d.Name:
		return []Notice{{Kind: Kept, Name: d.Name, Text: "Hold point released by " + d.Word + ", as " + strings.ReplaceAll(q.Role.Name, "_", " ") + ". Kept."}}
	case d.File != nil:
		return []Notice{{Kind: Kept, Name: d.Name, Text: label + ": " + d.File.Name + ". Kept." + d.File.said()}}
	case len(d.Takes) == 0 && d.Word == "no":
		return nil // told as a restart
	case q.Kind == AskNudge && d.Word == "minus":
		return []Notice{{Kind: SignTurn, Name: d.Name, Text: label + ": minus. It reads reversed here. Type what the needle shows; the signs are turned."}}
	case len(d.Takes) == 0:
		return []Notice{{Kind: Kept, Name: d.Name, Text: label + ": " + d.Word + ". Kept."}}
	}
	var vs []string
	for _, t := range d.Takes {
		if q.Name == d.Name {
			vs = append(vs, inUnitOf(q, t))
		} else {
			vs = append(vs, s.inUnit(d.Name, t))
		}
	}
	text := label + ": " + strings.Join(vs, ", ")
	if k := d.Takes[0]; q.Name == d.Name && q.Unit != nil && (k.Unit != q.Unit.Name || strings.Contains(k.Typed, "div")) && len(d.Takes) == 1 {
		text += " (typed " + d.Takes[0].Typed + ")"
	}
	if d.Reason != "" {
		text += ". Kept, because " + strings.TrimSuffix(d.Reason, ".")
		return []Notice{{Kind: Kept, Name: d.Name, Text: text + "."}}
	}
	return []Notice{{Kind: Kept, Name: d.Name, Text: text + ". Kept."}}
}

// timeOfLast is the time of the last event.
func (s *State) timeOfLast() time.Time {
	if n := len(s.events); n > 0 {
		return s.events[n-1].Time
	}
	return time.Time{}
}

// voided tells of sets that became void by their closing reading; before is how
// many were.
func voided(before map[string]int, after *State) []Notice {
	if len(after.voids) == 0 {
		return nil
	}
	var out []Notice
	for _, st := range after.plan.proc.Steps {
		for _, it := range st.Items {
			r, ok := it.(*procedures.Reading)
			if !ok || r.Closure == nil {
				continue
			}
			for _, round := range after.rounds(st) {
				key := address(r.Name, round...)
				if after.voids[key] <= before[key] {
					continue
				}
				moved, allowed := after.lastDrift(r, round)
				out = append(out, Notice{Kind: SetVoid, Name: key, Titles: []string{words(st.Title, after.env().in(st, round))},
					Drift: &Drift{Moved: moved, Allowed: allowed, Reading: r, Voids: after.voids[key]},
					Text:  "Something shifted. These readings cannot be used; they are asked again."})
				out = append(out, after.suspectVoid(r, round)...)
			}
		}
	}
	return out
}

// lastDrift is how far the first place of the set that was voided last had
// moved.
func (s *State) lastDrift(r *procedures.Reading, round []string) (moved, allowed float64) {
	places, ok := s.places(r, round)
	if !ok || len(places) == 0 {
		return 0, 0
	}
	f := s.facts[places[0].element(r)]
	var first, last []take
	n := 0
	for _, t := range f.takes {
		n = max(n, t.voidN)
	}
	for _, t := range f.takes {
		switch {
		case t.voidN != n:
		case t.part == going:
			first = append(first, t)
		default:
			last = append(last, t)
		}
	}
	if len(first) == 0 || len(last) == 0 {
		return 0, 0
	}
	return meanOf(last) - meanOf(first), r.Closure.Eval(s.env().in(r.Step, round)).Num
}

// redone tells which steps are worked again, and why. Of a movement that was not
// as asked that is told first, and what it spoilt once it is settled.
func redone(before, after *State) []Notice {
	byWhy := map[string][]string{}
	var order []string
	from, to := before.spoilsTold(), after.spoilsTold()
	for i := min(from, to); i < to; i++ {
		sp := after.spoils[i]
		if !after.touched(sp) || i < len(before.spoils) && after.begunOn(sp.step) {
			continue
		}
		steps := []*procedures.Step{sp.step}
		if strings.HasPrefix(sp.why, "it is good for") { // it is being worked again: that is no news, but what it broke is
			steps = after.brokenSince(before.Len())
		}
		for _, st := range steps {
			if _, ok := byWhy[sp.why]; !ok {
				order = append(order, sp.why)
			}
			byWhy[sp.why] = append(byWhy[sp.why], after.stepTitle(st))
		}
	}
	var out []Notice
	for _, why := range order {
		kind := Spoilt
		if strings.HasPrefix(why, "answered no") {
			kind = Restart
		}
		out = append(out, Notice{Kind: kind, Titles: byWhy[why], Text: "Measure again: " + strings.Join(byWhy[why], "; ") + "."})
	}
	return out
}

// brokenSince returns the steps with readings of which a set was broken after an
// event.
func (s *State) brokenSince(n int) (out []*procedures.Step) {
	for _, st := range s.plan.proc.Steps {
		broken := slices.ContainsFunc(st.Items, func(it procedures.Item) bool {
			r, ok := it.(*procedures.Reading)
			if !ok {
				return false
			}
			return slices.ContainsFunc(s.rounds(st), func(round []string) bool {
				return slices.ContainsFunc(s.elements(r, round), func(id string) bool {
					f := s.facts[id]
					return f != nil && slices.ContainsFunc(f.takes, func(t take) bool { return t.void != "" && t.voidN > n })
				})
			})
		})
		if broken {
			out = append(out, st)
		}
	}
	return out
}

// spoilsTold is how many of the steps worked again are told by now: those that a
// movement spoilt only when nothing more is asked about it.
func (s *State) spoilsTold() int {
	n := len(s.spoils)
	if s.moveOpen < 0 {
		return n
	}
	reported := s.attempts[s.moveOpen].reported
	for n > 0 && reported > 0 && s.spoils[n-1].n >= reported {
		n--
	}
	return n
}

// touched reports whether anything was kept in the working that ended.
func (s *State) touched(sp spoilt) bool {
	for id, f := range s.facts {
		first, _ := cut(id)
		if s.plan.stepOf[first] != sp.step && first != sp.step.Name {
			continue
		}
		for _, t := range f.takes {
			if t.work == sp.work {
				return true
			}
		}
	}
	return false
}

// foundText says what other procedures have found since.
func foundText(d Found) string {
	var runs []string
	for _, a := range d.Accepted {
		if !slices.Contains(runs, a.Run) {
			runs = append(runs, a.Run)
		}
	}
	return "Accepted since: " + strings.Join(runs, ", ") + "."
}
