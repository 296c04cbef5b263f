package logbook

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"waywright/engine/journal"
	"waywright/procedures"
)

// procedureName is the folder of a run in which the procedure's files are kept
// as they were.
const procedureName = "procedure"

// pin writes a procedure's files into a run's folder. It returns their hashes,
// and the digest over all of them: the SHA-256 of what sha256sum says of the
// files in this order.
func pin(dir string, files []procedures.File) (pinned []journal.PinnedFile, digest string, err error) {
	var list strings.Builder
	for _, f := range files {
		path, err := inside(filepath.Join(dir, procedureName), f.Name)
		if err != nil {
			return nil, "", err
		}
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			return nil, "", err
		}
		if err := writeNew(path, f.Bytes); err != nil {
			return nil, "", err
		}
		syncDir(filepath.Dir(path))
		sum := sha256.Sum256(f.Bytes)
		pinned = append(pinned, journal.PinnedFile{Name: f.Name, SHA256: sum})
		fmt.Fprintf(&list, "%x  %s\n", sum, f.Name)
	}
	sum := sha256.Sum256([]byte(list.String()))
	return pinned, hex.EncodeToString(sum[:]), nil
}

// inside returns the path of a file below a folder, for a name with slashes.
func inside(dir, name string) (string, error) {
	local, err := filepath.Localize(name)
	if err != nil || name == "." {
		return "", fmt.Errorf("%q is not the name of a file inside the folder", name)
	}
	return filepath.Join(dir, local), nil
}

// pinned reads the procedure of a run as it was when the run began.
func (r *Run) pinned() (*procedures.Procedure, error) {
	var files []procedures.File
	for _, f := range r.Format.Procedure.Files {
		path, err := inside(filepath.Join(r.Dir, procedureName), f.Name)
		if err != nil {
			return nil, fmt.Errorf("line 1 of the journal: %w", err)
		}
		b, err := readSmall(path)
		if errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("%s is missing: the run keeps to its procedure as it was. Put the file back", path)
		} else if err != nil {
			return nil, fmt.Errorf("%s: %w", path, err)
		}
		if sum := sha256.Sum256(b); sum != f.SHA256 {
			return nil, fmt.Errorf("%s was changed: the run keeps to its procedure as it was when it began, with the SHA-256 %.8s…, and this is %.8x…. Put the file back as it was, or begin another run", path, f.SHA256, sum)
		}
		files = append(files, procedures.File{Name: f.Name, Bytes: b})
	}
	return Compile(files)
}

// maxPinned is more than any procedure file that can be read has.
const maxPinned = 4 << 20

// readSmall reads a file of ordinary size.
func readSmall(path string) ([]byte, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular():
		return nil, errors.New("it is not an ordinary file")
	case info.Size() > maxPinned:
		return nil, fmt.Errorf("it is larger than %d MiB", maxPinned>>20)
	}
	return os.ReadFile(path)
}
