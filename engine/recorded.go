package engine

import (
	"time"

	"waywright/checks/quantity"
	"waywright/checks/uncert"
	"waywright/checks/value"
	"waywright/procedures"
)

// Stamp says when something happened, by whom, and in which line of the
// journal.
type Stamp struct {
	N      int
	Time   time.Time
	By     string
	Reason string
}

// TakeRecord is one answer with all that became of it.
type TakeRecord struct {
	Stamp
	Take        int     // from 1 at its place
	Station     int     // from 1 along a profile or turn; 0 elsewhere
	At          float64 // mm or rad
	Back        bool
	Closure     bool
	Pass        int // 0, or the number of the further takes it belongs to
	Typed       string
	Value       float64 // base units, as it counts
	Unit        quantity.Unit
	Word        string
	File        *File
	Odd         string
	From        string
	Amended     []Amendment
	Withdrawn   bool
	WithdrawnAt Stamp
}

// Amendment is a correction of an answer.
type Amendment struct {
	Stamp
	Name     string
	Title    string
	Take     int
	Was, To  string // as they are shown, with unit
	WasTyped string
}

// Fact is a given or a confirmation.
type Fact struct {
	Stamp
	Name, Title string
	Step        Place
	Keys        []string
	Value       value.Value
	Unit        *quantity.Unit
	Takes       []TakeRecord
	From        string
	U           float64
	Exact       bool
	Instrument  *InHand
	Stale       bool
	Why         string
}

// ReadingSet is what was read of one reading, at one place or along one row,
// in one working and pass.
type ReadingSet struct {
	ID         string // name#event of its first take
	Name       string // with keys, without station: front.marked.near.180
	Reading    *procedures.Reading
	Ask        string
	Step       Place
	Keys       []string
	KeyNames   []string
	Working    int
	Round      string // the set that is asked again whole
	Takes      []TakeRecord
	Mean       *float64
	Drift      *Drift
	Nudge      string
	Turned     bool
	Instrument *InHand
	State      string // used, stale, void, broken, unmeasured
	Why        string
	SinceN     int
	Sitting    int
}

// ResultValue is a result as it stands.
type ResultValue struct {
	Result      *procedures.Result
	Name, Title string
	Keys        []string
	Value       value.Value
	U, K, Dof   float64
	HasU        bool
	Budget      []uncert.Line
	Inputs      []string
	EachU       []float64 // of a profile or a turn, the doubt of each of its numbers; nil where it is not worked out
}

// WaitRecord is a wait that ended.
type WaitRecord struct {
	Stamp
	Name, Why, How string
	Asked          time.Duration
	Readings       []TakeRecord
	Stale          bool
}

// Clearing is an acknowledgement of cautions or of the state of the spindle.
type Clearing struct {
	Stamp
	Name    string
	Texts   []string
	Spindle string
	Skipped bool
}

// Release is a hold point that was released.
type Release struct {
	Stamp
	Step, Role, Name string
	As               *procedures.Signoff
}

// Withdrawal is an answer that was taken back.
type Withdrawal struct {
	Stamp
	Of   int
	What string
}

// UnableRecord is something that could not be taken.
type UnableRecord struct {
	Stamp
	Name, Title string
	Lasting     bool // it still stands
}

// ConcessionRecord is a concession that was asked for.
type ConcessionRecord struct {
	Stamp
	Gate, Title string
	Decided     bool
	Granted     bool
	Role        string
	Decider     string // who decided
	Because     string
	Lapsed      bool
}

// RoleRecord is a role that signs, and who did.
type RoleRecord struct {
	Role   *procedures.Signoff
	Title  string
	Signed *Stamp
	Name   string
}

// Attempt is one judgement of a gate that was reached on whole inputs.
type Attempt struct {
	Judgement
	At         Stamp
	Working    []string // IDs of the reading sets it stands on
	Stands     bool
	Ended      string
	Change     *Change     // against the one before that had a value; nil for the first, and where there is no number
	Overall    *Change     // against the first that had one
	Suspicions []Suspicion // what the readings looked like besides
	Chosen     *Chosen
	ChosenAt   Stamp
	Correction *Attempted
}

// Attempted is a correction that was chosen, and what became of it.
type Attempted struct {
	Correction *procedures.Correction
	Title      string
	Do         []string
	N          int
	HasAmount  bool
	FromRun    string // the earlier run that found the gain, where it was not this one
	Planned    float64
	PlannedWay string
	At         []float64
	Amounts    []float64
	Gain       float64
	Moved      []Movement
	MovedSum   *float64
	MovedWay   string
	Took       *Movement // how much was done, where that was told and no movement is read
	Judged     []Judged
	Response   *Response
	Disturbed  []string
	Report     Stamp
}

// Movement is one movement as it was read.
type Movement struct {
	Stamp
	Typed string
	Value float64
	Way   string
}

// Judged is an answer to a movement that was not as asked.
type Judged struct {
	Stamp
	MoveJudged
}
