package report

// Given is a fact that was asked once.
type Given struct {
	Name       string   `json:"name"` // with keys
	Title      string   `json:"title"`
	Typed      string   `json:"typed,omitempty"`
	Number     *Number  `json:"number,omitempty"`
	Text       string   `json:"text"`            // as printed, with unit
	From       string   `json:"from,omitempty"`  // where an offered value came from
	U          *Number  `json:"u,omitempty"`     // expanded uncertainty
	Exact      bool     `json:"exact,omitempty"` // counts as exact
	Instrument string   `json:"instrument,omitempty"`
	Odd        string   `json:"odd,omitempty"`
	Reason     string   `json:"reason,omitempty"`
	Assumed    *LeftOut `json:"assumed,omitempty"` // it was agreed on: no accepted run has it
	At         Stamp    `json:"at"`
}

// Reading is a set of values that were read together: one reading of the
// procedure, in one round and one working of its step.
type Reading struct {
	ID         string   `json:"id"`
	Name       string   `json:"name"` // with the keys of the round
	Title      string   `json:"title"`
	Step       string   `json:"step"`
	Working    int      `json:"working"`        // which working of the step, from 1
	Keys       []string `json:"keys,omitempty"` // what the keys of the places are: station, angle
	Unit       string   `json:"unit,omitempty"`
	Code       string   `json:"ucum,omitempty"`
	Positive   string   `json:"positive,omitempty"`
	Turning    string   `json:"turning,omitempty"`    // how angles run: "clockwise, seen from the tailstock"
	Instrument string   `json:"instrument,omitempty"` // id of the binding
	State      string   `json:"state"`                // used, stale, void, broken, unmeasured
	Why        string   `json:"why,omitempty"`
	Places     []Place  `json:"places"`
	Drift      *Drift   `json:"drift,omitempty"`
	Circle     *Circle  `json:"circle,omitempty"` // fitted to a turn, as it was read
	Nudge      string   `json:"nudge,omitempty"`  // which way the needle went: plus, minus, nowhere
	Turned     bool     `json:"signs_turned,omitempty"`
	Sitting    int      `json:"sitting"`
	From       Stamp    `json:"from"`
	To         Stamp    `json:"to"`
}

// Place is one place of a reading: a key, a station or an angle, on the way
// out, on the way back, or read once more at the end.
type Place struct {
	Name  string   `json:"name"` // as an answers file names it
	Ask   string   `json:"ask"`
	Keys  []string `json:"keys,omitempty"`
	At    *Number  `json:"at,omitempty"`
	Pass  string   `json:"pass,omitempty"` // back, again
	Takes []Take   `json:"takes"`
	Mean  *Number  `json:"mean,omitempty"` // where several takes stand for it
	Why   string   `json:"unmeasured,omitempty"`
}

// Take is one answer.
type Take struct {
	Typed     string      `json:"typed,omitempty"`
	Number    *Number     `json:"number,omitempty"`
	Text      string      `json:"text"` // as printed, without unit
	File      *File       `json:"file,omitempty"`
	Odd       string      `json:"odd,omitempty"`
	Reason    string      `json:"reason,omitempty"`
	From      string      `json:"from,omitempty"`
	Withdrawn *Stamp      `json:"withdrawn,omitempty"`
	Amended   []Amendment `json:"amended,omitempty"`
	At        Stamp       `json:"at"`
}

// Drift is how far the first place had moved when it was read again.
type Drift struct {
	Moved   Number `json:"moved"`
	Allowed Number `json:"allowed"`
	Said    string `json:"said"`
}

// Result is a value that was worked out.
type Result struct {
	Name    string   `json:"name"`
	Title   string   `json:"title"`
	Found   *Finding `json:"found,omitempty"`
	Text    string   `json:"text,omitempty"` // for words, truths and counts
	Formula string   `json:"formula"`
	Inputs  []string `json:"inputs,omitempty"`
	State   string   `json:"state"` // present, missing, absent, unmeasured
	Why     string   `json:"why,omitempty"`
	Profile []Point  `json:"profile,omitempty"`
	Heights []Height `json:"heights,omitempty"` // over a surface

	Along    string  `json:"along,omitempty"`    // what the places of Profile are: station, angle, key
	Positive string  `json:"positive,omitempty"` // what plus means of Profile or Heights
	Negative string  `json:"negative,omitempty"` // what minus means
	Circle   *Circle `json:"circle,omitempty"`   // fitted to a turn
}

// Circle is the circle of least squares of values round a turn: they run near
// mean + eccentricity·cos(angle − high).
type Circle struct {
	Mean         Number  `json:"mean"`
	Eccentricity Number  `json:"eccentricity"`   // by which its centre is off the axis
	High         *Number `json:"high,omitempty"` // the angle of the high spot; none where it is out by nothing
}

// Height is a height of a surface at a place, counted from the middle of its
// field: x to the right, y upward as a plan is drawn.
type Height struct {
	X     Number `json:"x"`
	Y     Number `json:"y"`
	Value Number `json:"value"`
}

// Point is one value of a profile, a turn or of keyed values.
type Point struct {
	Key   string  `json:"key,omitempty"`
	At    *Number `json:"at,omitempty"`
	Value Number  `json:"value"`
	U     *Number `json:"u,omitempty"` // its doubt, where that was worked out
}

// Instrument is a real instrument in the place of one of the procedure's, with
// all that the shop knew of it then.
type Instrument struct {
	ID            string   `json:"id"`   // of the binding, unique in the record
	Name          string   `json:"name"` // in the procedure
	Kind          string   `json:"kind"`
	Number        string   `json:"number,omitempty"` // its own, as the shop marks it
	What          string   `json:"what,omitempty"`
	Maker         string   `json:"maker,omitempty"`
	Serial        string   `json:"serial,omitempty"`
	From          *Number  `json:"reads_from,omitempty"` // what it can read, on its own scale
	To            *Number  `json:"reads_to,omitempty"`
	Resolution    *Number  `json:"resolution,omitempty"`
	Error         *Number  `json:"error,omitempty"`   // limit of indication error
	Zero          *Number  `json:"zero,omitempty"`    // limit of the error of its zero
	Repeats       *Number  `json:"repeats,omitempty"` // standard deviation of one take
	RepeatsDoF    float64  `json:"repeats_dof,omitempty"`
	Turn          *Number  `json:"turn,omitempty"`        // one turn of screw or pointer
	Certificate   *Number  `json:"certificate,omitempty"` // expanded uncertainty
	K             float64  `json:"k,omitempty"`           // of the certificate
	CertificateNo string   `json:"certificate_no,omitempty"`
	Calibrated    string   `json:"calibrated,omitempty"` // the day
	CalibratedBy  string   `json:"calibrated_by,omitempty"`
	Due           string   `json:"due,omitempty"`     // date on which the calibration ends
	Overdue       bool     `json:"overdue,omitempty"` // when it was last used here
	Skipped       bool     `json:"not_identified,omitempty"`
	Odd           []Oddity `json:"odd,omitempty"` // what did not suit, as it was said when it was taken
	Reason        string   `json:"reason,omitempty"`
	Source        string   `json:"source,omitempty"`
	At            Stamp    `json:"at"`
	Until         *Stamp   `json:"until,omitempty"` // when another one took its place
}

// Oddity is something about an instrument that did not suit what it was taken
// for.
type Oddity struct {
	What string `json:"what"` // kind, range, part, coarse, overdue, unlisted
	Said string `json:"said"`
}

// Word is the oddity in capitals, as a record calls it.
func (o Oddity) Word() string {
	switch o.What {
	case "kind":
		return "WRONG KIND"
	case "range":
		return "OUT OF RANGE"
	case "part":
		return "PARTLY OUT OF RANGE"
	case "overdue":
		return "OVERDUE"
	case "unlisted":
		return "NOT IN THE LOGBOOK"
	}
	return "TOO COARSE"
}

// Insisted tells whether the instrument was kept against what was said of it.
func (i Instrument) Insisted() []Oddity {
	var out []Oddity
	for _, o := range i.Odd {
		if o.What != "part" {
			out = append(out, o)
		}
	}
	return out
}

// Confirm is a question that was answered in words.
type Confirm struct {
	Name   string `json:"name"`
	Title  string `json:"title"`
	Step   string `json:"step"`
	Answer string `json:"answer"`
	Reason string `json:"reason,omitempty"`
	Stale  bool   `json:"stale,omitempty"`
	At     Stamp  `json:"at"`
}

// Caution is a warning that was put to the person, or the state of the
// spindle, and what was answered.
type Caution struct {
	Step    string   `json:"step"` // or correction
	Texts   []string `json:"texts,omitempty"`
	Spindle string   `json:"spindle,omitempty"`
	Skipped bool     `json:"skipped,omitempty"`
	Reason  string   `json:"reason,omitempty"` // why it was skipped, where somebody said so
	At      Stamp    `json:"at"`
}

// Release is a hold point that was released.
type Release struct {
	Step string `json:"step"`
	Role string `json:"role"`
	Name string `json:"name"`
	At   Stamp  `json:"at"`
}

// Wait is a time that was let pass.
type Wait struct {
	Name   string   `json:"name"`
	Why    string   `json:"why"`
	How    string   `json:"how"` // over, stated, short, skipped
	Said   string   `json:"said"`
	Asked  *Number  `json:"asked,omitempty"`
	Waited *Number  `json:"waited,omitempty"`
	Values []Number `json:"values,omitempty"`
	Reason string   `json:"reason,omitempty"`
	At     Stamp    `json:"at"`
}

// Metal is a line of the ledger: what was taken off or put in, and where.
type Metal struct {
	Place      string  `json:"place"`
	Correction string  `json:"correction"`
	Amount     Amount  `json:"amount"`
	Total      *Number `json:"total,omitempty"` // of that place so far, plus in the sense of TotalSaid
	TotalSaid  string  `json:"total_said,omitempty"`
	Planned    bool    `json:"planned,omitempty"` // the amount asked for: what moved was not read
	At         Stamp   `json:"at"`
}

// Concession is one that was asked for.
type Concession struct {
	No      int    `json:"no"`
	Test    string `json:"test"` // name
	TestNo  int    `json:"test_no"`
	Title   string `json:"title"`
	Word    string `json:"word"` // verdict of the test
	Reason  string `json:"reason,omitempty"`
	Asked   Stamp  `json:"asked"`
	State   string `json:"state"` // asked, granted, refused, lapsed
	Said    string `json:"said"`
	Role    string `json:"role,omitempty"`
	Because string `json:"because,omitempty"`
	Decided *Stamp `json:"decided,omitempty"`
}

// Amendment is a kept answer that was corrected. Both values stay.
type Amendment struct {
	Name   string `json:"name"`
	Title  string `json:"title,omitempty"`
	Take   int    `json:"take,omitempty"`
	From   string `json:"from"`
	To     string `json:"to"`
	Reason string `json:"reason"`
	At     Stamp  `json:"at"`
}

// Withdrawal takes back an answer.
type Withdrawal struct {
	Of   Stamp  `json:"of"`
	What string `json:"what"`
	Said string `json:"said,omitempty"`
	At   Stamp  `json:"at"`
}

// Disturbance is something that moved, outside a correction.
type Disturbance struct {
	What   string   `json:"what"` // step, instrument, machine
	Title  string   `json:"title,omitempty"`
	Reason string   `json:"reason"`
	Again  []string `json:"again,omitempty"` // what was measured again because of it
	At     Stamp    `json:"at"`
}

// Unmeasured is something that could not be taken.
type Unmeasured struct {
	Name   string `json:"name"`
	Title  string `json:"title"`
	Reason string `json:"reason"`
	Stands bool   `json:"stands"` // it was not taken later
	At     Stamp  `json:"at"`
}

// Note is a remark, or a file, that was kept.
type Note struct {
	Where string `json:"where,omitempty"` // the question that was open
	Text  string `json:"text,omitempty"`
	About string `json:"about,omitempty"` // part, compensation, others, again: the heading that it stands under
	File  *File  `json:"file,omitempty"`
	At    Stamp  `json:"at"`
}

// What a remark may be about.
const (
	AboutPart         = "part"         // a part was replaced, or one was made
	AboutCompensation = "compensation" // a deviation that is meant
	AboutOthers       = "others"       // work or a certificate from outside
	AboutAgain        = "again"        // when to measure again, and what
)

// Evidence is a photograph or a scan. The file lies beside the record, under
// its hash.
type Evidence struct {
	No      int    `json:"no"`
	Caption string `json:"caption,omitempty"`
	Where   string `json:"where,omitempty"`   // the question that it answers, or that was open
	Name    string `json:"name,omitempty"`    // of that question
	Reading string `json:"reading,omitempty"` // id of the reading that it belongs to
	Answer  bool   `json:"answer,omitempty"`  // it was asked for
	Stale   bool   `json:"stale,omitempty"`   // of a reading that was taken again since
	Tests   []int  `json:"tests,omitempty"`   // that use the reading, or were open
	File    File   `json:"file"`
	At      Stamp  `json:"at"`
}
