package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// The procedure in README.md is one that can be used, and its commands are
// ones that there are.
func TestReadme(t *testing.T) {
	b, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	text := string(b)
	m := regexp.MustCompile("(?s)```hcl\n(.*?)```").FindStringSubmatch(text)
	if m == nil {
		t.Fatal("README.md shows no procedure")
	}
	dir := t.TempDir()
	file := filepath.Join(dir, "spacer.hcl")
	if err := os.WriteFile(file, []byte(m[1]), 0o666); err != nil {
		t.Fatal(err)
	}
	if out, err := command(dir, "proofread", "spacer.hcl").CombinedOutput(); err != nil {
		t.Errorf("proofread: %v\n%s", err, out)
	}
	c := start(t, dir, "run", "spacer.hcl", "--machine", "bench")
	if q := c.next(); q.Name != "operator" {
		t.Errorf("it asks %q first; want operator", q.Name)
	}

	commands := regexp.MustCompile("(?m)(?:^    go run ./cmd/waywright|`waywright) ([a-z]+)").FindAllStringSubmatch(text, -1)
	if len(commands) < 5 {
		t.Errorf("README.md shows only %d commands", len(commands))
	}
	for _, m := range commands {
		if out, err := command(dir, m[1], "--help").Output(); err != nil || !strings.Contains(string(out), "waywright "+m[1]) {
			t.Errorf("%s: %v\n%s", m[0], err, out)
		}
	}
}

// The demo that README.md shows runs as it stands there.
func TestReadmeDemo(t *testing.T) {
	b, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	m := regexp.MustCompile(`(?m)^    go run ./cmd/waywright (run .*--answers testdata/demo/.*)$`).FindStringSubmatch(string(b))
	if m == nil {
		t.Fatal("README.md shows no demo")
	}
	dir := shop(t)
	if err := os.MkdirAll(filepath.Join(dir, "testdata", "demo"), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(filepath.Join(dir, "logbook"), filepath.Join(dir, "testdata", "demo", "logbook")); err != nil {
		t.Fatal(err)
	}
	answers, err := os.ReadFile(filepath.Join("..", "..", "testdata", "demo", "wrong-way-first.answers"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "testdata", "demo", "wrong-way-first.answers"), answers, 0o666); err != nil {
		t.Fatal(err)
	}
	out, err := command(dir, strings.Fields(m[1])...).CombinedOutput()
	if err != nil || !strings.Contains(string(out), "record.html") {
		t.Errorf("%s: %v\n%s", m[1], err, out)
	}
}
