//go:build unix

package journalfile

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"

	"waywright/engine/journal"
)

const (
	kills    = 240
	perRun   = 12 // kills of one journal
	killSeed = 20260302
)

// A process that appends as fast as it can is killed 240 times, at any moment of
// starting, beginning, mending or writing. No line that it was told is kept may
// be missing or changed afterwards.
//
// Now and then the half of a line is put behind the journal in between, as a
// loss of power leaves it, so that the next process is killed while it cuts it
// off.
func TestKillAtAnyMoment(t *testing.T) {
	rng := rand.New(rand.NewPCG(killSeed, 0))
	var relied, byKill, byHand int
	for range kills / perRun {
		dir := filepath.Join(t.TempDir(), "run")
		told := map[int]string{} // number and hash of each line that was accepted
		put := 0                 // bytes torn by hand that the journal still ends in
		for range perRun {
			before := len(told)
			killOne(t, dir, told, rng)
			relied += len(told) - before

			entries, tail := survived(t, dir, told)
			if tail != 0 && tail != put {
				byKill++
			}
			put = tail
			if len(entries) > 0 && tail == 0 && rng.IntN(3) == 0 {
				put = tear(t, dir, entries, rng)
				byHand++
			}
		}
		lastOpen(t, dir)
	}
	t.Logf("%d lines accepted over %d kills; %d writes torn by a kill, %d by hand", relied, kills, byKill, byHand)
	if relied < kills {
		t.Errorf("only %d lines were accepted over %d kills: this proves too little", relied, kills)
	}
}

// killOne runs the process and kills it: one time in three some milliseconds
// after its start, perhaps before it has done anything, and else a moment after
// it has accepted some lines.
func killOne(t *testing.T, dir string, told map[int]string, rng *rand.Rand) {
	t.Helper()
	cmd := child(t, "append", dir)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	kill := func() { cmd.Process.Kill() }
	lines, after := 1+rng.IntN(20), time.Duration(rng.IntN(3000))*time.Microsecond
	if rng.IntN(3) == 0 {
		lines, after = 0, time.Duration(rng.IntN(15_000))*time.Microsecond
		time.AfterFunc(after, kill)
	}
	sc := bufio.NewScanner(out)
	for n := 0; sc.Scan(); n++ {
		var line int
		var hash string
		if _, err := fmt.Sscan(sc.Text(), &line, &hash); err != nil {
			t.Fatalf("the process says %q", sc.Text())
		}
		if have, ok := told[line]; ok && have != hash {
			t.Fatalf("line %d had hash %s when it was accepted, and has %s now", line, have, hash)
		}
		told[line] = hash
		if n == lines {
			time.AfterFunc(after, kill)
		}
	}
	if err := cmd.Wait(); cmd.ProcessState.Exited() {
		t.Fatalf("the process ended before it was killed: %v", err)
	}
}

// survived reads the journal and looks for every line that was accepted.
func survived(t *testing.T, dir string, told map[int]string) (entries []journal.Entry, tail int) {
	t.Helper()
	path := filepath.Join(dir, Name)
	if _, err := os.Lstat(path); os.IsNotExist(err) && len(told) == 0 {
		return nil, 0 // killed before it had begun
	}
	entries, notice, err := Read(path)
	if err != nil {
		t.Fatalf("%d lines were accepted: %v", len(told), err)
	}
	head, err := journal.HeadOf(entries)
	if err != nil {
		t.Fatal(err)
	}
	have := map[int]string{head.N: head.Hash.String()}
	for _, e := range entries {
		have[e.N-1] = e.Prev.String()
	}
	for n, hash := range told {
		if have[n] != hash {
			t.Fatalf("line %d was accepted with hash %s, and the journal of %d lines has %q", n, hash, len(entries), have[n])
		}
	}
	for _, c := range notice.Cuts {
		tail += c.Bytes
	}
	return entries, tail
}

// tear puts the beginning of a next line behind the journal, and returns how
// much of it.
func tear(t *testing.T, dir string, entries []journal.Entry, rng *rand.Rand) int {
	t.Helper()
	head, err := journal.HeadOf(entries)
	if err != nil {
		t.Fatal(err)
	}
	_, line, _, err := head.Seal(reading(head.N + 1))
	if err != nil {
		t.Fatal(err)
	}
	n := 1 + rng.IntN(len(line)-1)
	writeFile(t, dir, Name, append(readFile(t, dir, Name), line[:n]...))
	return n
}

// lastOpen checks that the journal can be gone on with, and that every copy of
// a torn line is recorded with its right size and hash.
func lastOpen(t *testing.T, dir string) {
	t.Helper()
	f, entries, _, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	es, err := f.Append(reading(0))
	if err != nil {
		t.Fatal(err)
	}
	recorded := map[string]bool{}
	for _, e := range append(entries, es...) {
		if e.Kind != journal.KindRecovered {
			continue
		}
		c, err := e.Cut()
		if err != nil || cutOf(c.File, readFile(t, dir, c.File)) != c {
			t.Errorf("entry %d says %+v, and %s does not fit it", e.N, c, c.File)
		}
		recorded[c.File] = true
	}
	names, err := osDisk{}.names(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		if _, _, ok := parseCopyName(name); ok && !recorded[name] {
			t.Errorf("no entry records %s", name)
		}
	}
}
