package seal

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"time"

	"golang.org/x/crypto/ssh"

	"waywright/engine"
	"waywright/engine/journal"
	"waywright/procedures"
	"waywright/report"
)

// Check is one thing that was looked at.
type Check struct {
	Part   string `json:"part"` // journal, times, procedure, record, evidence, signatures, signature, forms, files
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
	Open    Result = "open"    // nothing is wrong, and something is still to come: a signature
	Unknown Result = "unknown" // it cannot be told here, and the sentence says why
)

// Options say how a folder is checked.
type Options struct {
	Compile Compile
	Program string    // version of this program
	Now     time.Time // zero: times in the future are not looked for
	Signers []Signer  // who may sign, from elsewhere; nil: not given

	// Rebuild takes the place of [Rebuild], for who has made the same record
	// before. Nil: Rebuild itself.
	Rebuild func([]journal.Entry, []procedures.File, Compile) (Rebuilt, error)
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
func Verify(f Folder, o Options) Verdict {
	v := &verifier{f: f, o: o, known: map[string]bool{}}
	if v.o.Rebuild == nil {
		v.o.Rebuild = Rebuild
	}
	v.journal()
	v.times()
	files := v.procedure()
	v.record(files)
	v.evidence()
	v.signatures()
	v.forms()
	v.others()
	return v.out
}

// verifier goes through a folder.
type verifier struct {
	f       Folder
	o       Options
	out     Verdict
	known   map[string]bool // files that belong to the run
	entries []journal.Entry
	sound   bool // the whole journal could be read
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
	entries, tail, err := journal.Recover(b)
	v.entries = entries
	var damage *journal.Damage
	switch {
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
	if v.events, err = Events(entries); err != nil {
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

// times checks that the lines follow one another in time.
func (v *verifier) times() {
	const part = "times"
	if !v.sound {
		v.say(part, Unknown, JournalName, "The order of times cannot be told: the journal is damaged.")
		return
	}
	wrong := false
	for i, e := range v.entries[1:] {
		if before := v.entries[i].Time; before.Sub(e.Time) > clockSlack {
			wrong = true
			v.say(part, Fails, field(JournalName, e.N, "time"), "%s is %s before the time of the line before it.", clock(e.Time), before.Sub(e.Time).Round(time.Second))
		}
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
		if ok && sumOf(b) != p.SHA256.String() {
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
	if ok && v.seal != nil && sumOf(b) != v.out.Digest {
		v.say(part, Fails, RecordName, "Its SHA-256 begins %.8s, and line %d of the journal sealed %.8s.", sumOf(b), v.seal.N, v.out.Digest)
	}
	if files == nil {
		v.say(part, Unknown, RecordName, "It could not be made again: journal and procedure have to be whole for that.")
		return
	}
	r, err := v.o.Rebuild(v.entries, files, v.o.Compile)
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
		v.say(part, v.draftOtherwise(), d.where(RecordName), "The journal gives %s, and here stands %s.%s", d.want, d.got, v.otherDraft())
	}
	if v.seal == nil {
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

// otherwise is the result where a record cannot be made again as it was sealed:
// another version of the program may word something in another way.
func (v *verifier) otherwise() Result {
	if v.madeBy() == v.o.Program {
		return Fails
	}
	return Unknown
}

func (v *verifier) otherProgram() string {
	if v.madeBy() == v.o.Program {
		return ""
	}
	return fmt.Sprintf(" Version %s sealed it and this is version %s, which may put it in other words. That its bytes are those that were sealed is checked all the same.", orUnknown(v.madeBy()), orUnknown(v.o.Program))
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
	if v.seal != nil || v.madeBy() == v.o.Program {
		return ""
	}
	return fmt.Sprintf(" The run was begun with version %s and this is version %s.", orUnknown(v.madeBy()), orUnknown(v.o.Program))
}

func orUnknown(s string) string {
	if s == "" {
		return "unknown"
	}
	return s
}

// evidence checks photographs and scans against their hashes.
func (v *verifier) evidence() {
	const part = "evidence"
	kept := map[string]string{} // file by hash
	for _, name := range v.f.Names() {
		rest, ok := strings.CutPrefix(name, EvidenceDir)
		if !ok {
			continue
		}
		want, _, _ := strings.Cut(rest, ".")
		sum, _, err := v.f.Sum(name)
		switch {
		case err != nil:
			v.known[name] = true
			v.say(part, Fails, name, "It cannot be read: %v.", err)
		case len(want) != 64 || strings.Trim(want, "0123456789abcdef") != "":
			continue // named with the files that do not belong here
		case fmt.Sprintf("%x", sum) != want:
			v.known[name] = true
			v.say(part, Fails, name, "It was changed: its SHA-256 begins %.8x, and its name %.8s.", sum, want)
			kept[want] = name
		default:
			v.known[name] = true
			kept[want] = name
		}
	}
	n := 0
	for _, ev := range v.events {
		f := fileOf(ev.Data)
		if f == nil {
			continue
		}
		n++
		if kept[f.SHA256] == "" {
			v.say(part, Fails, field(JournalName, ev.N, "data.file"), "%s is missing: no file of %s is named %.8s….", f.Name, EvidenceDir, f.SHA256)
			n--
		}
	}
	if n > 0 {
		v.say(part, Holds, EvidenceDir, "%s, by %s.", count(n, "file"), hashes(n))
	}
}

func hashes(n int) string {
	if n == 1 {
		return "its hash"
	}
	return "their hashes"
}

func fileOf(d engine.Data) *engine.File {
	switch d := d.(type) {
	case engine.Answered:
		return d.File
	case engine.Noted:
		return d.File
	}
	return nil
}

// forms checks the printed forms against the hashes that were kept when they
// were made.
func (v *verifier) forms() {
	const part = "forms"
	var issued []engine.File
	for _, ev := range v.events {
		if d, ok := ev.Data.(engine.Issued); ok {
			issued = append(issued, d.Files...)
		}
	}
	for _, name := range v.f.Names() {
		if !IsForm(name) {
			continue
		}
		v.known[name] = true
		b, err := v.f.Read(name)
		if err != nil {
			v.say(part, Fails, name, "The file cannot be read: %v.", err)
			continue
		}
		v.form(name, sumOf(b), issued)
	}
}

// form checks one printed form.
func (v *verifier) form(name, sum string, issued []engine.File) {
	const part = "forms"
	last := ""
	found := false
	for _, f := range issued {
		if f.Name == name {
			last = f.SHA256
			found = found || f.SHA256 == sum
		}
	}
	switch {
	case !v.sound:
		v.say(part, Unknown, name, "It cannot be told whether it is as it was made: the journal is damaged.")
	case v.seal == nil:
		v.say(part, Unknown, name, "It is made from a draft, and no hash of it is kept.")
	case last == sum:
		v.say(part, Holds, name, "As it was made from the sealed record.")
	case found:
		v.say(part, Holds, name, "As it was made from the sealed record, before the newest signature or note.")
	case last == "":
		v.say(part, Fails, name, "The journal does not say that it was made. Make it again: waywright report.")
	default:
		v.say(part, Fails, name, "It was changed after it was made: its SHA-256 begins %.8s, and the journal has %.8s. Make it again from the record: waywright report.", sum, last)
	}
}

// IsForm tells whether a file of a run's folder is a printed form.
func IsForm(name string) bool {
	return !strings.HasPrefix(name, RecordName) && (strings.HasPrefix(name, "record.") || strings.HasPrefix(name, "record-"))
}

// others names files that do not belong to the run.
func (v *verifier) others() {
	var out []string
	for _, name := range v.f.Names() {
		switch {
		case v.known[name]:
		case name == "journal.lock": // who writes the journal just now
		default:
			out = append(out, name)
		}
	}
	if len(out) > 0 {
		v.say("files", Unknown, "", "Not part of the run, and not looked into: %s.", strings.Join(out, ", "))
	}
}

// signatures checks signatures.json, then every signature.
func (v *verifier) signatures() {
	const part = "signatures"
	var signed []engine.Event
	for _, ev := range v.events {
		if _, ok := ev.Data.(engine.Signed); ok {
			signed = append(signed, ev)
		}
	}
	if v.seal != nil {
		v.list(signed)
	}
	files := map[string]bool{}
	for _, ev := range signed {
		d := ev.Data.(engine.Signed)
		if d.File != "" {
			files[d.File] = true
		}
		v.signature(ev, d)
	}
	for _, name := range v.f.Names() {
		if strings.HasPrefix(name, RecordName+".") && strings.HasSuffix(name, signatureEnd) && !files[name] {
			v.known[name] = true
			r := Fails
			if !v.sound {
				r = Unknown
			}
			v.say(part, r, name, "The journal has no signature of this name.")
		}
	}
	v.missing()
}

// list checks signatures.json against the journal.
func (v *verifier) list(signed []engine.Event) {
	const part = "signatures"
	b, ok := v.read(part, SignaturesName)
	switch {
	case !ok:
	case v.rebuilt != nil && bytes.Equal(b, v.rebuilt.Signatures):
		v.say(part, Holds, SignaturesName, "Made again from the journal: %s.", count(len(signed), "signature"))
	case v.rebuilt != nil:
		d := difference(v.rebuilt.Signatures, b)
		v.say(part, v.otherwise(), d.where(SignaturesName), "The journal gives %s, and here stands %s.%s", d.want, d.got, v.otherProgram())
	default:
		v.say(part, Unknown, SignaturesName, "It could not be made again.")
	}
}

// missing says which roles have not signed.
func (v *verifier) missing() {
	if v.rebuilt == nil || v.seal == nil {
		return
	}
	for _, role := range v.rebuilt.State.Unsigned() {
		v.say("signature", Open, RecordName, "%s: not signed yet.", capital(role.Name))
	}
}

// signature checks one signature.
func (v *verifier) signature(ev engine.Event, d engine.Signed) {
	const part = "signature"
	where := at(JournalName, ev.N)
	who := fmt.Sprintf("%s, %s", d.Name, d.Role)
	if v.seal == nil {
		v.say(part, Unknown, where, "%s: by a typed name, before there were seals. Only the journal shows it.", who)
		return
	}
	if d.Key == "" {
		v.say(part, Holds, where, "%s: a typed name of %s, not a key. Nothing but the journal shows who typed it.", who, day(ev.Time))
		return
	}
	if d.File != SignatureFile(d.Role) {
		v.say(part, Fails, field(JournalName, ev.N, "data.file"), "%s: the signature would be in %q, which is no name for it.", who, d.File)
		return
	}
	sig, ok := v.read(part, d.File)
	rec, err := v.f.Read(RecordName)
	if !ok || err != nil {
		return
	}
	if sumOf(sig) != d.SHA256 {
		v.say(part, Fails, d.File, "%s: the file was changed: its SHA-256 begins %.8s, and line %d of the journal has %.8s.", who, sumOf(sig), ev.N, d.SHA256)
		return
	}
	key, err := CheckSignature(rec, sig)
	switch {
	case err != nil:
		v.say(part, Fails, d.File, "%s: %v.", who, err)
	case ssh.FingerprintSHA256(key) != d.Key || key.Type() != d.KeyType:
		v.say(part, Fails, field(JournalName, ev.N, "data.key"), "%s: it was made with another key than the journal says: %s.", who, ssh.FingerprintSHA256(key))
	default:
		v.whose(part, d.File, who, d.Role, key, ev.Time)
	}
}

// whose says whose key signed, as far as that can be told.
func (v *verifier) whose(part, file, who, role string, key ssh.PublicKey, when time.Time) {
	print := Grouped(ssh.FingerprintSHA256(key))
	if v.o.Signers == nil {
		v.say(part, Holds, file, "%s: good signature of %s over record.json, with the key %s. Whose key that is, the folder cannot show: have the fingerprint read to you.", who, day(when), print)
		return
	}
	s, err := Allowed(v.o.Signers, role, key, report.SignatureSpace, when)
	if err != nil {
		v.say(part, Fails, file, "%s: the signature is good, but the signers given do not allow it: %v. It was made with %s.", who, err, print)
		return
	}
	v.say(part, Holds, file, "%s: good signature of %s over record.json, with the key that line %d of the signers gives for %s: %s.", who, day(when), s.Line, role, print)
}

// RecordFile checks a record by itself, with the signatures that stand beside
// it, without its journal.
func RecordFile(f Folder, o Options) Verdict {
	v := &verifier{f: f, o: o, known: map[string]bool{}}
	b, ok := v.read("record", RecordName)
	if !ok {
		return v.out
	}
	r, err := report.Parse(b)
	if err != nil {
		v.say("record", Fails, RecordName, "%s.", capital(strings.TrimPrefix(err.Error(), "report: ")))
		return v.out
	}
	v.out.Record, v.out.Digest = r, sumOf(b)
	v.say("record", Unknown, RecordName, "SHA-256 %s. Without its journal it cannot be made again.", v.out.Digest)
	n := 0
	for _, name := range f.Names() {
		role, ok := strings.CutPrefix(name, RecordName+".")
		role, end := strings.CutSuffix(role, signatureEnd)
		if !ok || !end {
			continue
		}
		n++
		v.beside(name, role, b)
	}
	if n == 0 {
		v.say("signature", Open, RecordName, "No signature by a key stands beside it.")
	}
	for _, role := range r.Roles {
		if !slices.Contains(f.Names(), SignatureFile(role.Name)) && n > 0 {
			v.say("signature", Open, RecordName, "%s: no signature by a key.", role.Title)
		}
	}
	return v.out
}

// beside checks a signature without the journal. With no time of signing, a
// key's time is held against now.
func (v *verifier) beside(name, role string, record []byte) {
	sig, ok := v.read("signature", name)
	if !ok {
		return
	}
	key, err := CheckSignature(record, sig)
	if err != nil {
		v.say("signature", Fails, name, "%s: %v.", role, err)
		return
	}
	print := Grouped(ssh.FingerprintSHA256(key))
	if v.o.Signers == nil {
		v.say("signature", Holds, name, "%s: good signature over record.json, with the key %s. Whose key that is, the file cannot show: have the fingerprint read to you.", role, print)
		return
	}
	s, err := Allowed(v.o.Signers, role, key, report.SignatureSpace, v.o.Now)
	if err != nil {
		v.say("signature", Fails, name, "%s: the signature is good, but the signers given do not allow it: %v. It was made with %s.", role, err, print)
		return
	}
	v.say("signature", Holds, name, "%s: good signature over record.json, with the key that line %d of the signers gives: %s.", role, s.Line, print)
}
