// Package procedures holds the typed model of a procedure: what the steps
// are, what is read in them, what is worked out, what the limits are and what
// is done when they are not met.
//
// The model is made by [waywright/procedures/hclfile] from the source, and
// proved by [waywright/procedures/vet]. It is not changed afterwards and holds no
// state of a run. Formulas and texts are compiled; numbers inside them are in
// base units (mm, rad, s; see quantity).
package procedures

import (
	"slices"

	"waywright/checks"
	"waywright/checks/quantity"
	"waywright/checks/value"
	"waywright/procedures/formula"
	"waywright/procedures/source"
)

// Text is a sentence that may have values in it. Its program's type is Text.
// A nil Text is one that was not written.
type Text = *formula.Program

// Procedure is one procedure file with what it takes from shared files.
type Procedure struct {
	Name     string // "tailstock-by-test-cut"
	Title    string
	Machine  string // class of machine: "centre lathe"
	Revision string
	Purpose  string
	Decision checks.Rule // Guarded where nothing is written
	IfFailed []Way       // of gates that say nothing else; they have it too
	Sources  []string
	Duration *formula.Program // estimate of the time it takes, or nil

	Givens      []*Given
	Instruments []*Instrument // those that are used, in order of first use
	Steps       []*Step
	Corrections []*Correction
	Signoffs    []*Signoff
	Rehearsals  []*Rehearsal
	Cautions    []*Caution // those that are used
	Tables      []*Table   // those that are used
	Grades      []string   // a run is begun with one of them; nil where no table is used

	Files []File // the procedure's own file first, then the shared ones used
	At    source.Range
}

// File is a source file as it was read.
type File struct {
	Name  string // base name, or the path below the library's root
	Bytes []byte
}

// Each is a repetition: asked once for each key. Of gives a List of texts, or
// of counts; it may depend on the keys of the each blocks before it, but only
// for the order of the keys.
type Each struct {
	Name string
	Of   *formula.Program
	Key  value.Key
	At   source.Range
}

// Given is a fact asked once.
type Given struct {
	Name  string
	Title Text // instead of Ask where it cannot be typed
	Ask   Text // nil: comes from the machine's entry or an accepted run only
	Each  []*Each
	When  *formula.Program
	Answer
	From  *formula.Program // offered, or taken from an accepted run
	Fresh *formula.Program // how old the accepted run may be
	With  *Instrument
	Type  value.Type // of given.x as formulas see it, keys included
	At    source.Range
}

// NotBelowNought tells whether the range of the given, as it is written, begins
// at nought or above: a length, a span. On a scale of points nought is a place
// like another.
func (g *Given) NotBelowNought() bool {
	if g.Range[0] == nil || g.Unit == nil || g.Unit.Point {
		return false
	}
	v, ok := g.Range[0].Static()
	return ok && v.State == value.Present && v.Kind == value.Number && v.Num >= 0
}

// Answer is what may be answered to a question.
type Answer struct {
	Unit   *quantity.Unit      // nil where there is none: choose, count, text, evidence
	Choose []string            // one of these words
	Count  bool                // a whole number
	Text   bool                // any words
	File   bool                // evidence: a file, kept by its hash
	Range  [2]*formula.Program // plausible values, both or neither
}

// Instrument is what a reading is taken with. Zero numbers were not written.
type Instrument struct {
	Name             string
	Kind             string  // "outside micrometer"
	Resolution       float64 // smallest step read, base units
	Error            float64 // limit of indication error, base units
	HasError         bool
	Repeatability    float64 // standard deviation of one take, base units
	RepeatabilityDoF float64 // how well it is known
	Turn             float64 // one turn of screw or pointer, base units
	Zero             float64 // limit of the error of its zero, base units
	HasZero          bool
	Certificate      string // what the real instrument's certificate must be, in words
	Dim              quantity.Dim
	Unit             quantity.Unit // the unit Resolution was written in
	Source           string
	At               source.Range
}

// Spindle is the state of the spindle that a step asks for.
type Spindle uint8

// The states of the spindle.
const (
	AnySpindle Spindle = iota // the step does not say
	Stopped
	Turning
)

func (s Spindle) String() string { return [...]string{"", "stopped", "turning"}[s] }

// Step is a piece of work: cautions, instructions, then its items in order.
type Step struct {
	Name      string
	Title     Text
	Each      []*Each
	When      *formula.Program
	Needs     []*Step // worked again whenever this one is
	Lasting   bool    // spared by corrections
	HoldPoint *Signoff
	Spindle   Spindle
	Cautions  []*Caution
	Tools     []Text
	Do        []Text
	GoodFor   *formula.Program // how long its facts hold, or nil
	Items     []Item
	At        source.Range
}

// Item is a *Confirm, *Wait, *Reading, *Result or *Gate.
type Item interface {
	ItemName() string
	Place() source.Range
}

// Confirm is a question whose answer must be yes.
type Confirm struct {
	Name string
	Ask  Text
	At   source.Range
}

// Wait is a time to let pass, or readings that must agree, or both.
type Wait struct {
	Name    string
	Why     Text
	AtLeast *formula.Program // time, or nil
	Until   *Until           // or nil
	At      source.Range
}

// Until asks a reading every so often until two in a row agree.
type Until struct {
	Ask   Text
	Unit  quantity.Unit
	With  *Instrument
	Every *formula.Program // time
	Agree *formula.Program // in the dimension of Unit
	Takes int              // after so many the person decides
	At    source.Range
}

// Reading is what is observed.
type Reading struct {
	Name string
	Ask  Text
	Each []*Each
	When *formula.Program
	Answer
	Repeat   int              // independent takes at each place; 1 unless written
	Along    *formula.Program // a List of lengths: a profile over stations; or nil
	Around   *formula.Program // a List of angles, or a count of even steps: a turn; or nil
	Turning  Text             // how the angles of around run: "clockwise, seen from the tailstock"
	Closure  *formula.Program // the most that the first may have moved when read again at the end, or nil
	BothWays bool             // go and return
	Nudge    Text             // direction in which to push before the first value, or nil
	Push     Text             // what is done to push that way, where it is not the part by hand
	Tested   *Reading         // where the needle's test holds here too: one above, or this one for all rounds of its step
	Turned   bool             // the instrument stands turned round
	Positive Text
	With     *Instrument
	Step     *Step
	Inner    value.Type // of reading.x within its step
	Outer    value.Type // of reading.x elsewhere: with the step's keys first
	At       source.Range
}

// Result is a value that is worked out.
type Result struct {
	Name     string
	Title    Text
	Value    *formula.Program
	Unit     *quantity.Unit // nil for texts, truths and counts
	Positive Text
	Kept     bool // for the record, or for what other procedures take: nothing here need use it
	Step     *Step
	Inner    value.Type
	Outer    value.Type
	At       source.Range
}

// Gate is a limit to be met. Exactly one of Within, AtMost, AtLeast and Holds
// is there; Of is nil with Holds.
type Gate struct {
	Name     string
	Title    Text
	Of       *formula.Program
	Within   *formula.Program // a Zone
	AtMost   *formula.Program
	AtLeast  *formula.Program
	Holds    *formula.Program // a Truth
	Source   string           // of the limit; the tables' sources where none is written
	Decision checks.Rule      // NoRule: the procedure's
	IfFailed []Way            // the last is reject or concession; or noted alone
	Upstream []Target
	Test     string // the lasting test that it decides, or ""
	Unit     quantity.Unit
	Positive Text // of the result it judges
	Step     *Step
	At       source.Range
}

// Corrects tells whether something can be put right at the gate itself: one
// without a correction leaves that to what lies upstream.
func (g *Gate) Corrects() bool {
	return slices.ContainsFunc(g.IfFailed, func(w Way) bool { return w.Correction != nil })
}

// Noted tells whether the gate is judged for the record alone: whatever its
// verdict, the run goes on.
func (g *Gate) Noted() bool {
	return g != nil && slices.ContainsFunc(g.IfFailed, func(w Way) bool { return w.Kind == Note })
}

// WayKind is a way on from a gate that is not passed.
type WayKind uint8

// The ways.
const (
	Correct WayKind = iota + 1
	Concede
	Reject
	Note // the verdict is kept as found, and nothing is asked
)

// Way is one entry of if_failed.
type Way struct {
	Kind       WayKind
	Correction *Correction // with Correct
	At         source.Range
}

// Target is what a correction disturbs, or what lies upstream: a gate of this
// procedure or the accepted runs of another.
type Target struct {
	Gate     *Gate
	Accepted string // name of the other procedure
	At       source.Range
}

// Correction is work that should bring a gate's result inside its limits.
type Correction struct {
	Name     string
	Title    Text
	When     *formula.Program
	Amount   *formula.Program // nil: no amount, "clean and try again". A Number, or a Profile: one amount a station
	Unit     *quantity.Unit
	Positive Text // direction words for an amount above zero
	Negative Text // below zero; nil where nothing can be put back
	Do       []Text
	Cautions []*Caution
	Spindle  Spindle
	Attempts int // 6 unless written
	Disturbs []Target
	Ledger   Text // the place where metal goes or comes, or nil
	Moved    *Moved
	Should   *ShouldChange
	At       source.Range
}

// Moved asks how far a correction went, after locking.
type Moved struct {
	Ask  Text
	Unit quantity.Unit // the correction's, unless written
	With *Instrument
	At   source.Range
}

// ShouldChange is what a correction should do to a result: By is evaluated
// with the own name amount, planned or moved.
type ShouldChange struct {
	Result *Result
	By     *formula.Program
	At     source.Range
}

// Signoff is a role that signs.
type Signoff struct {
	Name      string
	Title     Text
	OtherThan *Signoff // not the person of that role, or nil
	Concedes  bool     // grants or refuses concessions when signing
	At        source.Range
}

// Caution is a warning, shown before the work it belongs to.
type Caution struct {
	Name   string
	Text   Text
	Hazard string // rotating, energy, falling, skin, dust, sharp, fumes, hot, pressure …
	Source string
	At     source.Range
}

// Table holds limits by grade.
type Table struct {
	Name   string
	Title  string
	Grades []string
	Rows   []*Row
	At     source.Range
}

// Row is one limit of a table, with a value for each grade.
type Row struct {
	Name   string
	Title  string
	Values map[string]value.Value // by grade
	Type   value.Type
	Unit   quantity.Unit // the unit the first value was written in
	Source string
	At     source.Range
}

// Rehearsal is a small model of the machine, which answers the readings and
// reacts to corrections.
type Rehearsal struct {
	Name     string
	Seeds    int
	Grade    string
	Hidden   []Assign
	Spread   []Assign // standard deviation of a hidden state among machines
	Noise    []Assign
	Answer   []Assign
	Reacts   []Reacts
	Mistakes []Mistake
	Outcome  string // accepted, conceded, as_found, rejected, not_decided
	Rounds   []Rounds
	Said     []Said
	Out      []*Gate       // those that do not pass at the end
	OutAt    *source.Range // nil: not stated
	At       source.Range
	EndsAt   source.Range // of the outcome
}

// MistakeKind is a mistake made on purpose.
type MistakeKind string

// The mistakes. The first four are made at a correction, the last two at a
// reading; an indicator may be reversed at either.
const (
	WrongWay MistakeKind = "wrong_way" // moved as far, the other way
	Half     MistakeKind = "half"      // moved half of it
	Undone   MistakeKind = "undone"    // moved as asked, and taken back by clamping
	Reversed MistakeKind = "reversed"  // the indicator reads the other way round, from then on
	Swapped  MistakeKind = "swapped"   // the places are taken for one another, the last for the first
	SlipTurn MistakeKind = "turn"      // one value is read a whole turn too large
)

// Mistake is made at one attempt of a correction, or in one working of a
// reading. Exactly one of Correction and Reading is there.
type Mistake struct {
	Kind       MistakeKind
	Correction *Correction
	Reading    *Reading
	Nth        int // from 1
	At         source.Range
}

// Assign gives a name a value.
type Assign struct {
	Name  string
	Value *formula.Program
	At    source.Range
}

// Reacts says what a correction does to the hidden state.
type Reacts struct {
	Correction *Correction
	Moved      *formula.Program // what truly moved, or nil
	Hidden     []Assign
	At         source.Range
}

// Rounds bounds how often a correction was reported.
type Rounds struct {
	Correction *Correction
	Least      int
	Most       int // −1: no bound
	At         source.Range
}

// Said lists words that came, in this order: of the response table about a
// correction, or about the values of a reading. Exactly one of Correction and
// Reading is there.
type Said struct {
	Correction *Correction
	Reading    *Reading
	Words      []string
	At         source.Range
}

// Overhaul is a plan of procedures for one machine. It holds no state.
type Overhaul struct {
	Name, Title, Machine, Revision string
	Tasks                          []*Task
	Rehearsals                     []*PlanRehearsal
	Files                          []File
	At                             source.Range
}

// Task is one procedure of a plan.
type Task struct {
	Name      string
	Procedure string
	After     []*Task
	When      *formula.Program
	Delay     *formula.Program // counted from the last of After
	Renew     *formula.Program // due again after this time
	At        source.Range
}

// PlanRehearsal takes one machine with its faults through a whole plan. Each
// task is worked on the machine that a rehearsal of its procedure describes.
type PlanRehearsal struct {
	Name    string
	Seeds   int
	Grade   string
	Hidden  []Assign // the true state of the one machine, at the start
	Parts   []*PlanPart
	Outcome string // accepted, conceded, rejected, not_decided
	Runs    []Runs
	At      source.Range
	EndsAt  source.Range // of the outcome
}

// Part returns what is said of a procedure, or nil.
func (r *PlanRehearsal) Part(procedure string) *PlanPart {
	for _, p := range r.Parts {
		if p.Procedure == procedure {
			return p
		}
	}
	return nil
}

// PlanPart says how the machine of a plan's rehearsal is met by one of its
// procedures.
type PlanPart struct {
	Procedure string
	Like      string // which rehearsal of the procedure; "" for its first
	Hidden    []Bound
	Reacts    []Reacts // what its corrections do to the state of the plan's machine
	At        source.Range
}

// Bound gives a hidden state of a procedure's rehearsal its value from those of
// the plan.
type Bound struct {
	Assign
	Same string // the plan's state that it is, so that corrections change both; "" where it is only worked out
}

// Runs bounds how often a task of a plan was worked.
type Runs struct {
	Task  *Task
	Least int
	Most  int // −1: no bound
	At    source.Range
}

func (c *Confirm) ItemName() string    { return c.Name }
func (w *Wait) ItemName() string       { return w.Name }
func (r *Reading) ItemName() string    { return r.Name }
func (r *Result) ItemName() string     { return r.Name }
func (g *Gate) ItemName() string       { return g.Name }
func (c *Confirm) Place() source.Range { return c.At }
func (w *Wait) Place() source.Range    { return w.At }
func (r *Reading) Place() source.Range { return r.At }
func (r *Result) Place() source.Range  { return r.At }
func (g *Gate) Place() source.Range    { return g.At }
