package cli

import (
	"bytes"
	"os"
	"path/filepath"

	"github.com/google/renameio/v2"
	"github.com/spf13/cobra"

	"waywright/cmd/waywright/internal/reference"
)

func (a *app) referenceCommand(root *cobra.Command) *cobra.Command {
	var out, man string
	c := &cobra.Command{
		Use:   "reference",
		Short: "The reference of the language as one HTML page; man pages",
		Long: `Write the reference of the procedure language: a first procedure from nothing to
a signed record, every block and attribute, every function with its sign and
source, the units, the words of outcomes, and every message of proofread with an
example and its mend. It is one HTML file that needs no other and no network; it
prints, and it is made from what the program itself reads by.

With --man the man pages of all commands are written into a folder instead.`,
		Example: `  waywright reference
  waywright reference --out procedures.html
  waywright reference --man /usr/local/share/man/man1`,
		Args: takes(0, 0, "no argument"),
		RunE: func(*cobra.Command, []string) error {
			if man != "" {
				return a.manPages(root, man)
			}
			return a.writeReference(out)
		},
	}
	c.Flags().StringVar(&out, "out", "reference.html", "the file to write; - is standard output")
	c.Flags().StringVar(&man, "man", "", "write man pages of all commands into this folder instead")
	c.MarkFlagsMutuallyExclusive("out", "man")
	return c
}

func (a *app) writeReference(out string) error {
	if out == "-" {
		return reference.Write(a.Out, version())
	}
	var b bytes.Buffer
	if err := reference.Write(&b, version()); err != nil {
		return err
	}
	if err := renameio.WriteFile(out, b.Bytes(), 0o666); err != nil {
		return cannot("%s cannot be written: %w", out, err)
	}
	a.printf("Reference: %s\n", out)
	return nil
}

// manPages writes a man page for each command that is shown.
func (a *app) manPages(root *cobra.Command, dir string) error {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return cannot("%s cannot be made: %w", dir, err)
	}
	n := 0
	for name, text := range reference.Man(root, version()) {
		if err := os.WriteFile(filepath.Join(dir, name), text, 0o666); err != nil {
			return cannot("%s cannot be written: %w", name, err)
		}
		n++
	}
	a.printf("Man pages: %s in %s\n", plural(n, "page"), dir)
	return nil
}
