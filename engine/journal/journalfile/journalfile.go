// Package journalfile keeps a journal on disk: one writer, any number of
// readers, and every entry on the disk before the program goes on.
//
// A run's folder holds
//
//	journal.jsonl    the journal, in the form that package journal describes
//	journal.lock     who is writing it: process id and computer
//	journal.torn-12  the bytes of a line 12 that was being written when the
//	                 program or the machine stopped
//
// # What is promised
//
// When [Create] or [File.Append] returns without an error, its entries are on
// the disk: they were written whole, at the end of the file, and the disk was
// told to keep them. A kill, a crash, a full disk or a loss of power
// afterwards does not take them away, and one in the middle leaves at worst a
// last line without a line feed. What was written is never written again;
// nothing is ever overwritten.
//
// # A torn line
//
// Nobody was told that a torn line was kept, so it was not. [Open] copies its
// bytes to a file of their own, and cuts them off when that file is safe. The
// entry "recovered" ([journal.Cut]) that says so is written by the first
// Append after that, in front of its entries, with their time and author:
// this package has neither of its own. If the program stops before then, the
// next Open finds the file and the Append after it makes the entry.
//
// Where one Append had several entries, the first of them may have been kept
// whole and the rest not. What must not be torn apart belongs in one entry.
//
// # Limits
//
// The lock is the system's, and some network shares grant it to two at once.
// Append looks whether the file is still as it left it, and stops if not; that
// makes damage less likely and not impossible. A disk that says that it has
// kept what it has not cannot be found out here.
package journalfile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"waywright/engine/journal"
)

// Names in a run's folder.
const (
	Name     = "journal.jsonl"
	LockName = "journal.lock"
	TornName = "journal.torn-" // followed by the number of the line
)

// MaxSize is the greatest size of a journal in bytes. A run of a thousand
// readings needs less than a hundredth of it.
const MaxSize = 64 << 20

// ErrNotBegun is the error for a journal without a whole line: nothing was
// ever recorded in it.
var ErrNotBegun = errors.New("the journal holds no whole line: nothing was recorded in it. Begin the run again, in another folder")

// Notice is what a person should be told about a journal that was opened. The
// zero Notice is nothing to tell.
type Notice struct {
	// Cuts are the torn lines that no entry records yet. For [Read], which
	// cuts nothing, File is empty.
	Cuts []journal.Cut
}

// String says it in sentences, or is empty.
func (n Notice) String() string {
	var s []string
	for _, c := range n.Cuts {
		bytes := fmt.Sprintf("%d bytes", c.Bytes)
		if c.Bytes == 1 {
			bytes = "1 byte"
		}
		if c.File == "" {
			s = append(s, fmt.Sprintf("The last line of the journal is not complete (%s): it is being written just now, or the program stopped in the middle of it. It is left out.", bytes))
			continue
		}
		s = append(s, fmt.Sprintf("The program stopped while it wrote the last line of the journal. That line had not been accepted: its %s were cut off and kept in %s.", bytes, c.File))
	}
	return strings.Join(s, "\n")
}

// File is a journal open for writing. Its methods may be called from several
// goroutines.
type File struct {
	dir  string
	disk disk
	lock unlocker

	mu     sync.Mutex
	f      file
	size   int64
	head   journal.Head
	cuts   []journal.Cut // not yet recorded
	broken error         // why nothing more can be appended
}

// Create begins a journal in a folder, which is made if it is not there. The
// first entry is of kind "format". The entries returned are that one, as it was
// sealed.
//
// The error wraps [fs.ErrExist] if the folder holds a journal, and is a [*Held]
// if another program is making one.
func Create(dir string, first journal.Entry) (*File, []journal.Entry, error) {
	return create(osDisk{}, dir, first)
}

func create(d disk, dir string, first journal.Entry) (_ *File, _ []journal.Entry, err error) {
	dir = filepath.Clean(dir)
	sealed, line, head, err := journal.Head{}.Seal(first)
	if err != nil {
		return nil, nil, err
	}
	path := filepath.Join(dir, Name)
	if err := d.mkdir(dir); err != nil {
		return nil, nil, fmt.Errorf("begin journal %s: %w. Nothing was recorded", path, err)
	}
	l, err := d.lock(dir)
	if err != nil {
		return nil, nil, lockError("begin", path, err)
	}
	defer func() {
		if err != nil {
			l.unlock()
		}
	}()
	if there, err := d.exists(path); err != nil {
		return nil, nil, fmt.Errorf("begin journal %s: %w", path, err)
	} else if there {
		return nil, nil, fmt.Errorf("begin journal %s: %w. Go on with that run, or begin one in another folder", path, fs.ErrExist)
	}
	// The file gets its name when its first line is safe, so a journal never
	// lacks its first line.
	if err := writeWhole(d, path, line); err != nil {
		return nil, nil, fmt.Errorf("begin journal %s: %w. Nothing was recorded", path, err)
	}
	f, err := d.open(path, os.O_WRONLY|os.O_APPEND)
	if err != nil {
		return nil, nil, fmt.Errorf("begin journal %s: %w", path, err)
	}
	return &File{dir: dir, disk: d, lock: l, f: f, size: int64(len(line)), head: head}, []journal.Entry{sealed}, nil
}

// writeWhole makes a file that is there with all its bytes or not at all.
func writeWhole(d disk, path string, b []byte) error {
	f, err := d.open(path+".new", os.O_WRONLY|os.O_CREATE|os.O_TRUNC)
	if err != nil {
		return err
	}
	err = writeSync(f, b)
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err == nil {
		err = d.rename(path+".new", path)
	}
	if err != nil {
		_ = d.remove(path + ".new") // only to be tidy: the next try begins it afresh
		return err
	}
	return d.syncDir(filepath.Dir(path))
}

// Open opens a journal to go on with it. It returns the entries so far, and in
// the notice what was cut off and is not recorded yet.
//
// The error is a [*Held] if another writer has it open, and wraps a
// [*journal.Damage], [journal.ErrVersion] or [ErrNotBegun]; then nothing was
// changed.
func Open(dir string) (*File, []journal.Entry, Notice, error) {
	return open(osDisk{}, dir)
}

func open(d disk, dir string) (_ *File, entries []journal.Entry, _ Notice, err error) {
	dir = filepath.Clean(dir)
	path := filepath.Join(dir, Name)
	fail := func(err error) (*File, []journal.Entry, Notice, error) {
		return nil, nil, Notice{}, fmt.Errorf("open journal %s: %w", path, err)
	}
	// Read before a lock file is made where there is no journal.
	if _, err := d.read(path, MaxSize); err != nil {
		return fail(err)
	}
	l, err := d.lock(dir)
	if err != nil {
		return nil, nil, Notice{}, lockError("open", path, err)
	}
	defer func() {
		if err != nil {
			l.unlock()
		}
	}()
	b, err := d.read(path, MaxSize)
	if err != nil {
		return fail(err)
	}
	entries, tail, err := journal.Recover(b)
	if err != nil {
		return fail(err)
	}
	if len(entries) == 0 {
		return fail(ErrNotBegun)
	}
	head, err := journal.HeadOf(entries)
	if err != nil {
		return fail(err)
	}
	f, err := d.open(path, os.O_WRONLY|os.O_APPEND)
	if err != nil {
		return fail(fmt.Errorf("%w. It can be read, but not gone on with", err))
	}
	j := &File{dir: dir, disk: d, lock: l, f: f, head: head, size: int64(len(b) - len(tail))}
	if err := j.mend(entries, tail); err != nil {
		f.Close()
		return fail(err)
	}
	return j, entries, Notice{Cuts: append([]journal.Cut(nil), j.cuts...)}, nil
}

func lockError(doing, path string, err error) error {
	if held := new(Held); errors.As(err, &held) {
		return err
	}
	return fmt.Errorf("%s journal %s: its lock cannot be taken: %w. Nothing was changed. Only a folder that may be written to can hold a run that goes on", doing, path, err)
}

// Read reads a journal without a lock, also while another program writes to it.
// It changes nothing. A last line that is not complete is left out and noticed.
// With a [*journal.Damage] come the entries before it.
func Read(path string) ([]journal.Entry, Notice, error) {
	b, err := osDisk{}.read(path, MaxSize)
	if err != nil {
		return nil, Notice{}, fmt.Errorf("read journal %s: %w", path, err)
	}
	entries, tail, err := journal.Recover(b)
	if err == nil && len(entries) == 0 {
		err = ErrNotBegun
	}
	if err != nil {
		return entries, Notice{}, fmt.Errorf("read journal %s: %w", path, err)
	}
	var n Notice
	if len(tail) > 0 {
		n.Cuts = []journal.Cut{cutOf("", tail)}
	}
	return entries, n, nil
}

// Head returns the head of what is on the disk.
func (j *File) Head() journal.Head {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.head
}

// Next returns the number that the next entry of an Append will have: one more
// than the last, and one for each torn line that Append will record first.
func (j *File) Next() int {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.head.N + len(j.cuts) + 1
}

// Dir returns the folder of the journal.
func (j *File) Dir() string { return j.dir }

// Close ends writing and lets others write. Everything appended is on the disk
// already.
func (j *File) Close() error {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.f == nil {
		return nil
	}
	err := j.f.Close()
	j.f = nil
	j.broken = errors.New("the journal is closed")
	if lerr := j.lock.unlock(); err == nil {
		err = lerr
	}
	if err != nil {
		return fmt.Errorf("close journal %s: %w", filepath.Join(j.dir, Name), err)
	}
	return nil
}
