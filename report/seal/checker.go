package seal

import (
	"crypto/sha256"
	"sync"

	"golang.org/x/crypto/ssh"

	"waywright/engine"
	"waywright/engine/journal"
	"waywright/procedures"
)

// Checker checks folders. It keeps what it worked out for the bytes that it met
// last, so that a folder of which one file was changed is checked again
// quickly. It may be used by several goroutines.
type Checker struct {
	o Options

	mu       sync.Mutex
	journals last[parsed]
	decoded  last[[]engine.Event]
	records  last[Rebuilt]
	signed   last[ssh.PublicKey]
}

// NewChecker returns a checker.
func NewChecker(o Options) *Checker { return &Checker{o: o} }

// Verify checks the folder of a run.
func (c *Checker) Verify(f Folder) Verdict {
	v := &verifier{f: f, o: c.o, c: c, known: map[string]bool{}}
	v.journal()
	v.times()
	files := v.procedure()
	v.record(files)
	v.evidence()
	v.signatures()
	v.forms()
	v.others()
	return v.out
}

// parsed is a journal as it was read.
type parsed struct {
	entries []journal.Entry
	tail    []byte
}

// last keeps the last few answers by the hash of what was asked. Only what was
// sound is kept: what is not is seldom met twice.
type last[T any] struct {
	keys   [4]string
	values [4]T
	next   int
}

func (l *last[T]) get(key string) (v T, ok bool) {
	for i, k := range l.keys {
		if k == key {
			return l.values[i], true
		}
	}
	return v, false
}

func (l *last[T]) put(key string, v T) {
	l.keys[l.next], l.values[l.next] = key, v
	l.next = (l.next + 1) % len(l.keys)
}

// once answers from what is kept, or works it out.
func once[T any](c *Checker, l *last[T], key string, work func() (T, error)) (T, error) {
	c.mu.Lock()
	v, ok := l.get(key)
	c.mu.Unlock()
	if ok {
		return v, nil
	}
	v, err := work()
	if err == nil {
		c.mu.Lock()
		l.put(key, v)
		c.mu.Unlock()
	}
	return v, err
}

func (c *Checker) recover(b []byte, sum string) ([]journal.Entry, []byte, error) {
	p, err := once(c, &c.journals, sum, func() (p parsed, err error) {
		p.entries, p.tail, err = journal.Recover(b)
		return p, err
	})
	return p.entries, p.tail, err
}

func (c *Checker) events(entries []journal.Entry, sum string) ([]engine.Event, error) {
	return once(c, &c.decoded, sum, func() ([]engine.Event, error) { return Events(entries) })
}

// rebuild makes the record again from files whose hashes the journal holds.
func (c *Checker) rebuild(entries []journal.Entry, files []procedures.File, sum string) (Rebuilt, error) {
	return once(c, &c.records, sum, func() (Rebuilt, error) { return Rebuild(entries, files, c.o.Compile) })
}

func (c *Checker) signature(record, sig []byte) (ssh.PublicKey, error) {
	a, b := sha256.Sum256(record), sha256.Sum256(sig)
	return once(c, &c.signed, string(a[:])+string(b[:]), func() (ssh.PublicKey, error) { return CheckSignature(record, sig) })
}
