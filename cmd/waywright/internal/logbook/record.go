package logbook

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/google/renameio/v2"

	"waywright/engine"
	"waywright/engine/journal"
	"waywright/engine/journal/journalfile"
	"waywright/report"
	"waywright/report/document"
	"waywright/report/html"
	"waywright/report/pdf"
	"waywright/report/seal"
)

// The printed forms of a run's record, made from its journal.
const (
	pageName   = "record.html"
	sheetsName = "record.pdf"
)

// Form is a printed form of a record, or a table of it, with the name of its
// file in the run's folder.
type Form struct {
	Name string
	Data []byte
}

// printed are the forms that every run has beside its journal.
var printed = []struct {
	name  string
	write func(io.Writer, document.Document, pdf.Paper) error
}{
	{pageName, func(w io.Writer, d document.Document, _ pdf.Paper) error { return html.Render(w, d) }},
	{sheetsName, pdf.Render},
}

// Issue makes the record of a run with what stands beside it. Of a sealed run
// the record is the one that was sealed: as it stands on the disk, or where that
// is another one or is not there, as the journal gives it.
func (r *Run) Issue() (report.Issue, error) {
	i, err := r.issue()
	i.Since, i.ReplacedBy, i.Evidence = r.Since, r.ReplacedBy, r.Evidence
	if err == nil && !i.Sealed && len(i.Since) > 0 {
		i.Record = i.Record.SpoiltSince(i.Since)
		i.JSON, err = report.Marshal(i.Record)
	}
	return i, err
}

func (r *Run) issue() (report.Issue, error) {
	sealed := r.State.Seal()
	if sealed != nil {
		b, err := os.ReadFile(filepath.Join(r.Dir, seal.RecordName))
		if i, ok := report.SealedIssue(r.State, b); err == nil && ok {
			return i, nil
		}
	}
	i, err := report.NewIssue(r.State, seal.Heads(r.entries), len(r.entries))
	switch {
	case err != nil:
		return i, fmt.Errorf("run %s: %w", r.Name, err)
	case sealed != nil && i.Digest() != sealed.Digest:
		return i, fmt.Errorf("run %s: its record was sealed with the SHA-256 %.8s…, and %s is another one; this version of the program cannot make it again. Put back a copy of record.json that is whole, or use version %s of the program",
			r.Name, sealed.Digest, filepath.Join(r.Dir, seal.RecordName), sealed.Program)
	}
	return i, nil
}

// Record makes the record of a run as it is shown, with its signatures and with
// what was done since.
func (r *Run) Record() report.Record {
	i, err := r.Issue()
	if err != nil { // the journal has it all the same
		i.Since = r.Since
	}
	return i.Shown()
}

// seals says what the seal of the run holds as it stands.
func (r *Run) seals(s *engine.State) (engine.Sealed, error) {
	head := r.file.Head()
	return seal.Sealed(s, head.Hash.String(), head.N, r.program)
}

// WriteRecord writes the record into the run's folder, as JSON, as a page and
// on sheets of paper, and returns the names of the files. Each is there whole, the old one or the
// new one. A sealed record.json stays as it is, and its signatures are listed
// beside it.
func (r *Run) WriteRecord() (files []string, err error) {
	i, err := r.Issue()
	if err != nil {
		return nil, err
	}
	d, err := document.OfIssue(i)
	if err != nil {
		return nil, fmt.Errorf("run %s: %w", r.Name, err)
	}
	path, err := r.put(seal.RecordName, i.JSON)
	if err != nil {
		return nil, err
	}
	files = append(files, path)
	if i.Sealed {
		list, err := report.MarshalSignatures(report.SignaturesOf(r.State, i))
		if err != nil {
			return files, fmt.Errorf("run %s: %w", r.Name, err)
		}
		if path, err = r.put(seal.SignaturesName, list); err != nil {
			return files, err
		}
		files = append(files, path)
	}
	var forms []Form
	for _, f := range printed {
		var b bytes.Buffer
		if err := f.write(&b, d, r.Paper); err != nil {
			return files, fmt.Errorf("run %s: %w", r.Name, err)
		}
		forms = append(forms, Form{f.name, b.Bytes()})
	}
	more, err := r.WriteForms(forms...)
	return append(files, more...), err
}

// WriteForms writes forms of the record into the run's folder. Of a sealed run
// the journal keeps their hashes first, so that a changed form is found.
func (r *Run) WriteForms(forms ...Form) (files []string, err error) {
	if err := r.issued(forms); err != nil {
		return nil, err
	}
	for _, f := range forms {
		path, err := r.put(f.Name, f.Data)
		if err != nil {
			return files, err
		}
		files = append(files, path)
	}
	return files, nil
}

// issued keeps in the journal of a sealed run which forms are made of it, as
// far as it does not say so already.
func (r *Run) issued(forms []Form) error {
	if r.State.Seal() == nil {
		return nil
	}
	newest := map[string]string{}
	for _, f := range r.State.Issued() {
		newest[f.Name] = f.SHA256
	}
	var fresh []engine.File
	for _, f := range forms {
		if sum := fmt.Sprintf("%x", sha256.Sum256(f.Data)); newest[f.Name] != sum {
			fresh = append(fresh, engine.File{Name: f.Name, SHA256: sum, Size: int64(len(f.Data))})
		}
	}
	if len(fresh) == 0 {
		return nil
	}
	return r.Append(engine.Issued{Files: fresh})
}

// Append keeps an event that nobody typed in the journal. A run that was only
// read is opened for it, and must be as it was when it was read.
func (r *Run) Append(d engine.Data) (err error) {
	if r.file == nil {
		f, entries, _, err := journalfile.Open(r.Dir)
		if err != nil {
			return err
		}
		if f.Head() != r.Head {
			return errors.Join(fmt.Errorf("run %s: its journal has grown just now. Say the command again", r.Name), f.Close())
		}
		r.file, r.entries = f, entries
		defer func() {
			err = errors.Join(err, f.Close())
			r.file = nil
		}()
	}
	s := r.Session()
	if _, err := s.Record(d); err != nil {
		return err
	}
	r.Now(s.State())
	return nil
}

// put writes a file of the run's folder, unless it holds that already.
func (r *Run) put(name string, data []byte) (path string, err error) {
	path = filepath.Join(r.Dir, name)
	switch old, err := os.ReadFile(path); {
	case err == nil && bytes.Equal(old, data):
		return path, nil
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return "", fmt.Errorf("run %s: %w", r.Name, err)
	}
	if err := renameio.WriteFile(path, data, 0o666); err != nil {
		return "", fmt.Errorf("run %s: its record cannot be written: %w. The journal has everything; make the record again with: waywright report %s", r.Name, err, r.Name)
	}
	return path, nil
}

// Settle writes down the torn lines that the journal has not recorded yet, so
// that what is sealed next stands right behind what is there.
func (r *Run) Settle(by string) error {
	if r.file == nil {
		return nil
	}
	entries, err := r.file.Settle(r.now(), by)
	r.entries = append(r.entries, entries...)
	r.Head = r.file.Head()
	return err
}

// Lines returns the lines of the journal.
func (r *Run) Lines() []journal.Entry { return r.entries }

// WriteSignature writes the signature of a role beside the record, and returns
// the name of its file. It takes the place of one that no line of the journal
// knows: the program stopped before.
func (r *Run) WriteSignature(role string, sig []byte) (name string, err error) {
	name = seal.SignatureFile(role)
	if strings.ContainsAny(role, `/\`) {
		return "", fmt.Errorf("run %s: %q is no role", r.Name, role)
	}
	_, err = r.put(name, sig)
	return name, err
}
