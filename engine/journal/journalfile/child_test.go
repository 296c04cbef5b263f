package journalfile

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"testing"

	"waywright/engine/journal"
)

// Some tests need another process. They run this test binary again with a task
// in the environment.
const (
	childTask = "JOURNALFILE_TEST_CHILD"
	childDir  = "JOURNALFILE_TEST_DIR"
)

// children are the tasks. What a task returns goes to the standard error.
var children = map[string]func(dir string) error{
	"append": appendForever,
	"hold":   hold,
	"open":   openOnce,
}

func TestMain(m *testing.M) {
	task := os.Getenv(childTask)
	if task == "" {
		os.Exit(m.Run())
	}
	if err := children[task](os.Getenv(childDir)); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(0)
}

// child prepares a process that does a task in a folder.
func child(t testing.TB, task, dir string) *exec.Cmd {
	t.Helper()
	if children[task] == nil {
		t.Fatalf("no task %q", task)
	}
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(exe)
	cmd.Env = append(os.Environ(), childTask+"="+task, childDir+"="+dir,
		"GORACE=atexit_sleep_ms=0") // or a child of a test with -race ends a second late
	cmd.Stderr = os.Stderr
	return cmd
}

// appendForever begins or opens the journal and appends, and says after each
// Append which line it may rely on. Some Appends are long, so that a kill may find
// the process in the middle of a write.
func appendForever(dir string) error {
	f, _, _, err := Open(dir)
	if errors.Is(err, fs.ErrNotExist) {
		f, _, err = Create(dir, first())
	}
	if err != nil {
		return err
	}
	for {
		// The newest line's hash stands for all lines before it.
		if _, err := fmt.Printf("%d %v\n", f.Head().N, f.Head().Hash); err != nil {
			return err
		}
		n := f.Head().N + 1
		next := []journal.Entry{reading(n)}
		if rand.IntN(30) == 0 && f.size < 300_000 {
			next[0].Data = json.RawMessage(fmt.Sprintf(`{"value":%d,"text":"%s"}`, n, strings.Repeat("swarf ", 15_000)))
			next = append(next, next[0])
		}
		if _, err := f.Append(next...); err != nil {
			return err
		}
	}
}

// hold opens the journal and keeps it until the standard input ends.
func hold(dir string) error {
	if _, _, _, err := Open(dir); err != nil {
		return err
	}
	fmt.Println("open")
	bufio.NewReader(os.Stdin).ReadString('\n')
	return nil
}

// openOnce says how opening went.
func openOnce(dir string) error {
	f, es, _, err := Open(dir)
	if err != nil {
		fmt.Println(err)
		return nil
	}
	fmt.Println(len(es), "lines")
	return f.Close()
}
