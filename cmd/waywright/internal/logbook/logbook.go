// Package logbook keeps the folder of a shop on disk: its machines, its
// instruments, its people, its own procedures, and its runs.
//
//	logbook/
//	  machines.hcl       what the shop has; see procedures/register
//	  instruments.hcl
//	  people.hcl
//	  shop.hcl           what holds for every run
//	  procedures/        the shop's own procedures
//	  runs/<run>/
//	    journal.jsonl    what happened; see engine/journal
//	    procedure/       the procedure's files as they were
//	    evidence/        photographs and scans, by their hash
//	    record.json      what was established, record.html, record.pdf
//	    signatures.json  who signed it, once it is sealed; with record.json.ROLE.sig
//
// All of it is text that can be read without this program. A run's folder may
// be copied while the run is open. Nothing in it is ever overwritten but the
// record, which is made from the journal; and that not either once it is sealed.
package logbook

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"waywright/checks"
	"waywright/procedures/register"
)

// The names in the folder.
const (
	machinesName    = "machines.hcl"
	instrumentsName = "instruments.hcl"
	peopleName      = "people.hcl"
	shopName        = "shop.hcl"
	proceduresName  = "procedures"
	runsName        = "runs"
)

// Book is a logbook. Its folder need not be there yet.
type Book struct {
	Dir     string
	Program string // version of the program
	Kept    *Kept  // of runs that were read; nil: nothing
}

// heads stand at the top of a new register.
var heads = map[string]string{
	machinesName: `# The machines of the shop. One block a machine, or: waywright new machine
#
# machine "lathe-1" {
#   class         = "centre lathe"
#   spindle_taper = "MT3"
#   centre_height = mm(125)
#   test_bar { length = mm(300) }
# }
`,
	instrumentsName: `# The instruments of the shop. One block an instrument, or: waywright new instrument
#
# instrument "M-1" {
#   kind          = "outside micrometer"
#   range         = [mm(0), mm(25)]
#   resolution    = um(1)
#   error         = um(4)
#   repeatability = um(1)
#   turn          = mm(0.5)
#   certificate   = "K-0418"
#   uncertainty   = um(1.2) # expanded, with coverage = 2 where nothing else is written
#   calibrated    = "2026-06-30"
#   calibrated_by = "the county gauge room"
#   due           = "2027-06-30"
#
#   history {
#     day  = "2025-11-03"
#     what = "new spindle nut"
#     by   = "Anna Brook"
#   }
# }
`,
	peopleName: `# The people who measure and sign.
#
# person "anna" {
#   name  = "Anna Brook"
#   roles = ["fitter"]
#   key   = "ssh-ed25519 AAAA..." # made and entered by: waywright key new
# }
`,
	shopName: `# What holds for every run in this shop.
#
# decision = "strict" # how sure a verdict must be at least: guarded, strict
`,
}

// Make makes the folder and what is in it, as far as it is not there. It tells
// whether the folder was made.
func (b Book) Make() (made bool, err error) { return b.MakeWith(register.Shop{}) }

// MakeWith is like Make, and writes down what holds for the whole shop in a
// folder that was made.
func (b Book) MakeWith(shop register.Shop) (made bool, err error) {
	info, err := os.Stat(b.Dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		made = true
	case err != nil:
		return false, fmt.Errorf("logbook %s: %w", b.Dir, err)
	case !info.IsDir():
		return false, fmt.Errorf("logbook %s: this is a file, and a logbook is a folder. Name another with --logbook", b.Dir)
	default:
		return false, b.makeDir(runsName)
	}
	for _, dir := range []string{runsName, proceduresName} {
		if err := b.makeDir(dir); err != nil {
			return false, err
		}
	}
	for name, head := range heads {
		if name == shopName {
			head += shopLines(shop)
		}
		if err := writeNew(filepath.Join(b.Dir, name), []byte(head)); err != nil {
			return false, fmt.Errorf("logbook %s: %w", b.Dir, err)
		}
	}
	return made, nil
}

// shopLines are the lines of a shop.hcl, in columns.
func shopLines(shop register.Shop) (lines string) {
	rule, paper := "decision = ", "paper = "
	if shop.Decision != checks.NoRule && shop.Paper != "" {
		paper = "paper    = "
	}
	if shop.Decision != checks.NoRule {
		lines += rule + quote(shop.Decision.String()) + "\n"
	}
	if shop.Paper != "" {
		lines += paper + quote(shop.Paper) + "\n"
	}
	return lines
}

func (b Book) makeDir(name string) error {
	if err := os.MkdirAll(filepath.Join(b.Dir, name), 0o777); err != nil {
		return fmt.Errorf("logbook %s: its folder %s cannot be made: %w", b.Dir, name, err)
	}
	return nil
}

// Exists tells whether the folder is there.
func (b Book) Exists() bool {
	info, err := os.Stat(b.Dir)
	return err == nil && info.IsDir()
}

// writeNew makes a file that is not there yet, and has the disk keep it.
func writeNew(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	return err
}

// syncDir makes the names in a folder outlast a loss of power, where the
// system can do that.
func syncDir(dir string) {
	if f, err := os.Open(dir); err == nil {
		// Windows refuses; what is lost then is a name of a run nobody
		// has answered in.
		_ = f.Sync()
		f.Close()
	}
}

// plainName makes a name that is good in a path, in a shell and in a file
// manager: letters, digits, hyphens, underscores and points.
func plainName(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '_', r == '.':
			return r
		}
		return '-'
	}, s)
	return strings.Trim(s, "-.")
}
