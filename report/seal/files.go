package seal

import (
	"encoding/hex"
	"fmt"
	"strings"

	"waywright/engine"
)

// evidence checks photographs and scans against their hashes.
func (v *verifier) evidence() {
	const part = "evidence"
	kept := map[string]string{} // file by hash
	changed := map[string]bool{}
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
			kept[want], changed[want] = name, true
		default:
			v.known[name] = true
			kept[want] = name
		}
	}
	whole := map[string]bool{} // one file may be attached twice
	for _, ev := range v.events {
		f := fileOf(ev.Data)
		if f == nil {
			continue
		}
		switch {
		case kept[f.SHA256] == "":
			v.say(part, Fails, field(JournalName, ev.N, "data.file"), "%s is missing: no file of %s is named %.8s….", f.Name, EvidenceDir, f.SHA256)
		case !changed[f.SHA256]:
			whole[f.SHA256] = true
		}
	}
	if n := len(whole); n > 0 {
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
		sum, _, err := v.f.Sum(name)
		if err != nil {
			v.say(part, Fails, name, "The file cannot be read: %v.", err)
			continue
		}
		v.form(name, hex.EncodeToString(sum[:]), issued)
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
	switch {
	case len(out) == 0:
	case !v.sound:
		v.say("files", Unknown, "", "Whether these are as they were, or belong to the run at all, the damaged journal cannot tell: %s.", strings.Join(out, ", "))
	default:
		v.say("files", Unknown, "", "Not part of the run, and not looked into: %s.", strings.Join(out, ", "))
	}
}
