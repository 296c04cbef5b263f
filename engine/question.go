package engine

import (
	"time"

	"waywright/checks"
	"waywright/checks/propagate"
	"waywright/checks/quantity"
	"waywright/checks/response"
	"waywright/checks/uncert"
	"waywright/procedures"
)

// Kind is a kind of question.
type Kind string

// The kinds of question. What an answer to each may be stands beside it.
const (
	AskOperator   Kind = "operator"   // a name
	AskGrade      Kind = "grade"      // one of Choices
	AskGiven      Kind = "given"      // a value
	AskInstrument Kind = "instrument" // the id of an instrument, or "none"
	AskClear      Kind = "clear"      // yes, or no
	AskRelease    Kind = "release"    // name of the person who releases the hold point
	AskConfirm    Kind = "confirm"    // yes, or no
	AskDone       Kind = "done"       // yes, or no: a step or correction with work and no question
	AskNudge      Kind = "nudge"      // plus, minus or nowhere
	AskReading    Kind = "reading"    // a value, or the row of all that remain
	AskWait       Kind = "wait"       // over, once it is; stated or short with a reason; a value where Wait.Reading
	AskWay        Kind = "way"        // one of Ways; or the report of the first, see Also
	AskMoved      Kind = "moved"      // how far it moved
	AskMove       Kind = "move"       // after a movement not as asked: a further movement, carry_on, wrong_way, plus, minus, nowhere
	AskDecider    Kind = "decider"    // name of the person who decides on concessions
	AskConcession Kind = "concession" // grant or refuse, with a reason
	AskSign       Kind = "sign"       // the name of the signer
	AskSheet      Kind = "sheet"      // what stands on a work sheet, in words; whether it goes on, yes or no
	Blocked       Kind = "blocked"    // nothing can be answered: a value must come from elsewhere
	End           Kind = "end"        // nothing more is asked
)

// Question is what has to be settled next: all that a front end needs to put
// it to a person. Texts are finished sentences, numbers are in base units.
type Question struct {
	Name     string   // as an answers file names it
	Also     []string // other names that an answers file may use at this place
	Kind     Kind
	Optional bool // an answers file may leave it out; what that means is recorded

	Sheet bool   // it is asked what stands on a work sheet
	Field string // its number there

	Step     Place
	Spindle  procedures.Spindle // what the step asks of the spindle
	Do       []string           // instructions, with the first question of a step or correction
	Tools    []string           // with the first question of a step
	Ask      string             // place first, quantity second
	Why      string             // for a wait; of what cannot be signed yet, what makes it good
	Expired  string             // what must be done again by its age, and why; of a question of a step that had been settled
	Turning  string             // how angles run, in words
	Positive string             // what plus means, in words
	Negative string

	Unit       *quantity.Unit // in which values are shown and bare numbers are read
	Decimals   int            // that the instrument shows, in Unit
	Range      *Range         // plausible values
	Choices    []Choice
	Count      bool
	Text       bool
	File       bool
	Instrument *InHand

	Keys              []string  // of a reading: those of the step's round, then its own
	Working           int       // of a reading: which working of its step this is, from 1
	Turned            bool      // the instrument stands turned round
	Setting           string    // of a reading: what takes of one setting of its instrument have in common
	Where             float64   // the station (mm) or angle (rad) of a row now read
	Take, Takes       int       // take 2 of 3; 0 where there is one only
	Station, Stations int       // place 3 of 8 in the reading; 0 where there is one only
	At                []float64 // stations of a profile (mm) or angles of a turn (rad)
	So                []float64 // values already taken along At in this set, NaN where none
	Again             bool      // the first place, once more, to see whether anything moved
	Back              bool      // on the way back
	Further           bool      // a further take, that was asked for at a gate
	Remaining         int       // values that a row may hold: all that are left of this reading
	Offer             *Offer
	OfferOnly         bool // the offer is all that may be answered

	Cautions  []CautionText
	SpindleTo procedures.Spindle // the change that AskClear asks for, or AnySpindle
	Clear     *Question          // for AskWay, what Also lets be acknowledged at once: to be shown before that is

	Wait       *Waiting
	Gate       *Judgement
	Ways       []Offered   // for AskWay, the first first
	Withheld   []Withheld  // for AskWay, the corrections that are not among Ways, and why
	Response   *Response   // what the last correction did, with AskWay
	Change     *Change     // of Gate, against the judgement before, with AskWay; nil where Response says so already
	Move       *MoveAdvice // for AskMove
	Suspicions []Suspicion // with AskWay: what the readings look like besides
	Role       *procedures.Signoff
	Open       []string // for AskSign: what stands in the way of signing, in words; nil when nothing does. For AskWay: what lies upstream, where nothing is left to try here
	Outcome    Outcome  // for End and AskSign
}

// Place is where in the procedure a question stands.
type Place struct {
	N, Of int    // step 3 of 9; 0 for the givens
	Name  string // the step's name, or ""
	Title string // with the keys of the round
	Keys  []string
}

// Range is a range of plausible values, base units.
type Range struct{ From, To float64 }

// Choice is one of the words that may be answered.
type Choice struct {
	Word  string // what is kept
	Label string // what is shown
}

// InHand is the instrument a reading is taken with.
type InHand struct {
	Name       string // in the procedure
	Kind       string
	ID         string // of the real one, or "" when not identified
	Resolution float64
	Reads      *Range // what it can read on its own scale; nil where that is not known
	Unit       quantity.Unit
	Due        string

	absolute bool // it shows the size itself, not how far from where it was set
}

// Offer is a value that is known from elsewhere.
type Offer struct {
	Value   float64
	Text    string  // as it is shown, with unit
	exact   string  // the same with every figure, as it is taken over
	From    string  // "the entry of lathe-2"
	Run     string  // the accepted run that it comes from, or empty
	Assumed bool    // it was agreed on, because no accepted run has it
	U       float64 // standard uncertainty that it was found with, base units
	DoF     float64 // of U; 0 where it is well known
}

// CautionText is a caution as it is shown.
type CautionText struct {
	Name, Text, Hazard, Source string
}

// Waiting describes a wait.
type Waiting struct {
	Since   time.Time
	From    time.Time // from when Over counts: Since, or the reading before
	Over    time.Time // when the time has passed; zero for a wait by readings alone
	Reading bool      // a value is wanted now
	Last    []float64 // values read so far
	Agree   float64
	Every   time.Duration
	Takes   int // at most
}

// Outcome is what became of a run.
type Outcome string

// The outcomes.
const (
	NotDecided   Outcome = "not_decided"
	Accepted     Outcome = "accepted"
	AsFound      Outcome = "as_found" // accepted, and every test that applies is noted alone
	Conceded     Outcome = "conceded" // accepted with concessions
	Rejected     Outcome = "rejected"
	Discontinued Outcome = "abandoned" // nobody goes on with it: nothing was decided
)

// Stands tells whether what the run found holds from then on: it was signed
// as it is, with concessions or without, or as a survey of what was found.
func (o Outcome) Stands() bool { return o == Accepted || o == Conceded || o == AsFound }

// Judgement is a gate held against its limits. Numbers are in base units, and
// shown in Unit.
type Judgement struct {
	Gate      *procedures.Gate
	Name      string // with the keys of the round: alike.marked
	Title     string
	Keys      []string
	Verdict   checks.Verdict
	Why       string // for NotApplied, NotMeasured: by which condition or reason
	Value     float64
	U         float64 // expanded uncertainty
	K         float64 // coverage factor
	Dof       float64
	P         float64      // probability of conformity
	Bound     checks.Bound // P may be known from one side only
	Lo, Hi    float64      // limits, ±Inf where there is none
	Holds     bool         // a gate that asks whether something holds; then no numbers
	Rule      checks.Rule
	Unit      quantity.Unit
	Positive  string           // what plus means
	Element   string           // the worst element of a profile or of keyed values
	Elements  []Element        // all of them
	Budget    []uncert.Line    // where the uncertainty comes from
	Drawn     *propagate.Drawn // where errors were drawn
	TooCoarse bool             // under simple: the standard uncertainty is above an eighth of what is allowed, so that the verdict says little
	Noise     bool             // a value that cannot be negative is no more than the errors of the readings make of a part without fault
	Source    string           // of the limit
	Conceded  *Concession      // asked for, granted or refused
	LeftOut   *Exclusion       // by agreement, before the run
}

// Element is one station or key of a gate over many values.
type Element struct {
	Key     string
	At      float64 // station, mm, or angle, rad
	Value   float64
	U       float64
	Lo, Hi  float64
	P       float64
	Bound   checks.Bound
	Verdict checks.Verdict

	TooCoarse bool // see Judgement
}

// Concession is one asked for at a gate.
type Concession struct {
	Reason  string
	By      string
	Decided bool
	Granted bool
	Role    string
	Decider string // who decided
	Because string
}

// WayKind is what an offered way is.
type WayKind string

// The ways on from a gate that is not passed.
const (
	WayAgain      WayKind = "again"      // further takes, or another try at what could not be taken
	WayCorrection WayKind = "correction" //
	WayAfresh     WayKind = "afresh"     // the readings are taken again from the start; what was cut or set stays
	WayConcession WayKind = "concession"
	WayReject     WayKind = "reject"
)

// Withheld is a correction that is not offered at a gate which names it.
type Withheld struct {
	Name  string
	Title string
	Why   string // half a sentence: "all 3 tries of it are used"
}

// Offered is one way on from a gate.
type Offered struct {
	Name   string // what is answered under the gate's name
	Kind   WayKind
	Advice *Advice // for a correction
}

// Advice says which way and how much.
type Advice struct {
	Correction *procedures.Correction
	Title      string
	Do         []string
	HasAmount  bool
	Amount     float64       // planned, plus in the sense of Positive
	Unit       quantity.Unit //
	Direction  string        // the words for its sign
	At         []float64     // stations, where there is an amount for each
	Amounts    []float64     // the amounts for At
	Divisions  float64       // Amount in divisions of the instrument that shows the movement; 0 where not known
	Instrument *InHand       // which shows it
	Gain       float64       // by which the amount was divided; 1 at first
	Remembered float64       // the gain that an earlier run on this machine found, where the amount goes by it; else 0
	FromRun    string        // that run
	Expects    *float64      // change of the result
	ExpectUnit quantity.Unit
	Spoils     []string // titles of what is measured again afterwards
	Disturbs   []string // accepted runs of other procedures that it disturbs
	Left       int      // attempts left, this one included
	NoReturn   bool     // cannot be put back
	OnePass    bool     // the amount does not hang on what was found: it is not halved
	Tells      bool     // no movement is read: how much of it was done is told when it is reported
	Reversed   bool     // the instrument is known to read the other way round
	Report     string   // the name under which it is reported
	Ledger     string
	SoFar      []LedgerLine // what was removed, added or moved at that place before: of each place and way the last line, with its total
}

// Response is what a correction did, told from before and after.
type Response struct {
	Correction *procedures.Correction
	Title      string // of the result that should change
	Positive   string // what its plus means
	Attempt    int
	Unit       quantity.Unit // of Before, After
	Before     float64
	After      float64
	UDelta     float64 // expanded uncertainty of the change
	Shown      bool    // the change is more than its doubt
	Expected   float64 // change expected at the planned amount
	Amount     float64 // planned
	Moved      float64
	HasMoved   bool
	AmountUnit quantity.Unit
	Direction  string // words of the planned way
	MovedWay   string // words of the way it moved
	Finding    response.Finding
	Cannot     string // why it cannot be told, or ""
	Rightly    bool   // the needle was tested afterwards, and reads rightly

	Verdict checks.Verdict // of the gate that it was carried out for, as it stands now
	Reread  bool           // what it is told from was read again since
	Looks   []Suspicion    // what explains it, where its readings look like a mistake
}

// MoveAdvice is said as soon as a movement is typed that is not as asked.
type MoveAdvice struct {
	Correction *procedures.Correction
	Band       response.Band // minus, nought, part, over
	Asked      float64
	AskedWay   string
	Moved      float64 // all movements since the choice
	MovedWay   string
	Left       float64 // what is still to be moved, counted from where it stands
	LeftWay    string
	Divisions  float64
	Unit       quantity.Unit
	Nudge      bool   // the needle's sign is to be tested
	NudgeWay   string // the direction to push
	Instrument *InHand
}
