package logbook

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"waywright/procedures"
	"waywright/procedures/hclfile"
)

// Folder is the folder of a run on the disk, to be checked. Names that are not
// ordinary files are not followed.
type Folder struct {
	Dir   string
	names []string
}

// OpenFolder lists a folder.
func OpenFolder(dir string) (*Folder, error) {
	f := &Folder{Dir: dir}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, err := filepath.Rel(dir, path)
		if err == nil {
			f.names = append(f.names, filepath.ToSlash(rel))
		}
		return err
	})
	return f, err
}

// Names returns the names, with slashes.
func (f *Folder) Names() []string { return f.names }

// maxChecked is the size up to which a file is read whole.
const maxChecked = 64 << 20

// Read returns the bytes of a file.
func (f *Folder) Read(name string) ([]byte, error) {
	path, info, err := f.ordinary(name)
	if err != nil {
		return nil, err
	}
	if info.Size() > maxChecked {
		return nil, fmt.Errorf("it is larger than %d MiB", maxChecked>>20)
	}
	return os.ReadFile(path)
}

// Sum returns the hash and the size of a file of any size.
func (f *Folder) Sum(name string) (sum [sha256.Size]byte, size int64, err error) {
	path, _, err := f.ordinary(name)
	if err != nil {
		return sum, 0, err
	}
	in, err := os.Open(path)
	if err != nil {
		return sum, 0, err
	}
	defer in.Close()
	h := sha256.New()
	size, err = io.Copy(h, in)
	return [sha256.Size]byte(h.Sum(nil)), size, err
}

func (f *Folder) ordinary(name string) (string, fs.FileInfo, error) {
	path, err := inside(f.Dir, name)
	if err != nil {
		return "", nil, err
	}
	info, err := os.Lstat(path)
	if err != nil {
		return "", nil, err
	}
	if !info.Mode().IsRegular() {
		return "", nil, errors.New("it is not an ordinary file")
	}
	return path, info, nil
}

// Compile reads a procedure from its files as a run kept them.
func Compile(files []procedures.File) (*procedures.Procedure, error) {
	loaded, ds := hclfile.Pinned(files)
	if ds.HasErrors() || loaded.Procedure == nil {
		what := "it holds no procedure"
		if len(ds) > 0 {
			what = fmt.Sprintf("%s line %d: %s", ds[0].Subject.File, ds[0].Subject.Start.Line, ds[0].Detail)
		}
		return nil, fmt.Errorf("this version of the program does not understand the run's procedure: %s", what)
	}
	return loaded.Procedure, nil
}
