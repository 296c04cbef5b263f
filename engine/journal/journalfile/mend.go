package journalfile

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"waywright/engine/journal"
)

// mend keeps the bytes behind the last whole line in a file of their own, cuts
// them off, and sets down which cuts the next entry has to record.
//
// Each step can be the last before the power goes. The copy is complete before
// its name is there, and the name is there before the journal is cut; a copy
// that no entry records is found by its name.
func (j *File) mend(entries []journal.Entry, tail []byte) error {
	// The lines just read may be in the system's memory only. Whoever reads
	// them takes them as kept, and a copy is named after the line that it
	// would have been, so they must be on the disk first.
	if err := j.f.Sync(); err != nil {
		return err
	}
	copies, err := j.unrecorded(entries)
	if err != nil {
		return err
	}
	if len(tail) > 0 {
		if copies, err = j.copy(copies, tail); err != nil {
			return err
		}
	}
	// A copy found may have come from a program that stopped before its name
	// was safe.
	if err := j.disk.syncDir(j.dir); err != nil {
		return err
	}
	if len(tail) > 0 {
		if err := j.cut(); err != nil {
			return err
		}
	}
	for _, c := range copies {
		j.cuts = append(j.cuts, cutOf(c.name, c.bytes))
	}
	return j.f.still(filepath.Join(j.dir, Name), j.size)
}

// copy copies the tail to a file, unless that was done already: the program
// may have stopped between the copy and the cut.
func (j *File) copy(copies []copied, tail []byte) ([]copied, error) {
	c := copied{line: j.head.N + 1, time: 1, bytes: tail}
	for _, have := range copies {
		if have.line == c.line && bytes.Equal(have.bytes, tail) {
			return copies, nil
		}
	}
	for ; ; c.time++ {
		c.name = copyName(c.line, c.time)
		there, err := j.disk.exists(filepath.Join(j.dir, c.name))
		if err != nil {
			return nil, err
		}
		if !there {
			break
		}
	}
	if err := writeWhole(j.disk, filepath.Join(j.dir, c.name), tail); err != nil {
		return nil, fmt.Errorf("the last line is torn, and its %d bytes could not be copied to %s: %w. Nothing was cut off. Put right what is wrong with the disk, then open it again", len(tail), c.name, err)
	}
	return append(copies, c), nil
}

// cut takes what is behind the last whole line off the journal.
func (j *File) cut() error {
	err := j.f.Truncate(j.size)
	if err == nil {
		err = j.f.Sync()
	}
	if err != nil {
		return fmt.Errorf("the last line is torn and could not be cut off: %w", err)
	}
	return nil
}

// copied is the file of a torn line.
type copied struct {
	name       string
	line, time int
	bytes      []byte
}

// unrecorded finds the files of torn lines that no entry speaks of, in the
// order of the lines.
func (j *File) unrecorded(entries []journal.Entry) ([]copied, error) {
	recorded := map[string]bool{}
	for _, e := range entries {
		if e.Kind != journal.KindRecovered {
			continue
		}
		c, err := e.Cut()
		if err != nil {
			return nil, err
		}
		recorded[c.File] = true
	}
	names, err := j.disk.names(j.dir)
	if err != nil {
		return nil, err
	}
	var cs []copied
	for _, name := range names {
		line, time, ok := parseCopyName(name)
		if !ok || recorded[name] || line > j.head.N+1 {
			continue
		}
		b, err := j.disk.read(filepath.Join(j.dir, name), MaxSize)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		cs = append(cs, copied{name, line, time, b})
	}
	slices.SortFunc(cs, func(a, b copied) int {
		return cmp.Or(cmp.Compare(a.line, b.line), cmp.Compare(a.time, b.time))
	})
	return cs, nil
}

// copyName names the copy of a torn line. A line is torn a second time when
// what was written in its place was torn too: journal.torn-12-2.
func copyName(line, time int) string {
	name := TornName + strconv.Itoa(line)
	if time > 1 {
		name += "-" + strconv.Itoa(time)
	}
	return name
}

func parseCopyName(name string) (line, time int, ok bool) {
	rest, ok := strings.CutPrefix(name, TornName)
	first, second, twice := strings.Cut(rest, "-")
	line, _ = strconv.Atoi(first)
	time = 1
	if twice {
		time, _ = strconv.Atoi(second)
	}
	return line, time, ok && line > 0 && time > 0 && copyName(line, time) == name
}

func cutOf(name string, b []byte) journal.Cut {
	return journal.Cut{Bytes: len(b), File: name, SHA256: sha256.Sum256(b)}
}
