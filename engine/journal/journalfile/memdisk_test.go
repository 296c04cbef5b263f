package journalfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
)

var (
	errPower = errors.New("the power is gone")
	errFault = errors.New("no space left on device")
)

// memDisk is a file system in memory that fails on demand, and that forgets
// what it was not told to keep.
//
// What outlasts a loss of power is the content that a file had at its last
// Sync and the names that a folder had at its last syncDir. Of what was done
// since, any part may have reached the disk, each file and each name for
// itself: see lose. Real file systems keep more order than that.
type memDisk struct {
	now  map[string]*memFile // names as a program sees them
	kept map[string]*memFile // names as they were at the last syncDir

	ops     int  // calls until something happens; none if negative
	power   bool // the loss lasts until lose
	part    int  // bytes of a failing write that are written all the same
	holding bool // the lock
	calls   []string
}

type memFile struct {
	now, kept []byte
}

func newMemDisk() *memDisk {
	return &memDisk{now: map[string]*memFile{}, kept: map[string]*memFile{}, ops: -1}
}

// step counts a call and tells whether it fails.
func (d *memDisk) step(call string) error {
	if d.power && d.ops == 0 {
		return errPower
	}
	d.calls = append(d.calls, call)
	if d.ops < 0 {
		return nil
	}
	if d.ops > 0 {
		d.ops--
	}
	if d.ops > 0 {
		return nil
	}
	if d.power {
		return errPower
	}
	d.ops = -1
	return fmt.Errorf("%s: %w", call, errFault)
}

// lose is a loss of power. pick(n) chooses one of 0 to n−1.
func (d *memDisk) lose(pick func(n int) int) {
	names := map[string]*memFile{}
	all := maps.Clone(d.kept)
	maps.Copy(all, d.now)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		f := d.kept[name]
		if g := d.now[name]; g != f && pick(2) == 1 {
			f = g
		}
		if f != nil {
			names[name] = f
		}
	}
	for _, name := range slices.Sorted(maps.Keys(names)) {
		f := names[name]
		f.now = f.after(pick)
		f.kept = bytes.Clone(f.now)
	}
	d.now, d.kept = names, maps.Clone(names)
	d.restart()
}

// after chooses what is left of a file.
func (f *memFile) after(pick func(n int) int) []byte {
	if !bytes.HasPrefix(f.now, f.kept) { // it was cut off
		return bytes.Clone([][]byte{f.now, f.kept}[pick(2)])
	}
	b := bytes.Clone(f.now[:len(f.kept)+pick(len(f.now)-len(f.kept)+1)])
	if pick(4) == 0 { // made longer, and the bytes did not come
		clear(b[len(f.kept):])
	}
	return b
}

// restart is the end of a program that does not take the power with it.
func (d *memDisk) restart() {
	d.ops, d.power, d.holding = -1, false, false
	d.calls = nil
}

func (d *memDisk) open(name string, flag int) (file, error) {
	if err := d.step("open " + path.Base(name)); err != nil {
		return nil, err
	}
	f := d.now[name]
	if f == nil {
		if flag&os.O_CREATE == 0 {
			return nil, fs.ErrNotExist
		}
		f = &memFile{}
		d.now[name] = f
	}
	if flag&os.O_TRUNC != 0 {
		f.now = nil
	}
	return &memHandle{d, f, path.Base(name)}, nil
}

func (d *memDisk) read(name string, max int64) ([]byte, error) {
	if err := d.step("read " + path.Base(name)); err != nil {
		return nil, err
	}
	if f := d.now[name]; f != nil {
		return bytes.Clone(f.now), nil
	}
	return nil, fs.ErrNotExist
}

func (d *memDisk) names(dir string) ([]string, error) {
	if err := d.step("names"); err != nil {
		return nil, err
	}
	var names []string
	for name := range d.now {
		if filepath.Dir(name) == dir {
			names = append(names, filepath.Base(name))
		}
	}
	slices.Sort(names)
	return names, nil
}

func (d *memDisk) exists(name string) (bool, error) {
	if err := d.step("exists " + path.Base(name)); err != nil {
		return false, err
	}
	return d.now[name] != nil, nil
}

func (d *memDisk) rename(from, to string) error {
	if err := d.step("rename " + path.Base(from) + " " + path.Base(to)); err != nil {
		return err
	}
	d.now[to] = d.now[from]
	delete(d.now, from)
	return nil
}

func (d *memDisk) remove(name string) error {
	if err := d.step("remove " + path.Base(name)); err != nil {
		return err
	}
	delete(d.now, name)
	return nil
}

func (d *memDisk) mkdir(string) error { return d.step("mkdir") }

func (d *memDisk) syncDir(string) error {
	if err := d.step("syncDir"); err != nil {
		return err
	}
	d.kept = maps.Clone(d.now)
	return nil
}

func (d *memDisk) lock(dir string) (unlocker, error) {
	if err := d.step("lock"); err != nil {
		return nil, err
	}
	if d.holding {
		return nil, &Held{Path: dir}
	}
	d.holding = true
	return memLock{d}, nil
}

type memLock struct{ d *memDisk }

func (l memLock) unlock() error { l.d.holding = false; return nil }

type memHandle struct {
	d    *memDisk
	f    *memFile
	name string
}

func (h *memHandle) Write(b []byte) (int, error) {
	if err := h.d.step("write " + h.name); err != nil {
		n := min(h.d.part, len(b))
		h.f.now = append(h.f.now, b[:n]...)
		h.d.part = 0
		return n, err
	}
	h.f.now = append(h.f.now, b...)
	return len(b), nil
}

func (h *memHandle) Sync() error {
	if err := h.d.step("sync " + h.name); err != nil {
		return err
	}
	h.f.kept = bytes.Clone(h.f.now)
	return nil
}

func (h *memHandle) Truncate(size int64) error {
	if err := h.d.step("truncate " + h.name); err != nil {
		return err
	}
	h.f.now = bytes.Clone(h.f.now[:size])
	return nil
}

func (h *memHandle) still(name string, size int64) error {
	if err := h.d.step("still " + h.name); err != nil {
		return err
	}
	if h.d.now[name] != h.f || int64(len(h.f.now)) != size {
		return errors.New("the file is not as it was left")
	}
	return nil
}

func (h *memHandle) Close() error { return nil }

var _ io.Writer = (*memHandle)(nil)
