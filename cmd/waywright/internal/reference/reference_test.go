package reference_test

import (
	"encoding/json"
	"html"
	"os/exec"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/cobra"

	"waywright/cmd/waywright/internal/reference"
	"waywright/procedures/hclfile"
	"waywright/procedures/proofread"
	"waywright/report"
)

// Files that the texts show whole can be used, but for those that the tutorial
// follows to the letter elsewhere.
func TestFilesInTexts(t *testing.T) {
	n := 0
	for _, p := range reference.Language() {
		if p.Info.File == "" {
			continue
		}
		n++
		r := proofread.File(hclfile.Source{FS: fstest.MapFS{p.Info.File: {Data: []byte(p.Text)}}, Path: p.Info.File})
		for _, d := range r.Diagnostics {
			t.Errorf("%s:%d: %s: %s", p.Info.File, d.Subject.Start.Line, d.Code, d.Detail)
		}
	}
	if n == 0 {
		t.Error("no file is shown")
	}
}

// The words of verdicts and outcomes are those that a record may have.
func TestWordsOfTheRecord(t *testing.T) {
	var s struct {
		Defs map[string]struct {
			Properties map[string]struct{ Enum []string }
		} `json:"$defs"`
	}
	if err := json.Unmarshal(report.Schema(), &s); err != nil {
		t.Fatal(err)
	}
	var verdicts, outcomes []string
	for _, def := range s.Defs {
		for _, p := range def.Properties {
			switch {
			case slices.Contains(p.Enum, "not_measured"):
				verdicts = p.Enum
			case slices.Contains(p.Enum, "conceded") && slices.Contains(p.Enum, "not_decided"):
				outcomes = p.Enum
			}
		}
	}
	got := map[string]bool{}
	for _, w := range reference.WordsOf("words-verdicts") {
		got[w] = true
	}
	if len(verdicts) < 5 || len(got) != len(verdicts) {
		t.Errorf("the reference has the verdicts %v, a record %v", got, verdicts)
	}
	if diff := cmp.Diff(outcomes, reference.WordsOf("words-outcomes")); diff != "" {
		t.Errorf("record −, reference +:\n%s", diff)
	}
}

// What is put into a file takes the place of what has its name; new blocks
// come below the one that is named, in their order.
func TestPut(t *testing.T) {
	const file = "a \"x\" {\n  n = 1\n}\n\nb \"y\" { n = 1 }\nc {\n}\n"
	for _, tt := range []struct{ blocks, below, want string }{
		{"b \"y\" {\n  n = 2\n}\n", "", "a \"x\" {\n  n = 1\n}\n\nb \"y\" {\n  n = 2\n}\nc {\n}\n"},
		{"d {\n}\n\ne {\n}\n", `a "x"`, "a \"x\" {\n  n = 1\n}\n\nd {\n}\n\ne {\n}\n\nb \"y\" { n = 1 }\nc {\n}\n"},
	} {
		got, err := reference.Put(file, tt.blocks, tt.below)
		if diff := cmp.Diff(tt.want, got); err != nil || diff != "" {
			t.Errorf("%v\n%s", err, diff)
		}
	}
	for _, below := range []string{"", "z"} {
		if _, err := reference.Put(file, "d {\n}\n", below); err == nil {
			t.Errorf("below %q: nothing is said", below)
		}
	}
}

// A text that could be taken for a sign of HTML or of Markdown is shown as it is.
func TestRender(t *testing.T) {
	got := reference.Render("# T\n\n## A & B\n\nFive `<` **six** [here](#x) <b>.\nGoes on.\n\n- one\n  more\n- two\n\n| a | b |\n|---|---|\n| `p || q` | 2 |\n\n```hcl file=x.hcl\na = \"<\"\n```\n")
	for _, want := range []string{
		`<h3 id="t-a-b">A &amp; B</h3>`, `<p>Five <code>&lt;</code> <strong>six</strong> <a href="#x">here</a> &lt;b&gt;. Goes on.</p>`,
		"<li>one more</li>\n<li>two</li>", `<code>p || q</code>`, `<figcaption>x.hcl</figcaption>`, `a = &#34;&lt;&#34;`,
	} {
		if !strings.Contains(got, want) {
			t.Errorf("no %s in\n%s", want, got)
		}
	}
}

// A man page names the command, its flags and its examples; none of its text is
// taken for a request of the typesetter.
func TestMan(t *testing.T) {
	root := &cobra.Command{Use: "waywright", Short: "Guided overhauls"}
	sub := &cobra.Command{Use: "run PROCEDURE", Short: "Begin a run", Long: "Begin a run… of µm.\n\n.PP is no request, 'nor this.\n\n  indented -x", Example: "  waywright run lathe/x --answers -", Run: func(*cobra.Command, []string) {}}
	sub.Flags().StringP("machine", "m", "", "the `ID` of the machine")
	root.AddCommand(sub)
	pages := reference.Man(root, "0.1.0")
	if len(pages) != 2 {
		t.Fatalf("%d pages", len(pages))
	}
	page := string(pages["waywright-run.1"])
	for _, want := range []string{
		`.TH WAYWRIGHT-RUN 1 "" "waywright 0.1.0" "waywright"`, `waywright\-run \- Begin a run`, ".B \\-m, \\-\\-machine ID\nthe ID of the machine",
		`Begin a run\[u2026] of \[u00B5]m.`, "\\&.PP is no request, \\(aqnor this.", "waywright run lathe/x \\-\\-answers \\-", ".BR waywright (1)",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q in\n%s", want, page)
		}
	}
	for _, line := range strings.Split(page, "\n") {
		if strings.HasPrefix(line, ".") && !slices.Contains([]string{".TH", ".SH", ".TP", ".B", ".BR", ".PP", ".nf", ".fi"}, strings.Fields(line)[0]) {
			t.Errorf("a request that is not meant: %s", line)
		}
	}
	groff, err := exec.LookPath("groff")
	if err != nil {
		t.Log("groff is not here, so the pages were not set")
		return
	}
	cmd := exec.Command(groff, "-man", "-Tutf8", "-ww", "-z")
	cmd.Stdin = strings.NewReader(page)
	if out, err := cmd.CombinedOutput(); err != nil || len(out) > 0 {
		t.Errorf("groff says: %s, %v", html.UnescapeString(string(out)), err)
	}
}
