package csv_test

import (
	"bytes"
	stdcsv "encoding/csv"
	"errors"
	"flag"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"waywright/report"
	"waywright/report/csv"
	"waywright/report/reporttest"
)

var update = flag.Bool("update", false, "write the golden files anew")

// records are two made by hand, and those that runs gave.
func records(t testing.TB) map[string]report.Record {
	t.Helper()
	out := map[string]report.Record{"tailstock": reporttest.Tailstock(), "bar": reporttest.Bar(), "nothing": {Format: report.Format}}
	files, err := filepath.Glob("../testdata/*.golden.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("no records of runs: %v", err)
	}
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		r, err := report.Parse(b)
		if err != nil {
			t.Fatal(err)
		}
		out["run-"+strings.TrimSuffix(filepath.Base(f), ".golden.json")] = r
	}
	return out
}

var tables = map[string]func(io.Writer, report.Record, csv.Options) error{"tests": csv.Tests, "readings": csv.Readings}

func render(t testing.TB, table string, r report.Record, o csv.Options) string {
	t.Helper()
	var b bytes.Buffer
	if err := tables[table](&b, r, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// sheet reads a table as another program would: strictly by RFC 4180, after
// the mark of UTF-8.
func sheet(t testing.TB, text string, comma rune) (rows []map[string]string) {
	t.Helper()
	rest, ok := strings.CutPrefix(text, csv.Mark)
	if !ok {
		t.Fatalf("the table does not begin with the mark of UTF-8: %.20q", text)
	}
	r := stdcsv.NewReader(strings.NewReader(rest))
	r.Comma = comma
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range all[1:] {
		row := map[string]string{}
		for i, name := range all[0] {
			row[name] = line[i]
		}
		if len(row) != len(line) {
			t.Fatalf("two columns have one name: %q", all[0])
		}
		rows = append(rows, row)
	}
	return rows
}

// The tables are what a buyer gets: read the difference before it goes in.
func TestTables(t *testing.T) {
	all := records(t)
	for _, name := range []string{"tailstock", "bar", "run-headstock"} {
		for table := range tables {
			got := render(t, table, all[name], csv.Options{})
			golden := filepath.Join("testdata", name+"-"+table+".golden.csv")
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
				t.Errorf("%s (−want +got):\n%s", golden, d)
			}
		}
	}
}

// Every take of the record is a row with its number and its unit, and so is
// every place that was not read.
func TestReadingsAreAll(t *testing.T) {
	for name, r := range records(t) {
		rows := sheet(t, render(t, "readings", r, csv.Options{}), ',')
		n := 0
		next := func() map[string]string {
			if n++; n > len(rows) {
				t.Fatalf("%s: %d rows are too few", name, len(rows))
			}
			return rows[n-1]
		}
		for _, rd := range r.Readings {
			for _, p := range rd.Places {
				if len(p.Takes) == 0 {
					if row := next(); row["take"] != "" || row["value"] != "" || row["why"] == "" {
						t.Errorf("%s: a place that was not read is the row %v", name, row)
					}
				}
				for i, tk := range p.Takes {
					row := next()
					if row["take"] != strconv.Itoa(i+1) || row["set"] != rd.ID || row["working"] != strconv.Itoa(rd.Working) {
						t.Errorf("%s: take %d of %s is in the row %v", name, i+1, rd.ID, row)
					}
					if tk.Number == nil {
						if row["value"] != "" {
							t.Errorf("%s: words have the value %q", name, row["value"])
						}
						continue
					}
					if got, want := row["value"], strings.ReplaceAll(tk.Number.Text, "−", "-"); got != want {
						t.Errorf("%s: value %q, want %q", name, got, want)
					}
					if row["unit"] != tk.Number.Unit {
						t.Errorf("%s: unit %q, want %q", name, row["unit"], tk.Number.Unit)
					}
				}
			}
		}
		if n != len(rows) {
			t.Errorf("%s: %d rows, want %d", name, len(rows), n)
		}
	}
}

// One kind of number has one unit in the base column, also of an inch run: an
// inch is 25.4 mm (NIST SP 811, B.8).
func TestBaseValues(t *testing.T) {
	for _, tt := range []struct {
		x           float64
		unit        string
		want, unit2 string
	}{
		{1.2538, "in", "31.84652", "mm"}, {-9, "µm", "-0.009", "mm"}, {0.5, "thou", "0.0127", "mm"},
		{20.1, "°C", "20.1", "°C"}, {68, "°F", "20", "°C"}, {12, "furlong", "12", "furlong"}, {0.25, "", "0.25", ""}, {12, "″", "12", "″"},
	} {
		n := report.Number{Value: tt.x, Unit: tt.unit, Text: "1"}
		r := report.Record{Readings: []report.Reading{{Places: []report.Place{{Takes: []report.Take{{Number: &n}}}}}}}
		row := sheet(t, render(t, "readings", r, csv.Options{}), ',')[0]
		if row["base_value"] != tt.want || row["base_unit"] != tt.unit2 {
			t.Errorf("%v %s is %s %s, want %s %s", tt.x, tt.unit, row["base_value"], row["base_unit"], tt.want, tt.unit2)
		}
	}
}

func TestTestsAreAll(t *testing.T) {
	for name, r := range records(t) {
		rows := sheet(t, render(t, "tests", r, csv.Options{}), ',')
		if len(rows) != len(r.Tests) {
			t.Fatalf("%s: %d rows, want %d", name, len(rows), len(r.Tests))
		}
		for i, x := range r.Tests {
			row := rows[i]
			if row["no"] != strconv.Itoa(x.No) || row["verdict"] != x.Word || row["attempts"] != strconv.Itoa(len(x.Attempts)) {
				t.Errorf("%s: test %d is the row %v", name, x.No, row)
			}
			if x.Found == nil || x.Found.Value == nil {
				continue
			}
			got, err := strconv.ParseFloat(row["as_left_all_figures"], 64)
			if err != nil || got != x.Found.Value.Value {
				t.Errorf("%s: test %d: as left %v (%v), want %v", name, x.No, got, err, x.Found.Value.Value)
			}
			if row["unit"] != x.Found.Value.Unit {
				t.Errorf("%s: test %d: unit %q, want %q", name, x.No, row["unit"], x.Found.Value.Unit)
			}
		}
	}
}

// What a person types into a text must not be worked out by the spreadsheet
// that opens the table.
func TestTypedFormulas(t *testing.T) {
	for typed, want := range map[string]string{
		`=HYPERLINK("http://example.org","0.012")`: `'=HYPERLINK("http://example.org","0.012")`,
		"+1+1":           "'+1+1",
		"-0.03 away":     "'-0.03 away",
		"@SUM(A1:A9)":    "'@SUM(A1:A9)",
		"\t=1+1":         "' =1+1",
		"＝1+1":           "'＝1+1",
		"-0.03":          "-0.03",
		"+0,03":          "+0,03",
		"-1.2.3":         "'-1.2.3",
		"0.03 away":      "0.03 away",
		"−0.03":          "−0.03",
		"a\nb":           "a b",
		"a\u202eb\x00":   "a\uFFFDb\uFFFD",
		`say "no", then`: `say "no", then`,
		"":               "",
	} {
		r := report.Record{Readings: []report.Reading{{Places: []report.Place{{Takes: []report.Take{{Typed: typed}}}}}}}
		if got := sheet(t, render(t, "readings", r, csv.Options{}), ',')[0]["typed"]; got != want {
			t.Errorf("typed %q stands as %q, want %q", typed, got, want)
		}
	}
}

var number = regexp.MustCompile(`^[+-]?[0-9]+([.,][0-9]+)?$`)

// Whatever is typed: the table can be read again with the same rows, and no
// field of it begins a formula.
func TestAnyTextIsSafe(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		some := rapid.OneOf(rapid.String(), rapid.StringMatching(`[ \t]*[=+@\-＝＋－＠]?[A-Z0-9".,;()'\r\n]*`))
		draw := func(name string) string { return some.Draw(t, name) }
		comma := rapid.Bool().Draw(t, "comma")
		r := report.Record{Number: draw("number"), Machine: report.Machine{ID: draw("machine")}}
		n := rapid.IntRange(1, 4).Draw(t, "takes")
		for range n {
			r.Readings = append(r.Readings, report.Reading{Name: draw("name"), Why: draw("why"), Places: []report.Place{{Ask: draw("ask"), Takes: []report.Take{{
				Typed: draw("typed"), Text: draw("text"), Reason: draw("reason"), Number: &report.Number{Value: -1.5, Text: draw("digits"), Unit: draw("unit")},
			}}}}})
			r.Tests = append(r.Tests, report.Test{Title: draw("title"), Why: draw("why")})
		}
		for table, write := range tables {
			var b bytes.Buffer
			if err := write(&b, r, csv.Options{DecimalComma: comma}); err != nil {
				t.Fatal(err)
			}
			rd := stdcsv.NewReader(strings.NewReader(strings.TrimPrefix(b.String(), csv.Mark)))
			if comma {
				rd.Comma = ';'
			}
			rows, err := rd.ReadAll() // it refuses rows of unlike length
			if err != nil || len(rows) != n+1 {
				t.Fatalf("%s: %d rows, %v; want %d", table, len(rows), err, n+1)
			}
			for _, f := range slices.Concat(rows...) {
				begins := strings.TrimSpace(f)
				if begins != "" && strings.ContainsRune("=+-@＝＋－＠", []rune(begins)[0]) && !number.MatchString(f) {
					t.Fatalf("%s: the field %q would be worked out", table, f)
				}
			}
		}
	})
}

// With a decimal comma the same table stands behind semicolons.
func TestDecimalComma(t *testing.T) {
	for name, r := range records(t) {
		for table := range tables {
			points := sheet(t, render(t, table, r, csv.Options{}), ',')
			commas := sheet(t, render(t, table, r, csv.Options{DecimalComma: true}), ';')
			if len(points) != len(commas) {
				t.Fatalf("%s %s: %d rows, want %d", name, table, len(commas), len(points))
			}
			for i, row := range points {
				for col, x := range row {
					want := x
					switch col {
					case "value", "base_value", "at", "k", "dof", "lower", "upper", "as_found", "as_left", "as_left_all_figures", "as_found_give_or_take", "give_or_take", "drift_moved", "drift_allowed":
						want = strings.Replace(x, ".", ",", 1)
					}
					if got := commas[i][col]; got != want {
						t.Errorf("%s %s: row %d %s is %q, want %q", name, table, i, col, got, want)
					}
				}
			}
		}
	}
}

func TestLinesEndAsRFC4180Says(t *testing.T) {
	for name, r := range records(t) {
		for table := range tables {
			got := render(t, table, r, csv.Options{})
			if strings.Count(got, "\n") != strings.Count(got, "\r\n") || strings.Count(got, "\r") != strings.Count(got, "\r\n") || !strings.HasSuffix(got, "\r\n") {
				t.Errorf("%s %s: a line does not end with CR LF", name, table)
			}
		}
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestWriteFails(t *testing.T) {
	for name, write := range tables {
		if err := write(full{}, reporttest.Bar(), csv.Options{}); err == nil || !strings.Contains(err.Error(), "disk full") {
			t.Errorf("%s: %v, want the error of the writer", name, err)
		}
	}
}
