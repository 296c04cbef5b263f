package journalfile

import (
	"fmt"
	"io"
	"path/filepath"
	"time"

	"waywright/engine/journal"
)

// NotKept is the error for entries that could not be brought to the disk, for
// example because it is full. After it the journal takes no more entries: what
// the disk holds is only known when the journal has been opened again.
//
// Lines up to Kept are safe. The lines after it were not accepted, though
// opening may find some of them whole.
type NotKept struct {
	Path string
	Kept int   // number of the last line that is safe
	Err  error // what happened
}

func (e *NotKept) Error() string {
	kept := fmt.Sprintf("Lines 1 to %d", e.Kept)
	if e.Kept == 1 {
		kept = "Line 1"
	}
	return fmt.Sprintf("journal %s: line %d was not accepted: %v. %s and all that was accepted are safe. Put right what is wrong with the disk, then open the run again: it goes on from there",
		e.Path, e.Kept+1, e.Err, kept)
}

func (e *NotKept) Unwrap() error { return e.Err }

// Append writes entries to the end of the journal and returns when they are on
// the disk. N and Prev are filled in. It returns the entries as they were
// sealed; an entry of kind "recovered" stands before them for each torn line
// that is not recorded yet.
//
// An entry that cannot be encoded is refused, with all the others in the call,
// and the journal stays usable. Any other error is a [*NotKept], as are those
// of all later calls.
func (j *File) Append(es ...journal.Entry) ([]journal.Entry, error) {
	j.mu.Lock()
	defer j.mu.Unlock()
	if len(es) == 0 {
		return nil, j.usable()
	}
	return j.write(es, es[0].Time, es[0].By)
}

// Settle writes the entries "recovered" that the next Append would write first,
// by themselves, and returns them; none where nothing was cut off.
func (j *File) Settle(at time.Time, by string) ([]journal.Entry, error) {
	j.mu.Lock()
	defer j.mu.Unlock()
	if len(j.cuts) == 0 {
		return nil, j.usable()
	}
	return j.write(nil, at, by)
}

func (j *File) usable() error {
	if j.broken != nil {
		return &NotKept{Path: filepath.Join(j.dir, Name), Kept: j.head.N, Err: j.broken}
	}
	return nil
}

// write brings entries to the disk, with those for the cuts in front of them.
func (j *File) write(es []journal.Entry, at time.Time, by string) ([]journal.Entry, error) {
	path := filepath.Join(j.dir, Name)
	if err := j.usable(); err != nil {
		return nil, err
	}
	sealed, lines, head, err := j.seal(es, at, by)
	if err != nil {
		return nil, err
	}
	if room := MaxSize - j.size; int64(len(lines)) > room {
		return nil, fmt.Errorf("journal %s: %d more bytes do not fit: it has room for %d", path, len(lines), room)
	}
	err = j.f.still(path, j.size)
	if err == nil {
		err = writeSync(j.f, lines)
	}
	if err != nil {
		j.broken = err
		return nil, &NotKept{Path: path, Kept: j.head.N, Err: err}
	}
	j.size += int64(len(lines))
	j.head = head
	j.cuts = nil
	return sealed, nil
}

// seal chains the entries, with those for the cuts in front of them.
func (j *File) seal(es []journal.Entry, at time.Time, by string) (sealed []journal.Entry, lines []byte, head journal.Head, err error) {
	head = j.head
	var all []journal.Entry
	for _, c := range j.cuts {
		data, err := journal.Data(c)
		if err != nil {
			return nil, nil, head, err
		}
		all = append(all, journal.Entry{Time: at, By: by, Kind: journal.KindRecovered, Data: data})
	}
	for _, e := range append(all, es...) {
		e, line, next, err := head.Seal(e)
		if err != nil {
			return nil, nil, head, err
		}
		sealed, lines, head = append(sealed, e), append(lines, line...), next
	}
	return sealed, lines, head, nil
}

// writeSync writes all of b with one call and has the disk keep it.
func writeSync(f file, b []byte) error {
	n, err := f.Write(b)
	if err == nil && n < len(b) {
		err = io.ErrShortWrite
	}
	if err != nil {
		return fmt.Errorf("%w (%d of %d bytes were written)", err, n, len(b))
	}
	// A second try after a failed sync would prove nothing: the system may
	// have dropped the bytes and forgotten that it did.
	return f.Sync()
}
