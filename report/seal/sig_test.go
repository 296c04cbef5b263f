package seal_test

import (
	"bytes"
	"crypto/ecdsa"
	"crypto/ed25519"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/rsa"
	"strings"
	"testing"

	"github.com/hiddeco/sshsig"
	"golang.org/x/crypto/ssh"

	"waywright/report"
	"waywright/report/seal"
)

var record = []byte("{\n  \"format\": \"waywright record 2\"\n}\n")

func signer(t testing.TB, private any, err error) ssh.Signer {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	s, err := ssh.NewSignerFromKey(private)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func sign(t testing.TB, s ssh.Signer, h sshsig.HashAlgorithm, space string) []byte {
	t.Helper()
	sig, err := sshsig.Sign(bytes.NewReader(record), s, h, space)
	if err != nil {
		t.Fatal(err)
	}
	return sshsig.Armor(sig)
}

func TestCheckSignature(t *testing.T) {
	ed, _ := key(t, 0)
	p256, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	ec := signer(t, p256, err)
	r, err := rsa.GenerateKey(rand.Reader, 2048)
	long := signer(t, r, err)
	for name, s := range map[string]ssh.Signer{"ed25519": ed, "ecdsa": ec, "rsa": long} {
		sig := sign(t, s, sshsig.HashSHA512, report.SignatureSpace)
		k, err := seal.CheckSignature(record, sig)
		if err != nil || !bytes.Equal(k.Marshal(), s.PublicKey().Marshal()) {
			t.Errorf("%s: %v", name, err)
		}
		if _, err := seal.CheckSignature(append(bytes.Clone(record), '\n'), sig); err == nil || !strings.Contains(err.Error(), "not over these bytes") {
			t.Errorf("%s over another record: %v", name, err)
		}
		// As OpenSSH breaks its lines: at 70 letters.
		lines := strings.Split(strings.TrimSpace(string(sig)), "\n")
		body := strings.Join(lines[1:len(lines)-1], "")
		var wide strings.Builder
		for len(body) > 70 {
			wide.WriteString(body[:70] + "\n")
			body = body[70:]
		}
		if _, err := seal.CheckSignature(record, []byte(lines[0]+"\n"+wide.String()+body+"\n"+lines[len(lines)-1]+"\n")); err != nil {
			t.Errorf("%s with longer lines: %v", name, err)
		}
	}
	for name, sig := range map[string][]byte{
		"another purpose": sign(t, ed, sshsig.HashSHA512, "git"),
		"no signature":    []byte("signed: Ben"),
		"nothing":         nil,
		"another armour":  bytes.ReplaceAll(sign(t, ed, sshsig.HashSHA512, report.SignatureSpace), []byte("SSH SIGNATURE"), []byte("PGP SIGNATURE")),
		"words behind it": append(sign(t, ed, sshsig.HashSHA512, report.SignatureSpace), "and more"...),
	} {
		if k, err := seal.CheckSignature(record, sig); err == nil {
			t.Errorf("%s: good, with %s", name, ssh.FingerprintSHA256(k))
		}
	}
}

// A key that is too short signs nothing.
func TestShortKeysAreRefused(t *testing.T) {
	t.Setenv("GODEBUG", "rsa1024min=0")
	r, err := rsa.GenerateKey(rand.Reader, 1024)
	if err != nil {
		t.Fatal(err)
	}
	s := signer(t, r, nil)
	if err := seal.Fit(s.PublicKey()); err == nil || !strings.Contains(err.Error(), "1024 bits") {
		t.Errorf("Fit: %v", err)
	}
	if _, err := seal.CheckSignature(record, sign(t, s, sshsig.HashSHA512, report.SignatureSpace)); err == nil {
		t.Error("its signature is good")
	}
}

// Of a signature by itself, too, every changed byte is found.
func TestEveryByteOfASignatureCounts(t *testing.T) {
	ed, _ := key(t, 0)
	sig := sign(t, ed, sshsig.HashSHA512, report.SignatureSpace)
	for i := range sig[:len(sig)-1] {
		for bit := range 8 {
			b := bytes.Clone(sig)
			b[i] ^= 1 << bit
			if _, err := seal.CheckSignature(record, b); err == nil && b[i] != '\n' && b[i] != '\r' {
				t.Errorf("byte %d, %q for %q: good", i, b[i], sig[i])
			}
		}
	}
}

func TestGrouped(t *testing.T) {
	// The fingerprint of RFC 8709's form: SHA256 and 43 digits of base64.
	const in = "SHA256:uNiVztksCsDhcc0u9e8BrrJiiK2mPXyYyxqCXW3Z+4s"
	const want = "SHA256 uNiV ztks CsDh cc0u 9e8B rrJi iK2m PXyY yxqC XW3Z +4s"
	if got := seal.Grouped(in); got != want {
		t.Errorf("Grouped = %q, want %q", got, want)
	}
	if got := strings.ReplaceAll(seal.Grouped(in), " ", ""); got != strings.ReplaceAll(in, ":", "") {
		t.Errorf("letters were lost: %q", got)
	}
}

func FuzzCheckSignature(f *testing.F) {
	ed, _ := key(f, 0)
	good := sign(f, ed, sshsig.HashSHA512, report.SignatureSpace)
	f.Add(record, good)
	f.Add([]byte("x"), good)
	f.Add(record, []byte("-----BEGIN SSH SIGNATURE-----\nAAAA\n-----END SSH SIGNATURE-----\n"))
	f.Fuzz(func(t *testing.T, rec, sig []byte) {
		k, err := seal.CheckSignature(rec, sig)
		if err != nil {
			return
		}
		// Nobody here has a key but this one, and it signed one record.
		if _, ok := k.(ssh.CryptoPublicKey).CryptoPublicKey().(ed25519.PublicKey); !ok || !bytes.Equal(rec, record) {
			t.Fatalf("good: %q over %q", sig, rec)
		}
	})
}
