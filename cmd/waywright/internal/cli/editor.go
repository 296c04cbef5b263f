package cli

import (
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"waywright/cmd/waywright/internal/editor"
)

// typing is how long nothing must be typed before a file is looked through.
const typing = 200 * time.Millisecond

func (a *app) editorCommand() *cobra.Command {
	var grammar bool
	c := &cobra.Command{
		Use:   "editor",
		Short: "Help with writing procedures, in the editor that you use",
		Long: `A language server for procedure files. An editor starts it and talks to it over
standard input and output, in the Language Server Protocol: what is wrong while
you type, what can be written at a place, what a name or a function is, where a
name is given and used, renaming in all files of the folder, the one layout, an
outline. README.md says how editors are set up.

With --grammar it writes a TextMate grammar instead, by which editors that read
such grammars colour procedure files.`,
		Example: `  waywright editor
  waywright editor --grammar > waywright.tmLanguage.json`,
		Args: takes(0, 0, "nothing"),
		RunE: func(*cobra.Command, []string) error {
			if grammar {
				_, err := a.Out.Write(editor.Grammar())
				return err
			}
			return exit(editor.Serve(a.In, a.Out, editor.Options{Version: version(), Delay: typing, Cache: libraryCache(), Log: a.Err}))
		},
	}
	c.Flags().BoolVar(&grammar, "grammar", false, "write a TextMate grammar of procedure files")
	// Editors add it by themselves; there is no other way to talk.
	c.Flags().Bool("stdio", true, "talk over standard input and output, as it always does")
	return c
}

// libraryCache is where files that ship are written to be looked at.
func libraryCache() string {
	dir, err := os.UserCacheDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "waywright", "library")
}
