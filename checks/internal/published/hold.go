package published

import (
	"math"
	"testing"
)

// Digits returns how many decimal digits two numbers have in common, the
// logarithm of their relative error as NIST counts them; 17 where they are
// equal.
func Digits(got, want float64) float64 {
	switch {
	case got == want:
		return 17
	case want == 0:
		return -math.Log10(math.Abs(got))
	}
	return -math.Log10(math.Abs(got-want) / math.Abs(want))
}

// Agree holds a number against a published one with its source, and says in
// the log how many digits agree; it fails the test where fewer than enough do.
func Agree(t *testing.T, source, what string, got, want, enough float64) {
	t.Helper()
	d := Digits(got, want)
	t.Logf("%-36s %-18.15g published %-18.15g %5.1f digits, wanted %.1f (%s)", what, got, want, d, enough, source)
	if !(d >= enough) {
		t.Errorf("%s = %.16g, want %.16g to %.1f digits, have %.1f (%s)", what, got, want, enough, d, source)
	}
}

// Sheet is a file of published figures, or a part of it, that keeps count of
// those that were compared.
type Sheet struct {
	source  string
	entries []Entry
	held    map[string]bool
}

// NewSheet returns the sheet of some figures; source is the document they are
// printed in.
func NewSheet(source string, entries []Entry) *Sheet {
	return &Sheet{source: source, entries: entries, held: map[string]bool{}}
}

// ReadSheet reads the figures of a JSON file below testdata/published.
func ReadSheet(t *testing.T, name string) *Sheet {
	t.Helper()
	var f struct {
		Source    struct{ Document string }
		Published []Entry
	}
	Read(t, name, &f)
	return NewSheet(f.Source.Document, f.Published)
}

// Entry returns the figure of that quantity as one that is compared.
func (s *Sheet) Entry(t *testing.T, quantity string) Entry {
	t.Helper()
	s.held[quantity] = true
	return Find(t, s.entries, quantity)
}

// Hold holds a number against the published one of that quantity, to its own
// tolerance, and says in the log how many digits agree.
func (s *Sheet) Hold(t *testing.T, quantity string, got float64) {
	t.Helper()
	s.HoldTo(t, quantity, got, 0)
}

// HoldTo is like Hold with a tolerance to which the caller has a reason, where
// it is not 0.
func (s *Sheet) HoldTo(t *testing.T, quantity string, got, tol float64) {
	t.Helper()
	e := s.Entry(t, quantity)
	want := Number(t, e.Value)
	if tol == 0 && e.Tolerance != "" {
		tol = Number(t, e.Tolerance)
	}
	t.Logf("%-36s %-12.8g published %-12s %5.1f digits (%s, %s)", quantity, got, e.Value, Digits(got, want), s.source, e.Where)
	if !(math.Abs(got-want) <= tol+1e-12*math.Abs(want)) {
		t.Errorf("%s = %.10g, want %s ± %g (%s, %s)", quantity, got, e.Value, tol, s.source, e.Where)
	}
}

// Whole fails the test where a figure of the sheet was compared with nothing.
// Known misprints, and the quantities named, may be left out.
func (s *Sheet) Whole(t *testing.T, but ...string) {
	t.Helper()
	for _, q := range but {
		Find(t, s.entries, q) // a name that is not there helps nobody
		s.held[q] = true
	}
	for _, e := range s.entries {
		if !s.held[e.Quantity] && !e.Misprint() {
			t.Errorf("the published %s = %s is compared with nothing (%s, %s)", e.Quantity, e.Value, s.source, e.Where)
		}
	}
}
