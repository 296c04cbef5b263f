package cli

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"waywright/cmd/waywright/internal/logbook"
	"waywright/procedures/diagnose"
	"waywright/report/seal"
)

func (a *app) verifyCommand() *cobra.Command {
	var signers string
	var asJSON bool
	c := &cobra.Command{
		Use:   "verify FOLDER|FILE",
		Short: "Whether a record is as it was sealed and signed, and what is not",
		Long: `Check the folder of a run, on this computer or any other: the journal's chain, the
order of times, the procedure's files, the record made again from the journal byte
by byte, evidence, signatures, and the printed forms. Each check has a line; what
does not hold is named to file, line and field. The name of a run of the logbook
does too. Of a record.json alone its signatures are checked.

Whose a key is cannot be shown by the folder itself. --signers takes a file of
allowed signers in the form of OpenSSH, which you have from the signers and not
from the folder; the principal is the role.

Another version of the program may put a record in other words. Then every number,
verdict, name and time is compared, and what is worded otherwise is listed; a
number that comes out otherwise is open: the version that sealed it can tell.

It ends with 0 if all holds and every role has signed, 1 if something does not
hold, 3 if nothing fails and something is open, such as a signature to come.`,
		Example: `  waywright verify logbook/runs/tailstock-by-test-cut-lathe-2
  waywright verify tailstock-by-test-cut-lathe-2 --signers signers
  waywright verify record.json --signers signers --json`,
		Args:              takes(1, 1, "a folder of a run, or a record.json"),
		ValidArgsFunction: a.completeRun,
		RunE: func(_ *cobra.Command, args []string) error {
			return a.verify(args[0], signers, asJSON)
		},
	}
	c.Flags().StringVar(&signers, "signers", "", "a file of allowed signers, in the form of OpenSSH")
	c.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	return c
}

func (a *app) verify(what, signers string, asJSON bool) error {
	opts := seal.Options{Compile: logbook.Compile, Program: version(), Exact: exact(), Now: a.Now()}
	if signers != "" {
		var err error
		if opts.Signers, err = readSigners(signers); err != nil {
			return err
		}
	}
	dir, alone, err := a.toVerify(what)
	if err != nil {
		return err
	}
	f, err := logbook.OpenFolder(dir)
	if err != nil {
		return cannot("%w", err)
	}
	var v seal.Verdict
	if alone {
		v = seal.RecordFile(f, opts)
	} else {
		v = seal.Verify(f, opts)
	}
	if asJSON {
		if err := a.json(verdictJSON{string(v.Result()), v.Record.Number, v.Record.Outcome.Text, v.Digest, v.Sealed, v.Checks}); err != nil {
			return err
		}
	} else {
		a.showVerdict(v)
	}
	return exit(map[seal.Result]int{seal.Holds: done, seal.Open: paused, seal.Fails: no}[v.Result()])
}

type verdictJSON struct {
	Result  string       `json:"result"` // holds, open, fails
	Record  string       `json:"record,omitempty"`
	Outcome string       `json:"outcome,omitempty"`
	SHA256  string       `json:"sha256,omitempty"` // of record.json, as it should be
	Sealed  bool         `json:"sealed"`
	Checks  []seal.Check `json:"checks"`
}

// readSigners reads a file of allowed signers.
func readSigners(path string) ([]seal.Signer, error) {
	b, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, cannot("--signers %s: there is no such file. It names who may sign, one line for each: inspector ssh-ed25519 AAAA…", path)
	}
	if err != nil {
		return nil, cannot("signers: %w", err)
	}
	list, err := seal.Signers(b, time.Local)
	if err != nil {
		return nil, cannot("%s %w", path, err)
	}
	if len(list) == 0 {
		return nil, cannot("%s names no signer. Write one line for each: inspector ssh-ed25519 AAAA…", path)
	}
	return list, nil
}

// toVerify finds what is meant: a folder of a run, a record by itself, or a run
// of the logbook.
func (a *app) toVerify(what string) (dir string, alone bool, err error) {
	info, err := os.Stat(what)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		b := a.book()
		if dir, rerr := b.RunDir(what); rerr == nil {
			return dir, false, nil
		}
		return "", false, cannot("there is no folder, file or run %s", what)
	case err != nil:
		return "", false, cannot("%w", err)
	case info.IsDir():
		if _, err := os.Stat(filepath.Join(what, seal.JournalName)); err == nil {
			return what, false, nil
		}
		if _, err := os.Stat(filepath.Join(what, seal.RecordName)); err == nil {
			return what, true, nil
		}
		return "", false, cannot("%s is no folder of a run: it has neither %s nor %s", what, seal.JournalName, seal.RecordName)
	}
	dir, name := filepath.Split(what)
	dir = filepath.Clean(dir)
	_, jerr := os.Stat(filepath.Join(dir, seal.JournalName))
	switch {
	case jerr == nil:
		return dir, false, nil // the whole folder, of which the file is a part
	case name == seal.RecordName:
		return dir, true, nil
	}
	return "", false, cannot("%s cannot be checked by itself. Name the folder of the run, or a record.json with its signatures beside it", what)
}

// showVerdict prints a line for each check.
func (a *app) showVerdict(v seal.Verdict) {
	if v.Record.Number != "" {
		a.printf("Record %s: %s\n", v.Record.Number, v.Record.Outcome.Text)
	}
	words := map[seal.Result]string{seal.Holds: "holds   ", seal.Fails: "FAILS   ", seal.Open: "open    ", seal.Unknown: "not told"}
	for _, c := range v.Checks {
		said := c.Said
		if c.Where != "" {
			said = c.Where + ": " + said
		}
		text := strings.TrimLeft(fill(diagnose.Plain(said), "          ", page), " ")
		a.printf("%s  %s", words[c.Result], text)
	}
	switch v.Result() {
	case seal.Fails:
		n := 0
		for _, c := range v.Checks {
			if c.Result == seal.Fails {
				n++
			}
		}
		a.printf("DOES NOT HOLD: %d of %s.\n", n, plural(len(v.Checks), "check"))
	case seal.Open:
		a.printf("%s\n", openWords(v))
	default:
		a.printf("All holds. That the readings are true is not shown by this.\n")
	}
}

// openWords ends the lines where nothing failed and something is open.
func openWords(v seal.Verdict) string {
	for _, c := range v.Checks {
		if c.Result == seal.Open && c.Part != "signature" && c.Part != "seal" {
			return "What was sealed and signed is unchanged. Whether it is what its journal gives is open."
		}
	}
	return "All holds, and it is not signed by every role."
}
