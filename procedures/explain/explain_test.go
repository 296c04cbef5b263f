package explain

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/procedures/diagnose"
)

// Every code has a page. Its wrong example earns that code on the lines that
// are marked, and no other code; of the mended one nothing can be said.
func TestPages(t *testing.T) {
	for _, p := range All() {
		t.Run(p.Code, func(t *testing.T) {
			text, _ := pages.ReadFile("pages/" + p.Code + ".txt")
			besides := also(string(text))
			r := p.Wrong.Proofread()
			var got, want []string
			for _, d := range r.Diagnostics {
				if d.Code == p.Code {
					got = append(got, fmt.Sprintf("%s:%d", d.Subject.File, d.Subject.Start.Line))
				} else if !slices.Contains(besides, d.Code) {
					besides = append(besides, d.Code)
					t.Errorf("the wrong example earns %s besides, in line %d: %s", d.Code, d.Subject.Start.Line, d.Detail)
				}
			}
			for _, f := range p.Wrong.Files {
				for i, l := range f.Lines {
					if l.Marked {
						want = append(want, fmt.Sprintf("%s:%d", f.Name, i+1))
					}
				}
			}
			if len(want) == 0 { // of the whole file
				want = []string{p.Wrong.Path + ":1"}
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("marked −, earned +:\n%s%s", diff, numbered(p.Wrong))
			}
			for _, d := range p.Mended.Proofread().Diagnostics {
				t.Errorf("the mended example earns %s, in line %d: %s\n%s", d.Code, d.Subject.Start.Line, d.Detail, numbered(p.Mended))
			}
			if len(p.Said) == 0 {
				t.Error("nothing is said")
			}
		})
	}
}

func numbered(e Example) string {
	var b strings.Builder
	for _, f := range e.Files {
		fmt.Fprintf(&b, "%s\n", f.Name)
		for i, l := range f.Lines {
			if i < 60 {
				fmt.Fprintf(&b, "%3d %s\n", i+1, l.Text)
			}
		}
	}
	return b.String()
}

// A page is for a code, and has something to show that differs.
func TestNoPageIsLeftOver(t *testing.T) {
	files, err := pages.ReadDir("pages")
	if err != nil || len(files) != len(diagnose.Codes()) {
		t.Errorf("%d pages for %d codes, %v", len(files), len(diagnose.Codes()), err)
	}
	for _, p := range All() {
		shown := 0
		for _, f := range append(slices.Clone(p.Wrong.Files), p.Mended.Files...) {
			for _, l := range f.Shown() {
				if n := len([]rune(l.Text)); n > 110 {
					t.Errorf("%s: a line of %d characters is shown: %s", p.Code, n, l.Text)
				}
				if l.Differ {
					shown++
				}
			}
		}
		if shown == 0 && p.Code != "E001" && p.Code != "W502" {
			t.Errorf("%s: the two examples show no difference", p.Code)
		}
	}
	if _, ok := Of("E999"); ok {
		t.Error("E999 has a page")
	}
}

// A page in text keeps to the width of a terminal, marks what earns the code,
// and says what proofread says.
func TestWriteText(t *testing.T) {
	for _, p := range All() {
		var b strings.Builder
		if err := p.WriteText(&b); err != nil {
			t.Fatal(err)
		}
		for _, line := range strings.Split(b.String(), "\n") {
			if n := len([]rune(line)); n > 110 {
				t.Errorf("%s: %d characters: %s", p.Code, n, line)
			}
		}
	}
	p, _ := Of("E304")
	var b strings.Builder
	if err := p.WriteText(&b); err != nil {
		t.Fatal(err)
	}
	want := `E304  Limit has the wrong dimension
an error: the file cannot be used

A result can only be held against a limit of its own kind.

For example:

      gate "level" {
        title     = "The bar is level"
        of        = reading.bow
  >     at_most   = arcsec(12)
        source    = "shop rule"
        if_failed = [reject]
      }

proofread says:

    reading.bow is a length, but this limit is an angle. Write the limit as a
    length, such as um(20).

The mend. Write the limit in a unit of the result's dimension.

      gate "level" {
        title     = "The bar is level"
        of        = reading.bow
  +     at_most   = um(12)
        source    = "shop rule"
        if_failed = [reject]
      }
`
	if diff := cmp.Diff(want, b.String()); diff != "" {
		t.Error(diff)
	}
}
