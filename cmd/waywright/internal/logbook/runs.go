package logbook

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"waywright/engine"
	"waywright/engine/journal/journalfile"
	"waywright/procedures/diagnose"
)

// Names returns the names of the runs, in the order of the alphabet. A logbook
// that is not there has none.
func (b Book) Names() ([]string, error) {
	es, err := os.ReadDir(filepath.Join(b.Dir, runsName))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	} else if err != nil {
		return nil, fmt.Errorf("logbook %s: %w", b.Dir, err)
	}
	var names []string
	for _, e := range es {
		if e.IsDir() && !strings.HasPrefix(e.Name(), ".") {
			names = append(names, e.Name())
		}
	}
	return names, nil
}

// Last returns the name of the run whose journal was written to last.
func (b Book) Last() (string, error) {
	names, err := b.Names()
	if err != nil {
		return "", err
	}
	last, at := "", time.Time{}
	for _, name := range names {
		info, err := os.Stat(filepath.Join(b.Dir, runsName, name, journalfile.Name))
		if err != nil || !info.ModTime().After(at) {
			continue
		}
		if r, err := b.Read(name); err == nil && r.State.Abandoned() != nil {
			continue // nobody goes on with it
		}
		last, at = name, info.ModTime()
	}
	if last == "" {
		return "", fmt.Errorf("the logbook %s has no runs yet. Begin one: waywright run PROCEDURE", b.Dir)
	}
	return last, nil
}

// noRun is the error for a name that no run has, with the nearest one.
func (b Book) noRun(name string) error {
	names, _ := b.Names() // without the list the message is shorter
	switch near := diagnose.Nearest(name, names); {
	case near != "":
		return fmt.Errorf("the logbook %s has no run %q. Did you mean %q?", b.Dir, name, near)
	case len(names) == 0:
		return fmt.Errorf("the logbook %s has no run %q, and no runs at all yet", b.Dir, name)
	}
	const most = 8
	shown := names[:min(len(names), most)]
	more := ""
	if len(names) > most {
		more = " … and others"
	}
	return fmt.Errorf("the logbook %s has no run %q. It has: %s%s", b.Dir, name, strings.Join(shown, ", "), more)
}

// Summary is a run at a glance.
type Summary struct {
	Name string
	Run  *Run  // nil where it cannot be read
	Err  error // why not
	Last time.Time
}

// RunsNamed reads the runs of a procedure on a machine, as they are named when
// they are begun, the one worked on last first.
func (b Book) RunsNamed(procedure, machine string) ([]Summary, error) {
	names, err := b.Names()
	if err != nil {
		return nil, err
	}
	base := plainName(procedure + "-" + machine)
	names = slices.DeleteFunc(names, func(name string) bool { return name != base && !strings.HasPrefix(name, base+".") })
	return b.summaries(names), nil
}

// Runs reads all runs, the one worked on last first. A run that cannot be read
// is told with the others.
func (b Book) Runs() ([]Summary, error) {
	names, err := b.Names()
	if err != nil {
		return nil, err
	}
	return b.summaries(names), nil
}

func (b Book) summaries(names []string) []Summary {
	var out []Summary
	for _, name := range names {
		s := Summary{Name: name}
		r, err := b.Read(name)
		switch {
		case err != nil:
			s.Err = err
		default:
			s.Run = r
			for _, ev := range slices.Backward(r.State.Events()) {
				if _, printed := ev.Data.(engine.Issued); !printed { // which nobody did
					s.Last = ev.Time
					break
				}
			}
		}
		out = append(out, s)
	}
	slices.SortStableFunc(out, func(a, b Summary) int { return b.Last.Compare(a.Last) })
	return out
}
