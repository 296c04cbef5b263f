package cli

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/crypto/ssh"

	"waywright/cmd/waywright/internal/keys"
	"waywright/cmd/waywright/internal/logbook"
	"waywright/procedures/diagnose"
	"waywright/report"
	"waywright/report/seal"
)

func (a *app) keyCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "key",
		Short: "Keys that sign records: make one, enter one, list them",
		Example: `  waywright key new
  waywright key list`,
	}
	for _, k := range []*cobra.Command{a.keyNewCommand(), a.keyAddCommand(), a.keyListCommand()} {
		k.DisableFlagsInUseLine = true
		c.AddCommand(k)
	}
	return c
}

// newKey is what a key is made with.
type newKey struct {
	name, role, file string
	open, apart      bool
}

func (a *app) keyNewCommand() *cobra.Command {
	var k newKey
	c := &cobra.Command{
		Use:   "new",
		Short: "Make a key that signs, from questions",
		Long: `Make a key that signs records, in the form of OpenSSH: a file that only you can
read, protected by a passphrase, and the public key beside it. The public key is
entered in people.hcl, so that the shop knows whose it is. The card that is
printed goes to whoever is to check your signatures.`,
		Example: `  waywright key new
  waywright key new --name "Tom Acker" --role inspector --file ~/.ssh/waywright
  waywright key new --name "Tom Acker" --role inspector --apart`,
		Args: takes(0, 0, "nothing"),
		RunE: func(c *cobra.Command, _ []string) error { return a.keyNew(c, k) },
	}
	f := c.Flags()
	f.StringVar(&k.name, "name", "", "who signs with it")
	f.StringVar(&k.role, "role", "", "in which role")
	f.StringVar(&k.file, "file", "", "where the key is kept; ~/.ssh/waywright_NAME where not given")
	f.BoolVar(&k.open, "no-passphrase", false, "without a passphrase: whoever has the file signs")
	f.BoolVar(&k.apart, "apart", false, "leave people.hcl as it is")
	return c
}

func (a *app) keyNew(c *cobra.Command, k newKey) error {
	var file string
	blanks := []blank{
		{"name", "Who signs with it? Your name, as it stands under a record:", "who signs with it", true, &k.name, nil, nil},
		{"role", "In which role, as procedures name it, such as fitter or inspector?", "in which role, such as inspector", true, &k.role, nil, nil},
	}
	if err := a.fillIn(c, "key", blanks); err != nil {
		return err
	}
	usual := filepath.Join(a.home(), ".ssh", "waywright_"+plainWord(k.name))
	if file = k.file; file == "" && isTerminal(a.In) {
		a.printf("%s> ", fill(fmt.Sprintf("Where is it kept? (Enter: %s)", usual), "", page))
		file = a.line()
	}
	if file == "" {
		file = usual
	}
	if rest, ok := strings.CutPrefix(file, "~/"); ok {
		file = filepath.Join(a.home(), rest)
	}
	if _, err := os.Lstat(file); err == nil {
		return cannot("%s is there already, and a key that is lost signs no more. Nothing was changed. Name another file with --file", file)
	}
	pass, err := a.newPassphrase(k.open)
	if err != nil {
		return err
	}
	defer clear(pass)
	pub, err := keys.New(file, k.name, pass)
	if err != nil {
		return cannot("%w", err)
	}
	a.printf("Made a key: %s\n", file)
	if len(pass) == 0 {
		a.printf("%s", fill(fmt.Sprintf("It has no passphrase: whoever has the file signs as %s.", diagnose.Plain(k.name)), "", page))
	}
	if !k.apart {
		b, err := a.ensure()
		if err != nil {
			return err
		}
		if err := b.SetKey(k.name, k.role, keys.Line(pub)); err != nil {
			return cannot("the key was made, but not entered: %w", err)
		}
		a.printf("Entered in %s\n", b.PeopleFile())
	}
	a.card(k.name, k.role, pub)
	return nil
}

// plainWord makes a name fit for a file.
func plainWord(s string) string {
	s = strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			return r
		}
		return '_'
	}, strings.ToLower(s))
	return strings.Trim(s, "_")
}

// newPassphrase asks twice.
func (a *app) newPassphrase(open bool) ([]byte, error) {
	if open {
		return nil, nil
	}
	if !isTerminal(a.In) {
		return nil, cannot("a passphrase is asked for at a terminal. Make the key there, or write --no-passphrase: whoever has the file then signs")
	}
	for range 3 {
		one, err := a.passphrase("Passphrase (what is typed is not shown; Enter: none): ")
		if err != nil {
			return nil, err
		}
		two, err := a.passphrase("Once more: ")
		if err != nil {
			return nil, err
		}
		if bytes.Equal(one, two) {
			clear(two)
			return one, nil
		}
		a.printf("The two are not the same.\n")
	}
	return nil, cannot("the passphrase was not typed twice the same. No key was made")
}

// card prints what goes to whoever checks signatures.
func (a *app) card(name, role string, pub ssh.PublicKey) {
	rule := strings.Repeat("-", 72)
	kind, digits, _ := strings.Cut(seal.Grouped(ssh.FingerprintSHA256(pub)), " ")
	a.printf("%s\n  %s\n  signs records as %s\n  %s, fingerprint %s\n", rule, diagnose.Plain(name), diagnose.Plain(role), pub.Type(), kind)
	a.printf("%s", fill(digits, "    ", page))
	a.printf("  Line for a file of signers:\n  %s\n%s\n", signersLine(role, pub), rule)
}

// signersLine is a line of a file of allowed signers.
func signersLine(role string, pub ssh.PublicKey) string {
	return fmt.Sprintf("%s namespaces=%q %s", role, report.SignatureSpace, keys.Line(pub))
}

func (a *app) keyAddCommand() *cobra.Command {
	var name, role string
	c := &cobra.Command{
		Use:   "add FILE.pub",
		Short: "Enter a public key that is there already in people.hcl",
		Example: `  waywright key add --name "Tom Acker" --role inspector ~/.ssh/id_ed25519.pub
  waywright key add --name "Tom Acker" tom.pub`,
		Args: takes(1, 1, "the file of a public key"),
		RunE: func(_ *cobra.Command, args []string) error {
			switch {
			case strings.TrimSpace(name) == "":
				return cannot("whose key is it? Write --name \"Tom Acker\"")
			case !sound(name) || !sound(role):
				return cannot("%q is not plain text", name+role)
			}
			return a.keyAdd(args[0], name, role)
		},
	}
	c.Flags().StringVar(&name, "name", "", "whose key it is")
	c.Flags().StringVar(&role, "role", "", "in which role the person signs")
	return c
}

func (a *app) keyAdd(file, name, role string) error {
	b, err := os.ReadFile(file)
	if err != nil {
		return cannot("%w", err)
	}
	pub, _, _, _, err := ssh.ParseAuthorizedKey(b)
	if err != nil {
		if bytes.Contains(b, []byte("PRIVATE KEY")) {
			return cannot("%s is a private key, which goes into no list. Name the public one: %s.pub", file, file)
		}
		return cannot("%s is no public key. It begins with its type: ssh-ed25519 AAAA…", file)
	}
	if err := seal.Fit(pub); err != nil {
		return cannot("%s: %w", file, err)
	}
	book, err := a.ensure()
	if err != nil {
		return err
	}
	people, err := book.Signatories()
	if err != nil {
		return err
	}
	if p, ok := ownerOf(people, pub); ok {
		return cannot("this key is entered already, for %s. One key is one person's", p.Name)
	}
	if err := book.SetKey(name, role, keys.Line(pub)); err != nil {
		return cannot("%w", err)
	}
	a.printf("Entered in %s\n", book.PeopleFile())
	a.card(name, or(role, "any role"), pub)
	return nil
}

func (a *app) keyListCommand() *cobra.Command {
	var signers bool
	c := &cobra.Command{
		Use:   "list",
		Short: "Who has which key, by people.hcl",
		Long: `List the people with their keys. With --signers it is a file of allowed signers,
as ssh-keygen -Y verify and waywright verify --signers take it. Whoever gets it has
the fingerprints read out by those who sign: a list that comes with the records
proves nothing.`,
		Example: `  waywright key list
  waywright key list --signers > signers`,
		Args: takes(0, 0, "nothing"),
		RunE: func(*cobra.Command, []string) error { return a.keyList(a.book(), signers) },
	}
	c.Flags().BoolVar(&signers, "signers", false, "as a file of allowed signers")
	return c
}

func (a *app) keyList(b logbook.Book, signers bool) error {
	people, err := b.Signatories()
	if err != nil {
		return err
	}
	n := 0
	for _, p := range people {
		if p.Public == nil {
			continue
		}
		n++
		switch {
		case !signers:
			a.printf("%s, %s\n%s", p.Name, or(strings.Join(p.Roles, ", "), "any role"), fill(seal.Grouped(ssh.FingerprintSHA256(p.Public)), "  ", page))
		case len(p.Roles) == 0:
			a.printf("%s\n", signersLine("*", p.Public))
		default:
			a.printf("%s\n", signersLine(strings.Join(p.Roles, ","), p.Public))
		}
	}
	if n == 0 && !signers {
		a.printf("Nobody in %s has a key yet. Make one: waywright key new\n", b.PeopleFile())
	}
	if n == 0 && signers {
		return cannot("%w", errors.New("nobody in people.hcl has a key yet. Make one: waywright key new"))
	}
	return nil
}
