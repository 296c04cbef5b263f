package cli

import (
	"os"
	"path"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"waywright/procedures/diagnose"
	"waywright/procedures/explain"
	"waywright/procedures/hclfile"
	"waywright/procedures/proofread"
)

// explain tells what a code stands for, or lists all.
func (a *app) explain(code string, asJSON bool) error {
	if code == "all" {
		return a.explainAll(asJSON)
	}
	p, ok := explain.Of(strings.ToUpper(strings.TrimSpace(code)))
	switch {
	case !ok:
		return cannot("there is no code %q. A code is a letter and three figures, as E304; --explain all lists them", code)
	case asJSON:
		return a.json(explainedOf(p))
	}
	return p.WriteText(a.Out)
}

func (a *app) explainAll(asJSON bool) error {
	if asJSON {
		var out []explained
		for _, p := range explain.All() {
			out = append(out, explainedOf(p))
		}
		return a.json(struct {
			Codes []explained `json:"codes"`
		}{out})
	}
	for _, c := range diagnose.Codes() {
		e, _ := diagnose.Explain(c)
		a.printf("%s  %s\n", c, e.Summary)
	}
	a.printf("\nOne of them: waywright proofread --explain E304\n")
	return nil
}

// explained is the page of a code for other programs.
type explained struct {
	Code     string        `json:"code"`
	Severity string        `json:"severity"`
	Summary  string        `json:"summary"`
	Why      string        `json:"why"`
	Mend     string        `json:"mend"`
	Said     []string      `json:"said"`
	Wrong    explainedFile `json:"wrong"`
	Mended   explainedFile `json:"mended"`
}

// explainedFile is the first file of an example; lines of it that earn the
// code are named.
type explainedFile struct {
	Name  string `json:"name"`
	Text  string `json:"text"`
	Lines []int  `json:"lines,omitempty"`
}

func explainedOf(p explain.Page) explained {
	file := func(e explain.Example) explainedFile {
		out := explainedFile{Name: e.Path}
		var shown []string
		for _, l := range e.Files[0].Shown() {
			shown = append(shown, l.Text)
			if l.Marked {
				out.Lines = append(out.Lines, len(shown))
			}
		}
		out.Text = strings.Join(shown, "\n")
		return out
	}
	return explained{
		Code: p.Code, Severity: p.Severity().String(), Summary: p.Summary, Why: p.Why, Mend: p.Mend, Said: p.Said,
		Wrong: file(p.Wrong), Mended: file(p.Mended),
	}
}

func completeCode(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	var out []string
	for _, c := range diagnose.Codes() {
		e, _ := diagnose.Explain(c)
		out = append(out, c+"\t"+e.Summary)
	}
	return append(out, "all\tlist them"), cobra.ShellCompDirectiveNoFileComp
}

// sarifLog gathers what was found in several files.
type sarifLog struct {
	files []string
	found []diagnose.Finding
}

// add adds what was found in the file that was named on the command line. The
// files of a log are named from where the program was called.
func (l *sarifLog) add(name string, src hclfile.Source, r proofread.Result) {
	at := func(file string) string { return fromHere(name, src.Path, file) }
	l.files = append(l.files, at(src.Path))
	for _, d := range r.Diagnostics {
		l.found = append(l.found, diagnose.Finding{Diagnostic: d, URI: at(d.Subject.File), Text: r.Text(d.Subject.File)})
	}
	for _, d := range r.Answered {
		l.found = append(l.found, diagnose.Finding{Diagnostic: d.Diagnostic, URI: at(d.Subject.File), Text: r.Text(d.Subject.File), Reason: d.Reason})
	}
}

// fromHere is the path of a file beside the one that was named, from the
// folder that the program was called in; of one that is not on disk, as those
// of the library, its name there.
func fromHere(named, root, file string) string {
	if file == "" {
		file = root
	}
	abs, err := filepath.Abs(named)
	if err != nil || !strings.HasSuffix(filepath.ToSlash(abs), "/"+root) {
		return file
	}
	abs = path.Join(strings.TrimSuffix(filepath.ToSlash(abs), root), file)
	here, err := os.Getwd()
	if err != nil {
		return abs
	}
	rel, err := filepath.Rel(here, filepath.FromSlash(abs))
	if err != nil || strings.HasPrefix(rel, "..") {
		return abs
	}
	return filepath.ToSlash(rel)
}
