package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
)

// The two kinds that the journal itself knows. All others belong to the engine.
const (
	KindFormat    = "format"    // first line: [Format]
	KindRecovered = "recovered" // a half-written line was cut off: [Cut]
)

// Version is the format that this package writes and reads.
const Version = "waywright journal 1"

// ErrVersion is the error for a journal of another format. It is not damage.
var ErrVersion = errors.New("this journal is of another format")

// Format is the data of the first line: what a run is pinned to. Further fields
// may stand beside these.
type Format struct {
	Format    string    `json:"format"`
	Program   string    `json:"program"` // version of the program that began the run
	Procedure Procedure `json:"procedure"`
}

// Procedure names a procedure and the files that it was read from.
type Procedure struct {
	Name  string       `json:"name"`
	Files []PinnedFile `json:"files"`
}

// PinnedFile is a file and the hash of its bytes.
type PinnedFile struct {
	Name   string `json:"name"`
	SHA256 Hash   `json:"sha256"`
}

// Format reads the data of the first line. The error is [ErrVersion] if they
// name another format than [Version].
func (e Entry) Format() (Format, error) {
	var f Format
	if e.Kind != KindFormat {
		return f, fmt.Errorf("journal: entry %d is of kind %q, not %q", e.N, e.Kind, KindFormat)
	}
	// The version is read by itself first: another format may have other
	// fields, or these with another meaning.
	var v struct {
		Format string `json:"format"`
	}
	if err := json.Unmarshal(e.Data, &v); err != nil {
		return f, fmt.Errorf("journal: data of the first line: %w", err)
	}
	if v.Format != Version {
		return f, fmt.Errorf("%w: it names %q, and this program reads %q", ErrVersion, v.Format, Version)
	}
	if err := json.Unmarshal(e.Data, &f); err != nil {
		return f, fmt.Errorf("journal: data of the first line: %w", err)
	}
	return f, nil
}

// Cut is the data of a "recovered" entry: bytes behind the last whole line
// that were taken off and kept in a file of their own beside the journal.
type Cut struct {
	Bytes  int    `json:"bytes"`
	File   string `json:"file"`
	SHA256 Hash   `json:"sha256"` // of the bytes taken off
}

// Cut reads the data of a "recovered" entry.
func (e Entry) Cut() (Cut, error) {
	var c Cut
	if e.Kind != KindRecovered {
		return c, fmt.Errorf("journal: entry %d is of kind %q, not %q", e.N, e.Kind, KindRecovered)
	}
	if err := json.Unmarshal(e.Data, &c); err != nil {
		return c, fmt.Errorf("journal: entry %d: %w", e.N, err)
	}
	return c, nil
}

// Data returns v as the data of an entry. Unlike [json.Marshal] it leaves the
// signs <, > and & as they are, so that the journal reads well.
func Data(v any) (json.RawMessage, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return nil, fmt.Errorf("journal: %w", err)
	}
	raw := json.RawMessage(bytes.TrimRight(b.Bytes(), "\n"))
	if !strings.HasPrefix(string(raw), "{") {
		return nil, fmt.Errorf("journal: data must be an object, and a %T is not", v)
	}
	return raw, nil
}
