// Package published reads the published figures that tests are held against,
// from testdata/published. It is for tests alone.
package published

import (
	"encoding/json"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"testing"
)

// Entry is one published figure, as printed. Its tolerance is half of the last
// printed digit, or what the file gives a reason for.
type Entry struct {
	Quantity  string
	Value     string
	Unit      string
	Where     string
	Tolerance string `json:"suggested_tolerance"`
	Usable    *bool  `json:"usable_as_expected_value"`
}

// Misprint tells whether the figure is known to be wrong in its source.
func (e Entry) Misprint() bool { return e.Usable != nil && !*e.Usable }

// Number returns the figure and its tolerance, in the unit it is printed in.
func (e Entry) Number(t *testing.T) (want, tol float64) {
	t.Helper()
	return Number(t, e.Value), Number(t, e.Tolerance)
}

// Number reads a figure that is kept as text.
func Number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// Path returns where a file below testdata/published lies.
func Path(name string) string {
	_, here, _, _ := runtime.Caller(0)
	return filepath.Join(filepath.Dir(here), "..", "..", "..", "testdata", "published", filepath.FromSlash(name))
}

// Read reads a JSON file below testdata/published into v.
func Read(t *testing.T, name string, v any) {
	t.Helper()
	b, err := os.ReadFile(Path(name))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, v); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
}

// Find returns the entry of that quantity.
func Find(t *testing.T, entries []Entry, quantity string) Entry {
	t.Helper()
	for _, e := range entries {
		if e.Quantity == quantity {
			return e
		}
	}
	t.Fatalf("no published %s", quantity)
	return Entry{}
}
