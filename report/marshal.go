package report

import (
	"bytes"
	"crypto/sha256"
	_ "embed" // the schema
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
)

// SchemaID is the $id of the JSON Schema of a record.
const SchemaID = "urn:waywright:schema:record-2"

//go:embed schema/record-2.schema.json
var schema []byte

//go:embed schema/record-1.schema.json
var firstSchema []byte

// Schema returns the JSON Schema (2020-12) that every record keeps to.
func Schema() []byte { return slices.Clone(schema) }

// FirstSchema returns the JSON Schema of [FirstFormat].
func FirstSchema() []byte { return slices.Clone(firstSchema) }

// Marshal returns the one form of the record's JSON: two blanks a level, the
// properties in the order of the types here, no escapes that JSON does not
// ask for, a newline at the end. Signatures are over these bytes.
//
// It is an error if the record holds a number that is not finite, which
// [Build] never puts there.
func Marshal(r Record) ([]byte, error) {
	fill(&r)
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(r); err != nil {
		return nil, fmt.Errorf("report: %w", err)
	}
	return b.Bytes(), nil
}

// Digest returns the SHA-256 of the record's JSON, hexadecimal.
func Digest(r Record) (string, error) {
	b, err := Marshal(r)
	if err != nil {
		return "", err
	}
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:]), nil
}

// Parse reads a record's JSON, of [FirstFormat] too. The error is [ErrFormat] if it is of a form
// that this program does not know.
func Parse(b []byte) (Record, error) {
	var head struct {
		Format string `json:"format"`
	}
	if err := json.Unmarshal(b, &head); err != nil {
		return Record{}, fmt.Errorf("report: not a record: %w", err)
	}
	if head.Format != Format && head.Format != FirstFormat {
		return Record{}, fmt.Errorf("%w: %q, want %q", ErrFormat, head.Format, Format)
	}
	var r Record
	dec := json.NewDecoder(bytes.NewReader(b))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&r); err != nil {
		return Record{}, fmt.Errorf("report: not a record: %w", err)
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return Record{}, errors.New("report: not a record: something follows it")
	}
	fill(&r)
	return r, nil
}

// ErrFormat is the error of a record in a form that is not known here.
var ErrFormat = errors.New("report: unknown form of record")

// fill makes every list of the record present, so that "none" is said.
func fill(r *Record) {
	present(&r.Tests)
	present(&r.Roles)
	present(&r.Sittings)
	present(&r.Givens)
	present(&r.Readings)
	present(&r.Results)
	present(&r.Instruments)
	present(&r.Confirms)
	present(&r.Cautions)
	present(&r.Releases)
	present(&r.Waits)
	present(&r.Metal)
	present(&r.Concessions)
	present(&r.Amendments)
	present(&r.Withdrawals)
	present(&r.Disturbed)
	present(&r.Unmeasured)
	present(&r.Notes)
	present(&r.Procedure.Files)
	// The lists inside are filled in copies: the caller's stay as they were.
	r.Tests = slices.Clone(r.Tests)
	for i := range r.Tests {
		present(&r.Tests[i].Attempts)
	}
	r.Readings = slices.Clone(r.Readings)
	for i := range r.Readings {
		r.Readings[i].Places = slices.Clone(r.Readings[i].Places)
		present(&r.Readings[i].Places)
		for j := range r.Readings[i].Places {
			present(&r.Readings[i].Places[j].Takes)
		}
	}
}

func present[T any](list *[]T) {
	if *list == nil {
		*list = []T{}
	}
}
