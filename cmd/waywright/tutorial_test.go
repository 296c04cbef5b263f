package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"waywright/cmd/waywright/internal/reference"
)

// The tutorial is followed to the letter: its files are written as it says, and
// each command says what stands below it. … stands for anything.
func TestTutorial(t *testing.T) {
	dir := t.TempDir()
	files := map[string]string{}
	commands := 0
	for _, p := range reference.Tutorial() {
		if p.Kind != "code" {
			continue
		}
		switch in := p.Info; {
		case in.File != "":
			files[in.File] = p.Text
		case in.In != "":
			text, err := reference.Put(files[in.In], p.Text, in.Below)
			if err != nil {
				t.Fatalf("%v\n%s", err, p.Text)
			}
			files[in.In] = text
		case in.Lang == "console":
			commands += follow(t, dir, p)
			continue
		default:
			t.Errorf("a block of code says of no file what it is:\n%s", p.Text)
		}
		for name, text := range files {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		if in := p.Info; in.Lang == "hcl" { // every state of it can be used
			out, err := command(dir, "tidy", "--check", "drill-table.hcl").CombinedOutput()
			if err != nil {
				t.Errorf("after %s: %v\n%s", firstLine(p.Text), err, out)
			}
		}
	}
	if commands < 15 {
		t.Errorf("the tutorial gives only %d commands", commands)
	}
}

func firstLine(s string) string {
	line, _, _ := strings.Cut(s, "\n")
	return line
}

// follow runs the commands of a block and returns how many they are.
func follow(t *testing.T, dir string, p reference.Piece) int {
	t.Helper()
	n := 0
	for _, part := range strings.Split("\n"+p.Text, "\n$ ")[1:] {
		line, want, _ := strings.Cut(part, "\n")
		out, err := command(dir, words(line)[1:]...).CombinedOutput()
		code := 0
		var e *exec.ExitError
		if errors.As(err, &e) {
			code = e.ExitCode()
		}
		if code != p.Info.Code {
			t.Errorf("%s ends with %d; want %d\n%s", line, code, p.Info.Code, out)
		}
		if !fits(string(out), want) {
			t.Errorf("%s\nsays\n%s\nwant\n%s", line, out, want)
		}
		n++
	}
	return n
}

var word = regexp.MustCompile(`"[^"]*"|\S+`)

// words takes a command line apart as a shell does, as far as the tutorial
// needs it.
func words(line string) []string {
	var out []string
	for _, w := range word.FindAllString(line, -1) {
		out = append(out, strings.Trim(w, `"`))
	}
	return out
}

// fits tells whether a program said what is wanted; … stands for anything.
func fits(out, want string) bool {
	var b strings.Builder
	for i, part := range strings.Split(strings.TrimSpace(want), "…") {
		if i > 0 {
			b.WriteString(`(?s:.*)`)
		}
		b.WriteString(regexp.QuoteMeta(strings.TrimSpace(part)))
		if i > 0 {
			continue
		}
		b.WriteString(`\s*`)
	}
	return regexp.MustCompile(`^\s*` + b.String() + `\s*$`).MatchString(out)
}
