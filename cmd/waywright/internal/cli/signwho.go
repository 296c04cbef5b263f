package cli

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"golang.org/x/crypto/ssh"
	"golang.org/x/term"

	"waywright/cmd/waywright/internal/keys"
	"waywright/cmd/waywright/internal/logbook"
	"waywright/report/seal"
)

// signatory is who signs.
type signatory struct {
	name   string
	signer ssh.Signer // nil: a typed name
	done   func()
}

func (s signatory) fingerprint() string {
	if s.signer == nil {
		return ""
	}
	return ssh.FingerprintSHA256(s.signer.PublicKey())
}

// whoSigns finds the person, and the key where one was named.
func (a *app) whoSigns(b logbook.Book, s signing) (signatory, error) {
	people, err := b.Signatories()
	if err != nil {
		return signatory{}, err
	}
	switch s.key {
	case "":
		return a.typedName(b, people, s)
	case "agent":
		return a.byAgent(b, people, s)
	}
	signer, done, err := keys.Load(s.key, a.passphrase, a.Env("SSH_AUTH_SOCK"))
	if err != nil {
		return signatory{}, cannot("%w", err)
	}
	p, ok := ownerOf(people, signer.PublicKey())
	if !ok {
		done()
		return signatory{}, cannot("nobody in %s has this key, so nobody could tell whose it is: %s. Nothing was signed. Enter it: waywright key add --name NAME --role %s %s",
			b.PeopleFile(), seal.Grouped(ssh.FingerprintSHA256(signer.PublicKey())), s.role, publicOf(s.key))
	}
	if err := a.mayBe(b, p, s); err != nil {
		done()
		return signatory{}, err
	}
	return signatory{p.Name, signer, done}, nil
}

func publicOf(path string) string {
	if strings.HasSuffix(path, ".pub") {
		return path
	}
	return path + ".pub"
}

func ownerOf(people []logbook.Signatory, key ssh.PublicKey) (logbook.Signatory, bool) {
	for _, p := range people {
		if p.Public != nil && string(p.Public.Marshal()) == string(key.Marshal()) {
			return p, true
		}
	}
	return logbook.Signatory{}, false
}

// mayBe refuses a person whose roles do not have the one that is signed in, and
// one that is not the person named.
func (a *app) mayBe(b logbook.Book, p logbook.Signatory, s signing) error {
	switch {
	case s.name != "" && !sameWords(s.name, p.Name):
		return cannot("this key is that of %s in %s, not of %s. Nothing was signed", p.Name, b.PeopleFile(), s.name)
	case len(p.Roles) > 0 && !slices.Contains(p.Roles, s.role):
		return cannot("%s signs as %s, by %s, and not as %s. Nothing was signed", p.Name, strings.Join(p.Roles, ", "), b.PeopleFile(), s.role)
	}
	return nil
}

func sameWords(a, b string) bool {
	return strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
}

// typedName is somebody who signs by name alone.
func (a *app) typedName(b logbook.Book, people []logbook.Signatory, s signing) (signatory, error) {
	if s.name == "" {
		a.printf("Who signs as %s? (a typed name; by a key: --key FILE)\n> ", s.role)
		s.name = a.line()
	}
	if strings.Trim(s.name, "+-0123456789., ") == "" {
		return signatory{}, cannot("a signature has a name. Write --name \"…\", or --key FILE for a signature by a key")
	}
	if !sound(s.name) {
		return signatory{}, cannot("%q is not plain text", s.name)
	}
	for _, p := range people {
		if sameWords(p.Name, s.name) {
			return signatory{name: p.Name, done: func() {}}, a.mayBe(b, p, s)
		}
	}
	return signatory{name: strings.Join(strings.Fields(s.name), " "), done: func() {}}, nil
}

// byAgent chooses the key of the agent by people.hcl.
func (a *app) byAgent(b logbook.Book, people []logbook.Signatory, s signing) (signatory, error) {
	all, done, err := keys.Agent(a.Env("SSH_AUTH_SOCK"))
	if err != nil {
		return signatory{}, cannot("%w", err)
	}
	var found []signatory
	var others []string
	for _, k := range all {
		p, ok := ownerOf(people, k.PublicKey())
		switch {
		case !ok || seal.Fit(k.PublicKey()) != nil:
			others = append(others, ssh.FingerprintSHA256(k.PublicKey()))
		case a.mayBe(b, p, s) == nil:
			found = append(found, signatory{p.Name, k, done})
		default:
			others = append(others, p.Name)
		}
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		done()
		has := "It holds no key"
		if len(others) > 0 {
			has = "It holds " + strings.Join(others, ", ")
		}
		return signatory{}, cannot("the agent holds no key of a person who signs as %s by %s. %s. Nothing was signed", s.role, b.PeopleFile(), has)
	}
	done()
	var names []string
	for _, f := range found {
		names = append(names, f.name)
	}
	return signatory{}, cannot("the agent holds keys of %s. Say who signs: --name %q", strings.Join(names, " and "), names[0])
}

// passphrase asks at the terminal without showing what is typed.
func (a *app) passphrase(prompt string) ([]byte, error) {
	if !isTerminal(a.In) {
		return nil, errors.New("this key has a passphrase, which is asked for at a terminal. Use the ssh-agent (--key agent) where there is none")
	}
	// What is typed is not shown from before the prompt stands there.
	fd := int(a.In.Fd())
	was, err := term.MakeRaw(fd)
	if err != nil {
		return nil, err
	}
	if i := strings.LastIndexByte(prompt, '\n'); i >= 0 {
		fmt.Fprint(a.Err, strings.ReplaceAll(prompt[:i+1], "\n", "\r\n"))
		prompt = prompt[i+1:]
	}
	text, err := term.NewTerminal(struct {
		io.Reader
		io.Writer
	}{a.In, a.Err}, "").ReadPassword(prompt)
	if err := term.Restore(fd, was); err != nil {
		return nil, err
	}
	if err != nil {
		return nil, errors.New("no passphrase was typed. Nothing was done")
	}
	return []byte(text), nil
}

// line reads one line that a person types; "" at the end of the input.
func (a *app) line() string {
	if a.in == nil {
		a.in = bufio.NewReader(a.In)
	}
	text, _ := a.in.ReadString('\n') // at the end of the input: what there is
	return strings.TrimSpace(text)
}

// home is the folder in which keys usually stand.
func (a *app) home() string {
	if h := a.Env("HOME"); h != "" {
		return h
	}
	h, err := os.UserHomeDir()
	if err != nil {
		return "."
	}
	return h
}
