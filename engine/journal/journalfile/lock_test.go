package journalfile

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"waywright/engine/journal"
)

func TestTwoWritersInOneProcess(t *testing.T) {
	dir, _ := begin(t, 2)
	f, _, _, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	host, _ := os.Hostname()
	want := fmt.Sprintf("journal %s is open for writing by process %d on computer %q. Close the run there first; reading it is possible at any time",
		filepath.Join(dir, Name), os.Getpid(), host)
	for what, try := range map[string]func() error{
		"Open":   func() error { _, _, _, err := Open(dir); return err },
		"Create": func() error { _, _, err := Create(dir, first()); return err },
	} {
		err := try()
		held := new(Held)
		if !errors.As(err, &held) || held.PID != os.Getpid() || held.Host != host || err.Error() != want {
			t.Errorf("%s beside a writer: %v\nwant %s", what, err, want)
		}
	}
	// The writer was not disturbed.
	if es, err := f.Append(reading(3)); err != nil || es[0].N != 3 {
		t.Errorf("Append = %v, %v", es, err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	g, es, _, err := Open(dir)
	if err != nil || len(es) != 3 {
		t.Fatalf("Open after Close: %d entries, %v", len(es), err)
	}
	g.Close()
}

func TestTwoProcesses(t *testing.T) {
	dir, _ := begin(t, 2)
	holder := child(t, "hold", dir)
	in, err := holder.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := holder.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := holder.Start(); err != nil {
		t.Fatal(err)
	}
	if line, err := bufio.NewReader(out).ReadString('\n'); line != "open\n" {
		t.Fatalf("the other process says %q, %v", line, err)
	}

	_, _, _, err = Open(dir)
	held := new(Held)
	if !errors.As(err, &held) || held.PID != holder.Process.Pid {
		t.Errorf("Open beside process %d: %v", holder.Process.Pid, err)
	}
	// A third process is told the same.
	says, err := child(t, "open", dir).Output()
	if want := fmt.Sprintf("is open for writing by process %d on", holder.Process.Pid); err != nil || !strings.Contains(string(says), want) {
		t.Errorf("a third process says %q, %v; want …%s", says, err, want)
	}
	// Readers are let in.
	if es, _, err := Read(filepath.Join(dir, Name)); err != nil || len(es) != 2 {
		t.Errorf("Read beside another process: %d entries, %v", len(es), err)
	}

	// The lock goes with the process, even when it is killed.
	if err := holder.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	holder.Wait()
	in.Close()
	says, err = child(t, "open", dir).Output()
	if err != nil || string(says) != "2 lines\n" {
		t.Errorf("after the kill another process says %q, %v", says, err)
	}
	f, _, _, err := Open(dir)
	if err != nil {
		t.Fatalf("Open after the kill: %v", err)
	}
	f.Close()
}

// Whatever stands in the lock file, the second writer gets a sentence.
func TestHolderUnknown(t *testing.T) {
	dir, _ := begin(t, 2)
	f, _, _, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for _, in := range []string{"", "\n", "x y\n", "12\n", "-4 host\n", strings.Repeat("9", 5000), "\x00\xff"} {
		writeFile(t, dir, LockName, []byte(in))
		_, _, _, err := Open(dir)
		held := new(Held)
		if !errors.As(err, &held) || held.PID != 0 || !strings.Contains(err.Error(), "is open for writing by another program.") {
			t.Errorf("lock file %.20q: %v", in, err)
		}
	}
}

// Goroutines that share a File take turns.
func TestAppendFromManyGoroutines(t *testing.T) {
	dir, _ := begin(t, 1)
	f, _, _, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var wg sync.WaitGroup
	for g := range 8 {
		wg.Go(func() {
			for i := range 10 {
				if _, err := f.Append(reading(g*10+i), reading(g*10+i)); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wg.Wait()
	es, _, err := Read(filepath.Join(dir, Name))
	if err != nil || len(es) != 161 {
		t.Fatalf("Read = %d entries, %v; want 161", len(es), err)
	}
	for i := 1; i < len(es); i += 2 { // what one call appends stays together
		if string(es[i].Data) != string(es[i+1].Data) {
			t.Errorf("entries %d and %d were torn apart: %s, %s", es[i].N, es[i+1].N, es[i].Data, es[i+1].Data)
		}
	}
	if head, err := journal.HeadOf(es); err != nil || head != f.Head() {
		t.Errorf("Head = %v; want %v, %v", f.Head(), head, err)
	}
}
