package voice

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/checks/uncert"
	"waywright/checks/value"
	"waywright/engine"
	"waywright/procedures/direction"
	"waywright/report"
)

// Judged says what became of a gate: the verdict first, then what was found,
// then what is allowed.
func (v Voice) Judged(j engine.Judgement) (out Screen) {
	word := report.VerdictWord(j.Verdict)
	title := word + "   " + You(j.Title)
	if pad := labelWidth - len(word); pad > 0 {
		title = word + strings.Repeat(" ", pad) + You(j.Title)
	}
	s := Screen{{Text: title, Hang: labelWidth}}
	if noted(j) && j.Verdict != checks.NotApplied && j.Verdict != checks.Open {
		defer func() { out = append(out, labelled("Noted", "as found; no limit of this run")) }()
	}
	switch {
	case j.Verdict == checks.NotMeasured || j.Verdict == checks.NotApplied:
		if j.Why != "" {
			s = append(s, labelled("Because", lowerFirst(Sentence(You(j.Why)))))
		}
		return s
	case j.Verdict == checks.Open:
		return s
	case j.Holds:
		return append(s, labelled("Found", holds(j.Verdict)))
	}
	f := v.figures(j)
	s = append(s, labelled("Found", f.found()))
	if a := f.allowed(); a != "" {
		s = append(s, labelled("Allowed", a))
	}
	if j.Verdict == checks.Undecided && j.Why != "" {
		s = append(s, labelled("Because", lowerFirst(Sentence(You(j.Why)))))
	}
	return append(s, f.remarks()...)
}

// Value says what was found at a gate, in one sentence; it is empty where there
// is no value.
func (v Voice) Value(j engine.Judgement) string {
	switch {
	case j.Verdict != checks.Pass && j.Verdict != checks.Fail && j.Verdict != checks.Undecided:
		return ""
	case j.Holds:
		return Sentence(holds(j.Verdict))
	}
	return Sentence(strings.ReplaceAll(v.figures(j).found(), hard, " "))
}

func holds(v checks.Verdict) string {
	switch v {
	case checks.Pass:
		return "it holds"
	case checks.Fail:
		return "it does not hold"
	}
	return "it may hold or not: one reading, moved by its doubt, turns it"
}

// figures are a judgement's numbers as they are printed.
type figures struct {
	j              engine.Judgement
	y, u, lo, hi   float64
	decimals       int
	element        string // where, for a profile or keyed values
	size           bool   // cannot be negative: no direction
	plus, minus    string // what above and below nothing means, whole
	toPlus, toLess string // the same, as short as it goes
}

func (v Voice) figures(j engine.Judgement) figures {
	j.Unit = quantity.InRun(j.Unit, v.Inch)
	f := figures{j: j, y: j.Value, u: j.U, lo: j.Lo, hi: j.Hi, element: elementWords(j)}
	f.decimals = quantity.EnoughDigits(f.y, j.Unit, max(0, quantity.ValueDecimals(f.y, f.u, j.Unit)), f.lo, f.hi)
	f.size = j.Positive == "" || strings.Contains(j.Positive, "never")
	if f.size {
		return f
	}
	f.plus = You(j.Positive)
	if against, ok := direction.Opposite(j.Positive); ok {
		f.minus = You(against)
	}
	f.toPlus, f.toLess, _ = polar(j.Positive)
	return f
}

// elementWords names the element of a profile, a turn or keyed values that
// decided: "station 3 (100 mm)", "at 90°", "marked".
func elementWords(j engine.Judgement) string {
	if len(j.Elements) == 0 || j.Element == "" {
		return ""
	}
	kind := value.Keyed
	if j.Gate != nil && j.Gate.Of != nil {
		kind = j.Gate.Of.Type().Kind
	}
	switch kind {
	case value.Profile:
		n := slices.IndexFunc(j.Elements, func(e engine.Element) bool { return e.Key == j.Element })
		return fmt.Sprintf("station %d (%s mm)", n+1, j.Element)
	case value.Turn:
		return "at " + j.Element + "°"
	}
	return name(strings.ReplaceAll(j.Element, ".", ", "))
}

func (f figures) number(x float64) string {
	return quantity.Number(x, f.j.Unit, f.decimals)
}

func (f figures) format(x float64) string {
	return hold(quantity.Format(x, f.j.Unit, f.decimals))
}

// zero tells whether x prints as nothing.
func (f figures) zero(x float64) bool {
	return strings.Trim(f.number(x), "-0.") == ""
}

// found says the value in words, and its doubt.
func (f figures) found() string {
	s := f.sided()
	if f.element != "" {
		s = f.element + ": " + s
	}
	if f.u == 0 || f.zero(f.u) && f.decimals >= 6 {
		return s
	}
	s += ", give or take " + f.format(f.u)
	if f.j.Verdict == checks.Undecided {
		s += ": " + f.between()
	}
	return s
}

// sided says the value with the words for its sense. Where it fails, the word
// that matters is in capitals.
func (f figures) sided() string {
	if f.size || f.zero(f.y) {
		return f.format(f.y)
	}
	word := f.plus
	if f.y < 0 {
		word = f.minus
	}
	if word == "" {
		return f.format(f.y) + " (plus: " + f.plus + ")"
	}
	if f.j.Verdict == checks.Fail {
		word = Mark(word)
	}
	return f.format(math.Abs(f.y)) + " " + word
}

// between says from where to where the true value may lie.
func (f figures) between() string {
	lo, hi := f.y-f.u, f.y+f.u
	switch {
	case f.size:
		return "from " + f.number(math.Max(0, lo)) + " to " + f.number(hi)
	case lo >= 0:
		return "from " + f.number(lo) + " to " + f.number(hi)
	case hi <= 0:
		return "from " + f.number(-hi) + " to " + f.number(-lo)
	case f.toPlus == "":
		return "from " + f.number(lo) + " to " + f.number(hi)
	}
	return "from " + f.number(-lo) + " " + f.toLess + " to " + f.number(hi) + " " + f.toPlus
}

// allowed says the limits in words.
func (f figures) allowed() string {
	lo, hi := f.lo, f.hi
	none := math.IsInf(lo, -1)
	switch {
	case none && math.IsInf(hi, 1):
		return ""
	case f.size && (none || lo == 0):
		return "up to " + f.limit(hi)
	case math.IsInf(hi, 1):
		return f.one(lo, "or more", "at most")
	case none:
		return f.one(hi, "or less", "at least")
	case f.size || f.toPlus == "":
		return f.bare(lo) + " to " + f.limit(hi)
	case lo == -hi:
		return f.limit(hi) + ", either " + f.way()
	case lo == 0:
		return "0 to " + f.limit(hi) + " " + f.toPlus + ", never " + f.never(f.toLess)
	case hi == 0:
		return "0 to " + f.limit(-lo) + " " + f.toLess + ", never " + f.never(f.toPlus)
	case lo > 0:
		return f.bare(lo) + " to " + f.limit(hi) + " " + f.toPlus
	case hi < 0:
		return f.bare(-hi) + " to " + f.limit(-lo) + " " + f.toLess
	}
	return f.limit(-lo) + " " + f.toLess + " to " + f.limit(hi) + " " + f.toPlus
}

// never shortens "away from you" to "away".
func (f figures) never(word string) string {
	if rest, ok := strings.CutPrefix(word, "away from"); ok && rest != "" {
		return "away"
	}
	if strings.HasPrefix(word, "towards ") {
		return "towards"
	}
	return word
}

// one says a limit that stands alone. Below nothing it turns round: "-1 µm or
// more, plus: fatter" is "1 µm thinner at most".
func (f figures) one(x float64, more, turned string) string {
	switch {
	case f.size || f.toPlus == "":
		return f.limit(x) + " " + more
	case x < 0:
		return f.limit(-x) + " " + f.toLess + " " + turned
	case x == 0:
		if more == "or more" {
			return "never " + f.never(f.toLess)
		}
		return "never " + f.never(f.toPlus)
	}
	return f.limit(x) + " " + f.toPlus + " " + more
}

// way is what the two senses differ in: "either end", "either way".
func (f figures) way() string {
	if strings.HasSuffix(f.j.Positive, " end") && strings.Contains(f.j.Positive, " at ") {
		return "end"
	}
	return "way"
}

func (f figures) bare(x float64) string { return limit(x, f.j.Unit, f.decimals) }

func (f figures) limit(x float64) string {
	return hold(quantity.WithSymbol(limit(x, f.j.Unit, f.decimals), f.j.Unit))
}

// remarks say what else there is to know of a verdict.
func (f figures) remarks() Screen {
	var s Screen
	oneSided := !f.size && (f.lo == 0 && !math.IsInf(f.hi, 1) || f.hi == 0 && !math.IsInf(f.lo, -1))
	if oneSided && f.j.Verdict != checks.Pass {
		mid := (f.lo + f.hi) / 2
		word := f.toPlus
		if mid < 0 {
			word = f.toLess
		}
		s = append(s, detail("The perfect value is the edge here. Aim for "+f.format(math.Abs(mid))+" "+word+"."))
	}
	if f.j.TooCoarse {
		s = append(s, detail("The doubt is more than an eighth of what is allowed: take this as a rough check."))
	}
	return s
}

// cannotTell says what would help where a verdict cannot be told.
func cannotTell(j engine.Judgement, more bool) Screen {
	s := say("It may be good; these readings cannot show it.")
	if j.Why != "" {
		return s // it was said why, and takes of that kind do not mend it
	}
	if more {
		return append(s, Line{Text: "Further takes may decide. They count with the earlier ones."})
	}
	doubt := ""
	switch l := largest(j); {
	case l.Kind == uncert.Zero || l.Kind == uncert.Indication || l.Kind == uncert.Resolution:
		owner, _, _ := strings.Cut(l.Source, ",")
		doubt = ": the doubt is " + owner + "'s own"
	case l.Source != "":
		doubt = ": the doubt is mostly that of " + l.Source
	}
	return append(s, Line{Text: "More takes will not help" + doubt + "."})
}

// largest is the source that the doubt mostly comes from.
func largest(j engine.Judgement) (best uncert.Line) {
	for _, l := range j.Budget {
		if l.Share > best.Share {
			best = l
		}
	}
	return best
}
