package cli

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"waywright/cmd/waywright/internal/keys"
	"waywright/cmd/waywright/internal/logbook"
	"waywright/engine"
	"waywright/engine/drive"
	"waywright/procedures/diagnose"
	"waywright/report"
	"waywright/report/seal"
)

// signing is what the command sign was told.
type signing struct {
	role, key, name, statement string
	grant, refuse, because     string
	yes                        bool
}

func (a *app) signCommand() *cobra.Command {
	var s signing
	c := &cobra.Command{
		Use:   "sign [RUN]",
		Short: "Sign a record in a role, or decide on a concession",
		Long: `Sign the record of a run in one of the roles of its procedure, by a key or by a
typed name. The first signature seals the record: from then on its bytes stay as
they are, and every signature is over them, in any order. What is signed is shown
first, and the word sign is asked for.

A key is a file, or agent for the ssh-agent. It belongs to the person of
people.hcl that has it; make one with: waywright key new. Without --key a typed
name signs, and is shown as that.

A concession that was asked for is granted or refused before anybody signs, by a
role that concedes.`,
		Example: `  waywright sign tailstock-by-test-cut-lathe-2 --as fitter --key ~/.ssh/waywright
  waywright sign tailstock-by-test-cut-lathe-2 --as inspector --key agent
  waywright sign shaft-lathe-4 --as inspector --grant true --because "it turns pump shafts" --name "Tom Acker"`,
		Args:              takes(0, 1, "at most one name of a run"),
		ValidArgsFunction: a.completeRun,
		RunE: func(c *cobra.Command, args []string) error {
			if err := s.check(); err != nil {
				return err
			}
			b := a.book()
			name, err := a.runName(b, args)
			if err != nil {
				return err
			}
			return a.sign(b, name, s)
		},
	}
	f := c.Flags()
	f.StringVar(&s.role, "as", "", "the role, as the procedure names it")
	f.StringVar(&s.key, "key", "", "the file of the private key, or agent")
	f.StringVar(&s.name, "name", "", "who signs by a typed name, or whose key of the agent it is")
	f.StringVar(&s.statement, "statement", "", "what is signed, in a sentence; the role's own where not given")
	f.StringVar(&s.grant, "grant", "", "grant the concession that was asked for at this gate")
	f.StringVar(&s.refuse, "refuse", "", "refuse it")
	f.StringVar(&s.because, "because", "", "why it is granted or refused")
	f.BoolVar(&s.yes, "yes", false, "sign without asking")
	if err := c.RegisterFlagCompletionFunc("as", a.completeRole); err != nil {
		panic("cli: " + err.Error())
	}
	return c
}

// check refuses what does not go together.
func (s signing) check() error {
	for _, text := range []string{s.role, s.name, s.statement, s.because} {
		if !sound(text) {
			return cannot("%q is not plain text", text)
		}
	}
	switch {
	case s.grant != "" && s.refuse != "":
		return cannot("--grant and --refuse: one or the other")
	case (s.grant != "" || s.refuse != "") && s.because == "":
		return cannot("granting or refusing a concession wants a reason, which the record keeps: --because \"…\"")
	case s.because != "" && s.grant == "" && s.refuse == "":
		return cannot("--because gives the reason of --grant or --refuse")
	}
	return nil
}

// sign opens the run, decides or signs, and writes the record.
func (a *app) sign(b logbook.Book, name string, s signing) (err error) {
	run, err := b.Open(name, a.Now)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, run.Close()) }()
	if text := run.Notice.String(); text != "" {
		a.note("%s", text)
	}
	if s.role, err = a.role(run, s); err != nil {
		return err
	}
	who, err := a.whoSigns(b, s)
	if err != nil {
		return err
	}
	defer who.done()
	if s.grant != "" || s.refuse != "" {
		return a.decide(b, run, s, who)
	}
	return a.signRun(b, run, s, who)
}

// role is the one that is meant: the only one that has not signed, where none
// was named.
func (a *app) role(run *logbook.Run, s signing) (string, error) {
	if s.role != "" {
		if _, refusal := run.State.Role(s.role); refusal != nil {
			return "", cannot("%s", sentence(*refusal))
		}
		return s.role, nil
	}
	open := run.State.Unsigned()
	var names []string
	for _, r := range open {
		names = append(names, r.Name)
	}
	switch len(open) {
	case 0:
		return "", cannot("every role has signed run %s. See: waywright report %s", run.Name, run.Name)
	case 1:
		return names[0], nil
	}
	return "", cannot("in which role? Not signed yet: %s. Write --as %s", strings.Join(names, ", "), names[0])
}

// decide grants or refuses a concession, in a sitting of its own.
func (a *app) decide(b logbook.Book, run *logbook.Run, s signing, who signatory) error {
	d := engine.Decision{Role: s.role, Name: who.name, Gate: s.grant + s.refuse, Reason: s.because, Grant: s.grant != ""}
	data, refusal := run.State.Decide(d)
	if refusal != nil {
		return cannot("%s", sentence(*refusal))
	}
	session := run.Session()
	if session.State().Seated() {
		if _, err := session.Record(engine.Paused{Reason: "the program stopped without a pause"}); err != nil {
			return err
		}
	}
	// Who decides sits down anew, so it is said again who that is.
	data = slices.DeleteFunc(data, func(d engine.Data) bool { _, ok := d.(engine.Deciding); return ok })
	all := append([]engine.Data{engine.Sat{Operator: who.name}, engine.Deciding{Role: s.role, Name: who.name}}, data...)
	if _, err := session.Record(append(all, engine.Paused{Reason: "decided"})...); err != nil {
		return err
	}
	run.Now(session.State())
	a.printf("Concession at %s %s by %s: %s\n", d.Gate, map[bool]string{true: "granted", false: "refused"}[d.Grant], who.name, diagnose.Plain(s.because))
	if err := a.record(run, session); err != nil {
		return err
	}
	a.signNext(run)
	return nil
}

// signNext says who signs next.
func (a *app) signNext(run *logbook.Run) {
	if len(run.State.Unsealable()) > 0 {
		return
	}
	for _, role := range run.State.Unsigned() {
		a.printf("Sign with: %s\n", a.withBook(fmt.Sprintf("waywright sign %s --as %s --key FILE", run.Name, role.Name)))
	}
}

// withBook adds the logbook to a command where it was named.
func (a *app) withBook(command string) string {
	if a.dir != "" {
		command += " --logbook " + a.dir
	}
	return command
}

// signRun shows what is signed, asks, and signs.
func (a *app) signRun(b logbook.Book, run *logbook.Run, s signing, who signatory) error {
	signed := engine.Signed{Role: s.role, Name: who.name, Statement: s.statement, Key: who.fingerprint()}
	if who.signer != nil {
		signed.KeyType = who.signer.PublicKey().Type()
	}
	if _, refusal := run.State.Sign(signed); refusal != nil {
		return a.cannotSign(run, *refusal)
	}
	if err := run.Settle(who.name); err != nil {
		return err
	}
	rec, bytes, err := toSign(run)
	if err != nil {
		return err
	}
	for _, n := range seal.PutBack(run.Lines()) {
		a.note("The clock was put back before line %d of the journal was written. What is sealed keeps that, and verify will say it.", n)
	}
	a.showSigning(run, rec, bytes, signed)
	if !s.yes {
		a.printf("Type  sign  in full. Anything else leaves it open.\n> ")
		if answer := a.line(); !strings.EqualFold(answer, "sign") && !strings.EqualFold(answer, "yes") {
			a.printf("Not signed. Nothing was changed.\n")
			return exit(no)
		}
	}
	if who.signer != nil {
		sig, err := keys.Sign(bytes, who.signer)
		if err != nil {
			return cannot("%w. Nothing was signed", err)
		}
		if signed.File, err = run.WriteSignature(s.role, sig); err != nil {
			return err
		}
		signed.SHA256 = fmt.Sprintf("%x", sha256.Sum256(sig))
	}
	session := run.Session()
	data, refusal := session.State().Sign(signed)
	if refusal != nil {
		return cannot("%s", sentence(*refusal))
	}
	if _, err := session.Record(data...); err != nil {
		return err
	}
	return a.afterSigning(b, run, session, signed)
}

// cannotSign says why, and the command that makes it good.
func (a *app) cannotSign(run *logbook.Run, r engine.Refusal) error {
	for _, j := range run.State.Judgements() {
		if j.Conceded != nil && !j.Conceded.Decided {
			for _, role := range run.Plan.Procedure().Signoffs {
				if role.Concedes {
					return cannot("%s Grant it, or refuse it: %s", sentence(r), a.withBook(fmt.Sprintf("waywright sign %s --as %s --grant %s --because \"…\"", run.Name, role.Name, j.Name)))
				}
			}
		}
	}
	return cannot("%s", sentence(r))
}

// toSign returns the record that is signed, and its bytes. Where the run is not
// sealed yet they are those that its seal will name.
func toSign(run *logbook.Run) (report.Record, []byte, error) {
	if run.State.Seal() != nil {
		i, err := run.Issue()
		return i.Record, i.JSON, err
	}
	rec := report.Build(run.State, run.Head.Hash.String(), run.Head.N)
	b, err := report.Marshal(rec)
	return rec, b, err
}

// showSigning says what is signed: the outcome, what falls short, and the
// digest.
func (a *app) showSigning(run *logbook.Run, rec report.Record, b []byte, d engine.Signed) {
	a.printf("Record %s\n", rec.Number)
	a.printf("%s", fill(diagnose.Plain(strings.TrimSuffix(rec.Title+", "+spoken(rec.Machine.ID), ", ")), "  ", page))
	when := ""
	if rec.Outcome.Word != report.NotDecided && len(run.State.Unsigned()) > 1 {
		when = ", once every role has signed"
	}
	a.printf("  %s%s\n", rec.Outcome.Text, when)
	if rec.Outcome.Reason != "" {
		a.printf("%s", fill(diagnose.Plain("Reason: "+rec.Outcome.Reason), "  ", page))
	}
	if short := rec.FallsShort(); len(short) > 0 {
		a.printf("What is not as the limits ask:\n")
		for _, t := range short {
			a.printf("%s", fill(diagnose.Plain(fmt.Sprintf("%d  %s: %s%s", t.No, t.Title, t.Word, concededWords(t))), "  ", page))
		}
	} else if rec.Outcome.Counts.Agreed > 0 {
		a.printf("  Every test that was agreed has passed: %d.\n", rec.Outcome.Counts.Pass)
	}
	if noted := rec.AsFound(); len(noted) > 0 {
		a.printf("As found, no limits of this run:\n")
		for _, t := range noted {
			a.printf("%s", fill(diagnose.Plain(fmt.Sprintf("%d  %s: %s", t.No, t.Title, t.Word)), "  ", page))
		}
	}
	for _, t := range rec.LeftOut() {
		a.printf("%s", fill(diagnose.Plain(fmt.Sprintf("Left out by agreement with %s: %d  %s: %s", t.LeftOut.Agreed, t.No, t.Title, t.LeftOut.Because)), "  ", page))
	}
	sum := fmt.Sprintf("%x", sha256.Sum256(b))
	a.printf("record.json has the SHA-256\n  %s\n", sum)
	if run.State.Seal() == nil {
		a.printf("This signature seals it: from then on nothing in it changes.\n")
	}
	how := "by a typed name, not by a key"
	if d.Key != "" {
		how = "with the key " + seal.Grouped(d.Key)
	}
	statement := d.Statement
	if role, _ := run.State.Role(d.Role); role != nil && statement == "" {
		statement = engine.Statement(role)
	}
	a.printf("%s", fill(fmt.Sprintf("%s signs as %s, %s:", diagnose.Plain(d.Name), d.Role, how), "", narrow))
	a.printf("%s", fill("\""+diagnose.Plain(statement)+"\"", "  ", narrow))
}

func concededWords(t report.Test) string {
	if t.Concession == nil || t.Concession.State == "lapsed" {
		return ""
	}
	return ", concession " + t.Concession.State
}

// afterSigning writes the record and says how the signature is checked.
func (a *app) afterSigning(b logbook.Book, run *logbook.Run, session *drive.Session, d engine.Signed) error {
	a.printf("Signed by %s.\n", diagnose.Plain(d.Name))
	run.Now(session.State())
	if err := a.record(run, session); err != nil {
		return err
	}
	if d.File != "" {
		a.printf("Signature: %s\n", filepath.Join(run.Dir, d.File))
		a.printf("Anybody checks it, in that folder, with the public key in a file \"signers\":\n  %s\n", verifyCommand(d.Role))
	}
	if open := run.State.Unsigned(); len(open) > 0 {
		a.signNext(run)
	} else {
		a.printf("%s\n", outcome(run.State.Outcome()))
	}
	return a.whatItSpoilt(b, run)
}

// verifyCommand checks a signature without this program.
func verifyCommand(role string) string {
	return fmt.Sprintf("ssh-keygen -Y verify -f signers -I %s -n %s -s %s < %s", role, report.SignatureSpace, seal.SignatureFile(role), seal.RecordName)
}
