package proofread_test

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
	"waywright/procedures/proofread"
)

// sarifSchema is that of OASIS, SARIF 2.1.0 with errata 01.
func sarifSchema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	b, err := os.ReadFile("../../testdata/published/sarif/sarif-schema-2.1.0.json")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource("sarif.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("sarif.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func findings(r proofread.Result) []diagnose.Finding {
	var out []diagnose.Finding
	for _, d := range r.Diagnostics {
		out = append(out, diagnose.Finding{Diagnostic: d, URI: d.Subject.File, Text: r.Text(d.Subject.File)})
	}
	for _, d := range r.Answered {
		out = append(out, diagnose.Finding{Diagnostic: d.Diagnostic, URI: d.Subject.File, Text: r.Text(d.Subject.File), Reason: d.Reason})
	}
	return out
}

// sarif is what is looked at of a log.
type sarif struct {
	Runs []struct {
		ColumnKind string
		Tool       struct {
			Driver struct{ Rules []struct{ ID string } }
		}
		Artifacts []struct{ Location struct{ URI string } }
		Results   []struct {
			RuleID       string
			RuleIndex    int
			Level        string
			Message      struct{ Text string }
			Suppressions []struct{ Kind, Justification string }
			Locations    []struct {
				PhysicalLocation struct {
					ArtifactLocation struct{ URI string }
					Region           *struct {
						StartLine, StartColumn, EndLine, EndColumn, ByteOffset, ByteLength int
						Snippet                                                            struct{ Text string }
					}
				}
			}
		}
	}
}

func log(t *testing.T, schema *jsonschema.Schema, files []string, found []diagnose.Finding) sarif {
	t.Helper()
	var b bytes.Buffer
	if err := diagnose.WriteSARIF(&b, "0.1.0", files, found); err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(b.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	if err := schema.Validate(doc); err != nil {
		t.Errorf("%v\n%.2000s", err, b.String())
	}
	var out sarif
	if err := json.Unmarshal(b.Bytes(), &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// What is said of the whole corpus keeps to the published schema, and every
// region holds the characters that it names: cut out of the file by lines and
// columns, they are those cut out by bytes.
func TestSARIF(t *testing.T) {
	schema := sarifSchema(t)
	n := 0
	for _, dir := range []string{"broken", "design"} {
		root := os.DirFS(filepath.Join(testdata, dir))
		err := fs.WalkDir(root, ".", func(p string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(p, ".hcl") {
				return err
			}
			r := proofread.File(hclfile.Source{FS: root, Path: p})
			found := findings(r)
			l := log(t, schema, []string{p}, found)
			run := l.Runs[0]
			if run.ColumnKind != "unicodeCodePoints" || len(run.Results) != len(found) || run.Artifacts[0].Location.URI != p {
				t.Errorf("%s: %d results of %d, columns in %s", p, len(run.Results), len(found), run.ColumnKind)
			}
			for i, x := range run.Results {
				if run.Tool.Driver.Rules[x.RuleIndex].ID != x.RuleID || x.RuleID != found[i].Code || x.Level != found[i].Severity.String() {
					t.Errorf("%s: result %d is %+v", p, i, x)
				}
				g := x.Locations[0].PhysicalLocation.Region
				text := string(found[i].Text)
				want := text[g.ByteOffset : g.ByteOffset+g.ByteLength]
				if got := cut(text, g.StartLine, g.StartColumn, g.EndLine, g.EndColumn); got != want {
					t.Errorf("%s: lines and columns cut out %q, bytes %q", p, got, want)
				}
				n++
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if n < 150 {
		t.Errorf("only %d results", n)
	}
}

// cut returns what stands between two places of a text.
func cut(text string, startLine, startColumn, endLine, endColumn int) string {
	lines := strings.SplitAfter(text, "\n")
	var out []rune
	for n := startLine; n <= endLine; n++ {
		line := []rune(lines[n-1])
		from, to := 0, len(line)
		if n == startLine {
			from = startColumn - 1
		}
		if n == endLine {
			to = endColumn - 1
		}
		out = append(out, line[from:to]...)
	}
	return string(out)
}

// A column counts code points, not what a reader sees as one character: an e
// with an accent of its own is two, a flag is two, µ is one. A warning that a
// comment answers is suppressed in the source; the others are not.
func TestSARIFColumns(t *testing.T) {
	const file = "overhaul \"p q\" {\n  title = \"P\"\n  machine = \"any\"\n  revision = \"1\"\n}\n" +
		"task \"a\" { procedure = /* µ e\u0301 \U0001F1E9\U0001F1EA */ \"nowhere\" }\n" +
		"task \"b\" { procedure = \"elsewhere\" } # W502: written in spring\n"
	r := proofread.File(hclfile.Source{FS: fstest.MapFS{"p q.hcl": {Data: []byte(file)}}, Path: "p q.hcl"})
	l := log(t, sarifSchema(t), []string{"p q.hcl"}, findings(r))
	var got []string
	for _, x := range l.Runs[0].Results {
		reason := ""
		for _, s := range x.Suppressions {
			reason = s.Kind + ": " + s.Justification
		}
		p := x.Locations[0].PhysicalLocation
		got = append(got, strings.Join([]string{x.RuleID, x.Level, p.ArtifactLocation.URI, p.Region.Snippet.Text, reason}, "|"))
	}
	want := []string{
		"E108|error|p%20q.hcl|\"p q\"|",
		"W502|warning|p%20q.hcl|\"nowhere\"|",
		"W502|warning|p%20q.hcl|\"elsewhere\"|inSource: written in spring",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Fatal(diff)
	}
	// task "a" { procedure = /* µ e◌́ ⟨D⟩⟨E⟩ */ "nowhere": the quote is the 38th code point, and the 36th character as a reader counts.
	if g := l.Runs[0].Results[1].Locations[0].PhysicalLocation.Region; g.StartLine != 6 || g.StartColumn != 38 || g.EndColumn != 47 {
		t.Errorf("line %d, columns %d to %d; want 6, 38 to 47", g.StartLine, g.StartColumn, g.EndColumn)
	}
}

// A file that could not be read has a place and no region.
func TestSARIFUnread(t *testing.T) {
	r := proofread.File(hclfile.Source{FS: fstest.MapFS{}, Path: "gone.hcl"})
	l := log(t, sarifSchema(t), []string{"gone.hcl"}, findings(r))
	if x := l.Runs[0].Results; len(x) != 1 || x[0].RuleID != "E001" || x[0].Locations[0].PhysicalLocation.Region != nil {
		t.Errorf("%+v", x)
	}
	if l := log(t, sarifSchema(t), nil, nil); len(l.Runs[0].Results) != 0 {
		t.Error("nothing was found, and something is said")
	}
}
