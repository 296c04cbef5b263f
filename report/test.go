package report

// Test is a limit that had to be kept: a gate of the procedure, in one round
// of its step.
type Test struct {
	No      int      `json:"no"`   // counted in the order of the procedure
	Name    string   `json:"name"` // gate, with the keys of its round
	Title   string   `json:"title"`
	Of      string   `json:"of,omitempty"` // what is judged, as the procedure has it
	Step    string   `json:"step"`         // title of its step
	Keys    []string `json:"keys,omitempty"`
	Lasting string   `json:"test,omitempty"`  // name by which other records know it
	Setup   bool     `json:"setup,omitempty"` // checks the set-up by a rule of its own, not the machine

	Noted      bool        `json:"noted,omitempty"` // kept as found: its verdict is in the way of nothing
	Verdict    string      `json:"verdict"`         // pass, fail, undecided, not_measured, not_applied, open
	Word       string      `json:"word"`            // PASS, FAIL, CANNOT TELL …
	Why        string      `json:"why,omitempty"`
	Found      *Finding    `json:"found,omitempty"`
	Allowed    Allowed     `json:"allowed"`
	Rule       Rule        `json:"rule"`
	P          string      `json:"conforming,omitempty"` // probability that the limit is kept, as printed
	Worst      string      `json:"worst,omitempty"`      // the element that decides
	Elements   []Element   `json:"elements,omitempty"`
	Along      string      `json:"along,omitempty"` // what the elements' places are: station, angle, key
	AsFound    AsFound     `json:"as_found"`
	Change     *Change     `json:"change,omitempty"` // as left against as found
	Concession *Concession `json:"concession,omitempty"`
	LeftOut    *LeftOut    `json:"left_out,omitempty"` // by agreement, before anything was measured

	Working     []string   `json:"working,omitempty"`  // names of the results behind it, in order of working out
	Readings    []string   `json:"readings,omitempty"` // ids of the readings used now
	Givens      []string   `json:"givens,omitempty"`
	Instruments []string   `json:"instruments,omitempty"` // ids of the bindings used now
	Doubt       []Doubt    `json:"doubt,omitempty"`       // greatest part first
	Method      *Method    `json:"method,omitempty"`      // how the doubt was worked out
	Risk        *Risk      `json:"risk,omitempty"`        // that the verdict is wrong
	Attempts    []Attempt  `json:"attempts"`
	Upstream    []Upstream `json:"upstream,omitempty"` // what would explain a failure, named when attempts are spent
}

// LeftOut says that a test was left out by agreement, before the work began; or
// that a value was assumed by agreement.
type LeftOut struct {
	Agreed  string `json:"agreed"` // who agreed to it
	Because string `json:"because"`
	At      Stamp  `json:"at"`
}

// Finding is a value with its doubt.
type Finding struct {
	Value    *Number `json:"value,omitempty"`
	Said     string  `json:"said"`                 // 0.009 mm towards the operator
	U        *Number `json:"u,omitempty"`          // expanded uncertainty, as wide on either side
	K        float64 `json:"k,omitempty"`          // coverage factor
	DoF      float64 `json:"dof,omitempty"`        // effective degrees of freedom; none where there is no end of them
	Positive string  `json:"positive,omitempty"`   // what plus means
	Negative string  `json:"negative,omitempty"`   // what minus means
	Between  string  `json:"from_to,omitempty"`    // the reach of the doubt, in words
	Exact    bool    `json:"exact,omitempty"`      // no uncertainty is stated: it counts as exact
	Holds    string  `json:"observed,omitempty"`   // for a test that asks whether something holds
	Nearer   *Number `json:"to_limit,omitempty"`   // distance to the nearer limit, plus is inside
	Side     string  `json:"limit_side,omitempty"` // the nearer limit: lower, upper
}

// Allowed is what the limit asks.
type Allowed struct {
	Lower   *Number `json:"lower,omitempty"`
	Upper   *Number `json:"upper,omitempty"`
	Said    string  `json:"said"`              // 0 to 0.012 mm towards the operator, never away
	Formula string  `json:"formula,omitempty"` // as the procedure has it, where it is worked out
	Source  string  `json:"source,omitempty"`
	Memory  bool    `json:"from_memory,omitempty"` // the source's text was not seen
}

// Element is one station, angle or key of a test over many values.
type Element struct {
	Key     string  `json:"key,omitempty"`
	At      *Number `json:"at,omitempty"`
	Value   Number  `json:"value"`
	Said    string  `json:"said"`
	U       *Number `json:"u,omitempty"`
	Lower   *Number `json:"lower,omitempty"`
	Upper   *Number `json:"upper,omitempty"`
	Verdict string  `json:"verdict"`
	Word    string  `json:"word"`
}

// AsFound is what the test gave before any work was done.
type AsFound struct {
	Read    bool     `json:"read"`
	Said    string   `json:"said"` // "not read", where it was not
	Found   *Finding `json:"found,omitempty"`
	Verdict string   `json:"verdict,omitempty"`
	Word    string   `json:"word,omitempty"`
}

// Change is by how much a value differs from an earlier one.
type Change struct {
	Attempt int     `json:"attempt"`         // that it is held against
	Where   string  `json:"where,omitempty"` // station, angle or key, of many values
	By      Number  `json:"by"`              // the later less the earlier
	U       *Number `json:"u,omitempty"`     // its expanded uncertainty, what both share counted once
	K       float64 `json:"k,omitempty"`
	DoF     float64 `json:"dof,omitempty"`
	Shown   bool    `json:"shown"` // it is more than U; what is not shown may be noise
	Said    string  `json:"said"`
}

// Doubt is one source of the uncertainty of a result.
type Doubt struct {
	Source string  `json:"source"`
	U      Number  `json:"u"`               // standard uncertainty it gives to the result
	Share  float64 `json:"share,omitempty"` // part of the variance, 0 to 1
	DoF    float64 `json:"dof,omitempty"`

	Own             *Number `json:"own,omitempty"`              // standard uncertainty of the source itself
	Sensitivity     float64 `json:"sensitivity,omitempty"`      // by which it reaches the result; signed where it is a single source
	SensitivityCode string  `json:"sensitivity_ucum,omitempty"` // unit of that, where it has one
}

// Method is how the doubt of a value was worked out.
type Method struct {
	Name   string  `json:"name"` // sensitivities, drawn
	Said   string  `json:"said"`
	Why    string  `json:"why,omitempty"` // of errors that were drawn: kink, curved, divisor
	Trials int     `json:"trials,omitempty"`
	Seed   string  `json:"seed,omitempty"` // hexadecimal
	Bias   *Number `json:"bias,omitempty"` // by how much the errors make the value too large on average
	From   *Number `json:"from,omitempty"` // the middle 95 % of the trials
	To     *Number `json:"to,omitempty"`
}

// Risk is the probability that a verdict is wrong, at most: of a PASS that the
// limit is not kept, of a FAIL that it is.
type Risk struct {
	AtMost float64 `json:"at_most"`
	Said   string  `json:"said"`
	Tests  int     `json:"tests,omitempty"` // over how many tests it is summed
}

// Attempt is one judgement of a test, and what was done about it.
type Attempt struct {
	N           int       `json:"n"`
	At          Stamp     `json:"at"`
	AsFound     bool      `json:"as_found,omitempty"`
	Verdict     string    `json:"verdict"`
	Word        string    `json:"word"`
	Why         string    `json:"why,omitempty"`
	Found       *Finding  `json:"found,omitempty"`
	Allowed     Allowed   `json:"allowed"`
	P           string    `json:"conforming,omitempty"`
	Worst       string    `json:"worst,omitempty"`
	Elements    []Element `json:"elements,omitempty"`
	Readings    []string  `json:"readings,omitempty"`
	Instruments []string  `json:"instruments,omitempty"`
	Change      *Change   `json:"change,omitempty"` // against the attempt before that had a value
	Looks       []Look    `json:"looks,omitempty"`  // what the readings looked like besides what they say
	Stands      bool      `json:"stands,omitempty"`
	Ended       string    `json:"ended,omitempty"` // why it no longer stands
	Way         *Way      `json:"way,omitempty"`
}

// Look is the sign of a common mistake in readings. It was told, and changed no
// verdict.
type Look struct {
	Kind    string `json:"kind"`
	Said    string `json:"said"`
	Mend    string `json:"mend"`
	ByNoise string `json:"by_noise,omitempty"` // how often noise alone would look like it, or what it was held against
}

// Way is what was chosen after a test that was not passed.
type Way struct {
	Name       string      `json:"name"` // again, concession, reject, or the correction
	Said       string      `json:"said"`
	Reason     string      `json:"reason,omitempty"`
	At         Stamp       `json:"at"`
	Correction *Correction `json:"correction,omitempty"`
}

// Correction is a correction as it was asked for and carried out.
type Correction struct {
	Name      string      `json:"name"`
	Title     string      `json:"title"`
	Do        []string    `json:"do,omitempty"`
	N         int         `json:"n"` // which report of it in the run
	Asked     []Amount    `json:"asked,omitempty"`
	Gain      float64     `json:"gain,omitempty"`      // by which the amount was divided, when not 1
	GainFrom  string      `json:"gain_from,omitempty"` // the earlier run that found it
	Movements []Movement  `json:"movements,omitempty"`
	Moved     *Amount     `json:"moved,omitempty"` // all movements together
	Response  *Response   `json:"response,omitempty"`
	Disturbed []string    `json:"disturbed,omitempty"` // what was measured again because of it
	Reported  *Stamp      `json:"reported,omitempty"`
	Judged    []MoveJudge `json:"judged,omitempty"`
}

// Amount is how much, and which way.
type Amount struct {
	Number    Number  `json:"number"` // without sign where Direction says the way
	Direction string  `json:"direction,omitempty"`
	At        *Number `json:"at,omitempty"` // station
	Said      string  `json:"said"`
}

// Movement is one movement that was read after locking.
type Movement struct {
	Typed   string `json:"typed"`
	Amount  Amount `json:"amount"`
	At      Stamp  `json:"at"`
	Further bool   `json:"further,omitempty"` // added to the one before
	Reason  string `json:"reason,omitempty"`
}

// MoveJudge is what was said to a movement that was not as asked.
type MoveJudge struct {
	How  string `json:"how"` // carry_on, wrong_way, plus, minus, nowhere
	Said string `json:"said"`
	At   Stamp  `json:"at"`
}

// Response is what a correction did to the result.
type Response struct {
	Word     string  `json:"word"`
	Said     string  `json:"said"`
	Told     string  `json:"told"` // the change, in words
	Before   Number  `json:"before"`
	After    Number  `json:"after"`
	Change   Number  `json:"change"`
	UChange  *Number `json:"u_change,omitempty"`
	Shown    bool    `json:"shown"` // the change is more than its doubt
	Expected *Number `json:"expected,omitempty"`
}

// Upstream is something that may lie behind a test that does not pass.
type Upstream struct {
	Title string `json:"title"`
	State string `json:"state,omitempty"` // what is known of it
}
