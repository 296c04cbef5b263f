package report

import (
	"fmt"
	"math"
	"strings"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/checks/response"
	"waywright/engine"
	"waywright/procedures/direction"
)

// VerdictWord is the verdict as it is printed, on every screen and page alike. A
// test that does not apply was not left out by anybody.
func VerdictWord(v checks.Verdict) string {
	switch v {
	case checks.Pass:
		return "PASS"
	case checks.Fail:
		return "FAIL"
	case checks.Undecided:
		return "CANNOT TELL"
	case checks.NotMeasured:
		return "NOT MEASURED"
	case checks.NotApplied:
		return "DOES NOT APPLY"
	}
	return "NOT YET JUDGED"
}

// leftOutWord is printed in the place of a verdict where a test was left out by
// agreement.
const leftOutWord = "LEFT OUT"

// outcomeText is the outcome as it is printed.
func outcomeText(word string, conceded int) string {
	switch word {
	case Accepted:
		return "ACCEPTED"
	case Conceded:
		return "ACCEPTED WITH " + count(conceded, "CONCESSION", "CONCESSIONS")
	case Surveyed:
		return "RECORDED AS FOUND"
	case Rejected:
		return "REJECTED"
	case Abandoned:
		return "ABANDONED"
	}
	return "NOT DECIDED"
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// rule puts a decision rule in a sentence. The levels are those of
// [checks.Level] (JCGM 106:2012, 8.3.2; measure rule 12).
func rule(r checks.Rule, from engine.RuleFrom) Rule {
	if r == checks.Simple {
		return Rule{Name: r.String(), Said: "Simple: PASS where the value itself lies inside its limits. The doubt is printed beside it."}
	}
	pass, fail := checks.Level(r)
	out, name := Rule{Name: r.String(), Level: pass}, capital(r.String())
	if from == engine.RuleOfShop {
		out.From = string(from)
		name += ", the shop's own rule"
	}
	out.Said = fmt.Sprintf(
		"%s: PASS only where the limit is kept with a probability of at least %g, FAIL only where with at most %g. Between them: CANNOT TELL.",
		name, pass, fail)
	return out
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// responseSaid tells what a correction did.
func responseSaid(f response.Finding) string {
	s := responseWords[f.Word]
	switch {
	case s == "":
		s = "What it did is not known."
	case f.BothCauses:
		s = "It was moved the wrong way, or readings or a sign were mistaken."
	case f.SomethingElse:
		s += " It changed more than twice as much as expected: something else may have moved too."
	}
	if n := responseWords[f.Neighbour]; n != "" && f.Neighbour != f.Word {
		s += " It may also be: " + strings.ToLower(n[:1]) + n[1:]
	}
	return s
}

var responseWords = map[response.Word]string{
	response.AsExpected:   "It did what it should.",
	response.WrongWay:     "It was moved the wrong way.",
	response.WrongSign:    "The result went the other way from what the indicator showed: readings were swapped or a sign was wrong.",
	response.Reversed:     "It was moved the right way; the indicator read the other way round.",
	response.Undone:       "The move was undone in clamping, or it was not the cause.",
	response.NotMoved:     "Nothing moved.",
	response.Part:         "It was moved part of the way.",
	response.TooFar:       "It was moved further than asked, and as much came of it.",
	response.Weak:         "The machine answered weakly.",
	response.Strong:       "The machine answered strongly.",
	response.Unclear:      "The figures name no cause.",
	response.Better:       "It became better; more cannot be told.",
	response.Worse:        "It became worse; more cannot be told.",
	response.NoDifference: "No difference can be told from noise.",
}

// sense is the words for the two ways of a number.
type sense struct{ plus, minus string }

// senseOf returns the words for both ways. Words that say what a number never
// is ("never below nothing") are no direction.
func senseOf(positive, negative string) sense {
	if strings.HasPrefix(positive, "never ") {
		return sense{}
	}
	if negative == "" {
		negative, _ = direction.Opposite(positive)
	}
	return sense{plus: positive, minus: negative}
}

func (s sense) way(x float64) string {
	if x < 0 {
		return s.minus
	}
	return s.plus
}

// say puts a number in words: 0.009 mm towards the operator. Where the way has
// no words the sign stays, and what plus means is said.
func (s sense) say(n Number) string {
	way := s.way(n.Value)
	switch {
	case isNought(n.Text):
		return n.WithUnit()
	case way != "":
		return n.abs().WithUnit() + " " + way
	case s.plus != "":
		return n.WithUnit() + " (plus: " + s.plus + ")"
	}
	return n.WithUnit()
}

func isNought(text string) bool { return strings.Trim(text, "0.") == "" }

// span puts a reach from one number to another in words: 0 to 12 µm towards
// the operator; 5 µm falling to 20 µm rising.
func (s sense) span(lo, hi Number) string {
	worded := s.plus != "" && s.minus != ""
	switch {
	case !worded && s.plus != "":
		return lo.Text + " to " + hi.WithUnit() + " (plus: " + s.plus + ")"
	case !worded:
		return lo.Text + " to " + hi.WithUnit()
	case isNought(lo.Text) || lo.Value > 0:
		return lo.Text + " to " + s.say(hi)
	case isNought(hi.Text):
		return hi.Text + " to " + s.say(lo)
	case hi.Value < 0:
		return hi.abs().Text + " to " + s.say(lo)
	}
	return s.say(lo) + " to " + s.say(hi)
}

// allowed puts limits in words. lo or hi is nil where there is none.
func (s sense) allowed(lo, hi *Number) string {
	switch {
	case lo == nil && hi == nil:
		return "no limit"
	case lo == nil:
		return s.most(*hi)
	case hi == nil:
		return s.least(*lo)
	case lo.Text == quantity.TrueMinus+hi.Text:
		return "up to " + hi.WithUnit() + ", either way"
	case isNought(lo.Text) && s.minus != "":
		return s.span(*lo, *hi) + ", never " + unlike(s.minus, s.plus)
	case isNought(hi.Text) && s.minus != "":
		return s.span(*lo, *hi) + ", never " + unlike(s.plus, s.minus)
	}
	return s.span(*lo, *hi)
}

// unlike leaves out the words with which both begin: of "free end low", beside
// "free end high", it leaves "low".
func unlike(words, other string) string {
	ws, os := strings.Fields(words), strings.Fields(other)
	for len(ws) > 1 && len(os) > 1 && ws[0] == os[0] {
		ws, os = ws[1:], os[1:]
	}
	return strings.Join(ws, " ")
}

func (s sense) most(hi Number) string {
	switch {
	case s.minus == "":
		return "at most " + s.say(hi)
	case isNought(hi.Text):
		return "never " + s.plus
	case hi.Value < 0:
		return "at least " + s.say(hi)
	}
	return "at most " + s.say(hi)
}

func (s sense) least(lo Number) string {
	switch {
	case s.minus == "":
		return "at least " + s.say(lo)
	case isNought(lo.Text):
		return "never " + s.minus
	case lo.Value < 0:
		return "at most " + s.say(lo)
	}
	return "at least " + s.say(lo)
}

// fromMemory tells whether a source says that its text was not seen.
func fromMemory(source string) bool {
	s := strings.ToLower(source)
	return strings.Contains(s, "verify") || strings.Contains(s, "memory")
}

// finding builds a value with its doubt, printed so that it stands to its
// limits as it does unrounded. All numbers are in base units.
func finding(y, bigU, k, dof, lo, hi float64, u quantity.Unit, s sense) *Finding {
	places := apart(placesOf(y, bigU, u), u, y, lo, hi)
	value := number(y, u, places)
	if value == nil {
		return nil
	}
	f := &Finding{Value: value, Said: s.say(*value), Positive: s.plus, Negative: s.minus, Exact: !(bigU > 0)}
	if bigU > 0 {
		f.U = number(bigU, u.Difference(), places)
		f.K = steady(k)
		if dof > 0 && !math.IsInf(dof, 0) {
			f.DoF = math.Floor(steady(dof))
		}
		if from, to := number(y-bigU, u, places), number(y+bigU, u, places); from != nil && to != nil {
			f.Between = s.span(*from, *to)
		}
	}
	f.toLimit(y, lo, hi, u, places)
	return f
}

// toLimit keeps the distance to the nearer limit.
func (f *Finding) toLimit(y, lo, hi float64, u quantity.Unit, places int) {
	above, below := hi-y, y-lo
	switch {
	case math.IsInf(above, 1) && math.IsInf(below, 1):
	case below < above:
		f.Nearer, f.Side = number(below, u.Difference(), places), "lower"
	default:
		f.Nearer, f.Side = number(above, u.Difference(), places), "upper"
	}
}

// limits builds the limits beside a value that is printed with those places.
func limits(lo, hi float64, u quantity.Unit, places int, s sense) Allowed {
	a := Allowed{Lower: limit(lo, u, places), Upper: limit(hi, u, places)}
	a.Said = s.allowed(a.Lower, a.Upper)
	return a
}

func limit(l float64, u quantity.Unit, places int) *Number {
	n := number(l, u, places)
	if n != nil {
		n.Text = limitDigits(l, u, places)
	}
	return n
}

// OutcomeText is the outcome as it is printed, with so many concessions.
func OutcomeText(word string, conceded int) string { return outcomeText(word, conceded) }
