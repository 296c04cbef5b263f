package enginetest

import (
	"strings"
	"testing"
)

// Play tells a run every line of a script, as [Run] has them, and returns the
// run. A line that is refused fails the test.
func Play(t testing.TB, script string, load Loader) *Runner {
	t.Helper()
	var r *Runner
	for n, line := range strings.Split(script, "\n") {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		if rest, ok := strings.CutPrefix(line, "begin "); ok {
			r = begin(t, rest, load)
			continue
		}
		if r == nil {
			t.Fatalf("line %d: %q comes before begin", n+1, line)
		}
		in, special := r.input(line)
		if special != "" {
			continue
		}
		if _, refusal, err := r.Say(in); err != nil || refusal != nil {
			t.Fatalf("line %d: %q is refused where %q is asked: %+v %v", n+1, line, r.Next().Name, refusal, err)
		}
	}
	return r
}
