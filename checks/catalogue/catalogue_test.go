package catalogue

import (
	"math"
	"slices"
	"strings"
	"testing"

	"waywright/checks/value"
)

// TestExamples evaluates the worked example of every function. Each example
// names where its answer is from.
func TestExamples(t *testing.T) {
	for _, f := range All() {
		t.Run(f.Name, func(t *testing.T) {
			got, err := evaluate(f.Example.Expr)
			if err != nil {
				t.Fatal(err)
			}
			if got.v.State != value.Present {
				t.Fatalf("%s is %v: %s", f.Example.Expr, got.v.State, got.v.Why)
			}
			if got.t.Kind == value.Truth {
				if yes := f.Example.Want == "yes"; got.v.Truth != yes {
					t.Errorf("%s = %v, want %s (%s)", f.Example.Expr, got.v.Truth, f.Example.Want, f.Example.Source)
				}
				return
			}
			want, tol, u := readWant(t, f.Example.Want)
			have := []float64{got.v.Num}
			if got.t.Kind == value.Zone {
				have = []float64{got.v.Lo, got.v.Hi}
			}
			if got.t.Kind != value.Point && got.t.Dim != u.Dim {
				t.Errorf("%s is %s, example gives %s", f.Example.Expr, got.t, f.Example.Want)
			}
			for i := range want {
				if math.Abs(have[i]-want[i]) > tol*(1+1e-9) {
					t.Errorf("%s = %v, want %v ± %g (%s)", f.Example.Expr, have, want, tol, f.Example.Source)
				}
			}
			if !strings.Contains(f.Example.Expr, f.Name+"(") {
				t.Errorf("example %s does not call %s", f.Example.Expr, f.Name)
			}
		})
	}
}

// TestRegistration asks that every function is described: a line of what it
// gives, a source, a name and a line for each parameter.
func TestRegistration(t *testing.T) {
	last := ""
	for _, f := range All() {
		if f.Name <= last {
			t.Errorf("%s stands after %s", f.Name, last)
		}
		last = f.Name
		if got, ok := Lookup(f.Name); !ok || got != f {
			t.Errorf("Lookup(%q) does not find it", f.Name)
		}
		if f.Doc == "" || f.Source == "" || f.Example.Source == "" || strings.Contains(f.Doc, "\n") {
			t.Errorf("%s is not wholly described: %+v", f.Name, f)
		}
		if !slices.Contains(Themes(), f.Theme) {
			t.Errorf("%s is about %q", f.Name, f.Theme)
		}
		for i, k := range f.Kinds() {
			if k == "" {
				t.Errorf("%s: nothing is known to fit its parameter %s", f.Name, f.Params[i].Name)
			}
		}
		if f.Gives() == "" {
			t.Errorf("%s: what it gives is not known", f.Name)
		}
		optional := false
		for _, p := range f.Params {
			if p.Name == "" || p.Doc == "" {
				t.Errorf("%s has a parameter without words: %+v", f.Name, p)
			}
			if optional && !p.Optional {
				t.Errorf("%s has %s after an optional parameter", f.Name, p.Name)
			}
			optional = p.Optional
		}
	}
	if f, ok := Lookup("no_such"); ok {
		t.Errorf("Lookup(no_such) finds %s", f.Name)
	}
}
