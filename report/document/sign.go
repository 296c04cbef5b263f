package document

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"waywright/report"
)

// signer is a role with the signatures in it.
type signer struct {
	report.Role
	Sigs []report.Signature
}

// signers are the roles of a record in their order, then what was signed
// besides.
func signers(r report.Record, sigs []report.Signature) []signer {
	var out []signer
	for _, role := range r.Roles {
		s := signer{Role: role}
		if role.Signed != "" {
			typed := report.Signature{Role: role.Name, Name: role.Signed, How: report.ByName}
			if role.At != nil {
				typed.When, typed.Entry = role.At.Time, role.At.Entry
			}
			s.Sigs = append(s.Sigs, typed)
		}
		for _, x := range sigs {
			if x.Role == role.Name && !slices.Contains(s.Sigs, x) {
				s.Sigs = append(s.Sigs, x)
			}
		}
		out = append(out, s)
	}
	for _, x := range sigs {
		if !slices.ContainsFunc(out, func(s signer) bool { return s.Name == x.Role }) {
			out = append(out, signer{Role: report.Role{Name: x.Role, Title: upper(x.Role)}, Sigs: []report.Signature{x}})
		}
	}
	return out
}

func unsigned(ss []signer) []string {
	var out []string
	for _, s := range ss {
		if len(s.Sigs) == 0 {
			out = append(out, s.Title)
		}
	}
	return out
}

// signedSaid says on page one who has signed.
func signedSaid(ss []signer) []Line {
	var out []Line
	for _, s := range ss {
		if len(s.Sigs) == 0 {
			out = append(out, plain(s.Title+": not signed"))
		}
		for _, x := range s.Sigs {
			out = append(out, plain(strings.TrimSuffix(s.Title+": "+x.Name+", "+day(x.When), ", ")))
		}
	}
	if len(out) == 0 {
		out = lines("The procedure asks for no signature.")
	}
	return out
}

func signatures(ss []signer) []Block {
	var out []Block
	for _, s := range ss {
		out = append(out, Heading{Level: 3, Text: s.Title})
		if s.OtherThan != "" {
			out = append(out, said("Another person than who signs “"+s.OtherThan+"”."))
		}
		if len(s.Sigs) == 0 {
			out = append(out, said("Not signed."))
		}
		for _, x := range s.Sigs {
			out = append(out, signed(x)...)
		}
		out = append(out, Ink{Text: "In ink, with date:"})
	}
	if len(out) == 0 {
		out = append(out, said("The procedure asks for no signature."))
	}
	return out
}

func signed(x report.Signature) []Block {
	line := Line{{Text: x.Name, Strong: true}}
	if x.When != "" {
		line = append(line, Run{Text: ", "}, Run{Text: when(x.When), Time: x.When})
	}
	out := []Block{Paragraph{Line: line}}
	if x.Statement != "" {
		out = append(out, said("Signed: “"+x.Statement+"”"))
	}
	if x.How != report.ByKey {
		return append(out, said("Signed by a typed name, not by a key."))
	}
	line = Line{{Text: "Signed by a key, " + strings.TrimSpace(x.KeyType+" ")}}
	if x.Fingerprint != "" {
		line = append(line, Run{Text: ", fingerprint "}, Run{Text: groupsOfFour(x.Fingerprint), Code: true})
	}
	return append(out, Paragraph{Line: line})
}

// check says how the record is checked, with what every computer has.
func check(r report.Record, digest string, ss []signer) []Block {
	out := []Block{said("Paper cannot be checked; the folder of the run can. Where a command stands here, it is one line.")}
	l := List{Style: Ordered}
	keys := keyed(ss)
	if len(keys) > 0 {
		l.Items = append(l.Items, checkSigners(keys)...)
	}
	l.Items = append(l.Items, checkFiles(r, digest)...)
	out = append(out, l)
	shown := "Shown: that nothing changed since. Not shown: that the readings are true, or who typed a name. Ask the signers."
	if len(keys) > 0 {
		shown = "Shown: who signed by a key, and that nothing changed since. Not shown: that the readings are true, or who typed a name."
	}
	out = append(out, said(shown))
	made := "Times are UTC."
	if p := named(r.Journal.Program); p != "" {
		made = "The journal was kept by " + p + ". " + made
	}
	return append(out, said(made))
}

// named is the program that kept a journal, by name too where the journal has
// its version only.
func named(program string) string {
	if program == "" || strings.HasPrefix(program, "waywright") {
		return program
	}
	return "waywright " + program
}

func keyed(ss []signer) []report.Signature {
	var out []report.Signature
	for _, s := range ss {
		for _, x := range s.Sigs {
			if x.How == report.ByKey {
				out = append(out, x)
			}
		}
	}
	return out
}

func checkSigners(keys []report.Signature) []Item {
	var allowed, verify []string
	for _, x := range keys {
		kind := x.KeyType
		if kind == "" {
			kind = "ssh-ed25519"
		}
		file := x.File
		if file == "" {
			file = "record.json." + x.Role + ".sig"
		}
		allowed = append(allowed, x.Role+" "+kind+" AAAA…")
		verify = append(verify, fmt.Sprintf("ssh-keygen -Y verify -f signers -I %s -n %s -s %s < record.json",
			shellWord(x.Role), report.SignatureSpace, shellWord(file)))
	}
	return []Item{
		{Line: plain("Ring the signer: have the fingerprint read to you. Do not take the key from the folder unasked.")},
		{Line: plain("Put one line for each signer in a file “signers”, with the key that the signer gave you:"), Blocks: []Block{Command{Lines: allowed}}},
		{Line: plain("On any computer with OpenSSH:"), Blocks: []Block{Command{Lines: verify}},
			Under: nil},
		{Line: Line{{Text: "Each must answer: Good “" + report.SignatureSpace + "” signature, with the role and the key."}}},
	}
}

var harmless = regexp.MustCompile(`^[A-Za-z0-9_.][A-Za-z0-9_.-]*$`)

// shellWord is a text as one word of a command, whatever it holds.
func shellWord(s string) string {
	if harmless.MatchString(s) {
		return s
	}
	return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
}

func checkFiles(r report.Record, digest string) []Item {
	files := List{}
	for _, f := range r.Procedure.Files {
		files.Items = append(files.Items, Item{Line: Line{{Text: f.Name + " "}, {Text: f.SHA256, Code: true}}})
	}
	if len(files.Items) == 0 {
		files.Items = []Item{{Line: plain("none kept")}}
	}
	line := fmt.Sprintf("sed -n '%dp' journal.jsonl | tr -d '\\n' | sha256sum", r.Journal.Entries)
	return []Item{
		{Line: plain("The digest of record.json, from which this was made, begins like the foot of each sheet:"),
			Blocks: []Block{Command{Lines: []string{"sha256sum record.json"}}, Paragraph{Line: Line{{Text: "It must answer: "}, {Text: digest, Code: true}}}}},
		{Line: plain(fmt.Sprintf("The last line of journal.jsonl, entry %d when this record was made, without the sign that ends it. "+
			"Each line holds the digest of the line before, so this one stands for all of them:", r.Journal.Entries)),
			Blocks: []Block{Command{Lines: []string{line}}, Paragraph{Line: Line{{Text: "It must answer: "}, {Text: r.Journal.Head, Code: true}}}}},
		{Line: plain("The digests of the procedure's files:"), Blocks: []Block{files}},
	}
}
