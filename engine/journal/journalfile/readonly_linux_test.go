package journalfile

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/sys/unix"
)

// asOrdinaryUser does f without the right to pass over permissions, which the
// superuser has and nobody else. It is given up for one thread, and the thread
// ends with f.
func asOrdinaryUser(t *testing.T, f func()) {
	t.Helper()
	done := make(chan error)
	go func() {
		runtime.LockOSThread() // never unlocked
		err := dropRights()
		if err == nil {
			f()
		}
		done <- err
	}()
	if err := <-done; err != nil {
		t.Fatal(err)
	}
}

func dropRights() error {
	head := unix.CapUserHeader{Version: unix.LINUX_CAPABILITY_VERSION_3}
	var data [2]unix.CapUserData
	if err := unix.Capget(&head, &data[0]); err != nil {
		return err
	}
	data[0].Effective &^= 1<<unix.CAP_DAC_OVERRIDE | 1<<unix.CAP_DAC_READ_SEARCH
	return unix.Capset(&head, &data[0])
}

// In a folder that may only be read, a journal is read, and neither begun nor
// gone on with; the errors say why.
func TestReadOnlyFolder(t *testing.T) {
	dir, want := begin(t, 3)
	if err := os.Remove(filepath.Join(dir, LockName)); err != nil { // as copied from elsewhere
		t.Fatal(err)
	}
	before := files(t, dir)
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(dir, 0o777)

	asOrdinaryUser(t, func() {
		_, _, _, err := Open(dir)
		if !errors.Is(err, fs.ErrPermission) || !strings.HasPrefix(err.Error(), "open journal "+filepath.Join(dir, Name)+": its lock cannot be taken: ") {
			t.Errorf("Open: %v", err)
		}
		for _, at := range []string{dir, filepath.Join(dir, "new")} {
			_, _, err := Create(at, first())
			if !errors.Is(err, fs.ErrPermission) || !strings.HasPrefix(err.Error(), "begin journal "+filepath.Join(at, Name)+": ") {
				t.Errorf("Create in %s: %v", at, err)
			}
		}
		got, notice, err := Read(filepath.Join(dir, Name))
		if d := cmp.Diff(want, got); d != "" || err != nil || notice.String() != "" {
			t.Errorf("Read: notice %q, %v\n%s", notice, err, d)
		}
	})
	if d := cmp.Diff(before, files(t, dir)); d != "" {
		t.Errorf("the folder was changed:\n%s", d)
	}
}

// The folder may be written to, the journal itself not; or it may not be read.
func TestProtectedJournal(t *testing.T) {
	dir, _ := begin(t, 3)
	path := filepath.Join(dir, Name)
	before := files(t, dir)
	for _, tt := range []struct {
		mode fs.FileMode
		want string
	}{
		{0o444, "permission denied. It can be read, but not gone on with"},
		{0o000, "permission denied"},
	} {
		if err := os.Chmod(path, tt.mode); err != nil {
			t.Fatal(err)
		}
		asOrdinaryUser(t, func() {
			if _, _, _, err := Open(dir); !errors.Is(err, fs.ErrPermission) || !strings.HasSuffix(err.Error(), tt.want) {
				t.Errorf("mode %v: Open: %v; want …%s", tt.mode, err, tt.want)
			}
			_, _, err := Read(path)
			if readable := tt.mode != 0; readable != (err == nil) {
				t.Errorf("mode %v: Read: %v", tt.mode, err)
			}
		})
	}
	if err := os.Chmod(path, 0o666); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(before, files(t, dir)); d != "" {
		t.Errorf("the folder was changed:\n%s", d)
	}
}

// A pipe in the journal's place does not keep anybody waiting.
func TestPipeInPlaceOfJournal(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mkfifo(filepath.Join(dir, Name), 0o666); err != nil {
		t.Fatal(err)
	}
	if _, _, _, err := Open(dir); err == nil || !strings.HasSuffix(err.Error(), "it is not an ordinary file") {
		t.Errorf("Open: %v", err)
	}
	if _, _, err := Read(filepath.Join(dir, Name)); err == nil || !strings.HasSuffix(err.Error(), "it is not an ordinary file") {
		t.Errorf("Read: %v", err)
	}
}
