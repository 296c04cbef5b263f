package tidy

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// FuzzBytes holds that what can be parsed keeps its tokens, blanks, newlines
// and commas before a closing bracket apart, and is a fixed point.
func FuzzBytes(f *testing.F) {
	for _, dir := range []string{"design", "broken"} {
		files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "procedures", dir, "*.hcl"))
		if err != nil || len(files) == 0 {
			f.Fatal("no files to begin with: ", err)
		}
		for _, name := range files {
			b, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(b)
		}
	}
	for _, s := range []string{
		"a = [<<-EOT\r\n x ${f([1,\n2])} %{if a}b%{endif}\r\n EOT\r\n, /* x\ny */ 1]\r\n",
		"a = {\n(b) : 1 // c\n\"${d}\" = [for x in(y) : -x...]\n}\n",
		"a = b.*.c[0][\"d\"].1.2 ? !e : f::g(h...)\n", "a = 1 .5\nb = [1 , # x\n, ]\n", "\ufeff/*a*/b\"c\"{}d{e=1}\n",
		"a = \"${~ x ~}$${y}%%{z}\"\n", "x = (\n# c\n1\n)\n", "a={b=1\n\n\n,}\n",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		out, err := Bytes("p.hcl", src)
		if err != nil {
			if strings.Contains(err.Error(), "Please report") {
				t.Fatalf("%v:\n%q", err, src)
			}
			return
		}
		if diff := cmp.Diff(words(src), words(out)); diff != "" {
			t.Errorf("the tokens are others: %s\nof %q\nnow %q", diff, src, out)
		}
		again, err := Bytes("p.hcl", out)
		if err != nil || !bytes.Equal(again, out) {
			t.Errorf("tidied again it is another (%v):\n%s\nfrom %q", err, cmp.Diff(string(out), string(again)), src)
		}
	})
}

// words are the tokens of a file with a comma after each that is followed by
// one, and the comments behind them all.
func words(src []byte) []string {
	tokens, _ := hclsyntax.LexConfig(src, "", hcl.InitialPos)
	var out, notes []string
	heredoc := 0
	for _, t := range tokens {
		text := string(t.Bytes)
		switch t.Type {
		case hclsyntax.TokenOHeredoc:
			heredoc++
		case hclsyntax.TokenCHeredoc:
			heredoc--
		case hclsyntax.TokenComment:
			if heredoc == 0 {
				text = strings.ReplaceAll(text, "\r\n", "\n")
				if !strings.HasPrefix(text, "/*") {
					text = strings.TrimRight(text, " \t\n\r")
				}
			}
			notes = append(notes, text)
			continue
		case hclsyntax.TokenNewline, hclsyntax.TokenEOF:
			if heredoc == 0 {
				continue
			}
		case hclsyntax.TokenCBrace, hclsyntax.TokenCBrack, hclsyntax.TokenCParen:
			if n := len(out); n > 0 && out[n-1] == "," {
				out = out[:n-1]
			}
		}
		out = append(out, text)
	}
	return append(out, notes...)
}
