// Package compare holds records of several runs beside one another: before and
// after, year to year, machine to machine. It says of each test what was found,
// by how much it differs, and whether that is more than the errors of the
// readings explain; and how a value drifts over the years.
//
// A [Comparison] is made from records alone. Tests are matched by procedure and
// name, or by the name by which other records know them (`test`). A difference
// is judged only where both values were worked out alike, from givens that are
// alike, in units that can be turned into one another; else what differs is
// said and nothing is judged.
//
// A difference is real where it is more than its own U, t(0.975, ν)·u, the rule
// of [uncert.Differ]. Between records every source of doubt counts as if the
// two shared nothing. What the same instrument errs by in both would cancel in
// a difference of values that were worked out alike, so its U comes out rather
// too large: such instruments are named in [Difference.Shared]. Where it is
// known to work the opposite way in the two, it is added in full.
//
// It says what was found and rates nothing.
package compare

import (
	"bytes"
	_ "embed" // the schema
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"waywright/report"
)

// Format names the form of the JSON and its version.
const Format = "waywright comparison 1"

// SchemaID is the $id of the JSON Schema of a comparison.
const SchemaID = "urn:waywright:schema:comparison-1"

//go:embed schema/comparison-1.schema.json
var schema []byte

// Schema returns the JSON Schema (2020-12) that every comparison keeps to.
func Schema() []byte { return slices.Clone(schema) }

// Input is a record, and what it was called by: the name of a run, or a file.
type Input struct {
	Name   string
	Record report.Record
}

// Comparison is what records say beside one another.
type Comparison struct {
	Format string   `json:"format"`
	Runs   []Run    `json:"runs"` // those of one machine in the order of measuring, else as they were given
	Tests  []Test   `json:"tests"`
	Notes  []string `json:"notes"` // how it was compared, and what must be known to read it, in sentences
}

// Run is one of the records.
type Run struct {
	Letter    string   `json:"letter"` // by which the rest names it: A, B …
	Name      string   `json:"name"`
	Number    string   `json:"number"` // of the record
	Title     string   `json:"title"`
	Procedure string   `json:"procedure"`
	Revision  string   `json:"revision,omitempty"`
	Machine   string   `json:"machine"`
	Class     string   `json:"class,omitempty"`
	Serial    string   `json:"serial,omitempty"`
	Outcome   string   `json:"outcome"`       // accepted, conceded, rejected, not_decided
	Text      string   `json:"text"`          // ACCEPTED WITH 1 CONCESSION
	From      string   `json:"from"`          // when the run began
	To        string   `json:"to"`            // its last event
	But       []string `json:"but,omitempty"` // what stands against what it says, in sentences
}

// Test is a test that some of the records have.
type Test struct {
	Name        string       `json:"name"`
	Title       string       `json:"title"`
	Lasting     string       `json:"test,omitempty"`     // name by which records of other procedures know it
	Positive    string       `json:"positive,omitempty"` // what plus means, in the first record that has a value
	Negative    string       `json:"negative,omitempty"` // what minus means
	Values      []Value      `json:"values"`             // one a run, in the order of the runs
	Differences []Difference `json:"differences,omitempty"`
	Drifts      []Drift      `json:"drifts,omitempty"` // one a machine with three runs or more
	Limits      string       `json:"limits,omitempty"` // that they are not the same everywhere, in a sentence
	Cannot      []string     `json:"cannot,omitempty"` // what was not compared and why, in sentences
	Notes       []string     `json:"notes,omitempty"`
}

// Differs tells whether some difference between runs, or a drift, is real.
func (t Test) Differs() bool {
	return slices.ContainsFunc(t.Differences, func(d Difference) bool { return d.Shown && d.From.Run != d.To.Run }) ||
		slices.ContainsFunc(t.Drifts, func(d Drift) bool { return d.Shown })
}

// Same says in lines which values are of the same readings.
func (t Test) Same() []string {
	var out []string
	for _, d := range t.Differences {
		if d.Taken {
			out = append(out, d.Between()+": "+d.Said)
		}
	}
	return out
}

// Compared tells whether some difference between runs was judged.
func (t Test) Compared() bool {
	return slices.ContainsFunc(t.Differences, func(d Difference) bool { return d.From.Run != d.To.Run })
}

// Value is what one run says of a test.
type Value struct {
	Run         string          `json:"run"`
	No          int             `json:"no,omitempty"` // of the test in that record
	State       string          `json:"state"`        // there, open, not_measured, not_applied, no_test
	AsFound     *Entry          `json:"as_found,omitempty"`
	AsLeft      *Entry          `json:"as_left,omitempty"` // what stands
	Worked      bool            `json:"worked,omitempty"`  // something was corrected between the two
	Allowed     *report.Allowed `json:"allowed,omitempty"`
	Instruments []string        `json:"instruments,omitempty"` // their own numbers, else what they are
}

// Entry is a value with its verdict.
type Entry struct {
	At      string         `json:"at"`
	Said    string         `json:"said"`
	Value   *report.Number `json:"value,omitempty"`
	U       *report.Number `json:"u,omitempty"` // expanded uncertainty
	K       float64        `json:"k,omitempty"`
	DoF     float64        `json:"dof,omitempty"`
	Exact   bool           `json:"exact,omitempty"`
	Verdict string         `json:"verdict"`
	Word    string         `json:"word"`
	Worst   string         `json:"worst,omitempty"` // of many values, which this is
}

// Place names a value: which run's, as found or as left.
type Place struct {
	Run   string `json:"run"`
	State string `json:"state"` // as_found, as_left
}

// Difference is by how much two values differ.
type Difference struct {
	From   Place          `json:"from"`
	To     Place          `json:"to"`
	By     report.Number  `json:"by"`               // To less From, in the unit of From
	U      *report.Number `json:"u,omitempty"`      // its expanded uncertainty
	K      float64        `json:"k,omitempty"`      // coverage factor
	DoF    float64        `json:"dof,omitempty"`    // degrees of freedom; none where there is no end of them
	Shown  bool           `json:"shown"`            // it is more than U: it is real
	Said   string         `json:"said"`             // without what From and To say
	Where  string         `json:"where,omitempty"`  // of many values: the place that differs most, for its doubt
	Places int            `json:"places,omitempty"` // of many values: how many were compared; U is widened for that
	Shared []string       `json:"shared,omitempty"` // instruments used for both under one calibration
	Own    bool           `json:"own,omitempty"`    // both stand in one record, which says it itself
	Taken  bool           `json:"taken,omitempty"`  // the same readings, taken over by the record that corrects the other
}

// Drift is how a value changes over the years on one machine, what was
// corrected in the runs taken out.
type Drift struct {
	Machine string         `json:"machine"`
	PerYear *report.Number `json:"per_year,omitempty"` // of 365.25 days; none where it cannot be worked out
	U       *report.Number `json:"u,omitempty"`
	K       float64        `json:"k,omitempty"`
	DoF     float64        `json:"dof,omitempty"`
	Shown   bool           `json:"shown"`
	Said    string         `json:"said"`
	Where   string         `json:"where,omitempty"`   // of many values: the place that drifts most, for its doubt
	Places  int            `json:"places,omitempty"`  // of many values: how many were looked at
	Values  int            `json:"values"`            // it is worked out from
	Levels  int            `json:"levels,omitempty"`  // one, and one more after each time it was corrected
	Days    float64        `json:"days,omitempty"`    // over which they reach
	Scatter bool           `json:"scatter,omitempty"` // U is from how the values lie, which is more than their doubts explain
}

// The states of a value.
const (
	There       = "there"
	Open        = "open"
	NotMeasured = "not_measured"
	NotApplied  = "not_applied"
	NoTest      = "no_test"
)

// The states at which a value was found.
const (
	AsFound = "as_found"
	AsLeft  = "as_left"
)

// What cannot be compared at all.
var (
	ErrTooFew = errors.New("compare: two records at least are needed")
	ErrSame   = errors.New("compare: one record twice")
)

// Of compares records. The error is [ErrTooFew] or [ErrSame].
func Of(inputs ...Input) (Comparison, error) {
	if len(inputs) < 2 {
		return Comparison{}, fmt.Errorf("%w, have %d", ErrTooFew, len(inputs))
	}
	for i, in := range inputs {
		for _, other := range inputs[:i] {
			if in.Record.Journal.Head == other.Record.Journal.Head && in.Record.Number == other.Record.Number {
				return Comparison{}, fmt.Errorf("%w: %s and %s are %s", ErrSame, other.Name, in.Name, in.Record.Number)
			}
		}
	}
	c := comparer{records: ordered(inputs)}
	for i, in := range c.records {
		c.out.Runs = append(c.out.Runs, runOf(letter(i), in))
	}
	c.corrections()
	c.out.Format = Format
	for _, row := range c.rows() {
		c.out.Tests = append(c.out.Tests, c.test(row))
	}
	c.out.Notes = c.notes()
	return c.out, nil
}

// Marshal returns the comparison as JSON, as a record is written.
func Marshal(c Comparison) ([]byte, error) {
	if c.Tests == nil {
		c.Tests = []Test{}
	}
	if c.Notes == nil {
		c.Notes = []string{}
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(c); err != nil {
		return nil, fmt.Errorf("compare: %w", err)
	}
	return b.Bytes(), nil
}

// letter names the runs: A to Z, then A2 and so on.
func letter(i int) string {
	s := string(rune('A' + i%26))
	if i >= 26 {
		s += fmt.Sprint(i/26 + 1)
	}
	return s
}

// The words of a test, in the order in which they are told.
const (
	Different   = "DIFFERENT"
	NotShown    = "NO DIFFERENCE SHOWN"
	Same        = "THE SAME READINGS" // in a record and in one that corrects it
	NotCompared = "NOT COMPARED"
)

// Words are the words of a test, what differs first.
var Words = [...]string{Different, NotShown, Same, NotCompared}

// Word says in capitals what was found of a test.
func (t Test) Word() string {
	switch {
	case t.Differs():
		return Different
	case len(t.Same()) > 0 && !slices.ContainsFunc(t.Differences, func(d Difference) bool { return !d.Taken && d.From.Run != d.To.Run }):
		return Same
	case t.Compared():
		return NotShown
	}
	return NotCompared
}

// Real says in lines what differs: the last of the real differences between
// runs, which others there are, and the drift.
func (t Test) Real() []string {
	var out, also []string
	for _, d := range slices.Backward(t.Differences) {
		switch {
		case !d.Shown || d.From.Run == d.To.Run:
		case len(out) == 0:
			out = append(out, d.Between()+": "+d.Said)
		default:
			also = append([]string{d.Between()}, also...)
		}
	}
	if len(also) > 0 {
		out = append(out, "Also "+strings.Join(also, "; "))
	}
	for _, d := range t.Drifts {
		if d.Shown {
			out = append(out, "Drift of "+d.Machine+": "+d.Said)
		}
	}
	return out
}

// Between names the two values of a difference.
func (d Difference) Between() string { return d.From.String() + " to " + d.To.String() }

// Machines are the machines of the runs, each once.
func (c Comparison) Machines() []string {
	var out []string
	for _, r := range c.Runs {
		if !slices.Contains(out, r.Machine) {
			out = append(out, r.Machine)
		}
	}
	return out
}

// About says in a line what is compared.
func (c Comparison) About() string {
	machines := c.Machines()
	var titles []string
	for _, r := range c.Runs {
		if !slices.Contains(titles, r.Title) {
			titles = append(titles, r.Title)
		}
	}
	what := fmt.Sprintf("%d runs", len(c.Runs))
	if len(titles) == 1 {
		what += " of “" + titles[0] + "”"
	}
	if len(machines) == 1 {
		return what + " on one machine, " + machines[0]
	}
	return fmt.Sprintf("%s on %d machines: %s", what, len(machines), strings.Join(machines, ", "))
}

// StateSaid says in words why a run has no value.
func (v Value) StateSaid() string {
	switch v.State {
	case NotMeasured:
		return "not measured"
	case NotApplied:
		return "does not apply"
	case NoTest:
		return "no such test"
	case Open:
		return "not judged"
	}
	return ""
}

// Which returns the tests with that word, in their order.
func (c Comparison) Which(word string) []Test {
	return slices.DeleteFunc(slices.Clone(c.Tests), func(t Test) bool { return t.Word() != word })
}
