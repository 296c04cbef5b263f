// Package report holds the acceptance record: what a run established, from
// which readings, with which instruments, by whom and when, with every
// attempt, the wrong ones too.
//
// A [Record] is made from the state of a run by [Build] and from nothing else.
// [Marshal] writes it as JSON; the same journal gives the same bytes. The form
// is described, property by property, by the JSON Schema that [Schema] returns,
// and a reader of this package will go on reading it in later versions.
//
// Numbers appear in the unit in which they are printed, with its UCUM code and
// with the digits as printed, so that every form of the record shows the same
// digits. Values are rounded to ten significant figures. A minus in printed
// text is U+2212. Times are UTC, in the form of RFC 3339.
//
// A record holds no paths and no login names: people are named as they named
// themselves. It says what was found and does not rate it.
package report

// Format names the form of the JSON and its version.
const Format = "waywright record 2"

// FirstFormat is the form in which signatures stood in the record itself.
const FirstFormat = "waywright record 1"

// Record is everything that a run established.
type Record struct {
	Format    string    `json:"format"`
	Number    string    `json:"number"`             // of the record, see [Number]
	Replaces  string    `json:"replaces,omitempty"` // number of the record that this one corrects, see Supersedes
	Title     string    `json:"title"`              // of the procedure
	Outcome   Outcome   `json:"outcome"`
	Procedure Procedure `json:"procedure"`
	Machine   Machine   `json:"machine"`
	Journal   Journal   `json:"journal"`
	Begun     Stamp     `json:"begun"`
	Last      Stamp     `json:"last"` // the last event
	Inch      bool      `json:"inch,omitempty"`
	Overhaul  string    `json:"overhaul,omitempty"` // the plan that the run was begun for
	Task      string    `json:"task,omitempty"`     // of that plan

	Supersedes *Supersedes `json:"supersedes,omitempty"`
	OutOfOrder *OutOfOrder `json:"out_of_order,omitempty"`
	Anew       *Anew       `json:"anew,omitempty"`
	Spoilt     []Spoilt    `json:"spoilt_since,omitempty"` // set by who knows the other runs, see [Record.SpoiltSince]

	Tests       []Test        `json:"tests"`
	Risk        *Risk         `json:"risk,omitempty"` // that any PASS is wrong: an upper bound, the sum over them
	Roles       []Role        `json:"roles"`
	Sittings    []Sitting     `json:"sittings"`
	Givens      []Given       `json:"givens"`
	Readings    []Reading     `json:"readings"` // all, used or not, in the order of taking
	Results     []Result      `json:"results"`
	Instruments []Instrument  `json:"instruments"`
	Confirms    []Confirm     `json:"confirms"`
	Cautions    []Caution     `json:"cautions"`
	Releases    []Release     `json:"releases"`
	Waits       []Wait        `json:"waits"`
	Metal       []Metal       `json:"metal"`
	Concessions []Concession  `json:"concessions"`
	Amendments  []Amendment   `json:"amendments"`
	Withdrawals []Withdrawal  `json:"withdrawals"`
	Disturbed   []Disturbance `json:"disturbances"`
	Unmeasured  []Unmeasured  `json:"unmeasured"`
	Notes       []Note        `json:"notes"`
	Evidence    []Evidence    `json:"evidence,omitempty"` // photographs and scans, in the order of keeping
	WorkSheets  []WorkSheet   `json:"work_sheets,omitempty"`
}

// Anew says that the plan was begun anew with this run: runs that were begun
// before Since are history from then on.
type Anew struct {
	Since   string `json:"since"`
	Because string `json:"because"`
}

// OutOfOrder says that the run was begun though something stood against it.
type OutOfOrder struct {
	Against []string `json:"against"` // in sentences
	Because string   `json:"because"`
}

// Spoilt is something done in another run since, by which what is accepted
// here does not hold any more.
type Spoilt struct {
	Said string `json:"said"` // in a sentence, without its point
	Time string `json:"time"`
	Run  string `json:"run"` // in which it was done
}

// SpoiltSince returns the record of an accepted run with what has spoilt it
// since. A run alone does not know that; its journal stays as it is.
func (r Record) SpoiltSince(list []Spoilt) Record {
	r.Spoilt = list
	return r
}

// Supersedes is the signed record that this one corrects. That one stays as it
// is.
type Supersedes struct {
	Number  string `json:"number"`
	Run     string `json:"run,omitempty"` // of the logbook
	SHA256  string `json:"sha256"`        // of its record.json
	Because string `json:"because"`
	Carried int    `json:"carried,omitempty"` // lines of its journal that were taken over as they were
	At      Stamp  `json:"at"`
}

// Outcome is what became of the run. It is what the tests and concessions give,
// and holds once every role has signed; see [Issue.Shown].
type Outcome struct {
	Word   string   `json:"word"`              // accepted, conceded, as_found, rejected, abandoned, not_decided
	Text   string   `json:"text"`              // ACCEPTED WITH 1 CONCESSION
	Draft  bool     `json:"draft"`             // nothing may be concluded from it yet
	Open   []string `json:"open,omitempty"`    // what stands in the way of a decision, in sentences
	Reason string   `json:"reason,omitempty"`  // of a rejection, or why the run was abandoned
	By     *Stamp   `json:"decided,omitempty"` // who rejected, and when
	Awaits []string `json:"awaits,omitempty"`  // roles that are to sign: their signatures stand beside the record
	Counts Counts   `json:"counts"`
}

// The words of an outcome.
const (
	Accepted   = "accepted"
	Conceded   = "conceded"
	Surveyed   = "as_found" // every test that applies is noted as found
	Rejected   = "rejected"
	Abandoned  = "abandoned" // nobody goes on with the run, and nothing was decided
	NotDecided = "not_decided"
)

// Counts tells how many tests have which verdict.
type Counts struct {
	Agreed      int `json:"agreed"` // all but those that were not applied, and those that are noted
	Pass        int `json:"pass"`
	Fail        int `json:"fail"`
	Undecided   int `json:"undecided"`
	NotMeasured int `json:"not_measured"`
	Open        int `json:"open"`
	NotApplied  int `json:"not_applied"`
	Conceded    int `json:"conceded"`
	Noted       int `json:"noted,omitempty"` // judged and kept as found, in the way of nothing; no other number counts them
}

// Procedure is the procedure that was worked through.
type Procedure struct {
	Name     string   `json:"name"`
	Revision string   `json:"revision,omitempty"`
	Class    string   `json:"class,omitempty"` // of machine
	Purpose  string   `json:"purpose,omitempty"`
	Rule     Rule     `json:"rule"`
	Grade    string   `json:"grade,omitempty"`
	Sources  []string `json:"sources,omitempty"`
	Digest   string   `json:"digest,omitempty"` // SHA-256 over all files, hexadecimal
	Files    []File   `json:"files"`
}

// Rule is a decision rule.
type Rule struct {
	Name  string  `json:"name"`            // simple, guarded, strict
	Level float64 `json:"level,omitempty"` // probability of conformity from which a test passes
	Said  string  `json:"said"`            // in a sentence
	From  string  `json:"from,omitempty"`  // shop, where the shop asks for more than the procedure
}

// File is a file by its hash.
type File struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
	Size   int64  `json:"size,omitempty"`  // bytes
	Type   string `json:"type,omitempty"`  // by what it holds: image/jpeg
	Place  bool   `json:"place,omitempty"` // it says where it was taken

	// Where something was taken out of it before it was kept.
	Removed  []string `json:"removed,omitempty"`
	Original *WasFile `json:"original,omitempty"`
}

// WasFile is a file as it was given, which is not kept.
type WasFile struct {
	SHA256 string `json:"sha256"`
	Size   int64  `json:"size"`
}

// Machine is the machine as its entry had it when the run began.
type Machine struct {
	ID     string    `json:"id"`
	Class  string    `json:"class,omitempty"`
	Serial string    `json:"serial,omitempty"`
	Facts  []Fact    `json:"facts,omitempty"`
	Sizes  []Measure `json:"sizes,omitempty"`
}

// Fact is something said in words.
type Fact struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// Measure is a named number.
type Measure struct {
	Name   string `json:"name"`
	Number Number `json:"number"`
}

// Journal is the journal that the record was made from.
type Journal struct {
	Head    string `json:"head"`    // SHA-256 of its last line, hexadecimal
	Entries int    `json:"entries"` // lines
	Program string `json:"program,omitempty"`
}

// Stamp says which line of the journal something stands in, when it happened
// and who did it.
type Stamp struct {
	Entry int    `json:"entry"`
	Time  string `json:"time"`
	By    string `json:"by,omitempty"`
}

// Number is a number with its unit.
type Number struct {
	Value float64 `json:"value"` // in Unit
	Unit  string  `json:"unit"`  // as printed: µm
	Code  string  `json:"ucum"`  // machine-readable: um
	Text  string  `json:"text"`  // the digits as printed: −0.009
}

// Role is a role that signs. Signatures stand beside a record, and are here only
// as it is shown, or where they were given before it was sealed.
type Role struct {
	Name      string `json:"name"`
	Title     string `json:"title"`
	OtherThan string `json:"other_than,omitempty"`
	Concedes  bool   `json:"concedes,omitempty"`
	Signed    string `json:"signed,omitempty"` // the name that was typed
	How       string `json:"how,omitempty"`    // [ByKey] or [ByName]
	At        *Stamp `json:"at,omitempty"`
}

// Sitting is a stretch of work by one person.
type Sitting struct {
	N        int    `json:"n"`
	Operator string `json:"operator"`
	From     string `json:"from"`
	To       string `json:"to"` // its last event
	Entries  int    `json:"entries"`
	Paused   string `json:"paused,omitempty"` // reason
}
