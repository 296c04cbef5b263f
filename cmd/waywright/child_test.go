package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// child is the real program, spoken to by the line protocol.
type child struct {
	t   *testing.T
	cmd *exec.Cmd
	in  io.WriteCloser
	out *bufio.Reader
	err *os.File // what it says on standard error
}

// command is the real program, to be run in a folder.
func command(dir string, args ...string) *exec.Cmd {
	c := exec.Command("waywright", args...)
	c.Dir = dir
	return c
}

// start starts the program in a folder.
func start(t *testing.T, dir string, args ...string) *child {
	t.Helper()
	c := &child{t: t, cmd: command(dir, append(args, "--protocol", "json")...)}
	var err error
	if c.err, err = os.Create(filepath.Join(t.TempDir(), "stderr")); err != nil {
		t.Fatal(err)
	}
	c.cmd.Stderr = c.err
	out, err := c.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if c.in, err = c.cmd.StdinPipe(); err != nil {
		t.Fatal(err)
	}
	c.out = bufio.NewReader(out)
	if err := c.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.end(); c.err.Close() })
	return c
}

// said is a line that the program says.
type said struct {
	Type    string `json:"type"`
	ID      string `json:"id"`
	Name    string `json:"name"`
	Take    int    `json:"take"`
	Outcome string `json:"outcome"`
	Wrong   string `json:"wrong"`
}

// next reads up to the next question or the end.
func (c *child) next() said {
	c.t.Helper()
	for {
		line, err := c.out.ReadBytes('\n')
		if err != nil {
			c.t.Fatalf("the program says no more: %v\n%s", err, c.stderr())
		}
		var s said
		if err := json.Unmarshal(line, &s); err != nil {
			c.t.Fatalf("%s: %v", line, err)
		}
		switch s.Type {
		case "refusal":
			c.t.Fatalf("refused: %s", line)
		case "question", "end":
			return s
		}
	}
}

// answer says an answer to the open question.
func (c *child) answer(text, reason string) {
	c.t.Helper()
	line, err := json.Marshal(map[string]string{"type": "answer", "text": text, "reason": reason})
	if err != nil {
		c.t.Fatal(err)
	}
	if _, err := c.in.Write(append(line, '\n')); err != nil {
		c.t.Fatalf("%v\n%s", err, c.stderr())
	}
}

// kill ends the program as a loss of power does.
func (c *child) kill() {
	c.t.Helper()
	if err := c.cmd.Process.Kill(); err != nil {
		c.t.Fatal(err)
	}
	c.cmd.Wait()
}

// end ends the program by the end of its input, and returns its exit code.
func (c *child) end() int {
	c.in.Close()
	io.Copy(io.Discard, c.out)
	err := c.cmd.Wait()
	if e := new(exec.ExitError); errors.As(err, &e) {
		return e.ExitCode()
	}
	return 0
}

func (c *child) stderr() string {
	b, err := os.ReadFile(c.err.Name())
	if err != nil {
		return err.Error()
	}
	return fmt.Sprintf("standard error:\n%s", b)
}
