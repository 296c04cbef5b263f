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
	"sync"

	"waywright/engine"
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

// Kept keeps the procedures of runs that were read, by their files' hashes: in a
// logbook many runs are of one procedure, and what one of them has worked out of
// its readings is known to the next. Nil keeps nothing.
type Kept struct {
	mu sync.Mutex
	of map[string]*engine.Plan
}

// NewKept returns an empty store.
func NewKept() *Kept { return &Kept{of: map[string]*engine.Plan{}} }

// plan returns the plan of a procedure from its files.
func (p *Kept) plan(files []procedures.File) (*engine.Plan, error) {
	if p == nil {
		proc, err := Compile(files)
		if err != nil {
			return nil, err
		}
		return engine.NewPlan(proc), nil
	}
	var key strings.Builder
	for _, f := range files {
		fmt.Fprintf(&key, "%x  %s\n", sha256.Sum256(f.Bytes), f.Name)
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if plan, ok := p.of[key.String()]; ok {
		return plan, nil
	}
	plan, err := (*Kept)(nil).plan(files)
	if err == nil {
		p.of[key.String()] = plan
	}
	return plan, err
}

// pinned reads the files of a run's procedure as they were when the run began.
func (r *Run) pinned() ([]procedures.File, error) {
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
	return files, nil
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
