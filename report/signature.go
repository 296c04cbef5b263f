package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
)

// Signature is a signature that stands beside a record, as signatures.json
// lists it and the printed forms show it. It was made over the bytes of the
// record's JSON, or is a name that somebody typed.
type Signature struct {
	Role        string `json:"role"`                  // as the procedure names it: inspector
	Name        string `json:"name"`                  // of the person
	When        string `json:"time"`                  // RFC 3339, UTC
	Statement   string `json:"statement"`             // what was signed: I accept as stated
	How         string `json:"how"`                   // [ByKey] or [ByName]
	Fingerprint string `json:"fingerprint,omitempty"` // of the key: SHA256:…
	KeyType     string `json:"key_type,omitempty"`    // as a file of allowed signers has it: ssh-ed25519
	File        string `json:"file,omitempty"`        // that holds the signature: record.json.inspector.sig
	SHA256      string `json:"sha256,omitempty"`      // of that file
	Entry       int    `json:"entry"`                 // of the journal, where it stands in it
}

// How something was signed.
const (
	ByKey  = "key"
	ByName = "typed"
)

// SignatureSpace is the namespace of signatures over a record, so that no
// signature made for another purpose counts here.
const SignatureSpace = "waywright-record"

// SignaturesFormat names the form of signatures.json and its version.
const SignaturesFormat = "waywright signatures 1"

// Signatures is what stands in signatures.json, beside a sealed record: who has
// signed its bytes, and who has not yet.
type Signatures struct {
	Format     string      `json:"format"`
	Record     string      `json:"record"` // its number
	SHA256     string      `json:"sha256"` // of record.json, as it was sealed
	Sealed     Stamp       `json:"sealed"` // when, and by which line of the journal
	Signatures []Signature `json:"signatures"`
	Missing    []string    `json:"missing"` // roles that have not signed
}

// MarshalSignatures returns the one form of signatures.json.
func MarshalSignatures(s Signatures) ([]byte, error) {
	s.Format = SignaturesFormat
	present(&s.Signatures)
	present(&s.Missing)
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(s); err != nil {
		return nil, fmt.Errorf("report: %w", err)
	}
	return b.Bytes(), nil
}

// ParseSignatures reads a signatures.json. The error is [ErrFormat] if it is of
// a form that this program does not know.
func ParseSignatures(b []byte) (Signatures, error) {
	var s Signatures
	dec := json.NewDecoder(bytes.NewReader(b))
	if err := dec.Decode(&s); err != nil {
		return s, fmt.Errorf("report: not a list of signatures: %w", err)
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return s, errors.New("report: not a list of signatures: something follows it")
	}
	if s.Format != SignaturesFormat {
		return s, fmt.Errorf("%w: %q, want %q", ErrFormat, s.Format, SignaturesFormat)
	}
	return s, nil
}
