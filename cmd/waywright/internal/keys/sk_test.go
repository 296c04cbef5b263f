package keys

import (
	"bytes"
	"crypto/ed25519"
	"crypto/sha256"
	"crypto/sha512"
	"encoding/base64"
	"encoding/binary"
	"encoding/pem"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/crypto/ssh"
	"golang.org/x/crypto/ssh/agent"

	"waywright/report"
	"waywright/report/seal"
)

// A key that lives in a piece of hardware signs with its own counter and with
// whether it was touched (OpenSSH, PROTOCOL.u2f, "ssh-ed25519-sk signatures";
// PROTOCOL.sshsig). The hardware is played here by a key in software; what it gives
// is held against the real ssh-keygen, and then taken by verify.
const (
	skType = ssh.KeyAlgoSKED25519
	skApp  = "ssh:"
)

func skKey(seed byte) (ed25519.PrivateKey, ssh.PublicKey, error) {
	private := ed25519.NewKeyFromSeed(bytes.Repeat([]byte{seed}, ed25519.SeedSize))
	blob := ssh.Marshal(struct {
		Type string
		Key  []byte
		App  string
	}{skType, private.Public().(ed25519.PublicKey), skApp})
	pub, err := ssh.ParsePublicKey(blob)
	return private, pub, err
}

// skSign signs as the hardware does.
func skSign(message []byte, private ed25519.PrivateKey, flags byte, counter uint32) []byte {
	app, sum := sha256.Sum256([]byte(skApp)), sha256.Sum256(message)
	data := append(app[:], flags)
	data = binary.BigEndian.AppendUint32(data, counter)
	data = append(data, sum[:]...)
	out := ssh.Marshal(struct {
		Type string
		Sig  []byte
	}{skType, ed25519.Sign(private, data)})
	return binary.BigEndian.AppendUint32(append(out, flags), counter)
}

// skSignature is the file that ssh-keygen -Y sign would write.
func skSignature(record []byte, private ed25519.PrivateKey, pub ssh.PublicKey, flags byte) []byte {
	const preamble = "SSHSIG"
	sum := sha512.Sum512(record)
	message := append([]byte(preamble), ssh.Marshal(struct{ Space, Reserved, Hash, Sum string }{report.SignatureSpace, "", "sha512", string(sum[:])})...)
	blob := append([]byte(preamble), ssh.Marshal(struct {
		Version                    uint32
		Key, Space, Reserved, Hash string
		Sig                        []byte
	}{1, string(pub.Marshal()), report.SignatureSpace, "", "sha512", skSign(message, private, flags, 7)})...)
	var b strings.Builder
	b.WriteString("-----BEGIN SSH SIGNATURE-----\n")
	for text := base64.StdEncoding.EncodeToString(blob); text != ""; {
		n := min(70, len(text))
		b.WriteString(text[:n] + "\n")
		text = text[n:]
	}
	b.WriteString("-----END SSH SIGNATURE-----\n")
	return []byte(b.String())
}

func TestHardwareKeysAreVerifiedAsOpenSSHDoes(t *testing.T) {
	record := []byte("{\n  \"format\": \"waywright record 2\"\n}\n")
	private, pub, err := skKey(3)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	signers := filepath.Join(dir, "signers")
	if err := os.WriteFile(signers, []byte("inspector "+Line(pub)+"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	for name, tt := range map[string]struct {
		flags  byte
		record []byte
		there  bool // by ssh-keygen
		here   bool
	}{
		"touched": {1, record, true, true},
		// ssh-keygen does not ask whether somebody was there; here it is wanted.
		"not touched":    {0, record, true, false},
		"another record": {1, append(bytes.Clone(record), '\n'), false, false},
	} {
		sig := skSignature(record, private, pub, tt.flags)
		file := filepath.Join(dir, strings.ReplaceAll(name, " ", "_")+".sig")
		if err := os.WriteFile(file, sig, 0o644); err != nil {
			t.Fatal(err)
		}
		c := exec.Command("ssh-keygen", "-Y", "verify", "-f", signers, "-I", "inspector", "-n", report.SignatureSpace, "-s", file)
		c.Stdin = bytes.NewReader(tt.record)
		out, err := c.CombinedOutput()
		if (err == nil) != tt.there {
			t.Errorf("%s: ssh-keygen says %v: %s", name, err, out)
		}
		key, err := seal.CheckSignature(tt.record, sig)
		if (err == nil) != tt.here {
			t.Errorf("%s: verify says %v", name, err)
		}
		if err == nil && !bytes.Equal(key.Marshal(), pub.Marshal()) {
			t.Errorf("%s: by another key", name)
		}
	}
}

// hardware is an agent that holds such a key.
type hardware struct {
	agent.Agent
	private ed25519.PrivateKey
	pub     ssh.PublicKey
}

func (h hardware) List() ([]*agent.Key, error) {
	return []*agent.Key{{Format: skType, Blob: h.pub.Marshal(), Comment: "hardware"}}, nil
}

func (h hardware) Sign(_ ssh.PublicKey, data []byte) (*ssh.Signature, error) {
	sig := new(ssh.Signature)
	return sig, ssh.Unmarshal(skSign(data, h.private, 1, 8), sig)
}

func TestHardwareKeySignsByTheAgent(t *testing.T) {
	record := []byte("{}\n")
	private, pub, err := skKey(4)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	socket := filepath.Join(dir, "agent")
	l, err := net.Listen("unix", socket)
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	go func() {
		for {
			c, err := l.Accept()
			if err != nil {
				return
			}
			_ = agent.ServeAgent(hardware{private: private, pub: pub}, c) // ends with the client
		}
	}()
	public := filepath.Join(dir, "key.pub")
	if err := os.WriteFile(public, []byte(Line(pub)+"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	s, done, err := Load(public, nil, socket)
	if err != nil {
		t.Fatal(err)
	}
	defer done()
	sig, err := Sign(record, s)
	if err != nil {
		t.Fatal(err)
	}
	if key, err := seal.CheckSignature(record, sig); err != nil || !bytes.Equal(key.Marshal(), pub.Marshal()) {
		t.Errorf("verify says %v", err)
	}
}

// What cannot sign by itself is told so, with what does.
func TestKeyFilesThatDoNotSign(t *testing.T) {
	_, sk, err := skKey(5)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	handle := filepath.Join(dir, "id_ed25519_sk")
	block := pem.EncodeToMemory(&pem.Block{Type: "OPENSSH PRIVATE KEY", Bytes: append([]byte("openssh-key-v1\x00"), sk.Marshal()...)})
	if err := os.WriteFile(handle, block, 0o600); err != nil {
		t.Fatal(err)
	}
	own := filepath.Join(dir, "waywright_tom")
	if _, err := New(own, "Tom", nil); err != nil {
		t.Fatal(err)
	}
	lone := filepath.Join(dir, "lone.pub")
	b, err := os.ReadFile(own + ".pub")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(lone, b, 0o644); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ path, want string }{
		{handle, "a piece of hardware"},
		{own + ".pub", "is a public key, and the private one signs: " + own},
		{lone, "is a public key, and the private one signs"},
	} {
		if _, _, err := Load(tt.path, nil, ""); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, want %q", filepath.Base(tt.path), err, tt.want)
		}
	}
}
