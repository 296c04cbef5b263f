package logbook

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/google/renameio/v2"

	"waywright/engine"
	"waywright/report/evidence"
)

// evidenceName is the folder of a run in which photographs and scans are kept.
const evidenceName = "evidence"

// Attach copies a photograph or a scan into the run's evidence, under the hash
// of its bytes, and returns what the journal says of it. What it is is told by
// what it holds, never by its name. The copy is on the disk when Attach
// returns.
func (r *Run) Attach(path string, how evidence.Keeping) (*engine.File, error) {
	in, err := os.Open(path)
	if err != nil {
		var pe *fs.PathError
		if errors.As(err, &pe) {
			err = pe.Err
		}
		return nil, err
	}
	defer in.Close()
	info, err := in.Stat()
	switch {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, errors.New("it is a folder; name one file")
	case !info.Mode().IsRegular():
		return nil, errors.New("it is not an ordinary file")
	case info.Size() > evidence.MostBytes:
		return nil, errTooLarge
	}
	b, err := io.ReadAll(io.LimitReader(in, evidence.MostBytes+1))
	switch {
	case err != nil:
		return nil, err
	case len(b) > evidence.MostBytes: // it grew meanwhile
		return nil, errTooLarge
	}
	what, err := evidence.Look(b)
	switch {
	case err != nil:
		return nil, err
	case what.Place && how == evidence.AskPlace:
		return nil, evidence.ErrSaysPlace
	}
	f := &engine.File{Name: filepath.Base(path), Type: what.Type, Place: what.Place}
	if how == evidence.NoPlace {
		bare, removed, err := evidence.Without(b)
		if err != nil {
			return nil, err
		}
		if len(removed) > 0 {
			f.Original = &engine.WasFile{SHA256: hash(b), Size: int64(len(b))}
			f.Removed, f.Place, b = removed, false, bare
		}
	}
	f.SHA256, f.Size = hash(b), int64(len(b))
	dir := filepath.Join(r.Dir, evidenceName)
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, err
	}
	if err := keep(dir, f.SHA256+what.Ext, b); err != nil {
		return nil, err
	}
	return f, nil
}

var errTooLarge = fmt.Errorf("it has more than the %d MB that are kept. Save the photograph smaller, or scan it in grey", evidence.MostBytes>>20)

func hash(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}

// keep writes a file of the evidence and waits until it is on the disk.
func keep(dir, name string, b []byte) error {
	if err := renameio.WriteFile(filepath.Join(dir, name), b, 0o644); err != nil {
		return err
	}
	syncDir(dir)
	return nil
}

// Evidence returns the bytes of a file that was kept with the run, by their
// hash; nil where it is not there.
func (r *Run) Evidence(sha256 string) []byte {
	if len(sha256) != 64 || strings.Trim(sha256, "0123456789abcdef") != "" {
		return nil
	}
	dir := filepath.Join(r.Dir, evidenceName)
	files, err := os.ReadDir(dir)
	i := slices.IndexFunc(files, func(f os.DirEntry) bool { return strings.HasPrefix(f.Name(), sha256) && f.Type().IsRegular() })
	if err != nil || i < 0 {
		return nil
	}
	f, err := os.Open(filepath.Join(dir, files[i].Name()))
	if err != nil {
		return nil
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, evidence.MostBytes+1))
	if err != nil || len(b) > evidence.MostBytes {
		return nil
	}
	return b
}
