package prompt

import (
	"context"
	"fmt"
	"os"
	"testing"
	"time"
)

// TestMain lets the test binary stand for the program: with PROMPT_CHILD set
// to a procedure it runs that on its own terminal, and writes what was kept to
// the file PROMPT_KEPT.
func TestMain(m *testing.M) {
	if name := os.Getenv("PROMPT_CHILD"); name != "" {
		os.Exit(child(name))
	}
	os.Exit(m.Run())
}

func child(name string) int {
	r := begin(new(testing.T), name)
	opts := options(r)
	opts.Voice.Large = os.Getenv("PROMPT_LARGE") != ""
	opts.Settle, _ = time.ParseDuration(os.Getenv("PROMPT_SETTLE"))
	kept, err := os.Create(os.Getenv("PROMPT_KEPT"))
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	var result Result
	if os.Getenv("PROMPT_PLAIN") != "" {
		result, err = Plain(os.Stdin, os.Stdout, r, opts)
	} else {
		result, err = Terminal(context.Background(), os.Stdin, os.Stdout, r, opts)
	}
	for _, e := range r.Events() {
		fmt.Fprintf(kept, "%T %+v\n", e.Data, e.Data)
	}
	fmt.Fprintf(kept, "result %+v %v\n", result, err)
	if result.Paused {
		return 3
	}
	return 0
}
