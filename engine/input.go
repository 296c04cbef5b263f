package engine

import (
	"waywright/procedures"
)

// Verb is what a person wants to do at a question.
type Verb string

// The verbs. The zero Verb answers the question.
const (
	Answer  Verb = ""
	Back    Verb = "back"      // take back the last answer
	Amend   Verb = "amend"     // correct the answer Name (take Take) to Text, with a reason
	Cannot  Verb = "cannot"    // it cannot be taken, with a reason
	Note    Verb = "note"      // keep a remark
	Attach  Verb = "attach"    // keep File with a remark
	Pause   Verb = "pause"     // stop for now
	Disturb Verb = "disturb"   // Name is a step, an instrument or "machine"; with a reason
	Omit    Verb = "omit"      // an answers file leaves an optional question out
	Abandon Verb = "abandon"   // nobody will go on with this run, with a reason
	Exclude Verb = "leave_out" // Name is a test that is not measured, as Text, by name, has agreed; before anybody sits down; with a reason
)

// Input is what a person, or a file, says.
type Input struct {
	Verb   Verb
	Name   string // the question it answers; "" is the present one
	Take   int    // for Amend, from 1
	Text   string // as typed
	Reason string // why: with an odd value that is kept, a wait cut short, a concession …
	File   *File  // evidence that has been put in its place
	Known  *Bound // what the shop knows of the instrument that the answer names; nil where it is in no register
	Shop   string // what instruments the shop's register has, in words, where the one named is not among them
}

// Refusal says why an input was not kept. The question stays.
type Refusal struct {
	Code       string // name, value, unit, count, range, turn, reason, choice, wait, sign, verb, done, instrument
	Understood string // what was read: "I read 32.347."
	Wrong      string // what is odd: "That is 0.500 above take 1: one whole turn of the thimble."
	Mend       string // what to do
	// Keep is true where the value is odd but may be kept: say the same again
	// with a reason.
	Keep    bool
	Suggest []Choice // what may have been meant: Word is to be typed
	// Of a row with an odd value: the values as they were typed, and which is
	// odd, from 1. The others could be kept as they are.
	Row []string
	At  int
}

// NoticeKind is a kind of notice.
type NoticeKind string

// The kinds of notice.
const (
	Kept      NoticeKind = "kept"      // an answer was kept; Text reads it back
	Settled   NoticeKind = "settled"   // a gate got a verdict; Judgement
	Answers   NoticeKind = "response"  // a correction's effect became known; Response
	SetVoid   NoticeKind = "void"      // a set of readings cannot be used and is asked again
	Restart   NoticeKind = "restart"   // a step is worked again from its start
	Spoilt    NoticeKind = "again"     // what is measured again after a correction, with titles
	Lapsed    NoticeKind = "lapsed"    // a choice no longer holds
	SignTurn  NoticeKind = "sign"      // an indicator reads reversed: its signs are turned
	OpenedAge NoticeKind = "expired"   // something no longer holds, by age
	Suspect   NoticeKind = "suspicion" // readings look like a common mistake; Suspicion
	Ended     NoticeKind = "ended"     // the run is over
	Resumed   NoticeKind = "resumed"   // a sitting begins again: what is kept, what is to be done again
	Recovered NoticeKind = "recovered" // the journal's torn end was cut
)

// Notice is something to tell after an answer.
type Notice struct {
	Kind      NoticeKind
	Text      string // a finished sentence, where there is one
	Name      string // of the question or gate
	Judgement *Judgement
	Change    *Change // of Judgement, against the one before
	Response  *Response
	Titles    []string
	Drift     *Drift
	Suspicion *Suspicion
	Outcome   Outcome
}

// Drift is how far the first place of a set had moved when read again.
type Drift struct {
	Moved, Allowed float64
	Reading        *procedures.Reading
	Voids          int // sets void so far, this one included
}
