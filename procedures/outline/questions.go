package outline

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"waywright/procedures/hclfile/schema"
)

// all are the questions, in the order of asking.
var all []asked

func init() { all = questions() } // they use one another by name

var yesNo = []string{"yes", "no"}

func questions() []asked {
	return slices.Concat(whatFor(), places(), limits(), tools(), corrections(), ends())
}

// whatFor asks what it is about.
func whatFor() []asked {
	return []asked{
		{Question: Question{Name: "name", Need: true, check: nameCheck,
			Ask: "What is its file to be called, such as drill-table?"}},
		{Question: Question{Name: "title", Need: true, check: reads("title"),
			Ask: "What is to be so, in a few words, such as Drill table square to the spindle?"}, inWords: true},
		{Question: Question{Name: "machine", check: reads("machine"),
			Ask: "For which kind of machine, such as bench drill? (Enter: any)"}, inWords: true},
		{Question: Question{Name: "shape", Need: true, Words: []string{Difference, Profile, Turn, Square, Size},
			Ask: "What is it: a difference between two places (taper, parallel), a profile along a length (straight), a turn (run-out), square over a span, or a single size? Type difference, profile, turn, square or size."}},
		{Question: Question{Name: "part", Need: true, check: short(18, "part"),
			Ask: "On what is it measured, such as Table?"}, inWords: true},
		{Question: Question{Name: "quantity", check: short(16, "quantity"),
			Ask: "What is read there, such as height or diameter? (Enter: reading)"}, inWords: true},
	}
}

// places asks where it is read.
func places() []asked {
	two := shapes(Difference, Square)
	return []asked{
		{Question: Question{Name: "first", Need: true, check: short(18, "first"),
			Ask: "The first place that is read, such as near end?"}, when: two, inWords: true},
		{Question: Question{Name: "second", Need: true, check: second,
			Ask: "And the second, such as far end? What is found is the second less the first."}, when: two, inWords: true},
		{Question: Question{Name: "length_least", Need: true, check: sizeOf(length, true),
			Ask: "The shortest length that it may be read along, such as 200 mm?"}, when: shapes(Profile)},
		{Question: Question{Name: "length_most", Need: true, check: longer("length_least"),
			Ask: "And the longest?"}, when: shapes(Profile)},
		{Question: Question{Name: "places", Need: true, check: count(3, 25),
			Ask: "At how many places along it, the ends among them, from 3 to 25?"}, when: shapes(Profile)},
		{Question: Question{Name: "angles", Need: true, check: count(4, 36),
			Ask: "At how many places round the turn, from 4 to 36?"}, when: shapes(Turn)},
	}
}

// limits asks for the unit, what is plausible and what is allowed.
func limits() []asked {
	reading := func(positive bool) func(Answers, string) error { return sizeOf(ofReading, positive) }
	return []asked{
		{Question: Question{Name: "unit", Need: true},
			text: func(a Answers) string {
				return "In which unit is it read? Type " + strings.Join(unitsOf(a), ", ") + "."
			}, words: unitsOf},
		{Question: Question{Name: "least", Need: true, check: reading(false),
			Ask: "The smallest reading that is plausible, with its unit, such as -0.5 mm? A slip of the finger lies beyond it."}},
		{Question: Question{Name: "most", Need: true, check: func(a Answers, text string) error {
			if err := reading(false)(a, text); err != nil {
				return err
			}
			return above(a, "least", text)
		}, Ask: "And the greatest?"}},
		{Question: Question{Name: "lower", Need: true, check: reading(false),
			Ask: "The smallest size that is allowed, such as 24.98 mm?"}, when: shapes(Size)},
		{Question: Question{Name: "upper", Need: true, check: func(a Answers, text string) error {
			if err := reading(false)(a, text); err != nil {
				return err
			}
			return above(a, "lower", text)
		}, Ask: "And the greatest?"}, when: shapes(Size)},
		{Question: Question{Name: "limit", Need: true, check: reading(true),
			Ask: "What is allowed at most, such as 0.02 mm?"}, when: shapes(Difference, Profile, Turn, Square)},
		{Question: Question{Name: "per", check: sizeOf(length, true),
			Ask: "Over which distance is that allowed, more over a longer one, such as 300 mm? (Enter: whatever the distance)"}, when: shapes(Difference, Square)},
		{Question: Question{Name: "span_least", Need: true, check: sizeOf(length, true),
			Ask: "The shortest distance between the two places that there may be, such as 100 mm?"}, when: spanned},
		{Question: Question{Name: "span_most", Need: true, check: longer("span_least"),
			Ask: "And the longest?"}, when: spanned},
		{Question: Question{Name: "plus", Need: true, check: reads("plus")}, when: shapes(Difference, Profile, Turn, Square), inWords: true,
			text: func(a Answers) string {
				if shapes(Difference, Square)(a) {
					return "What does it mean when the second place reads more than the first? Say which way, the part first, such as far end high, or larger at the far end."
				}
				return "Which way does a reading go plus, such as up, or towards the operator?"
			}},
		{Question: Question{Name: "way", Need: true, Words: []string{"both", "plus", "minus"},
			Ask: "Is that allowed either way, or one way alone? Type both, plus or minus."}, when: shapes(Difference, Square)},
		{Question: Question{Name: "source", Need: true, check: reads("source"),
			Ask: "Who says so: a standard with its number, a drawing, shop rule?"}, inWords: true},
	}
}

// tools asks with what it is read, and what comes before.
func tools() []asked {
	reading := sizeOf(ofReading, true)
	return []asked{
		{Question: Question{Name: "kind", Need: true, check: reads("kind"),
			Ask: "With which instrument, such as dial indicator?"}, inWords: true},
		{Question: Question{Name: "resolution", Need: true, check: reading,
			Ask: "The smallest step that is read on it, such as 0.002 mm?"}},
		{Question: Question{Name: "error", Need: true, check: reading,
			Ask: "How far may it be wrong, over what is read here, such as 0.003 mm?"}},
		{Question: Question{Name: "repeatability", Need: true, check: reading,
			Ask: "By how much does one take scatter (standard deviation), such as 0.001 mm?"}},
		{Question: Question{Name: "takes", Need: true, check: count(1, 10),
			Ask: "How often is each place read, from 1 to 10?"}, when: shapes(Difference, Square, Size)},
		{Question: Question{Name: "spindle", Need: true, Words: []string{"stopped", "turning", "none"},
			Ask: "Is a spindle stopped or turning meanwhile? Type stopped, turning or none."}},
		{Question: Question{Name: "hurts", check: reads("hurts"),
			Ask: "What can hurt there, in one sentence? (Enter: nothing besides)"}, inWords: true},
		{Question: Question{Name: "hazard", Need: true, Words: schema.Hazards,
			Ask: "Of which kind is that? Type " + strings.Join(schema.Hazards, ", ") + "."}, when: func(a Answers) bool { return a.has("hurts") }},
		{Question: Question{Name: "do", check: reads("do"),
			Ask: "What is done before it is read, in short sentences, parted by semicolons? (Enter: nothing)"}, inWords: true},
	}
}

// corrections asks what brings it right.
func corrections() []asked {
	return []asked{
		{Question: Question{Name: "correct", Need: true, Words: yesNo,
			Ask: "Can it be put right there and then? Type yes or no."}},
		{Question: Question{Name: "fix", Need: true, check: reads("fix"),
			Ask: "What is done to put it right, as an order, such as Shim the foot?"}, when: corrected, inWords: true},
		{Question: Question{Name: "fix_do", Need: true, check: reads("fix_do"),
			Ask: "How, in short sentences, parted by semicolons?"}, when: corrected, inWords: true},
		{Question: Question{Name: "move_plus", Need: true, check: movePlus,
			Ask: "It has an amount. Which way is plus, such as raise the left foot, or towards the operator?"}, when: moved, inWords: true},
		{Question: Question{Name: "move_minus", check: reads("move_minus"),
			Ask: "And minus, such as lower the left foot? (Enter: it cannot be put back)"}, when: moved, inWords: true},
		{Question: Question{Name: "ratio", Need: true, check: ratio,
			Ask: "Moved by one, by how much does what is found change? Type 1 where as much, 2 where twice as much, 0.5 where half as much."}, when: moved},
		{Question: Question{Name: "follows", Need: true, Words: []string{"more", "less"}}, when: moved,
			text: func(a Answers) string {
				return fmt.Sprintf("After a move %s, is what is found more than before, or less? Type more or less.", a["move_plus"])
			}},
		{Question: Question{Name: "move_with", check: reads("move_with"),
			Ask: "Which instrument shows how far it moved, such as dial indicator? (Enter: none)"}, when: moved, inWords: true},
		{Question: Question{Name: "move_resolution", Need: true, check: sizeOf(ofReading, true),
			Ask: "The smallest step that it shows, such as 0.01 mm?"}, when: both(moved, func(a Answers) bool { return a.has("move_with") })},
	}
}

func ends() []asked {
	return []asked{{Question: Question{Name: "second_person", Need: true, Words: yesNo,
		Ask: "Does a second person accept it, who may also grant a concession? Type yes or no."}}}
}

var fileName = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)

func nameCheck(_ Answers, text string) error {
	if !fileName.MatchString(text) || len(text) > 60 {
		return refusal("A name has lower-case letters and figures, and hyphens between words, such as drill-table.")
	}
	return nil
}

func second(a Answers, text string) error {
	if key(text) == key(a["first"]) {
		return refusal("That is the first place again. Name the other one.")
	}
	return short(18, "second")(a, text)
}

// movePlus stands in a question too.
func movePlus(a Answers, text string) error { return short(34, "move_plus")(a, text) }

// longer wants a length above another.
func longer(than string) func(Answers, string) error {
	return func(a Answers, text string) error {
		if err := sizeOf(length, true)(a, text); err != nil {
			return err
		}
		return above(a, than, text)
	}
}

func above(a Answers, name, text string) error {
	lo, errLo := parse(a[name])
	hi, errHi := parse(text)
	if errLo == nil && errHi == nil && hi.base <= lo.base {
		return refused("It is not above %s, which was said before.", a[name])
	}
	return nil
}

func count(from, to int) func(Answers, string) error {
	return func(_ Answers, text string) error {
		n, err := strconv.Atoi(text)
		if err != nil || n < from || n > to {
			return refused("A whole number from %d to %d is wanted.", from, to)
		}
		return nil
	}
}

func ratio(_ Answers, text string) error {
	x, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil || x < 0.01 || x > 100 {
		return refusal("A plain number from 0.01 to 100 is wanted, without a unit and without a sign.")
	}
	return nil
}

// unitsOf are the units that a shape may be read in.
func unitsOf(a Answers) []string {
	lengths := []string{"mm", "um", "inch", "thou"}
	if shapes(Difference, Turn)(a) {
		return append(lengths, "arcsec", "arcmin", "deg")
	}
	return lengths
}

// key is a place's name in formulas and answers files.
func key(text string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(text) {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			b.WriteRune(r)
		} else if s := b.String(); s != "" && !strings.HasSuffix(s, "_") {
			b.WriteByte('_')
		}
	}
	k := strings.Trim(b.String(), "_")
	if k == "" || k[0] >= '0' && k[0] <= '9' {
		k = "at_" + k
	}
	return strings.Trim(k, "_")
}
