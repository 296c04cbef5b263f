//go:build unix

package journalfile

import (
	"errors"
	"fmt"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func init() {
	children["fill"] = fill
	children["open-full"] = openFull
	children["create-full"] = createFull
}

// limitFiles has the system refuse bytes beyond a size in every file of this
// process. It writes what fits and no more, as a disk that fills up does; the
// error is "file too large" in place of "no space left on device".
func limitFiles(size uint64) error {
	signal.Ignore(syscall.SIGXFSZ)
	return syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: size, Max: size})
}

const fillSize = 3000 // ends in the middle of a line, and the test checks that

// fill appends until no more fits, and then once more.
func fill(dir string) error {
	f, _, _, err := Open(dir)
	if err != nil {
		return err
	}
	if err := limitFiles(fillSize); err != nil {
		return err
	}
	for err == nil {
		_, err = f.Append(reading(f.Head().N + 1))
	}
	_, again := f.Append(reading(0))
	nk := new(NotKept)
	fmt.Println(f.Head().N, errors.As(err, &nk) && nk.Kept == f.Head().N, errors.Is(err, syscall.EFBIG), again != nil && again.Error() == err.Error())
	fmt.Println(err)
	return f.Close()
}

func openFull(dir string) error {
	if err := limitFiles(0); err != nil {
		return err
	}
	_, _, _, err := Open(dir)
	fmt.Println(err)
	return nil
}

func createFull(dir string) error {
	if err := limitFiles(0); err != nil {
		return err
	}
	_, _, err := Create(dir, first())
	fmt.Println(err)
	return nil
}

func output(t *testing.T, cmd *exec.Cmd) string {
	t.Helper()
	b, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	return strings.TrimSuffix(string(b), "\n")
}

// The disk fills up in the middle of a line: a real short write.
func TestDiskFull(t *testing.T) {
	dir, _ := begin(t, 2)
	says := output(t, child(t, "fill", dir))
	var n int
	var kept, efbig, same bool
	if _, err := fmt.Sscan(says, &n, &kept, &efbig, &same); err != nil || !kept || !efbig || !same {
		t.Fatalf("the process says %q, %v", says, err)
	}
	_, message, _ := strings.Cut(says, "\n")
	want := fmt.Sprintf("journal %s: line %d was not accepted: write %[1]s: file too large (", filepath.Join(dir, Name), n+1)
	if !strings.HasPrefix(message, want) || !strings.HasSuffix(message, fmt.Sprintf("Lines 1 to %d and all that was accepted are safe. Put right what is wrong with the disk, then open the run again: it goes on from there", n)) {
		t.Errorf("message: %s\nwant     %s…", message, want)
	}
	b := readFile(t, dir, Name)
	if len(b) != fillSize || b[len(b)-1] == '\n' {
		t.Fatalf("the journal has %d bytes and ends in %q: no line was torn", len(b), b[len(b)-1])
	}

	// There is no room for the copy of the torn line: nothing is cut.
	before := files(t, dir)
	says = output(t, child(t, "open-full", dir))
	if want := fmt.Sprintf("could not be copied to journal.torn-%d: write", n+1); !strings.Contains(says, want) || !strings.HasSuffix(says, "Nothing was cut off. Put right what is wrong with the disk, then open it again") {
		t.Errorf("opened on a full disk: %s; want …%s", says, want)
	}
	if d := cmp.Diff(before, files(t, dir)); d != "" {
		t.Errorf("opening on a full disk changed the folder:\n%s", d)
	}

	// There is room again.
	f, es, notice, err := Open(dir)
	if err != nil || len(es) != n || len(notice.Cuts) != 1 {
		t.Fatalf("Open = %d entries, %q, %v; want %d", len(es), notice, err, n)
	}
	defer f.Close()
	more, err := f.Append(reading(n + 2))
	if err != nil {
		t.Fatal(err)
	}
	checkCut(t, dir, more, b[strings.LastIndexByte(string(b), '\n')+1:], n+1)
}

func TestCreateOnFullDisk(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "run")
	says := output(t, child(t, "create-full", dir))
	if !strings.HasPrefix(says, "begin journal "+filepath.Join(dir, Name)+": write ") || !strings.HasSuffix(says, "(0 of 270 bytes were written). Nothing was recorded") {
		t.Errorf("Create: %s", says)
	}
	if have := files(t, dir); len(have) != 0 {
		t.Errorf("the folder holds %v", have)
	}
	f, _, err := Create(dir, first()) // there is room again
	if err != nil {
		t.Fatal(err)
	}
	f.Close()
}
