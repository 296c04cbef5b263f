package cli

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"waywright/cmd/waywright/internal/logbook"
	"waywright/procedures"
)

// A name that cannot be one is asked for again, with what would do.
func TestAskMachineOfAnEmptyLogbook(t *testing.T) {
	typed := filepath.Join(t.TempDir(), "typed")
	if err := os.WriteFile(typed, []byte("?\nmy  lathe\n#1\nmy-lathe\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	in, err := os.Open(typed)
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	var out strings.Builder
	a := &app{Streams: Streams{In: in, Out: &out}}
	b := logbook.Book{Dir: t.TempDir()}
	m, err := a.askMachine(b, &procedures.Procedure{Machine: "centre lathe"}, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	if m.ID != "my-lathe" {
		t.Errorf("the machine is %q, want my-lathe", m.ID)
	}
	for _, want := range []string{"short, and one word, such as lathe-1", "I read my lathe. A name is one word: type my-lathe.", "I read #1. An id is made of", "my-lathe is entered in the logbook"} {
		if !strings.Contains(strings.Join(strings.Fields(out.String()), " "), want) {
			t.Errorf("%q is not said in:\n%s", want, out.String())
		}
	}
}
