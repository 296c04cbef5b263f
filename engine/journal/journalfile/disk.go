package journalfile

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
)

// disk is what this package needs of a file system. The real one is osDisk;
// tests put one in its place that fills up, fails or loses power.
type disk interface {
	// open opens a file for writing. Flags are those of [os.OpenFile].
	open(name string, flag int) (file, error)
	// read returns the bytes of a regular file, or an error if it is larger
	// than max.
	read(name string, max int64) ([]byte, error)
	names(dir string) ([]string, error)
	exists(name string) (bool, error)
	rename(from, to string) error
	remove(name string) error
	// lock takes the right to write the journal in a folder; the error is a
	// [*Held] if another has it.
	lock(dir string) (unlocker, error)
	// mkdir makes a folder and those above it, so that they outlast a loss
	// of power.
	mkdir(dir string) error
	// syncDir makes the names in a folder outlast a loss of power.
	syncDir(dir string) error
}

// unlocker gives a lock back.
type unlocker interface{ unlock() error }

// file is a file open for writing.
type file interface {
	io.WriteCloser
	Sync() error
	Truncate(size int64) error
	// still reports whether the file has this size and this name.
	still(name string, size int64) error
}

type osDisk struct{}

type osFile struct{ *os.File }

// still uses what the system knows about the open file, so it costs no reading.
func (f osFile) still(name string, size int64) error {
	have, err := f.Stat()
	if err != nil {
		return err
	}
	named, err := os.Stat(name)
	if err != nil {
		return fmt.Errorf("the file was moved or removed while it was open: %w", err)
	}
	if !os.SameFile(have, named) {
		return errors.New("the file was replaced while it was open")
	}
	if have.Size() != size {
		return fmt.Errorf("another program wrote to the file while it was open: it has %d bytes, not %d", have.Size(), size)
	}
	return nil
}

func (osDisk) open(name string, flag int) (file, error) {
	f, err := os.OpenFile(name, flag, 0o666)
	if err != nil {
		return nil, err
	}
	return osFile{f}, nil
}

// read looks at what the name stands for before it opens it: opening a pipe
// would wait for a writer.
func (osDisk) read(name string, max int64) ([]byte, error) {
	info, err := os.Stat(name)
	switch {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, errors.New("it is a folder, not a file")
	case !info.Mode().IsRegular():
		return nil, errors.New("it is not an ordinary file")
	case info.Size() > max:
		return nil, tooLarge(max)
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, max+1)) // it may have grown meanwhile
	if err == nil && int64(len(b)) > max {
		return nil, tooLarge(max)
	}
	return b, err
}

func tooLarge(max int64) error {
	return fmt.Errorf("it is larger than %d MiB, which no journal is", max>>20)
}

func (osDisk) names(dir string) ([]string, error) {
	es, err := os.ReadDir(dir)
	var names []string
	for _, e := range es {
		names = append(names, e.Name())
	}
	return names, err
}

func (osDisk) exists(name string) (bool, error) {
	_, err := os.Lstat(name)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	return err == nil, err
}

func (osDisk) rename(from, to string) error { return os.Rename(from, to) }

func (osDisk) remove(name string) error { return os.Remove(name) }

func (d osDisk) mkdir(dir string) error {
	if info, err := os.Stat(dir); err == nil {
		if !info.IsDir() {
			return fmt.Errorf("%s is a file, not a folder", dir)
		}
		return nil
	} else if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if up := filepath.Dir(dir); up != dir {
		if err := d.mkdir(up); err != nil {
			return err
		}
	}
	if err := os.Mkdir(dir, 0o777); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	return d.syncDir(filepath.Dir(dir))
}

// syncDir does nothing on Windows, which has no such call.
func (osDisk) syncDir(dir string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	err = f.Sync()
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	return err
}
