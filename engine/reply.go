package engine

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"waywright/checks/quantity"
)

// Reply judges what a person says at the time now and returns the events to
// keep, or a refusal. It changes nothing.
func (s *State) Reply(now time.Time, in Input) ([]Data, *Refusal) {
	q := s.Next(now)
	if r := s.sealedAgainst(in); r != nil {
		return nil, r
	}
	if q.Kind == End {
		return nil, refuse("done", "", "Nothing more is asked.", "The run is closed. What is to be done again is a new run.")
	}
	switch in.Verb {
	case Back:
		return s.back(now)
	case Amend:
		return s.amend(in)
	case Note, Attach:
		if strings.TrimSpace(in.Text) == "" && in.File == nil {
			return nil, refuse("value", "", "There is nothing to keep.", "Type the remark after the word note.")
		}
		d, ref := noted(q.Name, in)
		if ref != nil {
			return nil, ref
		}
		return []Data{d}, nil
	case Pause:
		switch {
		case !s.seated && s.seal != nil:
			return nil, nil // only signatures are open, and nobody sat down for them
		case !s.seated:
			return nil, refuse("verb", "", "Nobody is at the machine yet.", "There is nothing to stop.")
		}
		return []Data{Paused{Reason: in.Reason}}, nil
	case Disturb:
		return s.disturb(in)
	case Abandon:
		return s.Abandon(in.Reason, "")
	case Exclude:
		return s.exclude(in)
	}
	if in.Verb == Answer && in.Name != q.Name && s.inUse(in.Name) {
		return s.answerInstrument(now, in.Name, in)
	}
	if in.Verb != Omit && in.Name != "" && in.Name != q.Name && !slices.Contains(q.Also, in.Name) {
		return nil, refuse("name", fmt.Sprintf("This answers %s.", in.Name), fmt.Sprintf("Now %s is asked.", q.Name), "Answer "+q.Name+" first.")
	}
	switch in.Verb {
	case Cannot:
		return s.cannotTake(q, in)
	case Omit:
		return s.omit(q)
	}
	return s.answer(now, q, in)
}

func refuse(code, understood, wrong, mend string) *Refusal {
	return &Refusal{Code: code, Understood: understood, Wrong: wrong, Mend: mend}
}

func (s *State) answer(now time.Time, q Question, in Input) ([]Data, *Refusal) {
	in.Text = strings.TrimSpace(in.Text)
	if in.Text == "" && (in.File == nil || !q.File) {
		return nil, refuse("value", "I read nothing.", "Enter alone answers nothing.", s.wanted(q))
	}
	switch q.Kind {
	case AskOperator:
		return []Data{Sat{Operator: in.Text}}, nil
	case AskSheet:
		return s.answerSheet(now, q, in)
	case AskGrade, AskNudge:
		return s.answerWord(q, in)
	case AskGiven, AskReading:
		return s.answerValue(q, in)
	case AskInstrument:
		return s.answerInstrument(now, q.Name, in)
	case AskClear:
		return s.answerClear(q, in)
	case AskRelease:
		return s.answerRelease(q, in)
	case AskDone:
		if len(q.Ways) > 0 && q.Ways[0].Advice.Tells {
			return s.answerDone(q, in)
		}
		return s.answerYes(q, in)
	case AskConfirm:
		return s.answerYes(q, in)
	case AskWait:
		return s.answerWait(now, q, in)
	case AskWay:
		return s.answerWay(now, q, in)
	case AskMoved:
		return s.answerMoved(q, s.toMove(q), in)
	case AskMove:
		return s.answerMove(q, in)
	case AskDecider:
		return s.answerDecider(q, in)
	case AskConcession:
		return s.answerConcession(q, in)
	case AskSign:
		return s.answerSign(q, in)
	case Blocked:
		return nil, refuse("done", "", q.Why, "Stop here and come back when it is there.")
	}
	return nil, refuse("done", "", "Nothing is asked that could be answered.", "")
}

// wanted says in words what may be answered.
func (s *State) wanted(q Question) string {
	switch {
	case q.Kind == AskWait && !q.Wait.Reading:
		return "Type over when the time has passed, or cut it short with a reason."
	case len(q.Choices) > 0 && q.Unit == nil:
		return "Answer " + list(q.Choices) + "."
	case q.Unit != nil:
		return "Type a number in " + q.Unit.Spoken() + "."
	case q.Kind == AskConfirm || q.Kind == AskDone || q.Kind == AskClear:
		return "Answer yes or no."
	case q.Count:
		return "Type a whole number."
	}
	return "Type it in words."
}

func list(cs []Choice) string {
	w := make([]string, len(cs))
	for i, c := range cs {
		w[i] = c.Word
	}
	if len(w) < 2 {
		return strings.Join(w, "")
	}
	return strings.Join(w[:len(w)-1], ", ") + " or " + w[len(w)-1]
}

// pick finds the choice that was typed: whole, or by a beginning that only
// one of them has.
func pick(text string, cs []Choice) (string, bool) {
	t := strings.ToLower(text)
	found := ""
	for _, c := range cs {
		w := strings.ToLower(c.Word)
		if w == t || strings.ReplaceAll(w, "_", " ") == t {
			return c.Word, true
		}
		if strings.HasPrefix(w, t) {
			if found != "" && found != c.Word {
				return "", false
			}
			found = c.Word
		}
	}
	return found, found != ""
}

func (s *State) answerWord(q Question, in Input) ([]Data, *Refusal) {
	w, ok := pick(in.Text, q.Choices)
	if !ok {
		return nil, refuse("choice", fmt.Sprintf("I read %q.", in.Text), "That is not one of the choices.", s.wanted(q))
	}
	if w == "nowhere" {
		return nil, refuse("choice", "I read nowhere.", "The needle does not answer the push: it reads nothing as it stands.",
			"See that the tip touches and has travel both ways, then push again.")
	}
	return []Data{Answered{Name: q.Name, Word: w}}, nil
}

func yes(text string) (yes, ok bool) {
	switch strings.ToLower(text) {
	case "yes", "y", "true", "done", "ok":
		return true, true
	case "no", "n", "false", "not yet":
		return false, true
	}
	return false, false
}

func (s *State) answerYes(q Question, in Input) ([]Data, *Refusal) {
	y, ok := yes(in.Text)
	switch {
	case !ok:
		return nil, refuse("choice", fmt.Sprintf("I read %q.", in.Text), "It is a question of yes or no.", s.wanted(q))
	case q.Kind == AskDone && !y:
		return nil, refuse("done", "Not done yet.", "Nothing was kept.", "Take your time. Say yes when it is done, or pause.")
	case q.Kind == AskDone && len(q.Ways) > 0:
		return []Data{Reported{Correction: q.Name}}, nil
	}
	word := "no"
	switch {
	case y:
		word = "yes"
	case s.plan.steps[nameIn(q.Name)] != nil && in.Reason == "":
		return nil, reasonWanted("What was not read in time")
	}
	return []Data{Answered{Name: q.Name, Word: word, Reason: in.Reason}}, nil
}

func (s *State) answerClear(q Question, in Input) ([]Data, *Refusal) {
	y, ok := yes(in.Text)
	if !ok && strings.EqualFold(in.Text, "all clear") {
		y, ok = true, true
	}
	skip := strings.EqualFold(in.Text, "skip") || strings.EqualFold(in.Text, "skipped")
	switch {
	case skip && in.Reason == "":
		return nil, reasonWanted("Skipping what has to be clear first")
	case skip:
		c := cleared(q)
		c.Skipped, c.Reason = true, in.Reason
		return []Data{c}, nil
	case !ok:
		return nil, refuse("choice", fmt.Sprintf("I read %q.", in.Text), "It is a question of yes or no.", "Answer yes when all is clear.")
	case !y:
		return nil, refuse("done", "Not yet.", "Nothing goes on until all is clear.", "Answer yes when it is, or pause.")
	}
	return []Data{cleared(q)}, nil
}

func cleared(q Question) Cleared {
	c := Cleared{Name: q.Name, Spindle: q.SpindleTo.String()}
	for _, t := range q.Cautions {
		c.Cautions = append(c.Cautions, t.Name)
	}
	return c
}

// inUse reports whether a question's name is that of an instrument which was
// named already. Another one may be taken up at any time.
func (s *State) inUse(name string) bool {
	in, ok := strings.CutPrefix(name, "instrument.")
	_, bound := s.bound[in]
	return ok && bound && s.seated
}

// omit keeps what it means that an answers file left an optional question
// out.
func (s *State) omit(q Question) ([]Data, *Refusal) {
	if !q.Optional {
		return nil, refuse("name", "", fmt.Sprintf("%s must be answered.", q.Name), s.wanted(q))
	}
	switch q.Kind {
	case AskOperator:
		return []Data{Sat{Operator: NotNamed}}, nil
	case AskInstrument:
		return []Data{Bound{Name: strings.TrimPrefix(q.Name, "instrument."), Skipped: true}}, nil
	case AskClear:
		c := cleared(q)
		c.Skipped = true
		return []Data{c}, nil
	case AskWait:
		return []Data{Waited{Name: q.Name, How: "skipped", Reason: "nothing was said of it"}}, nil
	case AskSheet:
		return []Data{FromSheet{Temperature: noTemperature}}, nil
	case AskMove:
		return []Data{MoveJudged{Correction: q.Move.Correction.Name, How: "carry_on", Skipped: true}}, nil
	}
	return nil, refuse("name", "", fmt.Sprintf("%s must be answered.", q.Name), s.wanted(q))
}

// base returns the number in base units.
func (t Taken) base() float64 {
	u, err := quantity.Lookup(t.Unit)
	if err != nil {
		return math.NaN()
	}
	return u.Base(t.Value)
}

func reasonWanted(what string) *Refusal {
	return refuse("reason", "", what+" wants a reason, which the record keeps.", "Say the same again with because and the reason.")
}

// back takes back what was said last, a note too: not past the start of the
// sitting, nor past a reported correction, a hold point, a concession or a
// signature.
func (s *State) back(time.Time) ([]Data, *Refusal) {
	for _, ev := range slices.Backward(s.events) {
		if s.gone[ev.N] != 0 {
			continue
		}
		switch d := ev.Data.(type) {
		case Withdrawn:
			continue
		case LeftOut: // nobody has sat down yet
		case Begun, Sat, Paused, Found, Assumed, Superseding, Issued:
			return nil, refuse("verb", "", "There is no answer of this sitting to take back.", "Use amend to correct an earlier one, or the name of who is at the machine.")
		case Reported, Decided, Sealed, Signed, Disturbed:
			return nil, refuse("verb", "", "The last answer cannot be taken back: work was done on it.", "Use amend to correct a typing mistake.")
		case Answered:
			if strings.HasSuffix(d.Name, ".release") {
				return nil, refuse("verb", "", "A hold point was released; that is not taken back.", "Use amend for what was typed before it.")
			}
		case Chosen:
			if d.Way == string(WayConcession) || d.Way == string(WayReject) {
				return nil, refuse("verb", "", "A concession or rejection is not taken back.", "It lapses when what it rests on is read again.")
			}
		}
		return append([]Data{Withdrawn{Of: ev.N}}, s.saidWith(ev)...), nil
	}
	return nil, refuse("verb", "", "There is nothing to take back.", "Answer the question.")
}

// saidWith takes back what one answer brought about besides ev: the reading
// that ended a wait, the choice that came with its cautions.
func (s *State) saidWith(ev Event) []Data {
	for _, o := range slices.Backward(s.events) {
		if _, back := o.Data.(Withdrawn); back || o.N >= ev.N || s.gone[o.N] != 0 {
			continue
		}
		switch d := ev.Data.(type) {
		case Waited:
			if a, ok := o.Data.(Answered); ok && d.How == "over" && a.Name == d.Name {
				return []Data{Withdrawn{Of: o.N}}
			}
		case Cleared:
			if c, ok := o.Data.(Chosen); ok && c.Correction && c.Way+".clear" == d.Name && o.Time.Equal(ev.Time) {
				return []Data{Withdrawn{Of: o.N}}
			}
		}
		return nil
	}
	return nil
}

func (s *State) cannotTake(q Question, in Input) ([]Data, *Refusal) {
	switch {
	case q.Kind != AskReading:
		return nil, refuse("verb", "", "Only a reading can be left out so.", s.wanted(q))
	case strings.TrimSpace(in.Reason) == "":
		return nil, reasonWanted("Leaving a reading out")
	case q.Again:
		return nil, refuse("verb", "", "The closing reading shows whether anything moved; it cannot be left out alone.",
			"Say of the set's first reading that it cannot be taken, or pause.")
	}
	return []Data{Unable{Name: q.Name, Reason: in.Reason}}, nil
}

// asParse turns a parser's error into a refusal.
func asParse(err error) *Refusal {
	var pe *quantity.ParseError
	if errors.As(err, &pe) {
		said := pe.Sentences()
		understood := ""
		if pe.Understood != "" {
			understood = fmt.Sprintf("I read %s.", strings.TrimRight(pe.Understood, "."))
		}
		return refuse("value", understood, said[0], said[1])
	}
	return refuse("value", "", err.Error(), "")
}
