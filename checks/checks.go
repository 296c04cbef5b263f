// Package checks decides whether a result conforms to a limit. Its
// subpackages hold units, the uncertainty of results and the computations of
// the trade.
//
// Lengths inside are millimetres and angles radians unless a comment says
// otherwise. Nothing here reads a file, the clock or a terminal, and nothing
// is remembered between calls.
package checks

// Rule is a decision rule: how sure a verdict must be. See [Decide].
type Rule uint8

// The rules, weakest first.
const (
	NoRule  Rule = iota // not stated: the next outer one holds
	Simple              // the value inside the limit passes
	Guarded             // passes at a probability of conformity of 0.95
	Strict              // passes at 0.977
)

func (r Rule) String() string {
	return [...]string{"", "simple", "guarded", "strict"}[r]
}

// ParseRule returns the rule with that name; ok tells whether there is one.
func ParseRule(s string) (r Rule, ok bool) {
	for r := Simple; r <= Strict; r++ {
		if r.String() == s {
			return r, true
		}
	}
	return NoRule, false
}

// Verdict is what became of a gate.
type Verdict uint8

// The verdicts. Worse ones are greater, so that the verdict of many elements
// is the greatest of theirs.
const (
	Open        Verdict = iota // inputs are missing or stale
	NotApplied                 // an input is absent: the test does not apply
	Pass                       // conforms, as sure as the rule asks
	NotMeasured                // an input could not be taken
	Undecided                  // cannot be told with these readings
	Fail                       // does not conform, as sure as the rule asks
)

func (v Verdict) String() string {
	return [...]string{"open", "not_applied", "pass", "not_measured", "undecided", "fail"}[v]
}
