// Package cli is the command line: one file a command. It joins the logbook,
// the engine and the front ends, prints what they say, and turns how a command
// ended into an exit code.
package cli

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"regexp"
	"runtime/debug"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"waywright/cmd/waywright/internal/logbook"
	"waywright/procedures/diagnose"
)

// Streams is the world that a command runs in.
type Streams struct {
	In  *os.File
	Out io.Writer
	Err io.Writer
	Now func() time.Time
	Env func(string) string
}

// Process returns the streams of the process.
func Process() Streams {
	return Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Now: time.Now, Env: os.Getenv}
}

// app is one call of the program.
type app struct {
	Streams
	dir  string // --logbook
	in   *bufio.Reader
	kept *logbook.Kept
}

// Main runs a command and returns its exit code.
func Main(args []string, s Streams) int {
	a := &app{Streams: s, kept: logbook.NewKept()}
	root := a.root()
	root.SetArgs(signed(args))
	root.SetIn(s.In)
	root.SetOut(s.Out)
	root.SetErr(s.Err)
	return a.ended(root.ExecuteContext(context.Background()))
}

// root returns the whole tree of commands.
func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "waywright",
		Short: "Guided overhauls of machine tools, from a written procedure to a record of acceptance",
		Long: `A written procedure asks, works out what was read, sends you to the correction
that is due, and ends in a record of acceptance. Nothing that was read back as
kept is ever lost: stop at any time and go on with resume.`,
		Example: `  waywright list
  waywright run lathe/tailstock-by-test-cut
  waywright resume`,
		Version:           version(),
		SilenceErrors:     true,
		SilenceUsage:      true,
		CompletionOptions: cobra.CompletionOptions{HiddenDefaultCmd: true},
	}
	root.PersistentFlags().StringVar(&a.dir, "logbook", "", "the folder of the logbook (or WAYWRIGHT_LOGBOOK; ./logbook where neither is given)")
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return cannot("%w. See: %s --help", err, c.CommandPath())
	})
	root.AddCommand(
		a.listCommand(), a.showCommand(), a.sheetCommand(), a.mapCommand(),
		a.runCommand(), a.resumeCommand(), a.overhaulCommand(), a.logbookCommand(), a.amendCommand(), a.abandonCommand(), a.reportCommand(), a.compareCommand(), a.budgetCommand(),
		a.signCommand(), a.keyCommand(), a.verifyCommand(),
		a.proofreadCommand(), a.tidyCommand(), a.editorCommand(), a.rehearseCommand(), a.calcCommand(), a.newCommand(), a.referenceCommand(root), a.completionCommand(root),
	)
	for _, c := range root.Commands() {
		c.DisableFlagsInUseLine = true
	}
	return root
}

// book returns the logbook that is meant.
func (a *app) book() logbook.Book {
	dir := a.dir
	if dir == "" {
		dir = a.Env("WAYWRIGHT_LOGBOOK")
	}
	if dir == "" {
		dir = "logbook"
	}
	return logbook.Book{Dir: dir, Program: version(), Kept: a.kept}
}

// note tells something beside what a command prints.
func (a *app) note(format string, args ...any) {
	a.tell(fmt.Sprintf(format, args...))
}

// tell writes a text to who looks at the screen: in whole words where it is one,
// in one line where a file or a program takes it.
func (a *app) tell(text string) {
	columns := width(a.Err)
	if columns == 0 {
		fmt.Fprintln(a.Err, text)
		return
	}
	for _, line := range strings.Split(text, "\n") {
		if utf8.RuneCountInString(line) < columns || strings.HasPrefix(line, " ") { // examples stay as they are
			fmt.Fprintln(a.Err, line)
			continue
		}
		fmt.Fprint(a.Err, fill(line, "", min(columns-1, page)))
	}
}

func (a *app) printf(format string, args ...any) {
	fmt.Fprintf(a.Out, format, args...)
}

// The exit codes.
const (
	done   = 0 // accepted, valid, all hold
	no     = 1 // the answer is no
	unable = 2 // the command cannot be carried out
	paused = 3 // not decided, more to do
)

// ending is the error of a command that ends with an exit code of its own. Err
// is nil where everything has been said.
type ending struct {
	code int
	err  error
}

func (e *ending) Error() string {
	if e.err == nil {
		return fmt.Sprintf("exit code %d", e.code)
	}
	return e.err.Error()
}

func (e *ending) Unwrap() error { return e.err }

// exit ends a command that has said everything.
func exit(code int) error {
	if code == done {
		return nil
	}
	return &ending{code: code}
}

// cannot ends a command that cannot be carried out.
func cannot(format string, args ...any) error {
	return &ending{unable, fmt.Errorf(format, args...)}
}

// ended prints an error once, and returns the exit code that it stands for.
func (a *app) ended(err error) int {
	if err == nil {
		return done
	}
	code := unable
	var e *ending
	if errors.As(err, &e) {
		code = e.code
		if e.err == nil {
			return code
		}
	}
	var bad *logbook.BadRegister
	if errors.As(err, &bad) {
		a.diagnostics(bad.Diagnostics, func(string) []byte { return bad.Text })
		fmt.Fprintf(a.Err, "waywright: %s cannot be used. Mend it, then try again.\n", bad.Path)
		return code
	}
	text := err.Error()
	if strings.HasPrefix(text, "unknown command") {
		text = strings.TrimSpace(text) + "\nSee: waywright --help"
	}
	a.tell("waywright: " + diagnose.Plain(text))
	return code
}

// diagnostics prints what was found in files.
func (a *app) diagnostics(list diagnose.List, src func(string) []byte) {
	// A screen that takes no more has nobody before it.
	_ = diagnose.WriteText(a.Err, list, src)
}

// version is that of the build.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return unnamed
	}
	rev, changed := "", ""
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision" && len(s.Value) >= 12:
			rev = "+" + s.Value[:12]
		case s.Key == "vcs.modified" && s.Value == "true":
			changed = ".changed"
		}
	}
	switch v := strings.TrimPrefix(info.Main.Version, "v"); {
	case rev != "":
		return unnamed + rev + changed
	case v != "" && v != "(devel)": // installed as a module
		return v
	}
	return unnamed
}

// unnamed is the version of a build that does not say from which sources it is.
const unnamed = "0.1.0"

// exact tells whether the version names one state of the sources and no other.
func exact() bool {
	v := version()
	return v != unnamed && !strings.HasSuffix(v, ".changed")
}

// name returns what a command is called behind the program's name.
func name(c *cobra.Command) string { return strings.TrimPrefix(c.CommandPath(), "waywright ") }

// takes returns a check of the arguments that names what is wanted.
func takes(least, most int, what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		switch {
		case len(args) < least:
			return cannot("%s needs %s. Example:\n%s", name(c), what, c.Example)
		case most >= 0 && len(args) > most:
			return cannot("%s takes %s, and %q is left over. See: %s --help", name(c), what, strings.Join(args[most:], " "), c.CommandPath())
		}
		return nil
	}
}

// notFlag is a value with a sign, or an expression, in the place of a flag.
var notFlag = regexp.MustCompile(`^-([0-9.,]|.*\()`)

// signed puts values that begin with a minus where they are not taken for
// flags: at the end, behind --. The commands that take one take it last.
func signed(args []string) []string {
	var out, values []string
	for i, arg := range args {
		if arg == "--" {
			out = append(out, args[i:]...)
			break
		}
		flagged := i > 0 && strings.HasPrefix(args[i-1], "--") && !strings.Contains(args[i-1], "=")
		if notFlag.MatchString(arg) && !flagged {
			values = append(values, arg)
			continue
		}
		out = append(out, arg)
	}
	if len(values) > 0 {
		out = append(append(out, "--"), values...)
	}
	return out
}
