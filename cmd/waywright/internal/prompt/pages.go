package prompt

import (
	"errors"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"waywright/checks"
	"waywright/cmd/waywright/internal/voice"
	"waywright/engine"
	"waywright/report/evidence"
)

// enterPage takes a line for the page in between. The menu key and back leave
// it.
func (t *talk) enterPage(line string) reply {
	p := t.page
	switch strings.ToLower(line) {
	case "":
		if len(p.options) > 0 {
			return remark("Enter alone answers nothing. Type one of the numbers; * goes back to the question.")
		}
		return remark("Enter alone answers nothing; * goes back to the question.")
	case "*", "menu", "back":
		if p.leave != nil {
			return p.leave()
		}
		return t.again()
	case "?", "/":
		if p.leave != nil { // it is being read: from the top
			p.leave()
		}
		return t.explain()
	case "pause", "stop":
		return t.stopNow()
	}
	if n, err := strconv.Atoi(line); err == nil && n >= 1 && n <= len(p.options) {
		return p.pick(n - 1)
	}
	for i, o := range p.options {
		if head, _, _ := strings.Cut(o, ","); strings.EqualFold(o, line) || strings.EqualFold(head, line) {
			return p.pick(i) // "yes" is enough for "yes, keep"
		}
	}
	if p.typed == nil {
		return remark(fmt.Sprintf("I read %q. Type one of the numbers; * goes back.", line))
	}
	return p.typed(line)
}

func (t *talk) open(p page) reply {
	t.page = &p
	return reply{fresh: true}
}

func lines(texts ...string) voice.Screen { return remark(texts...).remark }

// shownChoices is how many choices stand on one screen.
const shownChoices = 8

// choose asks for one of many, a screenful at a time.
func (t *talk) choose(p page, labels []string, from int) reply {
	here := labels[from:min(from+shownChoices, len(labels))]
	of := p
	of.options = append([]string(nil), here...)
	if from+len(here) < len(labels) {
		of.options = append(of.options, "more")
	}
	of.pick = func(i int) reply {
		if i == len(here) {
			return t.choose(p, labels, from+len(here))
		}
		return p.pick(from + i)
	}
	return t.open(of)
}

// why asks for a reason: one of those that are common, or typed.
func (t *talk) why(prompt string, common []string, then func(reason string) reply) reply {
	if prompt == "" {
		prompt = "Why?"
	}
	p := page{screen: lines(prompt), options: common}
	p.pick = func(i int) reply { return then(common[i]) }
	p.typed = func(line string) reply {
		if strings.Trim(line, "0123456789.,+- ") == "" {
			return remark("I read " + line + ". The reason is wanted in words.")
		}
		return then(line)
	}
	if len(common) > 0 {
		p.screen = append(p.screen, voice.Line{Text: " or type it in words"})
	}
	return t.open(p)
}

// value asks for the value that an option wants.
func (t *talk) value(o voice.Option) reply {
	return t.open(page{screen: lines(o.Prompt), typed: func(line string) reply {
		return t.say(engine.Input{Name: o.Name, Text: line})
	}})
}

// readBack shows a typed value large before it is kept.
func (t *talk) readBack(line string, in engine.Input) reply {
	if st := t.s.State(); st != nil { // what cannot be read is not worth asking about
		if _, refusal := st.Reply(t.s.Now(), in); refusal != nil && !refusal.Keep {
			return t.refused(in, *refusal)
		}
	}
	s := voice.Screen{}
	if t.q.Stations > 1 {
		s = lines(fmt.Sprintf("STATION %d OF %d", t.q.Station, t.q.Stations))
	}
	s = append(s, voice.Line{Text: line + " ?"})
	return t.open(page{screen: s, options: []string{"yes, keep", "no, again"}, pick: func(i int) reply {
		if i == 0 {
			return t.say(in)
		}
		return t.again()
	}})
}

// signNow asks for the word that signs.
func (t *talk) signNow(who string) reply {
	if strings.EqualFold(who, "sign") {
		return remark("Your name first, please.")
	}
	if st := t.s.State(); st != nil { // another person is asked for before the word, not after
		if _, refusal := st.Reply(t.s.Now(), engine.Input{Text: who}); refusal != nil {
			return t.refused(engine.Input{Text: who}, *refusal)
		}
	}
	screen := t.v.SignNow(who, t.outlook(), t.judgements())
	if st := t.s.State(); st != nil && t.outlook() == "" {
		screen = t.v.SignAmong(who, st.OnceSigned(), st.Seal() == nil, t.judgements())
	}
	return t.open(page{screen: screen, typed: func(line string) reply {
		if !strings.EqualFold(line, "sign") {
			r := t.again()
			r.remark = lines("Not signed. It stays open.")
			return r
		}
		return t.say(engine.Input{Text: who})
	}})
}

// outlook is the outcome if the last of the roles signs, or "" where others
// sign after this one.
func (t *talk) outlook() engine.Outcome {
	if st := t.s.State(); st != nil && t.q.Role != nil {
		roles := st.Plan().Procedure().Signoffs
		if n := len(roles); n > 0 && roles[n-1] != t.q.Role {
			return ""
		}
	}
	out := engine.Accepted
	if st := t.s.State(); st != nil && st.OnceSigned() == engine.AsFound {
		out = engine.AsFound
	}
	for _, j := range t.judgements() {
		switch c := j.Conceded; {
		case c == nil:
		case c.Decided && !c.Granted:
			return engine.Rejected
		default:
			out = engine.Conceded
		}
	}
	return out
}

// menu offers everything else by number.
func (t *talk) menu() reply {
	items := t.v.Menu()
	do := []func() reply{t.explain, t.amendList, t.cannot, t.again, t.otherInstrument, t.note, t.letters, t.stopNow}
	switch {
	case t.q.Kind == engine.AskWay && t.asked.Value:
		items, do = append(items, "another way on"), append(do, t.otherWay)
	case len(t.leftOut()) > 0:
		items, do = append(items, "leave a test out"), append(do, t.leaveOut)
	}
	p := page{screen: t.v.MenuScreen(items), help: menuHelp, pick: func(i int) reply {
		t.page = nil
		return do[i]()
	}}
	p.typed = func(line string) reply {
		n, err := strconv.Atoi(line)
		switch {
		case err == nil && n >= 1 && n <= len(items):
			return p.pick(n - 1)
		case strings.Trim(line, "+-0123456789., ") == "":
			return remark("I read " + line + ". Type one of the numbers above; * goes back.")
		}
		for i, item := range items {
			if strings.EqualFold(item, line) {
				return p.pick(i)
			}
		}
		open := t.page
		t.page = nil
		if r, ok := t.command(line); ok {
			return r
		}
		t.page = open // what fits nothing here is no answer to the question behind
		return remark(fmt.Sprintf("I read %q. Type one of the numbers above; * goes back.", line))
	}
	return t.open(p)
}

// menuHelp says what the entries of the menu do.
var menuHelp = lines(
	"explain this: how the number is come by, and what a good one looks like.",
	"amend an answer: one that was mistyped, or a name. Both values stay in the record.",
	"cannot take it: what needs it is then NOT MEASURED, with the reason.",
	"other instrument: another one is in the hand now.",
	"stop for today: nothing is lost.",
	"By word: back takes back what was said last; note TEXT; attach FILE; abandon closes the run for good.")

// letters makes the letters large, or small again.
func (t *talk) letters() reply {
	t.v.Large = !t.v.Large
	return t.again()
}

// otherWay lists the ways on from a gate where a movement was asked for.
func (t *talk) otherWay() reply {
	options := t.v.OtherWays(t.q)
	return t.open(page{screen: lines("Ways on from here:"), options: labels(options), pick: func(i int) reply {
		t.page = nil
		return t.act(options[i], "")
	}})
}

// explain shows how the number is come by.
func (t *talk) explain() reply {
	var said voice.Screen
	if st := t.s.State(); st != nil {
		for _, l := range st.Explain(t.q) {
			said = append(said, voice.Line{Text: voice.You(l), Hang: 2})
		}
	}
	said = append(said, t.pictures()...)
	said = append(said, t.doubt()...)
	if t.page != nil && t.page.help != nil {
		said = t.page.help
	}
	if len(said) == 0 {
		said = lines("There is no more to say of this question.")
	}
	if rows := t.v.Lay(said); t.redraws && len(rows)+len(t.lines())+aroundLines > t.rows {
		return t.read(rows, 0, t.page)
	}
	return reply{log: said, fresh: true} // what was asked, in between too, is asked still
}

// pictures draws at a gate what was judged, and the attempts at it.
func (t *talk) pictures() voice.Screen {
	st := t.s.State()
	if st == nil || t.q.Gate == nil {
		return nil
	}
	return append(t.v.Shape(*t.q.Gate), t.v.Attempts(st.History(t.q.Gate.Name))...)
}

// doubt says at a gate where its doubt comes from and what would make it less;
// before signing, what the risks of the run come to.
func (t *talk) doubt() voice.Screen {
	st := t.s.State()
	switch {
	case st == nil:
	case t.q.Gate != nil:
		if b, ok := st.Budget(t.q.Gate.Name, ""); ok && b.Verdict != checks.Open && !b.Holds && b.Verdict != checks.NotMeasured && b.Verdict != checks.NotApplied {
			return t.v.Explained(b)
		}
	case t.q.Kind == engine.AskSign || t.q.Kind == engine.End:
		if risk, n := st.RunRisk(); n > 0 {
			return t.v.RunRisk(risk, n)
		}
	}
	return nil
}

// aroundLines is how many lines of a screen are not those of a text or a
// question: the blank one above, the line that is typed, and a remark.
const aroundLines = 3

// read shows a text that would push the question off the screen, a screenful
// at a time. The number that turns the page never goes back to the question:
// typed once too often it would answer it.
func (t *talk) read(rows []string, from int, behind *page) reply {
	back := "back to the question"
	if behind != nil {
		back = "back"
	}
	leave := func() reply {
		t.page = behind // the question stands as it stood: on the leaf that was read last
		return reply{fresh: true}
	}
	p := page{options: []string{back}, leave: leave, pick: func(int) reply { return leave() }}
	n := max(6, t.rows-aroundLines-2)
	to := min(from+n, len(rows))
	if len(rows) > n {
		next, turn := to, "read on"
		if to == len(rows) {
			next, turn = 0, "read it from the top"
		}
		p.options = []string{turn, back}
		p.pick = func(i int) reply {
			if i == 0 {
				return t.read(rows, next, behind)
			}
			return leave()
		}
	}
	for _, row := range rows[from:to] {
		p.screen = append(p.screen, voice.Line{Text: row})
	}
	return t.open(p)
}

// otherInstrument asks which instrument is in the hand now.
func (t *talk) otherInstrument() reply {
	i := t.q.Instrument
	if i == nil {
		return stays(t, "No instrument is in the hand at this question.")
	}
	var known []engine.Choice
	if t.opts.Instruments != nil {
		known = t.opts.Instruments(i.Kind)
	}
	bind := func(id string) reply { return t.say(engine.Input{Name: "instrument." + i.Name, Text: id}) }
	ask := page{screen: lines("Its number?"), typed: bind}
	if len(known) == 0 {
		return t.open(ask)
	}
	p := page{screen: lines("Now in your hand?"), typed: bind}
	var labels []string
	for _, c := range known {
		labels = append(labels, c.Label)
	}
	labels = append(labels, "not listed")
	p.pick = func(n int) reply {
		if n < len(known) {
			return bind(known[n].Word)
		}
		return t.open(ask)
	}
	return t.choose(p, labels, 0)
}

// stays puts the question again with a remark.
func stays(t *talk, texts ...string) reply {
	r := t.again()
	r.remark = lines(texts...)
	return r
}

// note asks for a remark, or the name of a photograph.
func (t *talk) note() reply {
	return t.open(page{
		screen:  lines("A note, or a photograph?"),
		options: []string{"a note", "a photograph or a scan", "a part that was replaced", "a deviation that is meant", "work from outside", "when to measure again"},
		pick: func(i int) reply {
			switch i {
			case 0:
				return t.open(page{screen: lines("The note?"), typed: t.noteText})
			case 1:
				return t.open(page{screen: lines("The name of the file?"), typed: t.attach})
			}
			h := headed[i-2]
			return t.open(page{screen: lines(h.ask), typed: func(text string) reply { return t.noteText(h.word + ": " + text) }})
		},
		typed: func(line string) reply {
			if word, file, _ := strings.Cut(line, " "); strings.EqualFold(word, "attach") && file != "" {
				return t.attach(strings.TrimSpace(file))
			}
			return t.noteText(line)
		},
	})
}

// headed are the remarks that stand under a heading of their own, with the word
// that puts them there.
var headed = []struct{ word, ask string }{
	{"part", "Which part, and what took its place?"},
	{"compensation", "How much, and why?"},
	{"from others", "What was done, by whom, which number?"},
	{"measure again", "When, and which tests?"},
}

func (t *talk) noteText(text string) reply {
	if strings.Trim(text, "0123456789 ") == "" && t.page != nil {
		return remark("I read " + text + ". The note is wanted in words.")
	}
	return t.say(engine.Input{Verb: engine.Note, Text: text})
}

// attach keeps a file with the question: the file's name, then what it shows.
func (t *talk) attach(text string) reply {
	st, err := attachVerb(text, 1)
	if err != nil {
		return remark(voice.Sentence(err.Error()))
	}
	return t.file(st.Path, st.NoPlace, func(f *engine.File) reply {
		return t.say(engine.Input{Verb: engine.Attach, Text: st.Text, File: f})
	})
}

// file puts a file into its place. Where it says where it was taken, and
// nothing was said of that, it is asked first.
func (t *talk) file(path string, noPlace bool, then func(*engine.File) reply) reply {
	how := evidence.AskPlace
	if noPlace {
		how = evidence.NoPlace
	}
	return t.keep(strings.Trim(path, `"`), how, then)
}

func (t *talk) keep(path string, how evidence.Keeping, then func(*engine.File) reply) reply {
	if t.opts.Attach == nil {
		return remark("No file can be kept with this run.")
	}
	f, err := t.opts.Attach(path, how)
	if errors.Is(err, evidence.ErrSaysPlace) {
		return t.open(page{
			screen:  lines(fmt.Sprintf("%s says where it was taken. Keep that?", filepath.Base(path))),
			options: []string{"keep it without the place", "keep it as it is"},
			pick: func(i int) reply {
				t.page = nil
				return t.keep(path, []evidence.Keeping{evidence.NoPlace, evidence.AsItIs}[i], then)
			},
		})
	}
	if err != nil {
		return remark(fmt.Sprintf("I read the file name %q. It cannot be kept: %v.", path, err), "Nothing is kept.")
	}
	return then(f)
}

// command takes the words that may be typed at every question.
func (t *talk) command(line string) (reply, bool) {
	word, rest, _ := strings.Cut(line, " ")
	rest = strings.TrimSpace(rest)
	alone := rest == ""
	switch word = strings.ToLower(word); {
	case alone && (word == "?" || word == "/" || word == "explain"):
		return t.explain(), true
	case alone && (word == "*" || word == "menu"):
		return t.menu(), true
	case alone && word == "back":
		return t.say(engine.Input{Verb: engine.Back}), true
	case alone && (word == "pause" || word == "stop"):
		return t.stopNow(), true
	case alone && word == "again" && t.q.Kind != engine.AskWay:
		return t.again(), true
	case alone && word == "amend":
		return t.amendList(), true
	case alone && word == "cannot":
		return t.cannot(), true
	case alone && word == "note":
		return t.note(), true
	case word == "note":
		return t.noteText(rest), true
	case word == "attach" && !alone:
		return t.attach(rest), true
	case alone && word == "abandon":
		return t.abandon(), true
	case word == "amend", word == "cannot", word == "disturb", word == "abandon", word == "leave_out":
		return t.verb(word, rest), true
	}
	return reply{}, false
}

// verb takes a verb with all its words, as an answers file has it.
func (t *talk) verb(word, rest string) reply {
	st, err := verbs[word](rest, 1)
	if err != nil {
		return remark(voice.Sentence(err.Error()), "Nothing is kept.")
	}
	return t.say(st.Input)
}
