package seal

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
)

// A difference is named by its line and by the way to it.
func TestDifference(t *testing.T) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetIndent("", "  ")
	err := enc.Encode(map[string]any{
		"a": "one",
		"b": []any{map[string]any{"x": 1, "y": []any{10, 20, 30}}, map[string]any{"x": 2, "y": []any{[]any{7}}}},
		"c": map[string]any{"d": map[string]any{"e": "end"}},
	})
	if err != nil {
		t.Fatal(err)
	}
	text := b.String()
	for _, tt := range []struct{ old, new, path string }{
		{`"one"`, `"two"`, "a"},
		{`20`, `21`, "b[0].y[1]"},
		{`"x": 2`, `"x": 3`, "b[1].x"},
		{`7`, `8`, "b[1].y[0][0]"},
		{`"end"`, `"END"`, "c.d.e"},
	} {
		got := difference([]byte(text), []byte(strings.Replace(text, tt.old, tt.new, 1)))
		line := strings.Count(text[:strings.Index(text, tt.old)], "\n") + 1
		if got.path != tt.path || got.line != line {
			t.Errorf("%s for %s: line %d, %q; want line %d, %q", tt.new, tt.old, got.line, got.path, line, tt.path)
		}
	}
	if got := difference([]byte(text), []byte(text[:20])); got.line < 2 || got.got == "" {
		t.Errorf("cut off: %+v", got)
	}
	if got := difference([]byte(text), []byte(text+"more")); got.want != "nothing" || got.got != "more" {
		t.Errorf("more behind it: %+v", got)
	}
}
