package voice

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"waywright/checks"
	"waywright/engine"
	"waywright/report"
)

// concession puts a gate that somebody asked to be let through.
func (v Voice) concession(q engine.Question, a *Asked) {
	role := ""
	if q.Role != nil {
		role = strings.ToUpper(name(q.Role.Name))
	}
	a.Head = say("The " + role + " decides.")
	if q.Gate != nil {
		a.Body = v.Judged(*q.Gate)
		if c := q.Gate.Conceded; c != nil && c.Reason != "" {
			a.Body = append(a.Body, Line{Text: "Asked for by " + orNobody(c.By) + ": " + Sentence(You(c.Reason))})
		}
	}
	a.Ask = say("Concession for this one?")
	a.Options = []Option{
		{Label: "refuse, and say why", Act: Because, Word: "refuse", Prompt: "Reason?", Reasons: refuseReasons},
		{Label: "grant, and say why", Act: Because, Word: "grant", Prompt: "Reason?", Reasons: grantedReasons},
	}
}

// decider asks who decides, before the first concession.
func (v Voice) decider(q engine.Question, a *Asked) {
	role := "inspector"
	if q.Role != nil {
		role = name(q.Role.Name)
	}
	a.Head = say("A concession was asked for. The " + strings.ToUpper(role) + " decides, before anybody signs.")
	if q.Role != nil && q.Role.OtherThan != nil {
		a.Head = append(a.Head, Line{Text: "That must be another person than the " + name(q.Role.OtherThan.Name) + "."})
	}
	a.Ask = say("Who decides, as " + role + "?")
	a.Value = true
}

func orNobody(s string) string {
	if s == "" {
		return "nobody named"
	}
	return s
}

// sign asks for a signature by name.
func (v Voice) sign(q engine.Question, a *Asked) {
	role, other := "", ""
	if q.Role != nil {
		role = strings.ToUpper(name(q.Role.Name))
		if q.Role.OtherThan != nil {
			other = name(q.Role.OtherThan.Name)
		}
	}
	a.Head = say("You sign as " + role + ".")
	if other != "" {
		a.Head = say("You sign as " + role + ". You must be another person than the " + other + ".")
	}
	if len(q.Open) > 0 {
		a.Body = say("It cannot be signed yet:")
		for _, o := range q.Open {
			a.Body = append(a.Body, detail(You(o)))
		}
		if q.Why != "" {
			a.Body = append(a.Body, Line{Text: q.Why})
		}
	}
	if len(q.Open) == 0 && q.Role != nil {
		a.Body = append(a.Body, detail("By a key instead: pause, then  waywright sign"))
	}
	a.Ask = say(Sentence(You(q.Ask)))
	if q.Ask == "" {
		a.Ask = say("Your name?")
	}
	a.Value = true
}

// SignNow is the last question before a signature. The outcome is told where
// this is the last one that is wanted; otherwise it is empty.
func (v Voice) SignNow(who string, o engine.Outcome, js []engine.Judgement) Screen {
	s := v.Short(js)
	if o != "" {
		s = append(s, Line{Text: outcomeWords(o, js) + ", when " + who + " signs."})
	} else {
		s = append(s, Line{Text: who + " signs for what was done and read."})
	}
	return append(s, signInFull)
}

var signInFull = Line{Text: "Type  sign  in full. Anything else leaves it open."}

// SignAmong is the last question before a signature after which others sign: o
// is the outcome once all have. The first one seals the record.
func (v Voice) SignAmong(who string, o engine.Outcome, first bool, js []engine.Judgement) Screen {
	s := append(v.Short(js), Line{Text: who + " signs: " + outcomeWords(o, js) + ", once every role has signed."})
	if first {
		s = append(s, Line{Text: "It seals the record: nothing in it changes after that."})
	}
	return append(s, signInFull)
}

func outcomeWords(o engine.Outcome, js []engine.Judgement) string {
	n := 0
	for _, j := range js {
		if j.Conceded != nil && j.Conceded.Granted {
			n++
		}
	}
	switch {
	case o == engine.Rejected:
		return "REJECTED"
	case o == engine.AsFound:
		return "RECORDED AS FOUND"
	case n > 0:
		return fmt.Sprintf("ACCEPTED WITH %d %s", n, plural(n, "CONCESSION"))
	}
	return "ACCEPTED"
}

func plural(n int, word string) string {
	if n == 1 {
		return word
	}
	return word + "S"
}

// Short lists what is not as the limits ask.
func (v Voice) Short(js []engine.Judgement) Screen {
	var s Screen
	for _, j := range js {
		if j.Verdict != checks.Pass && j.Verdict != checks.NotApplied {
			word := report.VerdictWord(j.Verdict)
			if noted(j) {
				word += ", noted"
			}
			s = append(s, detail(strings.ToLower(word)+"  "+lowerFirst(You(j.Title))))
		}
	}
	for _, j := range js {
		if x := j.LeftOut; x != nil {
			s = append(s, detail("left out by agreement with "+x.Agreed+"  "+lowerFirst(You(j.Title))))
		}
	}
	if len(s) > 0 {
		s = append(say("Read before you sign:"), s...)
	}
	return s
}

// Ended says how a run ended: how many passed, what did not, and what is
// next.
func (v Voice) Ended(o engine.Outcome, js []engine.Judgement) Screen {
	titles := map[checks.Verdict][]string{}
	var found []string
	for _, j := range js {
		if noted(j) && j.Verdict != checks.NotApplied {
			if j.Verdict != checks.Pass {
				found = append(found, lowerFirst(You(j.Title)))
			}
			continue
		}
		titles[j.Verdict] = append(titles[j.Verdict], lowerFirst(You(j.Title)))
	}
	s := append(Screen{{}}, Line{Text: v.endTitle(o), Hang: 2})
	s = append(s, detail(number(len(titles[checks.Pass]))+" PASS"))
	var none []string
	for _, verdict := range []checks.Verdict{checks.Fail, checks.Undecided, checks.NotMeasured} {
		t := titles[verdict]
		if len(t) == 0 {
			none = append(none, "0 "+report.VerdictWord(verdict))
			continue
		}
		s = append(s, Line{Text: fmt.Sprintf(" %d %s: %s", len(t), report.VerdictWord(verdict), list(t)), Hang: 3})
	}
	if len(none) > 0 {
		s = append(s, Line{Text: " " + strings.Join(none, ", "), Hang: 3})
	}
	if o == engine.AsFound {
		s = s[:2] // the title; nothing else was agreed
	}
	if n := slices.IndexFunc(js, noted); n >= 0 {
		out := "none is out of its limits"
		if len(found) > 0 {
			out = fmt.Sprintf("%d not as the limits ask: %s", len(found), list(found))
		}
		s = append(s, Line{Text: " Noted as found: " + out, Hang: 3})
	}
	var left []string
	for _, j := range js {
		if j.LeftOut != nil {
			left = append(left, lowerFirst(You(j.Title)))
		}
	}
	if len(left) > 0 {
		s = append(s, Line{Text: fmt.Sprintf(" %d left out by agreement: %s", len(left), list(left)), Hang: 3})
	}
	return append(s, v.conceded(js)...)
}

// noted tells whether a gate is judged for the record alone.
func noted(j engine.Judgement) bool { return j.Gate != nil && j.Gate.Noted() }

func (v Voice) endTitle(o engine.Outcome) string {
	what := strings.Join(nonEmpty(v.Title, v.Machine), ", ") + "."
	switch o {
	case engine.Accepted:
		return "ACCEPTED. " + what
	case engine.AsFound:
		return "RECORDED AS FOUND. " + what
	case engine.Conceded:
		return "ACCEPTED WITH CONCESSIONS. " + what
	case engine.Rejected:
		return "REJECTED. " + what
	case engine.Discontinued:
		return "ABANDONED. " + what
	}
	return "ALL SETTLED. " + what
}

func (v Voice) conceded(js []engine.Judgement) Screen {
	var s Screen
	open := 0
	for _, j := range js {
		switch c := j.Conceded; {
		case c == nil:
		case !c.Decided:
			open++
		case c.Granted:
			s = append(s, Line{Text: "Conceded: " + lowerFirst(You(j.Title)) + ". " + Sentence(c.Because)})
		default:
			s = append(s, Line{Text: "Concession refused: " + lowerFirst(You(j.Title)) + ". " + Sentence(c.Because)})
		}
	}
	if open > 0 {
		s = append(s, Line{Text: "Not accepted yet: " + times(open, "concession is", "concessions are") + " to be decided."})
	}
	return s
}

// AskedNext says at the end of the answers what the run asks next.
func (v Voice) AskedNext(q engine.Question) Screen {
	s := say("The answers end here. Asked next: " + q.Name + ".")
	switch {
	case q.Kind == engine.Blocked:
		return append(s, Line{Text: Sentence(You(q.Why))})
	case q.Ask != "":
		return append(s, detail(You(q.Ask)))
	}
	return s
}

// Paused says that nothing is lost.
func (v Voice) Paused() Screen {
	return say("Stopped. Everything that was read back as kept is kept.")
}

// Back is the first line of a sitting after a break: "Back after 9 days."
func (v Voice) Back(since time.Duration) string {
	what := strings.Join(nonEmpty(v.Title, v.Machine), ", ") + "."
	if since < time.Hour {
		return "Back. " + what
	}
	return "Back after " + duration(since) + ". " + what
}

// Menu is what * offers, by number.
func (v Voice) Menu() []string {
	out := []string{
		"explain this", "amend an answer", "cannot take it", "say it again",
		"other instrument", "note or photograph", "larger letters", "stop for today",
	}
	if v.Large {
		out[6] = "smaller letters"
	}
	return out
}

// MenuScreen lays the menu out in two columns where they fit.
func (v Voice) MenuScreen(items []string) (s Screen) {
	defer func() { s = append(s, Line{Text: " *  back to the question"}) }()
	entry := func(i int) string { return fmt.Sprintf(" %d  %s", i+1, items[i]) }
	half := (len(items) + 1) / 2
	if v.Large || v.columns() < 50 {
		for i := range items {
			s = append(s, Line{Text: entry(i), Hang: 4})
		}
		return s
	}
	for i := range half {
		row := entry(i)
		if i+half < len(items) {
			row = fmt.Sprintf("%-26s%s", row, entry(i+half))
		}
		s = append(s, Line{Text: row})
	}
	return s
}
