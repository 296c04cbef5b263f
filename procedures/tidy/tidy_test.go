package tidy_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/procedures/tidy"
)

func tidied(t *testing.T, src string) string {
	t.Helper()
	got, err := tidy.Bytes("p.hcl", []byte(src))
	if err != nil {
		t.Fatalf("Bytes(%q): %v", src, err)
	}
	return string(got)
}

func TestLayout(t *testing.T) {
	for _, tt := range []struct{ name, in, want string }{
		{"indentation and equals signs",
			"step \"a\" {\n\ttitle=\"A\"\n      spindle   =\"stopped\"\n}\n",
			"step \"a\" {\n  title   = \"A\"\n  spindle = \"stopped\"\n}\n"},
		{"a blank line, a comment and a block end a run",
			"a = 1\nbbb = 2\n\ncc = 3\n# c\ndddd = 4\ne \"x\" { f = 1 }\ngg = 5\n",
			"a   = 1\nbbb = 2\n\ncc = 3\n# c\ndddd = 4\ne \"x\" { f = 1 }\ngg = 5\n"},
		{"an attribute of several lines ends a run",
			"title = \"A\"\nlonger = 1\ndo = [\n\"B\",\n\"C\"\n]\nx = 1\nyyy = 2\n",
			"title  = \"A\"\nlonger = 1\ndo = [\n  \"B\",\n  \"C\",\n]\nx   = 1\nyyy = 2\n"},
		{"comments behind attributes of a run",
			"a = 1 # one\nbbb = 22222\ncc = 3# three\n",
			"a   = 1 # one\nbbb = 22222\ncc  = 3 # three\n"},
		{"comments stand below one another",
			"a = 11111 # one\nbbb = 2\n\ncc = 3 # three\nd = 44 # four\n",
			"a   = 11111 # one\nbbb = 2\n\ncc = 3  # three\nd  = 44 # four\n"},
		{"blank lines",
			"\n\n\na {\n\n\n  x = 1\n\n\n\n  y = 2\n\n}\n\n\n\nb {\n}\n\n\n",
			"a {\n  x = 1\n\n  y = 2\n}\n\nb {\n}\n"},
		{"signs and differences",
			"a = -um( 1 )-um(2)*- 3\nb = ! given.x&&true\nc = (um(1)\n-um(2))\n",
			"a = -um(1) - um(2) * -3\nb = !given.x && true\nc = (um(1)\n  - um(2))\n"},
		{"names, keys and calls",
			"a = reading . top [ 2 ] . full\nb = accepted [\"p\"].result.x\nc = least( [ um(1),um(2) ] )\nd = { x=1,\"y\"= 2 , }\n",
			"a = reading.top[2].full\nb = accepted[\"p\"].result.x\nc = least([um(1), um(2)])\nd = { x = 1, \"y\" = 2 }\n"},
		{"what stands in quotes is left as it is",
			"a = \"  ${ each.x==\"far\"?\"  a\":\"b\" }  of  ${x}${y}\"\n",
			"a = \"  ${each.x == \"far\" ? \"  a\" : \"b\"}  of  ${x}${y}\"\n"},
		{"for",
			"a = [for x in[1,2]:x if x>1]\nb = {for k,v in c:k=>v}\n",
			"a = [for x in [1, 2] : x if x > 1]\nb = { for k, v in c : k => v }\n"},
		{"a broken list has its brackets alone and a comma at the end",
			"a = [um(1), um(2), # two\n  um(3),\n\n\n  # the rest\n  um(4)] # all\nb = [1,2,]\n",
			"a = [\n  um(1), um(2), # two\n  um(3),\n\n  # the rest\n  um(4),\n] # all\nb = [1, 2]\n"},
		{"a comment that answers a warning keeps its line",
			"a = [x, # W601: why\n  y] # W602: why\nb = [x, # why\n  y] # why\n",
			"a = [x, # W601: why\n  y] # W602: why\nb = [\n  x, # why\n  y,\n] # why\n"},
		{"a comma at the beginning of a line",
			"a = [\"x\" # one\n, \"y\"\n]\n",
			"a = [\n  \"x\", # one\n  \"y\",\n]\n"},
		{"objects with commas and without",
			"a = { x = 1,\n  yyy = 2 }\nb = {\n  x = 1\n  yyy = 2\n}\nc = {\n  x = 1, y = 2,\n  zzz = 3,\n  wwwww = 4\n}\n",
			"a = {\n  x   = 1,\n  yyy = 2,\n}\nb = {\n  x   = 1\n  yyy = 2\n}\nc = {\n  x = 1, y = 2,\n  zzz   = 3,\n  wwwww = 4,\n}\n"},
		{"brackets opened in one line count once",
			"a = least([\nfirst([um(1),\num(2)]),\n])\n",
			"a = least([\n  first([\n    um(1),\n    um(2),\n  ]),\n])\n"},
		{"calls keep their lines",
			"a = bar_sag(given.x,\n  given.y)\nb = bar_sag(\n  given.x,\n  given.y\n)\nc = bar_sag(given.x,)\n",
			"a = bar_sag(given.x,\n  given.y)\nb = bar_sag(\n  given.x,\n  given.y,\n)\nc = bar_sag(given.x)\n"},
		{"comments of all kinds",
			"#one  \n//two\n/* three\n     of two lines */\na /* x */ = /* y */ 1\nb { # open\n}\n#end",
			"#one\n//two\n/* three\n     of two lines */\na /* x */ = /* y */ 1\nb { # open\n}\n#end\n"},
		{"a heredoc is left as it is",
			"a = <<EOT\n   x ${  y }\n  EOT\nbb = [<<-E\n      z\n   E\n]\n",
			"a = <<EOT\n   x ${  y }\n  EOT\nbb = [\n  <<-E\n      z\n   E\n]\n"},
		{"signs of several bytes",
			"a=\"µm, Ø and 🙂\" # µ\nbb = 1 # x\n",
			"a  = \"µm, Ø and 🙂\" # µ\nbb = 1             # x\n"},
		{"a mark of byte order", "\ufeffa=1\n", "a = 1\n"},
		{"line ends", "a = 1\r\n\r\n\r\n\r\nbb =2 # x \r\nc = [\r\n1]\r\n", "a = 1\r\n\r\nbb = 2 # x\r\nc = [\r\n  1,\r\n]\r\n"},
		{"the first line end holds", "a = 1\nb = 2\r\n", "a = 1\nb = 2\n"},
		{"nothing", "", ""},
		{"nothing but blanks", " \n\t\n", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := tidied(t, tt.in)
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Error(diff)
			}
			if again := tidied(t, got); again != got {
				t.Errorf("tidied again it is another:\n%s", cmp.Diff(got, again))
			}
		})
	}
}

// A list that is all of an attribute is broken where its line is too long.
func TestLongLists(t *testing.T) {
	word := `"` + strings.Repeat("x", 50) + `"`
	for _, tt := range []struct{ name, in, want string }{
		{"118 columns, and a comment",
			"a {\n  longest = 2\n  do=[" + word + ", " + word + ",] # why it is so\n}\n",
			"a {\n  longest = 2\n  do      = [" + word + ", " + word + "] # why it is so\n}\n"},
		{"121 columns",
			"a {\n  unit=1\n  do = [" + word + ", \"12\", " + word + ",] # why\n  longest = 2\n}\n",
			"a {\n  unit = 1\n  do = [\n    " + word + ",\n    \"12\",\n    " + word + ",\n  ] # why\n  longest = 2\n}\n"},
		{"a comment that answers a warning", "do = [" + word + ", " + word + ", " + word + "] # W604: why\n", "do = [" + word + ", " + word + ", " + word + "] # W604: why\n"},
		{"one element", "a = [\"" + strings.Repeat("x", 150) + "\"]\n", "a = [\"" + strings.Repeat("x", 150) + "\"]\n"},
	} {
		if diff := cmp.Diff(tt.want, tidied(t, tt.in)); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
}

func TestRefusal(t *testing.T) {
	for in, want := range map[string]string{
		"a = 1\nb = \"x\n":                 "p.hcl:2:",
		"a {\n":                            "p.hcl:1:",
		"a = [1 2]\n":                      "p.hcl:1:8:",
		"a = 1\na = 2\n":                   "p.hcl:2:1:",
		"a = \xff\n":                       "p.hcl:1:5:",
		"a = 1\n}\nb = ]\nc = )\n":         "p.hcl:2:1:",
		"a = " + strings.Repeat("[", 5000): "p.hcl:1:",
	} {
		out, err := tidy.Bytes("p.hcl", []byte(in))
		var r *tidy.Refusal
		if !errors.As(err, &r) || out != nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("Bytes(%q) = %q, %v; want a refusal at %s", in, out, err, want)
		}
	}
}
