package cli

import (
	"io"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"
)

// Every command says in a line what it does, and shows how it is called.
func TestEveryCommandHasAnExample(t *testing.T) {
	a := &app{Streams: Streams{Out: io.Discard, Err: io.Discard, Now: time.Now, Env: func(string) string { return "" }}}
	seen := 0
	var walk func(c *cobra.Command)
	walk = func(c *cobra.Command) {
		for _, sub := range c.Commands() {
			walk(sub)
		}
		seen++
		if !strings.Contains(c.Example, "waywright") {
			t.Errorf("%s has no example", c.CommandPath())
		}
		for _, line := range strings.Split(c.Example, "\n") {
			if !strings.HasPrefix(line, "  ") {
				t.Errorf("%s: the example line %q is not set in", c.CommandPath(), line)
			}
		}
		if c.Short == "" || strings.HasSuffix(c.Short, ".") || strings.Contains(c.Short+c.Long, "!") {
			t.Errorf("%s is described as %q", c.CommandPath(), c.Short)
		}
	}
	walk(a.root())
	if seen < 14 {
		t.Errorf("there are only %d commands", seen)
	}
}

func TestSigned(t *testing.T) {
	for _, tt := range []struct{ in, want string }{
		{"amend r x 5 --because y", "amend r x 5 --because y"},
		{"amend r x -0.03 --because y", "amend r x --because y -- -0.03"},
		{"amend r x -,5", "amend r x -- -,5"},
		{"amend r x --because -3", "amend r x --because -3"},
		{"calc -um(3) --in um", "calc --in um -- -um(3)"},
		{"calc -- -um(3)", "calc -- -um(3)"},
		{"run p --answers -", "run p --answers -"},
		{"report r --json -o x", "report r --json -o x"},
		{"amend r x --take=2 -0.5", "amend r x --take=2 -- -0.5"},
	} {
		if got := strings.Join(signed(strings.Fields(tt.in)), " "); got != tt.want {
			t.Errorf("signed(%s) = %s; want %s", tt.in, got, tt.want)
		}
	}
}
