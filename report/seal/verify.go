package seal

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"time"

	"waywright/engine"
	"waywright/engine/journal"
	"waywright/procedures"
	"waywright/report"
)

// Check is one thing that was looked at.
type Check struct {
	Part   string `json:"part"` // journal, times, procedure, record, facts, seal, evidence, signatures, signature, forms, files
	Result Result `json:"result"`
	Said   string `json:"said"`            // in a sentence
	Where  string `json:"where,omitempty"` // file, line and field
}

// Result is how a check came out.
type Result string

// The results of checks.
const (
	Holds   Result = "holds"
	Fails   Result = "fails"
	Open    Result = "open"    // nothing is wrong that was sealed, and something is still to come: a signature, or a look with the version that sealed it
	Unknown Result = "unknown" // it cannot be told here, and the sentence says why
)

// Options say how a folder is checked.
type Options struct {
	Compile Compile
	Program string    // version of this program
	Exact   bool      // Program names one build and no other
	Now     time.Time // zero: times in the future are not looked for
	Signers []Signer  // who may sign, from elsewhere; nil: not given
}

// Verdict is all that was looked at.
type Verdict struct {
	Checks []Check
	Record report.Record // as it is shown; zero where it could not be made
	Digest string        // of record.json, as it should be
	Sealed bool
}

// Result returns the worst result: one failure, and the folder fails.
func (v Verdict) Result() Result {
	out := Holds
	for _, c := range v.Checks {
		switch {
		case c.Result == Fails:
			return Fails
		case c.Result == Open:
			out = Open
		}
	}
	return out
}

// Verify checks the folder of a run.
func Verify(f Folder, o Options) Verdict { return NewChecker(o).Verify(f) }

// verifier goes through a folder.
type verifier struct {
	f       Folder
	o       Options
	c       *Checker
	out     Verdict
	known   map[string]bool // files that belong to the run
	entries []journal.Entry
	sound   bool   // the whole journal could be read
	sum     string // of the journal
	format  journal.Format
	events  []engine.Event
	rebuilt *Rebuilt
	seal    *engine.Event // the sealing one
}

func (v *verifier) say(part string, r Result, where, format string, args ...any) {
	v.out.Checks = append(v.out.Checks, Check{part, r, fmt.Sprintf(format, args...), where})
}

// read reads a file that must be there.
func (v *verifier) read(part, name string) ([]byte, bool) {
	v.known[name] = true
	b, err := v.f.Read(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		v.say(part, Fails, name, "The file is missing.")
	case err != nil:
		v.say(part, Fails, name, "The file cannot be read: %v.", err)
	}
	return b, err == nil
}

// journal checks the chain and the sums of the lines.
func (v *verifier) journal() {
	const part = "journal"
	b, ok := v.read(part, JournalName)
	if !ok {
		return
	}
	v.sum = sumOf(b)
	entries, tail, err := v.c.recover(b, v.sum)
	v.entries = entries
	var damage *journal.Damage
	switch {
	case errors.As(err, &damage) && v.readsWith(b):
		v.say(part, Fails, JournalName, "Its line endings were changed, and nothing else that can be told: a mail program or an editor does that. Have the folder sent packed, or take it from where it was made.")
		return
	case errors.As(err, &damage):
		v.say(part, Fails, at(JournalName, damage.Line), "%s.", capital(damage.What))
		return
	case err != nil:
		v.say(part, Fails, JournalName, "%s.", capital(err.Error()))
		return
	case len(entries) == 0:
		v.say(part, Fails, JournalName, "It holds no whole line.")
		return
	case len(tail) > 0:
		v.say(part, Fails, at(JournalName, len(entries)+1), "The last line is not whole: %d bytes without an end.", len(tail))
		return
	}
	if v.format, err = entries[0].Format(); err != nil {
		v.say(part, Fails, at(JournalName, 1), "%s.", capital(err.Error()))
		return
	}
	if v.events, err = v.c.events(entries, v.sum); err != nil {
		v.say(part, Fails, JournalName, "%s.", capital(err.Error()))
		return
	}
	v.sound = true
	for i := range v.events {
		if _, ok := v.events[i].Data.(engine.Sealed); ok && v.seal == nil {
			v.seal = &v.events[i]
		}
	}
	v.say(part, Holds, JournalName, "%d lines, each with its own sum and the hash of the line before.", len(entries))
	v.torn()
}

// readsWith tells whether a journal can be read once its line endings are put
// right.
func (v *verifier) readsWith(b []byte) bool {
	again, ok := unixEndings(b)
	if !ok {
		return false
	}
	entries, tail, err := journal.Recover(again)
	return err == nil && len(entries) > 0 && len(tail) == 0
}

// torn checks the files that hold lines which were cut off.
func (v *verifier) torn() {
	for _, e := range v.entries {
		if e.Kind != journal.KindRecovered {
			continue
		}
		c, err := e.Cut()
		if err != nil || c.File != slashless(c.File) || c.File == "" {
			v.say("journal", Fails, at(JournalName, e.N), "It does not say which bytes were cut off.")
			continue
		}
		if b, ok := v.read("journal", c.File); ok && sumOf(b) != c.SHA256.String() {
			v.say("journal", Fails, c.File, "It is not what line %d of the journal says was cut off.", e.N)
		}
	}
}

func slashless(s string) string { return s[strings.LastIndexAny(s, `/\`)+1:] }

// clockSlack is by how much a clock may be put back between two lines without
// it being called out of order: computers put their clocks right by themselves.
const clockSlack = 2 * time.Minute

// PutBack returns the numbers of the lines whose time is so far before that of
// the line before them that it is called out of order.
func PutBack(entries []journal.Entry) []int {
	var out []int
	for i := 1; i < len(entries); i++ {
		if entries[i-1].Time.Sub(entries[i].Time) > clockSlack {
			out = append(out, entries[i].N)
		}
	}
	return out
}

// times checks that the lines follow one another in time.
func (v *verifier) times() {
	const part = "times"
	if !v.sound {
		v.say(part, Unknown, JournalName, "The order of times cannot be told: the journal is damaged.")
		return
	}
	wrong := false
	for _, n := range PutBack(v.entries) {
		wrong = true
		e, before := v.entries[n-1], v.entries[n-2].Time
		v.say(part, Fails, field(JournalName, n, "time"), "%s is %s before the time of the line before it.", clock(e.Time), before.Sub(e.Time).Round(time.Second))
	}
	last := v.entries[len(v.entries)-1]
	if !v.o.Now.IsZero() && last.Time.Sub(v.o.Now) > clockSlack {
		wrong = true
		v.say(part, Fails, field(JournalName, last.N, "time"), "%s lies in the future of this computer's clock, which says %s.", clock(last.Time), clock(v.o.Now))
	}
	if !wrong {
		v.say(part, Holds, JournalName, "From %s to %s, one after the other.", clock(v.entries[0].Time), clock(last.Time))
	}
}

// procedure checks the procedure's files against the journal, and returns them.
func (v *verifier) procedure() []procedures.File {
	const part = "procedure"
	if !v.sound {
		v.say(part, Unknown, ProcedureDir, "The procedure's files cannot be told: the journal is damaged.")
		return nil
	}
	var files []procedures.File
	var list strings.Builder
	whole := true
	for _, p := range v.format.Procedure.Files {
		name := ProcedureDir + p.Name
		b, ok := v.read(part, name)
		whole = whole && ok
		if said, endings := onlyEndings(b, p.SHA256.String()); ok && endings {
			whole = false
			v.say(part, Fails, name, "%s", said)
		} else if ok && sumOf(b) != p.SHA256.String() {
			whole = false
			v.say(part, Fails, name, "It was changed: its SHA-256 begins %.8s, and line 1 of the journal has %.8s.", sumOf(b), p.SHA256)
		}
		files = append(files, procedures.File{Name: p.Name, Bytes: b})
		fmt.Fprintf(&list, "%s  %s\n", p.SHA256, p.Name)
	}
	for _, ev := range v.events {
		if d, ok := ev.Data.(engine.Begun); ok && (d.Procedure != v.format.Procedure.Name || d.Digest != sumOf([]byte(list.String()))) {
			whole = false
			v.say(part, Fails, field(JournalName, ev.N, "data.digest"), "The run was begun with other files than line 1 of the journal names.")
		}
	}
	if !whole {
		return nil
	}
	v.say(part, Holds, ProcedureDir, "%s, as it was when the run began.", v.format.Procedure.Name)
	return files
}

// record makes the record again and compares it byte by byte.
func (v *verifier) record(files []procedures.File) {
	const part = "record"
	b, ok := v.read(part, RecordName)
	if v.seal != nil {
		v.out.Sealed = true
		v.out.Digest = v.seal.Data.(engine.Sealed).Digest
	}
	said, endings := onlyEndings(b, v.out.Digest)
	switch {
	case !ok || v.seal == nil || sumOf(b) == v.out.Digest:
	case endings:
		v.say(part, Fails, RecordName, "%s", said)
	default:
		v.say(part, Fails, RecordName, "Its SHA-256 begins %.8s, and line %d of the journal sealed %.8s.", sumOf(b), v.seal.N, v.out.Digest)
	}
	if !v.sound && ok {
		if r, err := report.Parse(b); err == nil {
			r.Outcome.Text += ", as record.json says itself"
			v.out.Record = r
		}
	}
	if files == nil {
		v.say(part, Unknown, RecordName, "It could not be made again: journal and procedure have to be whole for that.")
		return
	}
	r, err := v.c.rebuild(v.entries, files, v.sum)
	if err != nil {
		v.say(part, v.otherwise(), RecordName, "It could not be made again: %v.%s", err, v.otherProgram())
		return
	}
	v.rebuilt = &r
	v.out.Record = r.Issue.Shown()
	if !v.out.Sealed {
		v.out.Digest = r.Issue.Digest()
	}
	v.compare(b, ok)
}

// compare holds record.json against what the journal gives.
func (v *verifier) compare(b []byte, there bool) {
	const part = "record"
	want := v.rebuilt.Issue.JSON
	same := bytes.Equal(b, want)
	switch {
	case v.seal != nil && sumOf(want) != v.out.Digest && sumOf(b) == v.out.Digest && !v.sameBuild():
		v.reworded(b)
		v.asSealed(b)
	case v.seal != nil && sumOf(want) != v.out.Digest:
		v.say(part, v.otherwise(), field(JournalName, v.seal.N, "data.digest"), "The journal gives a record whose SHA-256 begins %.8s, and the seal has %.8s.%s", sumOf(want), v.out.Digest, v.otherProgram())
	case !there:
	case same && v.seal != nil:
		v.say(part, Holds, RecordName, "Made again from the journal, byte by byte, and as it was sealed on %s: SHA-256 %s.", day(v.seal.Time), v.out.Digest)
	case same:
		v.say(part, Holds, RecordName, "Made again from the journal, byte by byte.")
	case v.seal == nil && v.spoiltSince(b):
		v.say(part, Unknown, RecordName, "The draft says what was done in other runs since, which the folder alone does not show.")
	default:
		d := difference(want, b)
		if said, ok := onlyEndings(b, sumOf(want)); ok {
			if v.seal == nil { // else it was said beside the seal
				v.say(part, v.draftOtherwise(), RecordName, "%s", said)
			}
			break
		}
		v.say(part, v.draftOtherwise(), d.where(RecordName), "The journal gives %s, and here stands %s.%s", d.want, d.got, v.otherDraft())
	}
	switch {
	case v.seal != nil:
	case len(v.rebuilt.State.Signatures()) > 0:
		v.say("seal", Open, JournalName, "The record is not sealed: it was signed before there were seals, and only the journal shows that.")
	case !v.rebuilt.Issue.Record.Outcome.Draft: // rejected or abandoned, which stands without signatures
		v.say("seal", Open, JournalName, "The record is not sealed: nobody has signed it.")
	default:
		v.say("seal", Open, JournalName, "The record is not sealed: it is a draft, and nobody has signed it.")
	}
}

// spoiltSince tells whether a draft differs only by what was done in other runs.
func (v *verifier) spoiltSince(b []byte) bool {
	r, err := report.Parse(b)
	if err != nil || len(r.Spoilt) == 0 {
		return false
	}
	r.Spoilt = nil
	again, err := report.Marshal(r)
	return err == nil && bytes.Equal(again, v.rebuilt.Issue.JSON)
}

// madeBy is the version that sealed the record; "" where that is not said.
func (v *verifier) madeBy() string {
	if v.seal == nil {
		return v.format.Program
	}
	return v.seal.Data.(engine.Sealed).Program
}

// asSealed takes the sealed record for what stands, so that the signatures are
// held against it and not against what this version would have written.
func (v *verifier) asSealed(b []byte) {
	i, ok := report.SealedIssue(v.rebuilt.State, b)
	if !ok {
		return
	}
	r := Rebuilt{State: v.rebuilt.State, Issue: i}
	var err error
	if r.Signatures, err = report.MarshalSignatures(report.SignaturesOf(r.State, i)); err == nil {
		v.rebuilt, v.out.Record = &r, i.Shown()
	}
}

// sameBuild tells whether this very build made the record, so that it makes the
// same bytes of it.
func (v *verifier) sameBuild() bool { return v.o.Exact && v.madeBy() == v.o.Program }

// otherwise is the result where a record cannot be made again as it was sealed:
// another version of the program may word something in another way.
func (v *verifier) otherwise() Result {
	if v.sameBuild() {
		return Fails
	}
	return Open
}

func (v *verifier) otherProgram() string {
	if v.sameBuild() {
		return ""
	}
	return " " + v.twoBuilds() + " That its bytes are those that were sealed is checked all the same."
}

// twoBuilds says which version sealed the record and which this is.
func (v *verifier) twoBuilds() string {
	if v.madeBy() == v.o.Program {
		return fmt.Sprintf("Both that which sealed it and this one call themselves version %s, which does not tell whether they are one build.", orUnknown(v.o.Program))
	}
	return fmt.Sprintf("Version %s sealed it and this is version %s, which may put it in other words.", orUnknown(v.madeBy()), orUnknown(v.o.Program))
}

func (v *verifier) sealedWith() string {
	if v.madeBy() == v.o.Program {
		return "the program that sealed it"
	}
	return "version " + orUnknown(v.madeBy())
}

// draftOtherwise is the result where record.json is not what the journal gives.
// A sealed one is held against its seal; a draft only against this version.
func (v *verifier) draftOtherwise() Result {
	if v.seal != nil {
		return Fails
	}
	return v.otherwise()
}

func (v *verifier) otherDraft() string {
	if v.seal != nil || v.sameBuild() {
		return ""
	}
	if v.madeBy() == v.o.Program {
		return " " + strings.Replace(v.twoBuilds(), "sealed", "began", 1)
	}
	return fmt.Sprintf(" The run was begun with version %s and this is version %s.", orUnknown(v.madeBy()), orUnknown(v.o.Program))
}

func orUnknown(s string) string {
	if s == "" {
		return "unknown"
	}
	return s
}
