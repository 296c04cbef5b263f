package report

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// WholeFormat names the form of a machine's record and its version.
const WholeFormat = "waywright machine record 1"

// Whole is what the accepted records of one machine say together: of each test
// the newest value, and what the first of them found. It is no new judgement:
// what stands behind a value is in the record that it came from, which is
// signed and stays as it is.
type Whole struct {
	Format  string      `json:"format"`
	Number  string      `json:"number"`
	Machine Machine     `json:"machine"` // as the newest record has it
	Word    string      `json:"word"`    // accepted, conceded, as_found, not_decided
	Text    string      `json:"text"`    // ACCEPTED WITH 1 CONCESSION
	Counts  Counts      `json:"counts"`
	Time    string      `json:"time"` // of the last event in any of the records
	Records []Joined    `json:"records"`
	Tests   []WholeTest `json:"tests"`
	Spoilt  int         `json:"spoilt"`  // tests of which the value does not hold any more; they count as nothing else
	Missing []Missing   `json:"missing"` // what stands in the way of a whole, and what is to be known before it is read
}

// Joined is a record that a whole is joined from.
type Joined struct {
	No        int          `json:"no"`
	Number    string       `json:"number"`
	Run       string       `json:"run"` // of the logbook
	Title     string       `json:"title"`
	Procedure string       `json:"procedure"`
	Outcome   string       `json:"outcome"` // in words
	Rule      Rule         `json:"rule"`
	Grade     string       `json:"grade,omitempty"`
	SHA256    string       `json:"sha256"` // of its JSON
	Begun     string       `json:"begun"`
	Last      string       `json:"last"`
	Signed    []Signature  `json:"signed"`
	Spoilt    []Spoilt     `json:"spoilt_since"`
	Replaced  string       `json:"replaced_by,omitempty"`        // run that took its place: only what it found first counts
	Corrected string       `json:"being_corrected_by,omitempty"` // run that is to take its place once it is signed
	Hands     []Instrument `json:"instruments"`
}

// WholeTest is a test as it stands now.
type WholeTest struct {
	Record  int  `json:"record"`             // that it is from
	FoundIn int  `json:"found_in,omitempty"` // record of the value as found, where that is an older one
	Spoilt  bool `json:"spoilt,omitempty"`   // it does not hold any more
	Test    Test `json:"test"`               // numbered anew; ids in it are those of its record
}

// Missing is something that a whole lacks, or that does not hold any more.
type Missing struct {
	Kind string `json:"kind"` // one of those below
	What string `json:"what"`
	Why  string `json:"why"`
	Run  string `json:"run,omitempty"`
}

// What may be missing, the gravest first.
const (
	MissRejected  = "rejected"  // by the newest run that was decided
	MissSpoilt    = "spoilt"    // it was accepted, and does not hold any more
	MissOverdue   = "overdue"   // it was accepted longer ago than it is good for
	MissUnsigned  = "unsigned"  // all is settled, and somebody has not signed
	MissCorrected = "corrected" // its record is corrected by one that is not ended
	MissOpen      = "open"      // it is under way
	MissNever     = "missing"   // no accepted run has it
	MissCaution   = "caution"   // nothing is missing, but it is to be known: a calibration had ended
)

var missOrder = []string{MissRejected, MissSpoilt, MissOverdue, MissUnsigned, MissCorrected, MissOpen, MissNever, MissCaution}

// Word is what is missing in capitals, as a record calls it.
func (m Missing) Word() string {
	return map[string]string{MissRejected: "REJECTED", MissSpoilt: "DISTURBED", MissOverdue: "OUT OF DATE", MissUnsigned: "NOT SIGNED",
		MissCorrected: "BEING CORRECTED", MissOpen: "UNDER WAY", MissNever: "MISSING", MissCaution: "CALIBRATION ENDED"}[m.Kind]
}

// RunIssue is a record with the run that it is of.
type RunIssue struct {
	Run        string
	Issue      Issue
	Replaced   string // run that took its place
	Correcting string // run that corrects it and is not signed yet: until then it stands
}

// Join makes the record of a machine from its accepted records. Of those in
// whose place a newer one stands only what they found first counts. missing is
// what the caller knows of besides: what was rejected, was never ended, or is
// still to be done. Tests are the same where they have the same lasting name,
// or else the same name in the same procedure.
//
// As found is what the earliest record has that read it before any work; as
// left what the newest has that measured it. Where that was spoilt since, no
// older value takes its place: the machine is not as the older one found it
// either.
func Join(machine string, list []RunIssue, missing []Missing) (Whole, error) {
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b RunIssue) int { return cmp.Compare(a.Issue.Record.Last.Time, b.Issue.Record.Last.Time) })
	w := Whole{Format: WholeFormat, Machine: Machine{ID: machine}, Records: []Joined{}, Tests: []WholeTest{}, Missing: slices.Clone(missing)}
	j := joining{first: map[string]WholeTest{}, place: map[string]int{}}
	for i, x := range list {
		r := x.Issue.Shown()
		w.join(i+1, x, r)
		for _, t := range r.Tests {
			j.take(&w, testKey(r, t), WholeTest{Record: i + 1, Test: t, Spoilt: len(r.Spoilt) > 0 && t.Verdict != NotApplied}, x.Replaced == "")
		}
	}
	j.found(&w)
	slices.SortStableFunc(w.Tests, func(a, b WholeTest) int { return cmp.Compare(a.Record, b.Record) })
	w.judge()
	return w, w.name()
}

// testKey is by what a test is the same in several records.
func testKey(r Record, t Test) string {
	if t.Lasting != "" {
		return "\x00" + t.Lasting + "\x00" + strings.Join(t.Keys, "\x00")
	}
	return r.Procedure.Name + "\x00" + t.Name
}

// joining finds the tests that are the same.
type joining struct {
	keys  []string             // in the order of coming up
	first map[string]WholeTest // the oldest that read it before any work, else the oldest
	place map[string]int       // in the whole
}

// take takes a test of the next newer record in. One that only a record has in
// whose place another stands is not taken.
func (j *joining) take(w *Whole, key string, t WholeTest, counts bool) {
	old, ok := j.first[key]
	if !ok {
		j.keys = append(j.keys, key)
	}
	if !ok || !old.Test.AsFound.Read && t.Test.AsFound.Read {
		j.first[key] = t
	}
	if !counts {
		return
	}
	at, ok := j.place[key]
	switch {
	case !ok:
		j.place[key] = len(w.Tests)
		w.Tests = append(w.Tests, t)
	case t.Test.Verdict != NotApplied || w.Tests[at].Test.Verdict == NotApplied: // what was left out measured nothing anew
		w.Tests[at] = t
	}
}

// found puts what was found first beside what stands, and says which tests no
// newer record has.
func (j *joining) found(w *Whole) {
	for _, key := range j.keys {
		first := j.first[key]
		at, ok := j.place[key]
		if !ok {
			if first.Test.Verdict != NotApplied {
				w.Missing = append(w.Missing, Missing{Kind: MissNever, What: first.Test.Title,
					Why: "the record that took the place of its own does not have it", Run: w.Records[first.Record-1].Run})
			}
			continue
		}
		if t := &w.Tests[at]; first.Record != t.Record {
			t.FoundIn, t.Test.AsFound, t.Test.Change = first.Record, first.Test.AsFound, nil
		}
	}
}

// join takes a record in.
func (w *Whole) join(no int, x RunIssue, r Record) {
	w.Machine, w.Time = r.Machine, max(w.Time, r.Last.Time)
	j := Joined{
		No: no, Number: r.Number, Run: x.Run, Title: r.Title, Procedure: r.Procedure.Name, Outcome: r.Outcome.Text, Rule: r.Procedure.Rule,
		Grade: r.Procedure.Grade, SHA256: x.Issue.Digest(), Begun: r.Begun.Time, Last: r.Last.Time, Hands: r.Instruments,
		Signed: slices.Clone(x.Issue.Signatures), Spoilt: slices.Clone(r.Spoilt), Replaced: x.Replaced,
		Corrected: x.Correcting,
	}
	for _, role := range r.Roles { // those that an older version kept in the record
		if role.Signed != "" && !slices.ContainsFunc(j.Signed, func(s Signature) bool { return s.Role == role.Name }) {
			s := Signature{Role: role.Name, Name: role.Signed, How: ByName}
			if role.At != nil {
				s.When, s.Entry = role.At.Time, role.At.Entry
			}
			j.Signed = append(j.Signed, s)
		}
	}
	if x.Replaced == "" {
		w.lacks(x.Run, r)
	}
	w.Records = append(w.Records, j)
}

// lacks says what stands against a record.
func (w *Whole) lacks(run string, r Record) {
	add := func(kind, why string) {
		w.Missing = append(w.Missing, Missing{Kind: kind, What: r.Title, Why: why, Run: run})
	}
	if r.Outcome.Draft {
		add(MissUnsigned, "its record is a draft: "+strings.Join(r.Outcome.Open, " "))
	}
	for _, s := range r.Spoilt {
		add(MissSpoilt, "it does not hold any more: "+s.Said)
	}
	for _, i := range r.Overdue() {
		name := i.Number
		if name == "" {
			name = i.Kind
		}
		add(MissCaution, fmt.Sprintf("%s was used after its calibration had ended on %s", name, i.Due))
	}
}

// judge counts the tests, and says what they make together.
func (w *Whole) judge() {
	for i := range w.Tests {
		t := &w.Tests[i].Test
		t.No = i + 1
		if w.Tests[i].Spoilt {
			w.Spoilt++
			continue
		}
		w.Counts.add(*t)
	}
	w.Counts.Agreed = len(w.Tests) - w.Counts.NotApplied - w.Counts.Noted
	c := w.Counts
	present(&w.Missing)
	slices.SortStableFunc(w.Missing, func(a, b Missing) int {
		return cmp.Compare(slices.Index(missOrder, a.Kind), slices.Index(missOrder, b.Kind))
	})
	lacks := slices.ContainsFunc(w.Missing, func(m Missing) bool { return m.Kind != MissCaution })
	switch settled := c.Pass + c.Conceded; {
	case lacks || len(w.Records) == 0 || settled < c.Agreed:
		w.Word, w.Text = NotDecided, "NOT WHOLE"
	case c.Conceded > 0:
		w.Word, w.Text = Conceded, outcomeText(Conceded, c.Conceded)
	case c.Agreed == 0 && c.Noted > 0:
		w.Word, w.Text = Surveyed, outcomeText(Surveyed, 0)
	default:
		w.Word, w.Text = Accepted, outcomeText(Accepted, 0)
	}
}

// add counts a test.
func (c *Counts) add(t Test) {
	if t.Noted && t.Verdict != NotApplied {
		c.Noted++
		return
	}
	switch t.Verdict {
	case Pass:
		c.Pass++
	case Fail:
		c.Fail++
	case Undecided:
		c.Undecided++
	case NotMeasured:
		c.NotMeasured++
	case NotApplied:
		c.NotApplied++
	default:
		c.Open++
	}
	if t.Concession != nil && t.Concession.State == "granted" {
		c.Conceded++
	}
}

// name gives the whole a number, from the machine, the day, and what it says.
func (w *Whole) name() error {
	b, err := MarshalWhole(*w)
	if err != nil {
		return err
	}
	sum := sha256.Sum256(b)
	day := strings.ReplaceAll(w.Time[:min(10, len(w.Time))], "-", "")
	w.Number = strings.Join(withoutEmpty([]string{slug(w.Machine.ID), "whole", day, hex.EncodeToString(sum[:4])}), "-")
	return nil
}

func withoutEmpty(ss []string) []string {
	return slices.DeleteFunc(ss, func(s string) bool { return s == "" })
}

// MarshalWhole returns the one form of the JSON of a whole.
func MarshalWhole(w Whole) ([]byte, error) {
	present(&w.Records)
	present(&w.Tests)
	present(&w.Missing)
	w.Records = slices.Clone(w.Records)
	w.Tests = slices.Clone(w.Tests)
	for i := range w.Tests {
		present(&w.Tests[i].Test.Attempts)
	}
	for i := range w.Records {
		present(&w.Records[i].Signed)
		present(&w.Records[i].Spoilt)
		present(&w.Records[i].Hands)
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(w); err != nil {
		return nil, fmt.Errorf("report: %w", err)
	}
	return b.Bytes(), nil
}

// ParseWhole reads the JSON of a whole. The error is [ErrFormat] if it is of a
// form that this program does not know.
func ParseWhole(b []byte) (Whole, error) {
	var w Whole
	dec := json.NewDecoder(bytes.NewReader(b))
	if err := dec.Decode(&w); err != nil {
		return w, fmt.Errorf("report: not a record of a machine: %w", err)
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return w, errors.New("report: not a record of a machine: something follows it")
	}
	if w.Format != WholeFormat {
		return w, fmt.Errorf("%w: %q, want %q", ErrFormat, w.Format, WholeFormat)
	}
	return w, nil
}

// Joined returns the record with that number in the whole.
func (w Whole) Joined(no int) (Joined, bool) {
	if no < 1 || no > len(w.Records) {
		return Joined{}, false
	}
	return w.Records[no-1], true
}
