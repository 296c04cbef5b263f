package main

import (
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// layers are the folders of the module from the top down. A package imports
// from its own layer and from those below it.
var layers = []string{"cmd", "report", "engine", "procedures", "checks"}

// outside says which imports have no place in the core, and why.
var outside = map[string]string{
	"os":                        "files and terminals live in cmd and journalfile; the core takes values and returns values, so that the same journal gives the same record on any machine",
	"os/exec":                   "the core starts nothing",
	"io/ioutil":                 "files live in cmd and journalfile",
	"net":                       "nothing here talks to a network",
	"net/http":                  "nothing here talks to a network",
	"math/rand":                 "the same events give the same state; chance comes in as data",
	"math/rand/v2":              "the same events give the same state; chance comes in as data",
	"crypto/rand":               "the same events give the same state; chance comes in as data",
	"github.com/hashicorp/hcl":  "the source is read by procedures/hclfile; what runs is the compiled model",
	"github.com/zclconf/go-cty": "values of the parser end in procedures/hclfile and formula/compile",
	"github.com/spf13/cobra":    "the command line is in cmd",
	"charm.land":                "the screen is in cmd",
}

// core are the packages that outside holds for, with all that they import of
// ours.
var core = []string{"waywright/engine", "waywright/engine/drive", "waywright/engine/journal", "waywright/checks/...", "waywright/report/..."}

// goList runs go list and returns its lines.
func goList(t *testing.T, args ...string) []string {
	t.Helper()
	cmd := exec.Command("go", append([]string{"list"}, args...)...)
	var stderr strings.Builder
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list %s: %v\n%s", strings.Join(args, " "), err, stderr.String())
	}
	return strings.Split(strings.TrimSpace(string(out)), "\n")
}

// Imports run one way: cmd → report → engine → procedures → checks.
func TestImportsRunOneWay(t *testing.T) {
	seen := 0
	for _, line := range goList(t, "-f", `{{.ImportPath}} {{join .Imports " "}}`, "waywright/...") {
		pkg, imports, _ := strings.Cut(line, " ")
		at := layer(pkg)
		if at < 0 {
			t.Errorf("%s is in none of the layers %v", pkg, layers)
			continue
		}
		seen++
		for _, imp := range strings.Fields(imports) {
			if to := layer(imp); strings.HasPrefix(imp, "waywright/") && to < at {
				t.Errorf("%s imports %s: imports run one way, %s, so that each layer can be understood and tested without those above it",
					pkg, imp, strings.Join(layers, " → "))
			}
		}
	}
	if seen < 20 {
		t.Errorf("only %d packages were looked at", seen)
	}
}

// layer returns the place of a package among the layers, or −1.
func layer(pkg string) int {
	rest, ok := strings.CutPrefix(pkg, "waywright/")
	if !ok {
		return -1
	}
	first, _, _ := strings.Cut(rest, "/")
	return slices.Index(layers, first)
}

// The core and what it imports of ours does no input and output, parses no
// source and knows no command line.
func TestCoreDoesNoInputOrOutput(t *testing.T) {
	ours := map[string]bool{}
	for _, pkg := range goList(t, append([]string{"-deps"}, core...)...) {
		if strings.HasPrefix(pkg, "waywright/") {
			ours[pkg] = true
		}
	}
	if len(ours) < 15 {
		t.Errorf("the core has only %d packages", len(ours))
	}
	for pkg := range ours {
		if published(pkg) {
			continue
		}
		for _, imp := range strings.Fields(goList(t, "-f", `{{join .Imports " "}}`, pkg)[0]) {
			for bad, why := range outside {
				if imp == bad || strings.HasPrefix(imp, bad+"/") && bad != "os" && bad != "net" && bad != "math/rand" {
					t.Errorf("%s imports %s, and is imported by the core: %s", pkg, imp, why)
				}
			}
		}
	}
}

// published tells whether a package serves tests alone.
func published(pkg string) bool {
	return strings.HasSuffix(pkg, "test") || strings.Contains(pkg, "/internal/published")
}
