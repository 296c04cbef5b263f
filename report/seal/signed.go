package seal

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"time"

	"golang.org/x/crypto/ssh"

	"waywright/engine"
	"waywright/report"
)

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
			if v.sound {
				v.say(part, Fails, name, "The journal has no signature of this name.")
			} else {
				v.withoutJournal(name)
			}
		}
	}
	v.missing()
	v.fit()
}

// fit checks what had to hold when the run was sealed and signed: that nothing
// was open, and that roles which must be two people are.
func (v *verifier) fit() {
	if v.rebuilt == nil || v.seal == nil {
		return
	}
	if before, err := v.rebuilt.State.BeforeSeal(); err == nil {
		for _, why := range before.Unsealable() {
			v.say("seal", v.otherwise(), at(JournalName, v.seal.N), "It was sealed though something was open: %s.%s", why, v.otherProgram())
		}
	}
	all := v.rebuilt.State.Signatures()
	for i, a := range all {
		for _, b := range all[:i] {
			if a.Role.OtherThan != b.Role && b.Role.OtherThan != a.Role {
				continue
			}
			switch {
			case sameName(a.Name, b.Name):
				v.say("signature", Fails, field(JournalName, a.N, "data.name"), "%s signed as %s and as %s, which must be two people.", a.Name, b.Role.Name, a.Role.Name)
			case a.Key != "" && a.Key == b.Key:
				v.say("signature", Fails, field(JournalName, a.N, "data.key"), "One key signed as %s and as %s, which must be two people.", b.Role.Name, a.Role.Name)
			}
		}
	}
}

// sameName compares names as people write them, whatever the case and blanks.
func sameName(a, b string) bool {
	return strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
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
		if said, ok := onlyEndings(b, sumOf(v.rebuilt.Signatures)); ok {
			v.say(part, Fails, SignaturesName, "%s", said)
			return
		}
		if n := v.saysMore(b); n > 0 {
			v.say(part, Open, SignaturesName, "All that it says the journal gives too, and this version says something more in %s. %s", count(n, "place"), v.twoBuilds())
			return
		}
		v.say(part, Fails, d.where(SignaturesName), "The journal gives %s, and here stands %s.", d.want, d.got)
	default:
		v.say(part, Unknown, SignaturesName, "It could not be made again.")
	}
}

// saysMore tells in how many places this build says more in signatures.json than
// another one that wrote it, where all that it says is the same; 0 where a byte of
// it is not as that one would have written it.
func (v *verifier) saysMore(b []byte) int {
	h, err := hold(b, v.rebuilt.Signatures)
	if err != nil || v.sameBuild() || len(h.facts) > 0 || len(h.words) > 0 {
		return 0
	}
	s, err := report.ParseSignatures(b)
	if err != nil {
		return 0
	}
	if again, err := report.MarshalSignatures(s); err != nil || !bytes.Equal(again, b) {
		return 0
	}
	return len(h.more)
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
	if said, ok := onlyEndings(sig, d.SHA256); ok {
		v.say(part, Fails, d.File, "%s: %s", who, said)
		return
	}
	if sumOf(sig) != d.SHA256 {
		v.say(part, Fails, d.File, "%s: the file was changed: its SHA-256 begins %.8s, and line %d of the journal has %.8s.", who, sumOf(sig), ev.N, d.SHA256)
		return
	}
	key, err := v.c.signature(rec, sig)
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
	v := &verifier{f: f, o: o, c: NewChecker(o), known: map[string]bool{}}
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

// withoutJournal checks a signature of a folder whose journal is damaged: what
// it signs is record.json.
func (v *verifier) withoutJournal(name string) {
	rec, err := v.f.Read(RecordName)
	if err != nil {
		v.say("signature", Unknown, name, "It cannot be told what it signs: there is no record.json that can be read.")
		return
	}
	v.beside(name, strings.TrimSuffix(strings.TrimPrefix(name, RecordName+"."), signatureEnd), rec)
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
