package voice

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/engine"
	"waywright/procedures"
)

// direct tells whether a correction may be reported at once, without choosing
// it first: when it has a movement to tell, and neither cautions nor a change
// of the spindle come before it.
func direct(ad *engine.Advice) bool {
	c := ad.Correction
	return c != nil && c.Moved != nil && len(c.Cautions) == 0 && c.Spindle == procedures.AnySpindle
}

// way puts a gate that is not passed, and the ways on from it.
func (v Voice) way(q engine.Question, a *Asked) {
	a.Head = nil
	if q.Response != nil {
		a.Head = append(v.Responded(*q.Response), Line{})
	}
	if q.Gate != nil {
		a.Body = append(v.Judged(*q.Gate), v.Changed(*q.Gate, q.Change)...)
	}
	for _, x := range q.Suspicions {
		if q.Response != nil && slices.ContainsFunc(q.Response.Looks, func(l engine.Suspicion) bool { return l.Kind == x.Kind }) {
			continue // it is said above
		}
		a.Body = append(a.Body, Suspected(x)...)
	}
	for _, w := range q.Withheld {
		a.Body = append(a.Body, Line{Text: "Not offered: " + lowerFirst(You(w.Title)) + ", because " + You(w.Why) + "."})
	}
	if len(q.Open) > 0 {
		a.Body = append(a.Body, v.upstream(q)...)
	}
	var first *engine.Advice
	if len(q.Ways) > 0 {
		first = q.Ways[0].Advice
	}
	undecided := q.Gate != nil && q.Gate.Verdict == checks.Undecided
	if undecided {
		a.Body = append(a.Body, cannotTell(*q.Gate, q.Ways[0].Kind == engine.WayAgain)...)
	}
	if first != nil && !undecided {
		a.Body = append(a.Body, v.Advised(*first)...)
		if direct(first) {
			a.Ask = say(v.howFar(q))
			a.Value = true
			return
		}
	}
	a.Ask = say("What now?")
	a.Options = v.options(q, first != nil && !undecided)
}

// upstream names what may lie behind a gate that its corrections have not mended.
// One of several may be used up alone.
func (v Voice) upstream(q engine.Question) Screen {
	why := "All tries are used. More of the same will not mend it. Look upstream, in this order:"
	switch {
	case q.Gate != nil && q.Gate.Gate != nil && !q.Gate.Gate.Corrects():
		why = "It is not mended here. Where it is mended, in this order:"
	case slices.ContainsFunc(q.Ways, func(w engine.Offered) bool { return w.Kind == engine.WayCorrection }):
		why = "Look upstream too, in this order:"
	}
	s := say(why)
	for _, o := range q.Open {
		s = append(s, detail(You(o)))
	}
	return s
}

// howFar asks for a movement, after locking.
func (v Voice) howFar(q engine.Question) string {
	if q.Unit == nil {
		return "How far, and which way?"
	}
	return "How far after locking, and which way? (" + q.Unit.Symbol + ")"
}

// Standing says in short at which gate or movement a run stands, before it is
// asked who has come to it.
func (v Voice) Standing(q engine.Question) Screen {
	switch {
	case q.Kind == engine.AskWay && q.Gate != nil:
		return append(Screen{{}}, v.Judged(*q.Gate)...)
	case q.Kind == engine.AskMove:
		var a Asked
		v.move(q, &a)
		if q.Move != nil && q.Move.Nudge {
			a.Ask = nil // what the needle does is asked once somebody is there
		}
		return append(append(Screen{{}}, a.Body...), a.Ask...)
	}
	return nil
}

// Words lists the options by the words that an answers file has for them.
func (v Voice) Words(name string, options []Option) Screen {
	s := Screen{{Text: "Answer " + name + " = one of these:", Hang: 2}}
	for _, o := range options {
		word := o.Word
		switch {
		case word == "" && o.Act != Enter:
			continue
		case word == "":
			word = "a value"
		case o.Act == Because:
			word += " because REASON"
		}
		if o.Label == o.Word {
			s = append(s, detail(word))
			continue
		}
		s = append(s, Line{Text: " " + word + "   " + o.Label, Hang: 4})
	}
	return s
}

// OtherWays returns the ways on as options, the first one too.
func (v Voice) OtherWays(q engine.Question) []Option { return v.options(q, false) }

// options lists the ways on. Where the first is told in full above, it is a
// short "done", and never the first number.
func (v Voice) options(q engine.Question, told bool) []Option {
	var out []Option
	if told {
		out = append(out, Option{Label: "explain", Act: Explains}, Option{Label: "not now", Act: Leaves})
	}
	for i, w := range q.Ways {
		if told && i == 0 && w.Kind == engine.WayCorrection && reportable(w.Advice.Correction) {
			out = append(out, v.done(*w.Advice)...)
			continue
		}
		o := Option{Word: w.Name}
		switch w.Kind {
		case engine.WayAgain:
			o.Label = "measure again"
			if q.Gate != nil && q.Gate.Verdict == checks.Undecided {
				o.Label = "measure again: further takes"
			}
		case engine.WayAfresh:
			o.Label, o.Act = "read it all once more, before anything is moved", Because
			o.Prompt, o.Reasons = "Why is it read once more?", afreshReasons
		case engine.WayConcession:
			o.Label, o.Act = "leave it: not accepted unless a concession is granted", Because
			o.Prompt, o.Reasons = "Why is it left?", leaveReasons
		case engine.WayReject:
			o.Label, o.Act = "give up: the machine is rejected", Because
			o.Prompt, o.Reasons = "This ends the run: REJECTED. Why is it given up?", giveUpReasons
		case engine.WayCorrection:
			o.Label = v.wayLabel(w)
			if told && i == 0 {
				o.Label = "begin"
			}
		}
		out = append(out, o)
	}
	return out
}

// reportable tells whether a correction may be reported as done where it is
// advised: neither cautions nor a change of the spindle come before it.
func reportable(c *procedures.Correction) bool {
	return c.Moved == nil && len(c.Cautions) == 0 && c.Spindle == procedures.AnySpindle
}

// done are the options for a correction that was carried out: where it is not
// read how far, all of it or a first pass, by how much.
func (v Voice) done(ad engine.Advice) []Option {
	all := Option{Label: "done", Word: "yes", Name: ad.Report}
	if !ad.Tells || !ad.NoReturn && ad.Ledger == "" {
		return []Option{all}
	}
	all.Label = "done, all of it"
	part := Option{Label: "done, half of it", Word: "half", Name: ad.Report}
	out := []Option{all, part}
	if len(ad.At) == 0 {
		out[0].Label += ": " + v.amountOf(ad)
		if ad.OnePass {
			return append(out[:1], Option{Label: "done, another amount", Act: Enter, Name: ad.Report, Prompt: "How much?"})
		}
		first := v.half(ad)
		out[1].Label, out[1].Word = "done, a first pass: "+first, strings.ReplaceAll(first, hard, " ")
		out = append(out, Option{Label: "done, another amount", Act: Enter, Name: ad.Report, Prompt: "How much?"})
	}
	return out
}

func (v Voice) wayLabel(w engine.Offered) string {
	if w.Advice == nil {
		return name(w.Name)
	}
	label := lowerFirst(You(w.Advice.Title))
	if w.Advice.HasAmount && len(w.Advice.At) == 0 {
		label += ": " + v.exact(*w.Advice) + " " + You(w.Advice.Direction)
		if s := step(w.Advice.Instrument); s > 0 && math.Abs(w.Advice.Amount) < s {
			label += " (a finer indicator is needed: this one shows " + hold(quantity.Plain(s, quantity.InRun(w.Advice.Unit, v.Inch))) + ")"
		}
	}
	return label
}

func step(i *engine.InHand) float64 {
	if i == nil {
		return 0
	}
	return i.Resolution
}

func (v Voice) amountOf(ad engine.Advice) string {
	return amount(math.Abs(ad.Amount), quantity.InRun(ad.Unit, v.Inch), step(ad.Instrument))
}

// exact is the amount as it was worked out, one figure finer than the
// instrument shows.
func (v Voice) exact(ad engine.Advice) string {
	return amount(math.Abs(ad.Amount), quantity.InRun(ad.Unit, v.Inch), step(ad.Instrument)/10)
}

// Advised says what to do: how much, in the tool in the hand, and which way.
func (v Voice) Advised(ad engine.Advice) Screen {
	s := Screen{{}} // a gap before what is to be done
	s = append(s, v.headline(ad)...)
	if said := remembered(ad); said != "" {
		s = append(s, Line{Text: said})
	}
	if ad.NoReturn {
		s = append(s, Line{Text: v.noReturn(ad)})
	}
	s = append(s, v.soFar(ad)...)
	for _, d := range ad.Do {
		s = append(s, Line{Text: Sentence(You(d))})
	}
	if ad.Instrument != nil {
		s = append(s, Line{Text: needle(ad) + "Trust the needle, not the screw."})
	}
	if len(ad.Spoils) > 0 {
		s = append(s, Line{Text: "Afterwards: " + lowerFirst(list(youAll(ad.Spoils))) + "."})
	}
	if len(ad.Disturbs) > 0 {
		s = append(s, Line{Text: "It disturbs, where accepted before: " + list(ad.Disturbs) + "."})
	}
	if ad.Left == 1 {
		s = append(s, Line{Text: "This is the last try."})
	}
	return s
}

// needle says which way the needle goes: what goes the positive way shows as plus,
// but where the test of the needle showed that it reads the other way round.
func needle(ad engine.Advice) string {
	if !ad.HasAmount || ad.Amount == 0 || len(ad.At) > 0 {
		return ""
	}
	way := "PLUS"
	if ad.Reversed != (ad.Amount < 0) {
		way = "MINUS"
	}
	if ad.Reversed {
		return "This needle reads reversed, as its test showed: it goes " + way + ". "
	}
	return "Needle goes " + way + ". "
}

// soFar says what was done at a place of the ledger before, and at its stations:
// "So far here (front pad): 0.021 mm off."
func (v Voice) soFar(ad engine.Advice) Screen {
	var out Screen
	for i, l := range ad.SoFar {
		if slices.ContainsFunc(ad.SoFar[:i], func(o engine.LedgerLine) bool { return o.Way == l.Way }) {
			continue // one line for all stations
		}
		var at []string
		for _, o := range ad.SoFar[i:] {
			if o.Way == l.Way {
				at = append(at, "("+You(o.Place)+"): "+amount(o.Total, quantity.InRun(o.Unit, v.Inch), step(ad.Instrument)))
			}
		}
		said := "So far here " + strings.Join(at, ", ") + " " + You(l.Way)
		if l.Planned {
			said += ", as planned, not read"
		}
		out = append(out, Line{Text: said + "."})
	}
	return out
}

// remembered says what the machine answered when it was last worked on, where
// the amount goes by it.
func remembered(ad engine.Advice) string {
	if ad.Remembered == 0 || !ad.HasAmount || math.Abs(ad.Remembered-1) < 0.05 {
		return "" // as asked: nothing to reckon with
	}
	share := strings.TrimSuffix(strconv.FormatFloat(ad.Remembered, 'f', 2, 64), "0")
	said := "This machine answered " + share + " of what was asked last time"
	if ad.FromRun != "" {
		said += " (" + ad.FromRun + ")"
	}
	return said + ". The amount allows for it."
}

func youAll(in []string) []string {
	out := make([]string, len(in))
	for i, s := range in {
		out[i] = You(s)
		if i > 0 {
			out[i] = lowerFirst(out[i])
		}
	}
	return out
}

// noReturn says that metal cannot be put back, and offers half.
func (v Voice) noReturn(ad engine.Advice) string {
	switch {
	case ad.OnePass:
		return "CANNOT BE PUT BACK. One pass, then read."
	case !ad.HasAmount || len(ad.At) > 0:
		return "CANNOT BE PUT BACK. Take half first, then read."
	}
	return "CANNOT BE PUT BACK. First pass: " + v.half(ad) + ", then read."
}

// half is half of an amount, and never more, as the tool in the hand goes.
func (v Voice) half(ad engine.Advice) string {
	u := quantity.InRun(ad.Unit, v.Inch)
	d := amountDecimals(u, step(ad.Instrument))
	scale := math.Pow(10, float64(d))
	half := math.Floor(u.Of(math.Abs(ad.Amount)/2)*scale*(1+1e-9)) / scale
	if half == 0 {
		half = u.Of(math.Abs(ad.Amount) / 2)
	}
	return hold(quantity.Format(u.Base(half), u, d))
}

// headline is the line in capitals, and how it was worked out.
func (v Voice) headline(ad engine.Advice) Screen {
	title := strings.ToUpper(You(ad.Title))
	switch {
	case !ad.HasAmount:
		return say(title + ".")
	case len(ad.At) > 0:
		return v.stationAmounts(title, ad)
	}
	u := quantity.InRun(ad.Unit, v.Inch)
	way := strings.ToUpper(You(ad.Direction))
	worked := v.amountOf(ad)
	if ad.Divisions == 0 {
		return Screen{{Text: title + "   " + worked + "   " + way, Hang: 2}}
	}
	head, shown := "less than half a division", "  Less than half a division"+on(ad.Instrument)+"."
	if whole := divisions(ad.Divisions); whole > 0 {
		head = times(whole, "division", "divisions")
		size := math.Abs(ad.Amount) / ad.Divisions
		shown = "  " + head + ": " + amount(size*float64(whole), u, step(ad.Instrument)) + on(ad.Instrument) + "."
	}
	exact := v.exact(ad)
	if v.Inch {
		exact += " (" + amount(math.Abs(ad.Amount), millimetre, 0.001) + ")"
	}
	return Screen{
		{Text: title + "   " + strings.ToUpper(head) + "   " + way, Hang: 2},
		{Text: "Worked out: " + exact + "." + shown},
	}
}

func on(i *engine.InHand) string {
	if i == nil || i.ID == "" && i.Name == "" {
		return ""
	}
	if i.ID != "" {
		return " on " + i.ID
	}
	return " on the " + name(i.Name)
}

// stationAmounts lists an amount for each station.
func (v Voice) stationAmounts(title string, ad engine.Advice) Screen {
	s := say(title + ", " + You(ad.Direction) + ":")
	u := quantity.InRun(ad.Unit, v.Inch)
	d := amountDecimals(u, step(ad.Instrument))
	for i, at := range ad.At {
		if i < len(ad.Amounts) {
			s = append(s, detail(fmt.Sprintf("station %d, at %s mm: %s", i+1, limit(at, millimetre, 3), quantity.Format(ad.Amounts[i], u, d))))
		}
	}
	return s
}

var millimetre = quantity.Unit{Name: "mm", Symbol: "mm", Dim: quantity.Length, Factor: 1}
