// Package keys makes, reads and reaches the keys that sign records: files in
// the form of OpenSSH, and those that an ssh-agent holds. A private key never
// leaves it but as a signature.
package keys

import (
	"bytes"
	"crypto/ed25519"
	"crypto/rand"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	"net"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"github.com/hiddeco/sshsig"
	"golang.org/x/crypto/ssh"
	"golang.org/x/crypto/ssh/agent"

	"waywright/report"
	"waywright/report/seal"
)

// Ask asks for a passphrase without showing it. Lines before the last are said
// first.
type Ask func(prompt string) ([]byte, error)

// tries is how often a passphrase is asked for.
const tries = 3

// maxKey is more than any key has.
const maxKey = 64 << 10

// Load reads the private key of a file, and asks for its passphrase where it
// has one. A file with a public key stands for that key in the agent.
func Load(path string, ask Ask, socket string) (ssh.Signer, func(), error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil, fmt.Errorf("there is no key file %s. Make a key with: waywright key new", path)
	case err != nil:
		return nil, nil, err
	case !info.Mode().IsRegular() || info.Size() > maxKey:
		return nil, nil, fmt.Errorf("%s is no key file", path)
	}
	b, err := os.ReadFile(path)
	if err != nil {
		return nil, nil, err
	}
	if pub, _, _, _, err := ssh.ParseAuthorizedKey(b); err == nil {
		return fromAgent(pub, path, socket)
	}
	if runtime.GOOS != "windows" && info.Mode().Perm()&0o077 != 0 {
		return nil, nil, fmt.Errorf("%s can be read by others (its mode is %03o), so it proves nothing. Close it: chmod 600 %s", path, info.Mode().Perm(), path)
	}
	s, err := parse(b, path, ask)
	if err != nil {
		return nil, nil, err
	}
	return s, func() {}, fit(s, path)
}

func fit(s ssh.Signer, where string) error {
	if err := seal.Fit(s.PublicKey()); err != nil {
		return fmt.Errorf("%s: %w", where, err)
	}
	return nil
}

func parse(b []byte, path string, ask Ask) (ssh.Signer, error) {
	s, err := ssh.ParsePrivateKey(b)
	missing := new(ssh.PassphraseMissingError)
	for n := 0; errors.As(err, &missing); n++ {
		if n == tries {
			return nil, fmt.Errorf("%s: the passphrase is another one. Nothing was signed", path)
		}
		prompt := fmt.Sprintf("Passphrase of %s: ", path)
		if n > 0 {
			prompt = "That is not its passphrase, and nothing was signed.\n" + prompt
		}
		pass, aerr := ask(prompt)
		if aerr != nil {
			return nil, aerr
		}
		if s, err = ssh.ParsePrivateKeyWithPassphrase(b, pass); err != nil && wrongPassphrase(err) {
			err = missing
		}
		clear(pass)
	}
	if err != nil && ofHardware(b) {
		return nil, fmt.Errorf("%s belongs to a piece of hardware, which signs by the ssh-agent: ssh-add %s, then --key agent", path, path)
	}
	if err != nil {
		return nil, fmt.Errorf("%s is no private key that is understood (%w). It wants the form of OpenSSH: waywright key new makes one", path, err)
	}
	return s, nil
}

func wrongPassphrase(err error) bool {
	return strings.Contains(err.Error(), "decryption password incorrect") || strings.Contains(err.Error(), "passphrase")
}

// ofHardware tells whether a key file only says which piece of hardware has the
// key.
func ofHardware(b []byte) bool {
	block, _ := pem.Decode(b)
	return block != nil && (bytes.Contains(block.Bytes, []byte(ssh.KeyAlgoSKED25519)) || bytes.Contains(block.Bytes, []byte(ssh.KeyAlgoSKECDSA256)))
}

// privateOf names the private key beside a public one, where it is there.
func privateOf(public string) string {
	private, ok := strings.CutSuffix(public, ".pub")
	if _, err := os.Stat(private); !ok || err != nil {
		return ""
	}
	return ": " + private
}

// fromAgent finds one key in the agent.
func fromAgent(pub ssh.PublicKey, where, socket string) (ssh.Signer, func(), error) {
	all, done, err := Agent(socket)
	if err != nil {
		return nil, nil, fmt.Errorf("%s is a public key, and the private one signs%s. By a public key the ssh-agent would: %w", where, privateOf(where), err)
	}
	for _, s := range all {
		if bytes.Equal(s.PublicKey().Marshal(), pub.Marshal()) {
			return s, done, fit(s, where)
		}
	}
	done()
	return nil, nil, fmt.Errorf("the agent does not hold the key of %s. Give it to the agent with ssh-add, or name the private key", where)
}

// Agent returns the keys that an ssh-agent holds, and what ends the talk with
// it.
func Agent(socket string) ([]ssh.Signer, func(), error) {
	if socket == "" {
		return nil, nil, errors.New("there is no ssh-agent (SSH_AUTH_SOCK is not set). Start one, or name a key file")
	}
	conn, err := net.Dial("unix", socket)
	if err != nil {
		return nil, nil, fmt.Errorf("the ssh-agent does not answer: %w", err)
	}
	done := func() { conn.Close() }
	all, err := agent.NewClient(conn).Signers()
	if err != nil {
		done()
		return nil, nil, fmt.Errorf("the ssh-agent does not say which keys it holds: %w", err)
	}
	return all, done, nil
}

// Sign makes a signature over the bytes of a record, in armour.
func Sign(record []byte, s ssh.Signer) ([]byte, error) {
	sig, err := sshsig.Sign(bytes.NewReader(record), s, sshsig.HashSHA512, report.SignatureSpace)
	if err != nil {
		return nil, fmt.Errorf("the key did not sign: %w", err)
	}
	armoured := sshsig.Armor(sig)
	if _, err := seal.CheckSignature(record, armoured); err != nil {
		return nil, fmt.Errorf("the key signed wrongly: %w", err)
	}
	return armoured, nil
}

// Line is a public key as files of allowed signers have it, without a comment.
func Line(pub ssh.PublicKey) string {
	return strings.TrimSpace(string(ssh.MarshalAuthorizedKey(pub)))
}

// New makes an ed25519 key and writes it: the private key to a file that only
// its owner reads, the public one beside it. Neither may be there already.
func New(path, comment string, passphrase []byte) (ssh.PublicKey, error) {
	for _, p := range []string{path, path + ".pub"} {
		if _, err := os.Lstat(p); err == nil {
			return nil, fmt.Errorf("%s is there already, and a key that is lost signs no more. Nothing was changed. Name another file", p)
		}
	}
	public, private, err := ed25519.GenerateKey(rand.Reader)
	if err != nil {
		return nil, err
	}
	pub, err := ssh.NewPublicKey(public)
	if err != nil {
		return nil, err
	}
	var block *pem.Block
	if len(passphrase) > 0 {
		block, err = ssh.MarshalPrivateKeyWithPassphrase(private, comment, passphrase)
	} else {
		block, err = ssh.MarshalPrivateKey(private, comment)
	}
	if err != nil {
		return nil, err
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return nil, err
	}
	if err := write(path, pem.EncodeToMemory(block), 0o600); err != nil {
		return nil, err
	}
	return pub, write(path+".pub", []byte(strings.TrimSpace(Line(pub)+" "+comment)+"\n"), 0o644)
}

// write makes a file that is not there yet.
func write(path string, b []byte, mode os.FileMode) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	_, err = f.Write(b)
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}
