package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/google/renameio/v2"
	"github.com/spf13/cobra"

	"waywright/procedures/diagnose"
	"waywright/procedures/tidy"
)

func (a *app) tidyCommand() *cobra.Command {
	var check bool
	c := &cobra.Command{
		Use:   "tidy FILE…",
		Short: "One layout for procedure files",
		Long: fmt.Sprintf(`Give procedure files their one layout: two blanks for each bracket, equals signs
and the comments behind them below one another, at most one blank line, a comma
behind the last element of a broken list. A list that is all of an attribute is
broken, an element a line, where it would reach beyond %d columns. The registers
of a logbook and plans have the same layout.

Nothing is put in another order, every comment stays, and what the file says
stays the same. Lines end as they do in the file (LF, or CR and LF). A file that
cannot be read as HCL is left as it is. What is changed is named.

With --check nothing is written: the files that are not tidy are named, and the
code is then 1. With - standard input is tidied to standard output.`, tidy.Width),
		Example: `  waywright tidy my-procedure.hcl
  waywright tidy --check logbook/procedures/*.hcl
  waywright tidy - < rough.hcl > smooth.hcl`,
		Args: takes(1, -1, "a file, or several, or - for standard input"),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"hcl"}, cobra.ShellCompDirectiveFilterFileExt
		},
		RunE: func(c *cobra.Command, args []string) error { return a.tidy(args, check) },
	}
	c.Flags().BoolVar(&check, "check", false, "write nothing; name the files that are not tidy, and end with 1")
	return c
}

func (a *app) tidy(args []string, check bool) error {
	code := done
	for _, name := range args {
		src, out, err := a.tidied(name)
		switch {
		case err != nil:
			a.note("waywright: %s", diagnose.Plain(err.Error()))
			code = unable
		case name == "-" && !check:
			if _, err := a.Out.Write(out); err != nil {
				return cannot("standard output: %w", err)
			}
		case bytes.Equal(src, out):
		case check:
			a.printf("%s\n", diagnose.Plain(shownName(name)))
			code = max(code, no)
		default:
			if err := replace(name, out); err != nil {
				a.note("waywright: %s could not be written, and is as it was: %v", diagnose.Plain(name), err)
				code = unable
				continue
			}
			a.printf("%s\n", diagnose.Plain(name))
		}
	}
	return exit(code)
}

// shownName is what standard input is called.
func shownName(name string) string {
	if name == "-" {
		return "standard input"
	}
	return name
}

// tidied reads a file and returns it as it is and as it should be.
func (a *app) tidied(name string) (src, out []byte, err error) {
	if name == "-" {
		src, err = io.ReadAll(a.In)
	} else {
		src, err = readProcedureFile(name)
	}
	if err != nil {
		return nil, nil, err
	}
	out, err = tidy.Bytes(shownName(name), src)
	var r *tidy.Refusal
	if errors.As(err, &r) {
		return nil, nil, fmt.Errorf("%w\n%s was left as it is", err, shownName(name))
	}
	return src, out, err
}

// readProcedureFile reads a file that may be written anew.
func readProcedureFile(name string) ([]byte, error) {
	info, err := os.Stat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("there is no file %s. Look for a slip in its name; the procedures that ship are tidy, and cannot be written to", name)
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, fmt.Errorf("%s is a folder. Name the files in it: waywright tidy %s", name, filepath.Join(name, "*.hcl"))
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("%s is no file that can be written anew. Use - for standard input", name)
	case ofARun(name):
		return nil, fmt.Errorf("%s belongs to a run, which keeps to it byte by byte. Tidy the procedure that new runs are begun from", name)
	}
	return os.ReadFile(name)
}

// ofARun tells whether a file is kept as it was when a run began.
func ofARun(name string) bool {
	abs, err := filepath.Abs(name)
	if err != nil {
		return false
	}
	for dir := filepath.Dir(abs); dir != filepath.Dir(dir); dir = filepath.Dir(dir) {
		if filepath.Base(dir) == "procedure" {
			if _, err := os.Stat(filepath.Join(filepath.Dir(dir), "journal.jsonl")); err == nil {
				return true
			}
		}
	}
	return false
}

// replace writes a file anew, all of it or nothing, with the mode that it has.
// A link stays one: what it leads to is written.
func replace(name string, b []byte) error {
	target, err := filepath.EvalSymlinks(name)
	if err != nil {
		return err
	}
	info, err := os.Stat(target)
	if err != nil {
		return err
	}
	return renameio.WriteFile(target, b, info.Mode().Perm())
}
