package seal

import (
	"bytes"
	"crypto/rsa"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/hiddeco/sshsig"
	"golang.org/x/crypto/ssh"

	"waywright/report"
)

// SignatureFile returns the name of the file that holds the signature of a
// role, beside record.json.
func SignatureFile(role string) string { return RecordName + "." + role + signatureEnd }

const signatureEnd = ".sig"

// leastRSA is the least number of bits of an RSA key.
const leastRSA = 2048

// keyTypes are the types of keys that may sign.
var keyTypes = []string{
	ssh.KeyAlgoED25519, ssh.KeyAlgoECDSA256, ssh.KeyAlgoECDSA384, ssh.KeyAlgoECDSA521, ssh.KeyAlgoRSA, ssh.KeyAlgoSKED25519, ssh.KeyAlgoSKECDSA256,
}

// Fit tells whether a key may sign records; the error says why not.
func Fit(key ssh.PublicKey) error {
	if !slices.Contains(keyTypes, key.Type()) {
		return fmt.Errorf("a key of type %s does not sign here: use ed25519", key.Type())
	}
	if c, ok := key.(ssh.CryptoPublicKey); ok {
		if r, ok := c.CryptoPublicKey().(*rsa.PublicKey); ok && r.N.BitLen() < leastRSA {
			return fmt.Errorf("an RSA key of %d bits is too short: use one of %d, or ed25519", r.N.BitLen(), leastRSA)
		}
	}
	return nil
}

// CheckSignature checks an OpenSSH signature over the bytes of a record. It
// returns the key that made it; whose that is has to be known from elsewhere.
func CheckSignature(record, sig []byte) (ssh.PublicKey, error) {
	s, err := sshsig.Unarmor(sig)
	if err != nil {
		return nil, fmt.Errorf("it is no OpenSSH signature (%v)", err)
	}
	if whole := sshsig.Armor(s); !sameArmour(whole, sig) {
		return nil, errors.New("something stands in the file besides the signature, or a part of it was changed")
	}
	if err := Fit(s.PublicKey); err != nil {
		return nil, err
	}
	if s.HashAlgorithm != sshsig.HashSHA512 && s.HashAlgorithm != sshsig.HashSHA256 {
		return nil, fmt.Errorf("it was made with the hash %q, which is not used here", s.HashAlgorithm)
	}
	if s.Namespace != report.SignatureSpace {
		return nil, fmt.Errorf("it was made for %q, and not for records (%s)", s.Namespace, report.SignatureSpace)
	}
	if err := sshsig.Verify(bytes.NewReader(record), s, s.PublicKey, s.HashAlgorithm, report.SignatureSpace); err != nil {
		return nil, errors.New("it is not over these bytes: the record, or the signature, was changed")
	}
	return s.PublicKey, nil
}

// sameArmour compares two armoured signatures but for where their lines break:
// OpenSSH breaks them at 70 letters, others at 64.
func sameArmour(a, b []byte) bool {
	return flat(a) == flat(b)
}

func flat(b []byte) string {
	lines := strings.Split(strings.TrimRight(strings.ReplaceAll(string(b), "\r\n", "\n"), "\n"), "\n")
	if len(lines) < 3 {
		return ""
	}
	body := strings.Join(lines[1:len(lines)-1], "")
	return lines[0] + "\n" + body + "\n" + lines[len(lines)-1]
}

// Grouped writes a fingerprint in groups of four, to be read out.
func Grouped(fingerprint string) string {
	kind, digits, ok := strings.Cut(fingerprint, ":")
	if !ok {
		kind, digits = "", fingerprint
	}
	var groups []string
	for len(digits) > 4 {
		groups, digits = append(groups, digits[:4]), digits[4:]
	}
	out := strings.Join(append(groups, digits), " ")
	if kind == "" {
		return out
	}
	return kind + " " + out
}
