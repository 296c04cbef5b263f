// Package seal holds what a record is believed by: it makes a sealed record and
// its list of signatures again from the journal, checks signatures, and says of
// every file of a run whether it is as it was.
//
// It reads no files itself: a [Folder] gives them. Signatures are those of
// OpenSSH (SSHSIG, in armour), in the namespace [report.SignatureSpace], over
// the bytes of record.json; ssh-keygen -Y verify checks them without this
// program. Whose a key is cannot be told from the folder: that takes a list of
// signers from elsewhere, or a telephone.
package seal

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"

	"waywright/engine"
	"waywright/engine/journal"
	"waywright/procedures"
	"waywright/report"
)

// Names in a run's folder.
const (
	JournalName    = "journal.jsonl"
	RecordName     = "record.json"
	SignaturesName = "signatures.json"
	ProcedureDir   = "procedure/"
	EvidenceDir    = "evidence/"
)

// Folder is the folder of a run. Names have slashes.
type Folder interface {
	Names() []string
	Read(name string) ([]byte, error) // wraps fs.ErrNotExist where it is not there
	Sum(name string) (sum [sha256.Size]byte, size int64, err error)
}

// Files is a folder in memory.
type Files map[string][]byte

// Names returns the names in order.
func (f Files) Names() []string { return slices.Sorted(maps.Keys(f)) }

// Read returns the bytes of a file.
func (f Files) Read(name string) ([]byte, error) {
	b, ok := f[name]
	if !ok {
		return nil, fmt.Errorf("%s: %w", name, fs.ErrNotExist)
	}
	return b, nil
}

// Sum returns the hash and the size of a file.
func (f Files) Sum(name string) (sum [sha256.Size]byte, size int64, err error) {
	b, err := f.Read(name)
	return sha256.Sum256(b), int64(len(b)), err
}

// Rebuilt is what a journal and its procedure give.
type Rebuilt struct {
	State      *engine.State
	Issue      report.Issue
	Signatures []byte // signatures.json; nil where the run is not sealed
}

// Compile makes the model of a procedure from its files as they were kept.
type Compile func([]procedures.File) (*procedures.Procedure, error)

// Rebuild makes the record of a run again from its journal and its procedure's
// files.
func Rebuild(entries []journal.Entry, files []procedures.File, compile Compile) (Rebuilt, error) {
	proc, err := compile(files)
	if err != nil {
		return Rebuilt{}, err
	}
	events, err := Events(entries)
	if err != nil {
		return Rebuilt{}, err
	}
	s, err := engine.Fold(engine.NewPlan(proc), events)
	if err != nil {
		return Rebuilt{}, fmt.Errorf("the journal does not fit the procedure's files: %w", err)
	}
	return Of(s, entries)
}

// Of makes the record and the list of signatures of a run that was folded from
// these lines.
func Of(s *engine.State, entries []journal.Entry) (out Rebuilt, err error) {
	out.State = s
	if out.Issue, err = report.NewIssue(s, Heads(entries), len(entries)); err != nil {
		return out, err
	}
	if s.Seal() != nil {
		out.Signatures, err = report.MarshalSignatures(report.SignaturesOf(s, out.Issue))
	}
	return out, err
}

// Heads gives the hash of each line of a journal, hexadecimal; "" where there
// is no such line.
func Heads(entries []journal.Entry) func(line int) string {
	return func(line int) string {
		if line < 1 || line > len(entries) {
			return ""
		}
		if line < len(entries) {
			return entries[line].Prev.String()
		}
		head, err := journal.HeadOf(entries)
		if err != nil {
			return ""
		}
		return head.Hash.String()
	}
}

// Events turns the lines of a journal into the events of the engine. The error
// names the first line that is not understood.
func Events(entries []journal.Entry) ([]engine.Event, error) {
	var out []engine.Event
	for _, e := range entries {
		if e.Kind == journal.KindFormat || e.Kind == journal.KindRecovered {
			continue
		}
		d, err := engine.Decode(e.Kind, e.Data)
		if err != nil {
			return nil, fmt.Errorf("line %d: %s. A newer version of the program may have written it", e.N, strings.TrimPrefix(err.Error(), "engine: "))
		}
		out = append(out, engine.Event{N: e.N, Time: e.Time, By: e.By, Data: d})
	}
	return out, nil
}

// Sealed returns what the seal of a run holds whose journal ends here.
func Sealed(s *engine.State, head string, lines int, program string) (engine.Sealed, error) {
	if s.Seal() != nil {
		return engine.Sealed{}, errors.New("seal: the run is sealed")
	}
	b, err := report.Marshal(report.Build(s, head, lines))
	if err != nil {
		return engine.Sealed{}, err
	}
	return engine.Sealed{Digest: fmt.Sprintf("%x", sha256.Sum256(b)), Lines: lines, Program: program}, nil
}
