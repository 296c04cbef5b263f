package engine

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"waywright/checks/value"
	"waywright/procedures"
)

// A work sheet is filled in at the machine and typed in afterwards. The order of
// asking is the order of the sheet: its head, the instruments, then the straight
// path as if every gate passed. What is typed was not seen by the engine when it
// was read: the clock tells nothing, so waits are asked about and not watched,
// and cautions are asked about and not put.
//
// At a gate that has a correction and is not passed the walk stops as always,
// because what stands behind it on the sheet was read on the machine as it was
// corrected, or was not read. A gate that can only be conceded or rejected is
// left until the sheet is at its end: nothing that is read hangs on it.

// FromSheet says that what comes next is typed in from a work sheet that was
// filled in on paper. The first one begins it, further ones say what stands on
// it, and one that is ended says that the sheet holds no more.
type FromSheet struct {
	Day         string `json:"day,omitempty"`         // that stands on the sheet, 2026-03-02
	Name        string `json:"name,omitempty"`        // of who filled it in
	Temperature string `json:"temperature,omitempty"` // as it stands there; none where nothing does
	Goes        string `json:"goes,omitempty"`        // a gate that is not passed, behind which the sheet goes on
	Ended       bool   `json:"ended,omitempty"`
}

// Kind implements [Data].
func (FromSheet) Kind() string { return "from_sheet" }

// noTemperature is kept where none stands on a sheet.
const noTemperature = "none"

// SheetRecord is a work sheet that was typed in.
type SheetRecord struct {
	Day, Name, Temperature string
	From, To               Stamp // the first and the last that was typed in from it
	Values                 int   // single values and words
	Ended                  bool  // it was said that it holds no more
}

// Covers tells whether an event was typed in from the sheet.
func (r SheetRecord) Covers(n int) bool { return r.From.N > 0 && n >= r.From.N && n <= r.To.N }

// sheet is a work sheet while it is typed in, and after.
type sheet struct {
	FromSheet
	n       int // the event that began it
	at      time.Time
	ended   int // the event that ended it; 0 while it is open
	endedAt time.Time
	goesOn  map[string][]int // gates behind which it goes on, with the takes that they stood on
}

// onSheet reports whether a work sheet is being typed in.
func (s *State) onSheet() bool { return len(s.sheets) > 0 && s.sheets[len(s.sheets)-1].ended == 0 }

// OnSheet reports whether what is answered now is typed in from a work sheet.
func (s *State) OnSheet() bool { return s.onSheet() }

func (s *State) openSheet() *sheet { return &s.sheets[len(s.sheets)-1] }

// takeSheet begins a work sheet, adds to what is known of it, or ends it.
func (s *State) takeSheet(ev Event, d FromSheet) error {
	if d == (FromSheet{}) {
		if s.onSheet() {
			return errors.New("it begins a work sheet while one is open")
		}
		s.sheets = append(slices.Clip(s.sheets), sheet{n: ev.N, at: ev.Time})
		s.afresh("a work sheet was begun before the set was whole")
		return nil
	}
	if !s.onSheet() {
		return errors.New("it tells of a work sheet, and none was begun")
	}
	s.sheets = slices.Clone(s.sheets)
	x := s.openSheet()
	switch {
	case d.Ended:
		x.ended, x.endedAt = ev.N, ev.Time
		s.afresh("the work sheet ended before the set was whole")
	case d.Goes != "":
		g, round, ok := s.gateAt(d.Goes)
		if !ok {
			return fmt.Errorf("it tells of the gate %q, which the procedure does not have", d.Goes)
		}
		goes := map[string][]int{d.Goes: s.feeding(g, round)}
		for k, v := range x.goesOn {
			if k != d.Goes {
				goes[k] = v
			}
		}
		x.goesOn = goes
	case d.Day != "":
		x.Day = d.Day
	case d.Name != "":
		x.Name = d.Name
	default:
		x.Temperature = d.Temperature
	}
	return nil
}

// afresh begins another spell at the machine: cautions, the state of the spindle
// and sets that are not whole held for the one before.
func (s *State) afresh(why string) {
	s.spell++
	s.cleared = map[string]bool{}
	s.spindle = procedures.AnySpindle
	s.breakSets(why, func(*procedures.Reading) bool { return true })
}

// The names of what is asked about a work sheet.
const (
	sheetDay         = "sheet.day"
	sheetName        = "sheet.name"
	sheetTemperature = "sheet.temperature"
	sheetMore        = "sheet.more"
)

// sheetHead asks for what stands at the head of the sheet.
func (s *State) sheetHead() (Question, bool) {
	x := s.openSheet()
	ask := func(name, text string) (Question, bool) {
		return Question{Kind: AskSheet, Name: name, Ask: text, Text: true}, true
	}
	switch {
	case x.Day == "":
		return ask(sheetDay, "Sheet: the day that stands on it")
	case x.Name == "":
		return ask(sheetName, "Sheet: who filled it in")
	case x.Temperature == "":
		q, ok := ask(sheetTemperature, "Sheet: the temperature that stands on it")
		q.Optional = true
		return q, ok
	}
	return Question{}, false
}

// sheetInstruments asks for the numbers of the instruments that things are read
// with, which stand together at the head of the sheet.
func (s *State) sheetInstruments() (Question, bool) {
	for _, in := range s.plan.readWith {
		if q, ok := s.instrumentQuestion(in); ok {
			return q, true
		}
	}
	return Question{}, false
}

// nextOnSheet returns the first question of the straight path that is open:
// gates that can only be conceded or rejected wait until there is none.
func (s *State) nextOnSheet(now time.Time) (Question, bool) {
	s.passing = true
	defer func() { s.passing = false }()
	if s.cache.passed == 0 {
		if q, ok := s.sheetInstruments(); ok {
			return q, true
		}
		if q, ok := s.nextGiven(); ok {
			return q, true
		}
		s.cache.passed = 1
	}
	from := s.cache.passed - 1
	for i, st := range s.plan.proc.Steps[from:] {
		if q, ok := s.nextInStep(from+i, st, now); ok {
			s.cache.passed = from + i + 1
			return s.goesOn(q), true
		}
	}
	return Question{}, false
}

// goesOn asks, where the walk stops at a gate, whether the sheet holds more: what
// is done next may be written on it, or be done at the machine.
func (s *State) goesOn(q Question) Question {
	if q.Kind != AskWay || !s.onSheet() {
		return q
	}
	g, round, ok := s.gateAt(q.Name)
	if had, said := s.openSheet().goesOn[q.Name]; !ok || said && slices.Equal(had, s.feeding(g, round)) {
		return q
	}
	return Question{Kind: AskSheet, Name: sheetMore, Step: q.Step, Gate: q.Gate,
		Ask: "Does the sheet hold what was done about it?", Choices: []Choice{{"yes", "yes, it goes on there"}, {"no", "no, from here on at the machine"}}}
}

// passedBy reports whether the walk goes on behind a gate that is not passed.
func (s *State) passedBy(g *procedures.Gate) bool { return s.passing && !g.Corrects() }

// inTime asks, of a step that needs one whose facts do not last, whether they
// still held when it was worked. The clock of the typing does not know.
func (s *State) inTime(st *procedures.Step, round []string) (Question, bool) {
	id := inTimeOf(st, round)
	if w, ok := s.word(id, st, time.Time{}); ok && w != "" {
		return Question{}, false
	}
	var said []string
	for _, n := range s.plan.proc.Steps {
		if n == st || n.GoodFor == nil || !needs(st, n) {
			continue
		}
		if _, ok := s.env().in(n, nil).applies(n); ok || n.When == nil {
			said = append(said, fmt.Sprintf("%s of “%s”", s.goodFor(n), s.stepTitle(n)))
		}
	}
	if len(said) == 0 {
		return Question{}, false
	}
	return Question{Kind: AskConfirm, Name: id, Ask: "Was this read within " + strings.Join(said, " and ") + "?"}, true
}

const inTimeWord = "in_time"

func inTimeOf(st *procedures.Step, round []string) string {
	return address(st.Name, append(slices.Clone(round), inTimeWord)...)
}

// answerSheet judges what is said of a work sheet.
func (s *State) answerSheet(now time.Time, q Question, in Input) ([]Data, *Refusal) {
	text := strings.TrimSpace(in.Text)
	switch q.Name {
	case sheetDay:
		day, wrong := dayOf(text, now)
		if wrong != "" {
			return nil, refuse("value", fmt.Sprintf("I read %q.", text), wrong, "Write the day as 2026-03-02, or as 2.3.2026.")
		}
		return []Data{FromSheet{Day: day}}, nil
	case sheetName:
		return []Data{FromSheet{Name: text}}, nil
	case sheetTemperature:
		if text == "-" || strings.EqualFold(text, noTemperature) {
			text = noTemperature
		}
		return []Data{FromSheet{Temperature: text}}, nil
	}
	switch y, ok := yes(text); {
	case !ok:
		return nil, refuse("choice", fmt.Sprintf("I read %q.", text), "It is a question of yes or no.", s.wanted(q))
	case y:
		return []Data{FromSheet{Goes: q.Gate.Name}}, nil
	}
	return []Data{FromSheet{Ended: true}}, nil
}

// dayOf reads the day that stands on a sheet, which is not after today, or tells
// what is wrong with it.
func dayOf(text string, now time.Time) (day, wrong string) {
	switch strings.ToLower(text) {
	case "today":
		return now.Format(time.DateOnly), ""
	case "yesterday":
		return now.AddDate(0, 0, -1).Format(time.DateOnly), ""
	}
	for _, form := range []string{time.DateOnly, "2.1.2006", "2. 1. 2006"} {
		t, err := time.Parse(form, text)
		switch {
		case err != nil:
			continue
		case t.After(now.Add(24 * time.Hour)): // it may be tomorrow elsewhere
			return "", "That day is still to come."
		case t.Year() < 1900:
			return "", "That is no year for a work sheet."
		}
		return t.Format(time.DateOnly), ""
	}
	return "", "That is no day."
}

// onPaper turns a question into one about what stands on the sheet.
func (s *State) onPaper(q *Question) {
	if !s.onSheet() {
		return
	}
	q.Field = s.fieldOf(*q)
	q.Sheet = true
}

// answerWaited judges what is said of a wait that was written on a sheet.
func (s *State) answerWaited(q Question, in Input) ([]Data, *Refusal, bool) {
	switch y, ok := yes(in.Text); {
	case ok && y && q.Wait.Takes == 0:
		return []Data{Waited{Name: q.Name, How: "stated", Reason: in.Reason}}, nil, true
	case ok && !y:
		if in.Reason == "" {
			return nil, reasonWanted("A wait that was cut short"), true
		}
		return []Data{Waited{Name: q.Name, How: "short", Reason: in.Reason}}, nil, true
	}
	return nil, nil, false
}

// Sheets returns the work sheets that were typed in, in order.
func (s *State) Sheets() []SheetRecord {
	var out []SheetRecord
	for _, x := range s.sheets {
		r := SheetRecord{Day: x.Day, Name: x.Name, Temperature: x.Temperature, Ended: x.ended != 0}
		if r.Temperature == noTemperature {
			r.Temperature = ""
		}
		s.lasting(func(ev Event) {
			if ev.N <= x.n || x.ended != 0 && ev.N >= x.ended {
				return
			}
			n := 0
			switch d := ev.Data.(type) {
			case Answered:
				n = max(len(d.Takes), 1)
			case Cleared, Waited, Reported, Unable:
				n = 1
			default:
				return
			}
			if r.From.N == 0 {
				r.From = stamp(ev, "")
			}
			r.To = stamp(ev, "")
			r.Values += n
		})
		out = append(out, r)
	}
	return out
}

// typedIn reports whether something of that time was typed in from a sheet that
// holds no more: how old it was then nobody knows.
func (s *State) typedIn(at time.Time) bool {
	return slices.ContainsFunc(s.sheets, func(x sheet) bool { return x.ended != 0 && !at.Before(x.at) && !at.After(x.endedAt) })
}

// InTime returns what was said of steps that need one whose facts do not last:
// whether they were read in time.
func (s *State) InTime() []Fact {
	var out []Fact
	for i, st := range s.plan.proc.Steps {
		for _, round := range s.rounds(st) {
			e := s.env().in(st, round)
			p := Place{N: i + 1, Of: len(s.plan.proc.Steps), Name: st.Name, Title: words(st.Title, e), Keys: round}
			for _, f := range s.wordFacts(inTimeOf(st, round), words(st.Title, e)+": read in time", p, st) {
				if f.Value.State == value.Present {
					out = append(out, f)
				}
			}
		}
	}
	return out
}
