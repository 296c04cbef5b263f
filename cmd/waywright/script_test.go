package main

import (
	"bytes"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"waywright/cmd/waywright/internal/cli"
)

func TestMain(m *testing.M) {
	if os.Getenv(ordinaryEnv) != "" {
		becomeOrdinary()
	}
	testscript.Main(m, map[string]func(){
		"waywright": func() { os.Exit(cli.Main(os.Args[1:], cli.Process())) },
	})
}

// ordinaryEnv has the program run without the superuser's right to pass over
// permissions, for the scripts about folders that may only be read.
const ordinaryEnv = "WAYWRIGHT_TEST_ORDINARY"

// The scripts drive the real program. Beside the usual commands they have
//
//	exitcode N COMMAND …   the command ends with the code N
//	flip FILE N            changes one bit in the middle of line N
//	tail FILE TEXT         puts text behind the end of the file, without a line feed
//	hex FILE DIGITS        makes a file of bytes
//	sparse FILE BYTES      makes a large file that takes no room
//	nested FILE N          makes a procedure file with N brackets in one another
//	count N TEXT FILE      the text stands N times in the file
func TestScripts(t *testing.T) {
	demo, err := filepath.Abs(filepath.Join("..", "..", "testdata", "demo"))
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("testdata", "script"),
		RequireExplicitExec: true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("WAYWRIGHT_LOGBOOK", "")
			// The plan of an overhaul, and the procedures that it names.
			plans := os.DirFS(filepath.Join(demo, "..", "procedures", "overhaul"))
			if err := os.CopyFS(filepath.Join(env.WorkDir, "drill", "procedures"), plans); err != nil {
				return err
			}
			// A copy, because a run is written into the logbook.
			for _, name := range []string{"wrong-way-first.answers", "logbook/machines.hcl", "logbook/instruments.hcl", "logbook/people.hcl"} {
				b, err := os.ReadFile(filepath.Join(demo, name))
				if err != nil {
					return err
				}
				to := filepath.Join(env.WorkDir, "demo", name)
				if err := errors.Join(os.MkdirAll(filepath.Dir(to), 0o777), os.WriteFile(to, b, 0o666)); err != nil {
					return err
				}
			}
			return nil
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"exitcode": exitcode,
			"flip":     flip,
			"tail":     tail,
			"hex":      hexFile,
			"sparse":   sparse,
			"nested":   nested,
			"count":    count,
		},
	})
}

func exitcode(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exitcode N command …")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var e *exec.ExitError
		if !errors.As(err, &e) {
			ts.Fatalf("%s: %v", args[1], err)
		}
		got = e.ExitCode()
	}
	if got != want {
		ts.Fatalf("%s ended with %d; want %d", strings.Join(args[1:], " "), got, want)
	}
}

// read reads a file that a script names.
func read(ts *testscript.TestScript, name string) []byte {
	b, err := os.ReadFile(ts.MkAbs(name))
	ts.Check(err)
	return b
}

func write(ts *testscript.TestScript, name string, b []byte) {
	ts.Check(os.WriteFile(ts.MkAbs(name), b, 0o666))
}

func flip(ts *testscript.TestScript, _ bool, args []string) {
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	lines := bytes.SplitAfter(read(ts, args[0]), []byte("\n"))
	if n < 1 || n > len(lines) || len(lines[n-1]) == 0 {
		ts.Fatalf("%s has no line %d", args[0], n)
	}
	lines[n-1][len(lines[n-1])/2] ^= 1
	write(ts, args[0], slices.Concat(lines...))
}

func tail(ts *testscript.TestScript, _ bool, args []string) {
	write(ts, args[0], append(read(ts, args[0]), args[1]...))
}

func hexFile(ts *testscript.TestScript, _ bool, args []string) {
	b, err := hex.DecodeString(args[1])
	ts.Check(err)
	write(ts, args[0], b)
}

func sparse(ts *testscript.TestScript, _ bool, args []string) {
	size, err := strconv.ParseInt(args[1], 10, 64)
	ts.Check(err)
	write(ts, args[0], nil)
	ts.Check(os.Truncate(ts.MkAbs(args[0]), size))
}

func nested(ts *testscript.TestScript, _ bool, args []string) {
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	write(ts, args[0], fmt.Appendf(nil, "procedure \"deep\" {\n  title = %s1%s\n}\n", strings.Repeat("(", n), strings.Repeat(")", n)))
}

func count(ts *testscript.TestScript, _ bool, args []string) {
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	if got := strings.Count(string(read(ts, args[2])), args[1]); got != want {
		ts.Fatalf("%q stands %d times in %s; want %d", args[1], got, args[2], want)
	}
}
