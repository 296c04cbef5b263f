package engine

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"time"
)

// Event is something that happened in a run. The state of a run is a fold of
// its events; the clock and the author come in only here.
type Event struct {
	N    int       // number of the line in the journal, from 1
	Time time.Time // when, UTC
	By   string    // who
	Data Data
}

// Data is what happened: one of the types below.
type Data interface {
	// Kind is the word that the journal has for it.
	Kind() string
}

// Begun starts a run on a machine. It is the first event.
type Begun struct {
	Procedure string             `json:"procedure"`
	Revision  string             `json:"revision,omitempty"`
	Digest    string             `json:"digest"` // SHA-256 over the procedure's files
	Machine   Machine            `json:"machine"`
	Overhaul  string             `json:"overhaul,omitempty"`   // the plan that it was begun for
	Task      string             `json:"task,omitempty"`       // of that plan
	Waits     []string           `json:"waits,omitempty"`      // what stood against beginning it then, in sentences
	Because   string             `json:"because,omitempty"`    // why it was begun all the same
	Anew      *Anew              `json:"anew,omitempty"`       // the plan is begun anew with this run
	Inch      bool               `json:"inch,omitempty"`       // bare numbers and displays are inch
	Rule      string             `json:"rule,omitempty"`       // the shop's own decision rule; it counts where it is stricter
	Gains     map[string]float64 `json:"gains,omitempty"`      // what the machine answered to corrections in earlier runs, as the logbook remembers it
	GainsFrom map[string]string  `json:"gains_from,omitempty"` // and in which run each was found
	Accepted  []AcceptedValue    `json:"accepted,omitempty"`   // what other procedures found on this machine
	Program   string             `json:"program,omitempty"`
}

// Anew says that a plan is begun anew on a machine, though runs of it are
// there: those that were begun before Since are history from now on.
type Anew struct {
	Since   time.Time `json:"since"`
	Because string    `json:"because"`
}

// AcceptedValue is a result of the machine's newest accepted run of another
// procedure.
type AcceptedValue struct {
	Name  string  `json:"name"`  // of procedure and result: "lathe/level.twist"
	Value float64 `json:"value"` // in Unit
	Unit  string  `json:"unit"`
	U     float64 `json:"u,omitempty"`   // standard uncertainty, in Unit
	DoF   float64 `json:"dof,omitempty"` // of U; 0 where it is well known
	Run   string  `json:"run"`
	Day   string  `json:"day"` // on which it was accepted
}

// Machine is the machine's entry in the logbook, as it was when the run began.
type Machine struct {
	ID      string            `json:"id"`
	Class   string            `json:"class,omitempty"`
	Serial  string            `json:"serial,omitempty"`
	Text    map[string]string `json:"text,omitempty"`    // other words of the entry, by dotted name
	Numbers map[string]Stored `json:"numbers,omitempty"` // sizes, by dotted name: "test_bar.length"
}

// Stored is a number with its unit, as a journal keeps it.
type Stored struct {
	Value float64 `json:"value"` // in Unit
	Unit  string  `json:"unit"`
}

// Sat opens a sitting: somebody is at the machine again. Cautions and the
// state of the spindle are asked afresh in each sitting.
type Sat struct {
	Operator string `json:"operator"`
}

// Answered keeps an answer to a question.
type Answered struct {
	Name   string  `json:"name"`             // the question: front.marked.near.180
	Takes  []Taken `json:"takes,omitempty"`  // numbers, in the order of asking
	Word   string  `json:"word,omitempty"`   // a choice, a text, yes or no, plus or minus
	Reason string  `json:"reason,omitempty"` // why an odd value was kept
	Odd    string  `json:"odd,omitempty"`    // what was odd about it
	From   string  `json:"from,omitempty"`   // where an offered value came from
	U      float64 `json:"u,omitempty"`      // its standard uncertainty there, in the unit of the value
	DoF    float64 `json:"dof,omitempty"`    // of U; 0 where it is well known
	File   *File   `json:"file,omitempty"`
}

// Taken is one number as it was typed and as it was understood.
type Taken struct {
	Typed string  `json:"typed"`
	Value float64 `json:"value"` // in Unit
	Unit  string  `json:"unit"`
	Way   string  `json:"way,omitempty"` // the direction, where it was typed in words
}

// File is evidence, kept beside the journal by its hash.
type File struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
	Size   int64  `json:"size"`
	Type   string `json:"type,omitempty"`  // by what it holds: image/jpeg
	Place  bool   `json:"place,omitempty"` // it says where it was taken

	// Where something was taken out of it before it was kept: what, and the file
	// as it was, which is not kept.
	Removed  []string `json:"removed,omitempty"`
	Original *WasFile `json:"original,omitempty"`
}

// WasFile is a file that is not kept.
type WasFile struct {
	SHA256 string `json:"sha256"`
	Size   int64  `json:"size"`
}

// Cleared acknowledges the cautions of a step or correction and the state of
// the spindle.
type Cleared struct {
	Name     string   `json:"name"` // cut.clear
	Cautions []string `json:"cautions,omitempty"`
	Spindle  string   `json:"spindle,omitempty"` // the state it goes to
	Skipped  bool     `json:"skipped,omitempty"` // not acknowledged: the record cannot be signed
	Reason   string   `json:"reason,omitempty"`  // why it was skipped, where somebody said so
}

// Bound says which real instrument is in the hand for an instrument of the
// procedure, with all that the shop knew of it then: a record stands by itself.
// Zero numbers mean the procedure's own figure.
type Bound struct {
	Name             string    `json:"name"`            // micrometer
	ID               string    `json:"id"`              // M-3, or "" when not identified
	What             string    `json:"what,omitempty"`  // its kind
	Unit             string    `json:"unit,omitempty"`  // of the figures below
	Reads            []float64 `json:"reads,omitempty"` // from where to where, on its own scale
	Resolution       float64   `json:"resolution,omitempty"`
	Error            float64   `json:"error,omitempty"`
	Zero             float64   `json:"zero,omitempty"` // limit of the error of its zero
	HasZero          bool      `json:"has_zero,omitempty"`
	Repeatability    float64   `json:"repeatability,omitempty"`
	RepeatabilityDoF float64   `json:"repeatability_dof,omitempty"`
	Turn             float64   `json:"turn,omitempty"`
	CertU            float64   `json:"cert_u,omitempty"`
	CertK            float64   `json:"cert_k,omitempty"`
	Certificate      string    `json:"certificate,omitempty"` // its number
	Calibrated       string    `json:"calibrated,omitempty"`  // the day, 2026-03-31
	CalibratedBy     string    `json:"calibrated_by,omitempty"`
	Due              string    `json:"due,omitempty"` // date the calibration ends, 2027-03-31
	Maker            string    `json:"maker,omitempty"`
	Serial           string    `json:"serial,omitempty"`
	Odd              []Oddity  `json:"odd,omitempty"`    // what does not suit, said before it was kept
	Reason           string    `json:"reason,omitempty"` // why it was taken
	Skipped          bool      `json:"skipped,omitempty"`
}

// Oddity is something about an instrument that does not suit what it is taken
// for.
type Oddity struct {
	What string `json:"what"` // kind, range, part (of the range), coarse, overdue, unlisted
	Said string `json:"said"` // a finished sentence
}

// insisted tells whether the instrument is kept only with a reason.
func (o Oddity) insisted() bool { return o.What != oddPart }

// What can be odd about an instrument.
const (
	oddKind     = "kind"     // it is another thing than asked for
	oddRange    = "range"    // nothing, or little, of what is to be read is within its reach
	oddPart     = "part"     // not all of what may be read is within its reach
	oddOverdue  = "overdue"  // its calibration has ended
	oddUnlisted = "unlisted" // the shop's register does not have it
	oddCoarse   = "coarse"   // with it a gate could not be passed, or hardly
)

// Waited ends a wait.
type Waited struct {
	Name   string `json:"name"`
	How    string `json:"how"` // over, stated (the person says so), short (cut short), skipped
	Reason string `json:"reason,omitempty"`
}

// Chosen says what is done about a gate that is not passed.
type Chosen struct {
	Gate       string    `json:"gate"`
	Way        string    `json:"way"`                  // again, concession, reject, or the correction's name
	Amounts    []Stored  `json:"amounts,omitempty"`    // planned: one, or one a station
	Stations   []float64 `json:"stations,omitempty"`   // mm
	Gain       float64   `json:"gain,omitempty"`       // by which the amount was divided, when not 1
	Reason     string    `json:"reason,omitempty"`     //
	Expects    *Stored   `json:"expects,omitempty"`    // change of the result
	Correction bool      `json:"correction,omitempty"` // Way names a correction
}

// Reported says that a correction was carried out, or moved further.
type Reported struct {
	Correction string `json:"correction"`
	Moved      *Taken `json:"moved,omitempty"`
	Further    bool   `json:"further,omitempty"` // a further movement, added to the last
	Reason     string `json:"reason,omitempty"`

	// Where no movement is read, how much of it was done: an amount, or a share
	// of it. Neither stands for all that was planned.
	Took  *Taken  `json:"took,omitempty"`
	Share float64 `json:"share,omitempty"`
}

// MoveJudged is the answer to a movement that was not as asked: carry_on,
// wrong_way (it was typed the wrong way), or sign (the needle is to be tested);
// then plus, minus, nowhere: what the needle did when pushed the positive way.
type MoveJudged struct {
	Correction string `json:"correction"`
	How        string `json:"how"`
	Skipped    bool   `json:"skipped,omitempty"`
}

// Unable says that something cannot be taken.
type Unable struct {
	Name   string `json:"name"`
	Reason string `json:"reason"`
}

// Amended corrects a kept answer. Both values stay in the record.
type Amended struct {
	Name   string `json:"name"`           // as Answered has it
	Take   int    `json:"take,omitempty"` // from 1, in the order of taking
	To     Taken  `json:"to"`
	Word   string `json:"word,omitempty"`
	Reason string `json:"reason"`

	From string  `json:"from,omitempty"` // where an offered value came from that was taken over anew
	U    float64 `json:"u,omitempty"`    // its standard uncertainty, in the unit of To
	DoF  float64 `json:"dof,omitempty"`  // of U; 0 where it is well known
}

// Withdrawn takes back an earlier event of the same sitting. Nothing is
// removed: the event stays in the journal.
type Withdrawn struct {
	Of int `json:"of"`
}

// Disturbed says that something moved: a step, an instrument, the machine.
type Disturbed struct {
	What   string `json:"what"` // step, instrument, machine
	Name   string `json:"name,omitempty"`
	Reason string `json:"reason"`
}

// Found adds what other procedures found on this machine since the run began.
type Found struct {
	Accepted []AcceptedValue `json:"accepted"`
}

// Noted keeps a remark beside the question that was open.
type Noted struct {
	Name  string `json:"name,omitempty"`
	Text  string `json:"text,omitempty"`
	About string `json:"about,omitempty"` // what it is about: part, compensation, others, again
	File  *File  `json:"file,omitempty"`
}

// Paused ends a sitting.
type Paused struct {
	Reason string `json:"reason,omitempty"`
}

// Decided grants or refuses a concession.
type Decided struct {
	Role    string `json:"role"`
	Gate    string `json:"gate"`
	Granted bool   `json:"granted"`
	Reason  string `json:"reason"`
	Name    string `json:"name,omitempty"` // who decided
}

// Signed is a signature: by a key, over the bytes of the sealed record, or by a
// typed name.
type Signed struct {
	Role      string `json:"role"`
	Name      string `json:"name"`
	Statement string `json:"statement,omitempty"` // what is signed
	Key       string `json:"key,omitempty"`       // fingerprint, SHA256:…; empty where a name was typed
	KeyType   string `json:"key_type,omitempty"`  // ssh-ed25519
	File      string `json:"file,omitempty"`      // that holds the signature, beside record.json
	SHA256    string `json:"sha256,omitempty"`    // of that file
}

func (Begun) Kind() string      { return "begun" }
func (Sat) Kind() string        { return "sitting" }
func (Answered) Kind() string   { return "answered" }
func (Cleared) Kind() string    { return "cleared" }
func (Bound) Kind() string      { return "instrument" }
func (Waited) Kind() string     { return "waited" }
func (Chosen) Kind() string     { return "chosen" }
func (Reported) Kind() string   { return "reported" }
func (MoveJudged) Kind() string { return "move_judged" }
func (Unable) Kind() string     { return "unable" }
func (Amended) Kind() string    { return "amended" }
func (Withdrawn) Kind() string  { return "withdrawn" }
func (Disturbed) Kind() string  { return "disturbed" }
func (Found) Kind() string      { return "found" }
func (Noted) Kind() string      { return "noted" }
func (Paused) Kind() string     { return "paused" }
func (Decided) Kind() string    { return "decided" }
func (Signed) Kind() string     { return "signed" }

// Encode returns the journal's form of d.
func Encode(d Data) (kind string, data []byte, err error) {
	data, err = json.Marshal(d)
	return d.Kind(), data, err
}

// Decode is the reverse of [Encode]. The error says what is not understood.
func Decode(kind string, data []byte) (Data, error) {
	switch kind {
	case "begun":
		return decode[Begun](kind, data)
	case "sitting":
		return decode[Sat](kind, data)
	case "answered":
		return decode[Answered](kind, data)
	case "cleared":
		return decode[Cleared](kind, data)
	case "instrument":
		return decode[Bound](kind, data)
	case "waited":
		return decode[Waited](kind, data)
	case "chosen":
		return decode[Chosen](kind, data)
	case "reported":
		return decode[Reported](kind, data)
	case "move_judged":
		return decode[MoveJudged](kind, data)
	case "unable":
		return decode[Unable](kind, data)
	case "amended":
		return decode[Amended](kind, data)
	case "withdrawn":
		return decode[Withdrawn](kind, data)
	case "found":
		return decode[Found](kind, data)
	case "disturbed":
		return decode[Disturbed](kind, data)
	case "noted":
		return decode[Noted](kind, data)
	case "paused":
		return decode[Paused](kind, data)
	case "decided":
		return decode[Decided](kind, data)
	case "signed":
		return decode[Signed](kind, data)
	case "sealed":
		return decode[Sealed](kind, data)
	case "decides":
		return decode[Deciding](kind, data)
	case "issued":
		return decode[Issued](kind, data)
	case "left_out":
		return decode[LeftOut](kind, data)
	case "assumed":
		return decode[Assumed](kind, data)
	case "from_sheet":
		return decode[FromSheet](kind, data)
	case "abandoned":
		return decode[Abandoned](kind, data)
	case "supersedes":
		return decode[Superseding](kind, data)
	}
	return nil, fmt.Errorf("engine: unknown event %q", kind)
}

func decode[T Data](kind string, data []byte) (Data, error) {
	var d T
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&d); err != nil {
		return nil, fmt.Errorf("engine: event %q: %w", kind, err)
	}
	if _, err := dec.Token(); err != io.EOF {
		return nil, fmt.Errorf("engine: event %q: something stands behind it", kind)
	}
	return d, nil
}
