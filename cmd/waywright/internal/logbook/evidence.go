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
	"strings"

	"waywright/engine"
)

// evidenceName is the folder of a run in which photographs and scans are kept.
const evidenceName = "evidence"

// maxEvidence is the greatest size of a file that is kept.
const maxEvidence = 1 << 30

// Attach copies a file into the run's evidence, under the hash of its bytes,
// and returns what the journal says of it. The copy is on the disk when Attach
// returns.
func (r *Run) Attach(path string) (*engine.File, error) {
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
	case info.Size() > maxEvidence:
		return nil, fmt.Errorf("it is larger than %d MiB", maxEvidence>>20)
	}
	dir := filepath.Join(r.Dir, evidenceName)
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, err
	}
	sum, size, err := keep(dir, in, strings.ToLower(filepath.Ext(path)))
	if err != nil {
		return nil, err
	}
	return &engine.File{Name: filepath.Base(path), SHA256: sum, Size: size}, nil
}

// keep copies to a file named by the hash of what it holds.
func keep(dir string, in io.Reader, ext string) (sum string, size int64, err error) {
	tmp, err := os.CreateTemp(dir, ".new-")
	if err != nil {
		return "", 0, err
	}
	defer os.Remove(tmp.Name()) // it has its name already when all went well
	h := sha256.New()
	size, err = io.Copy(io.MultiWriter(tmp, h), io.LimitReader(in, maxEvidence))
	if err == nil {
		err = tmp.Sync()
	}
	if cerr := tmp.Close(); err == nil {
		err = cerr
	}
	if err != nil {
		return "", 0, err
	}
	sum = hex.EncodeToString(h.Sum(nil))
	if err := os.Chmod(tmp.Name(), 0o644); err != nil {
		return "", 0, err
	}
	if len(ext) > 6 || plainName(ext) != strings.TrimPrefix(ext, ".") {
		ext = ""
	}
	if err := os.Rename(tmp.Name(), filepath.Join(dir, sum+ext)); err != nil {
		return "", 0, err
	}
	syncDir(dir)
	return sum, size, nil
}
