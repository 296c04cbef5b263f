package journalfile

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/gofrs/flock"
)

// Held is the error for a journal that another writer has open.
type Held struct {
	Path string // of the journal
	PID  int    // 0 where it is not known
	Host string // "" where it is not known
}

func (h *Held) Error() string {
	who := "by another program"
	if h.PID > 0 {
		who = fmt.Sprintf("by process %d on computer %q", h.PID, h.Host)
	}
	return fmt.Sprintf("journal %s is open for writing %s. Close the run there first; reading it is possible at any time", h.Path, who)
}

// lock is the right to write a journal. The system takes it back when the
// process ends, however it ends. The lock file stays, since removing it would
// let two writers lock two files of one name.
type lock struct{ f *flock.Flock }

// lock does not wait. The holder writes its name into the lock file, so
// that another can say who it is.
func (osDisk) lock(dir string) (unlocker, error) {
	path := filepath.Join(dir, LockName)
	f := flock.New(path, flock.SetFlag(os.O_CREATE|os.O_RDWR), flock.SetPermissions(0o666))
	ok, err := f.TryLock()
	if err != nil {
		return nil, err
	}
	if !ok {
		pid, host := holder(path)
		return nil, &Held{Path: filepath.Join(dir, Name), PID: pid, Host: host}
	}
	host, err := os.Hostname()
	if err != nil {
		host = "unknown"
	}
	// The name is a courtesy, and a full disk is no reason to refuse: what
	// must be on the disk says so itself.
	_ = os.WriteFile(path, fmt.Appendf(nil, "%d %s\n", os.Getpid(), host), 0o666)
	return lock{f}, nil
}

// unlock empties the lock file, so that nobody is named who is gone.
func (l lock) unlock() error {
	_ = os.Truncate(l.f.Path(), 0)
	return l.f.Unlock()
}

// holder reads who wrote the lock file; pid is 0 if that cannot be told.
func holder(path string) (pid int, host string) {
	f, err := os.Open(path)
	if err != nil {
		return 0, ""
	}
	defer f.Close()
	b, _ := io.ReadAll(io.LimitReader(f, 300))
	first, rest, ok := strings.Cut(strings.TrimSuffix(string(b), "\n"), " ")
	pid, err = strconv.Atoi(first)
	if err != nil || pid < 1 || !ok {
		return 0, ""
	}
	return pid, rest
}
