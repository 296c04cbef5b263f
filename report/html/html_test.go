package html_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/report"
	"waywright/report/html"
	"waywright/report/reporttest"
)

var update = flag.Bool("update", false, "write the golden files anew")

func render(t testing.TB, r report.Record) string {
	t.Helper()
	var b bytes.Buffer
	if err := html.Write(&b, r); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The pages are what a buyer gets: read the difference before it goes in.
func TestPages(t *testing.T) {
	for name, r := range map[string]report.Record{"tailstock": reporttest.Tailstock(), "bar": reporttest.Bar()} {
		got := render(t, r)
		golden := filepath.Join("testdata", name+".golden.html")
		if *update {
			if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(string(want), got); d != "" {
			t.Errorf("%s (−want +got):\n%s", name, d)
		}
	}
}
