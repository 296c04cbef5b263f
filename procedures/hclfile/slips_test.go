package hclfile_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"waywright/procedures/hclfile"
)

const plainProcedure = `procedure "p" {
  title    = "P"
  machine  = "any"
  revision = "1"
  purpose  = "To see what is said."
}

instrument "dial" {
  kind       = "dial indicator"
  resolution = um(10)
}

step "s" {
  title = "Read it"
  tools = ["a rag", "a stone"]

  reading "bow" {
    ask      = "Bar, middle: height"
    unit     = "um"
    range    = [um(-100), um(100)]
    with     = instrument.dial
  }

  gate "level" {
    title     = "The bar is level"
    of        = reading.bow * (mm(1) / mm(1))
    within    = plus_minus(um(20))
    source    = "shop rule"
    if_failed = [reject]
  }
}

signoff "fitter" { title = "Measured by" }

rehearsal "level" {
  hidden { bow = um(3) }
  answer { bow = hidden.bow }
  ends { outcome = "accepted" }
}
`

// A slip of writing is told once, where it is, with its mend, and takes nothing
// along that stands below it.
func TestSlipIsToldOnce(t *testing.T) {
	for _, tt := range []struct {
		name, from, to string
		line           int
		want           string
	}{
		{"closing quote", `"Read it"`, `"Read it`, 14, "A quote is opened here"},
		{"closing quote in a list", `"a rag", "a stone"]`, `"a rag", "a stone]`, 15, "A quote is opened here"},
		{"closing quote in one line", `"Measured by" }`, `"Measured by }`, 33, "A quote is opened here"},
		{"opening quote", `"um"`, `um"`, 19, "Put one before it."},
		{"text over two lines", `"Bar, middle: height"`, "\"Bar,\nmiddle: height\"", 18, "A quote is opened here"},
		{"printer's quotes", `"shop rule"`, `“shop rule”`, 28, "Write the straight one"},
		{"printer's quotes below", `"shop rule"`, `„shop rule“`, 28, "Write the straight one"},
		{"end of a list", `um(100)]`, `um(100)`, 20, "A ] is missing"},
		{"end of a function", `plus_minus(um(20))`, `plus_minus(um(20)`, 27, "A ) is missing"},
		{"end of a block", "instrument.dial\n  }\n", "instrument.dial\n", 23, "the block that begins in line 17 is not closed"},
		{"end of an outer block", "[reject]\n  }\n}\n", "[reject]\n  }\n", 32, "the block that begins in line 13 is not closed"},
		{"one } too many", `"Measured by" }`, `"Measured by" } }`, 33, "one too many"},
		{"comma in a list", `"a rag", "a stone"`, `"a rag" "a stone"`, 15, "a comma is missing"},
		{"unit behind a number", `[um(-100), um(100)]`, `100 um`, 20, "write um(100)"},
		{"decimal comma", `um(10)`, `um(0,5)`, 10, "write it with a point: 0.5"},
		{"mu", `um(10)`, `µm(10)`, 10, "written um"},
		{"colon", `revision = `, `revision: `, 4, "write revision ="},
		{"times", `um(20))`, `um(20) x 2)`, 27, "Times is written *"},
		{"quotes round a word", `[reject]`, `["reject"]`, 29, "write reject"},
		{"equals before a block", `hidden {`, `hidden = {`, 36, "without the equals sign"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			text := strings.Replace(plainProcedure, tt.from, tt.to, 1)
			if text == plainProcedure {
				t.Fatal("nothing was replaced")
			}
			_, ds := hclfile.Parse(hclfile.Source{FS: fstest.MapFS{"p.hcl": {Data: []byte(text)}}, Path: "p.hcl"})
			if len(ds) != 1 || ds[0].Subject.Start.Line != tt.line || !strings.Contains(ds[0].Detail, tt.want) {
				t.Errorf("want one in line %d with %q; said", tt.line, tt.want)
				for _, d := range ds {
					t.Errorf("%s line %d: %s", d.Code, d.Subject.Start.Line, d.Detail)
				}
			}
		})
	}
}
