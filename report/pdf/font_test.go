package pdf

import (
	"go/scanner"
	"go/token"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"codeberg.org/go-pdf/fpdf"
)

// Every letter of what the program may say, and of the procedures that ship, is
// in the fonts: a missing one would be printed as its number.
func TestEveryLetterIsInTheFonts(t *testing.T) {
	fonts, err := loadFaces()
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, root := range []string{"../../checks", "../../engine", "../../procedures", "..", "../../cmd/waywright/internal/voice"} {
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			if d.IsDir() && d.Name() == "testdata" {
				return fs.SkipDir
			}
			for where, text := range messages(t, path) {
				for _, r := range text {
					if !printedAnywhere(r) {
						continue
					}
					seen++
					for _, f := range fonts.all() {
						if !f.has(r) {
							t.Errorf("%s, %s: %q (U+%04X) is not in %s%s", path, where, r, r, f.family, f.style)
						}
					}
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if seen < 100_000 {
		t.Errorf("only %d letters were looked up", seen)
	}
}

// printedAnywhere leaves out what is looked for in texts, and never printed.
func printedAnywhere(r rune) bool {
	typed := r >= 0xFE50 && r <= 0xFFEF // the wide forms of signs, which people may type
	return unicode.IsPrint(r) && r != unicode.ReplacementChar && !typed && !unicode.In(r, unicode.Braille)
}

// messages returns the texts of a file of Go or of a procedure, by where they
// stand.
func messages(t *testing.T, path string) map[string]string {
	t.Helper()
	test := strings.HasSuffix(path, "_test.go")
	if filepath.Ext(path) != ".hcl" && (filepath.Ext(path) != ".go" || test) {
		return nil
	}
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if filepath.Ext(path) == ".hcl" {
		return map[string]string{"": string(b)}
	}
	out := map[string]string{}
	fset := token.NewFileSet()
	var s scanner.Scanner
	s.Init(fset.AddFile(path, -1, len(b)), b, nil, 0)
	for {
		pos, tok, lit := s.Scan()
		if tok == token.EOF {
			return out
		}
		if tok != token.STRING {
			continue
		}
		if text, err := strconv.Unquote(lit); err == nil {
			out[strconv.Itoa(fset.Position(pos).Line)] = text
		}
	}
}

// Widths are those that another reader of the same fonts has: the library that
// embeds them, which says them to whoever shows the file.
func TestWidths(t *testing.T) {
	fonts, err := loadFaces()
	if err != nil {
		t.Fatal(err)
	}
	f := fpdf.New("P", "pt", "A4", "")
	compared := 0
	for _, x := range fonts.all() {
		f.AddUTF8FontFromBytes(x.family, x.style, x.ttf)
		f.SetFont(x.family, x.style, 1000)
		for r := rune(' '); r < 0x2700; r++ {
			if !x.has(r) || x.advance[r] == 0 {
				continue
			}
			compared++
			// The library keeps whole thousandths of the size.
			if got, want := x.width(string(r), 1000), f.GetStringWidth(string(r)); math.Abs(got-want) > 1 {
				t.Errorf("%s%s: %q is %.1f wide, want %.1f", x.family, x.style, r, got, want)
			}
		}
	}
	if compared < 5000 {
		t.Errorf("only %d letters were compared", compared)
	}
	if a, b := fonts.plain.width("0123456789", 10), fonts.plain.width("0000000000", 10); a != b {
		t.Errorf("figures differ in width: %g and %g", a, b)
	}
}

func TestPrintable(t *testing.T) {
	fonts, err := loadFaces()
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		in, want string
		whole    bool
	}{
		{"", "", true},
		{"Ø 30 µm ± 2 ≤ ⌀ ÄÖÜ ß ẞ", "Ø 30 µm ± 2 ≤ ⌀ ÄÖÜ ß ẞ", true},
		{"Łódź, Ελλάς, Москва", "Łódź, Ελλάς, Москва", true},
		{"東", "[U+6771]", false},
		{"a😀b", "a[U+1F600]b", false},
		{"ع", "[U+0639]", false},
		{"a\u200bb", "ab", false},
		{"⟂", "[U+27C2]", false},
	} {
		got, whole := fonts.plain.printable(tt.in)
		if got != tt.want || whole != tt.whole {
			t.Errorf("printable(%q) = %q, %v, want %q, %v", tt.in, got, whole, tt.want, tt.whole)
		}
	}
}

// A font that is cut off or changed is refused, and never read beyond its end.
func FuzzReadFace(f *testing.F) {
	fonts, err := loadFaces()
	if err != nil {
		f.Fatal(err)
	}
	whole := fonts.mono.ttf
	for _, n := range []int{0, 11, 12, 100, 400, 5000, len(whole) / 2} {
		f.Add(whole[:n])
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		x, err := readFace(b)
		if (err == nil) != (x != nil && err == nil) {
			t.Errorf("%v, %v", x, err)
		}
	})
}
