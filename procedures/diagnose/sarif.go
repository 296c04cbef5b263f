package diagnose

import (
	"bytes"
	"encoding/json"
	"io"
	"net/url"
	"slices"
	"strings"
	"unicode/utf8"

	"waywright/procedures/source"
)

// Finding is a diagnostic for a SARIF log.
type Finding struct {
	Diagnostic
	URI    string // where its file is: relative to where the log is read, with slashes
	Text   []byte // of the file; nil where it could not be read
	Reason string // of the comment in the file that answers it; empty where none does
}

// The parts of a log of SARIF 2.1.0 (OASIS) that are used here.
type (
	sarifLog struct {
		Schema  string     `json:"$schema"`
		Version string     `json:"version"`
		Runs    []sarifRun `json:"runs"`
	}
	sarifRun struct {
		Tool       sarifTool       `json:"tool"`
		ColumnKind string          `json:"columnKind"`
		Artifacts  []sarifArtifact `json:"artifacts"`
		Results    []sarifResult   `json:"results"`
	}
	sarifTool struct {
		Driver sarifDriver `json:"driver"`
	}
	sarifDriver struct {
		Name    string      `json:"name"`
		Version string      `json:"version"`
		Rules   []sarifRule `json:"rules"`
	}
	sarifRule struct {
		ID    string      `json:"id"`
		Short sarifText   `json:"shortDescription"`
		Full  sarifText   `json:"fullDescription"`
		Help  sarifText   `json:"help"`
		Level sarifConfig `json:"defaultConfiguration"`
	}
	sarifConfig struct {
		Level string `json:"level"`
	}
	sarifText struct {
		Text string `json:"text"`
	}
	sarifArtifact struct {
		Location sarifURI `json:"location"`
	}
	sarifURI struct {
		URI string `json:"uri"`
	}
	sarifResult struct {
		RuleID       string             `json:"ruleId"`
		RuleIndex    int                `json:"ruleIndex"`
		Level        string             `json:"level"`
		Message      sarifText          `json:"message"`
		Locations    []sarifLocation    `json:"locations"`
		Suppressions []sarifSuppression `json:"suppressions"`
	}
	sarifLocation struct {
		Physical sarifPhysical  `json:"physicalLocation"`
		Logical  []sarifLogical `json:"logicalLocations,omitempty"`
	}
	sarifPhysical struct {
		Artifact sarifURI     `json:"artifactLocation"`
		Region   *sarifRegion `json:"region,omitempty"`
	}
	sarifRegion struct {
		StartLine   int        `json:"startLine"`
		StartColumn int        `json:"startColumn"`
		EndLine     int        `json:"endLine"`
		EndColumn   int        `json:"endColumn"`
		ByteOffset  int        `json:"byteOffset"`
		ByteLength  int        `json:"byteLength"`
		Snippet     *sarifText `json:"snippet,omitempty"`
	}
	sarifLogical struct {
		FullyQualifiedName string `json:"fullyQualifiedName"`
	}
	sarifSuppression struct {
		Kind          string `json:"kind"`
		Justification string `json:"justification"`
	}
)

// WriteSARIF writes what was found as a log of SARIF 2.1.0, for editors and
// for services that show it beside the lines. Columns are counted in code
// points. The files that were looked at are named too, those of which nothing
// was found among them. A warning that a comment answers is there as
// suppressed in the source, with the comment's reason.
func WriteSARIF(w io.Writer, version string, files []string, found []Finding) error {
	run := sarifRun{
		Tool:       sarifTool{sarifDriver{Name: "waywright", Version: version, Rules: []sarifRule{}}},
		ColumnKind: "unicodeCodePoints",
		Artifacts:  []sarifArtifact{},
		Results:    []sarifResult{},
	}
	var codes []string
	for _, f := range found {
		if !slices.Contains(codes, f.Code) {
			codes = append(codes, f.Code)
		}
		if !slices.Contains(files, f.URI) {
			files = append(files[:len(files):len(files)], f.URI)
		}
	}
	for _, f := range files {
		run.Artifacts = append(run.Artifacts, sarifArtifact{sarifURI{uriOf(f)}})
	}
	slices.Sort(codes)
	for _, c := range codes {
		e, _ := Explain(c)
		run.Tool.Driver.Rules = append(run.Tool.Driver.Rules, sarifRule{
			ID: c, Short: sarifText{e.Summary + "."}, Full: sarifText{e.Why}, Help: sarifText{e.Mend}, Level: sarifConfig{e.Severity().String()},
		})
	}
	for _, f := range found {
		run.Results = append(run.Results, f.result(slices.Index(codes, f.Code)))
	}
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(sarifLog{
		Schema: "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json", Version: "2.1.0", Runs: []sarifRun{run},
	})
}

func (f Finding) result(rule int) sarifResult {
	at := sarifLocation{Physical: sarifPhysical{Artifact: sarifURI{uriOf(f.URI)}, Region: f.region()}}
	if f.In != "" {
		at.Logical = []sarifLogical{{Plain(f.In)}}
	}
	text := f.Summary + "."
	if f.Detail != "" {
		text += " " + f.Detail
	}
	out := sarifResult{
		RuleID: f.Code, RuleIndex: rule, Level: f.Severity.String(), Message: sarifText{Plain(text)},
		Locations: []sarifLocation{at}, Suppressions: []sarifSuppression{},
	}
	if f.Reason != "" {
		out.Suppressions = append(out.Suppressions, sarifSuppression{"inSource", Plain(f.Reason)})
	}
	return out
}

// uriOf writes a path as a reference of RFC 3986: a relative one, or the URI of
// a file for a path from the root.
func uriOf(path string) string {
	u := url.URL{Path: path}
	if strings.HasPrefix(path, "/") {
		u.Scheme = "file"
	}
	return u.String()
}

// maxSnippet is how much of a file is shown beside a place in it.
const maxSnippet = 400

// region says where it is. Lines and columns count from 1; the end column is
// the one behind the last character.
func (f Finding) region() *sarifRegion {
	s, e := f.Subject.Start, f.Subject.End
	if f.Text == nil || s.Line < 1 || e.Byte > len(f.Text) || s.Byte > e.Byte {
		return nil
	}
	if e.Line < s.Line {
		e = s
	}
	r := &sarifRegion{
		StartLine: s.Line, StartColumn: codePoint(f.Text, s),
		EndLine: e.Line, EndColumn: codePoint(f.Text, e),
		ByteOffset: s.Byte, ByteLength: e.Byte - s.Byte,
	}
	if part := f.Text[s.Byte:e.Byte]; len(part) > 0 && len(part) <= maxSnippet && utf8.Valid(part) {
		r.Snippet = &sarifText{Plain(string(part))}
	}
	return r
}

// codePoint is the column of a place, in code points. A byte order mark is
// none of the text.
func codePoint(text []byte, p source.Pos) int {
	line := bytes.LastIndexByte(text[:p.Byte], '\n') + 1
	before := string(text[line:p.Byte])
	if line == 0 {
		before = strings.TrimPrefix(before, "\ufeff")
	}
	return utf8.RuneCountInString(before) + 1
}
