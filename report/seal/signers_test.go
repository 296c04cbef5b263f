package seal_test

import (
	"crypto/ed25519"
	"errors"
	"strings"
	"testing"
	"time"

	"golang.org/x/crypto/ssh"
	"pgregory.net/rapid"

	"waywright/report/seal"
)

// key makes the same key for the same number.
func key(t testing.TB, n byte) (ssh.Signer, string) {
	t.Helper()
	s, err := ssh.NewSignerFromKey(ed25519.NewKeyFromSeed([]byte(strings.Repeat(string(n+'a'), ed25519.SeedSize))))
	if err != nil {
		t.Fatal(err)
	}
	return s, strings.TrimSpace(string(ssh.MarshalAuthorizedKey(s.PublicKey())))
}

var noon = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

// What ssh-keygen(1) says of files of allowed signers, under ALLOWED SIGNERS.
// The same lines meet the real ssh-keygen in cmd/waywright.
func TestAllowed(t *testing.T) {
	a, k := key(t, 0)
	_, other := key(t, 1)
	for _, tt := range []struct {
		name, file, principal string
		want                  bool
		why                   string
	}{
		{"plain", "inspector " + k, "inspector", true, ""},
		{"blanks and comments", "# who signs\n\n \tinspector\t " + k + "  Ben Osei \r\n", "inspector", true, ""},
		{"another principal", "fitter " + k, "inspector", false, "no line is for"},
		{"another key", "inspector " + other, "inspector", false, "another key"},
		{"the second line", "inspector " + other + "\ninspector " + k, "inspector", true, ""},
		{"list", "fitter,inspector " + k, "inspector", true, ""},
		{"quoted", `"inspector" ` + k, "inspector", true, ""},
		{"pattern", "insp*r " + k, "inspector", true, ""},
		{"one letter", "inspecto? " + k, "inspector", true, ""},
		{"not this one", "*,!inspector " + k, "inspector", false, "no line is for"},
		{"case counts", "Inspector " + k, "inspector", false, "no line is for"},
		{"namespace", `inspector namespaces="waywright-record" ` + k, "inspector", true, ""},
		{"namespaces", `inspector NameSpaces="git,waywright-*" ` + k, "inspector", true, ""},
		{"another namespace", `inspector namespaces="git" ` + k, "inspector", false, "not for the namespace"},
		{"valid", `inspector valid-after="20261124Z",valid-before="20261126Z" ` + k, "inspector", true, ""},
		{"too early", `inspector valid-after="20261126Z" ` + k, "inspector", false, "not valid yet"},
		{"too late", `inspector valid-before="202611251159Z" ` + k, "inspector", false, "not valid any more"},
		{"at the second", `inspector valid-before="20261125120000Z",valid-after="20261125120000UTC" ` + k, "inspector", false, "not later"},
		{"until the second", `inspector valid-before="20261125120000Z" ` + k, "inspector", true, ""},
		{"authority", "inspector cert-authority " + k, "inspector", false, "another key"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			list, err := seal.Signers([]byte(tt.file), time.UTC)
			if err == nil {
				_, err = seal.Allowed(list, tt.principal, a.PublicKey(), "waywright-record", noon)
			}
			if got := err == nil; got != tt.want || err != nil && !strings.Contains(err.Error(), tt.why) {
				t.Errorf("%s\nallowed %v, %v; want %v, %q", tt.file, got, err, tt.want, tt.why)
			}
		})
	}
}

// What is not understood is named by its line, with the mend.
func TestSignersRefuse(t *testing.T) {
	_, k := key(t, 0)
	for name, line := range map[string]string{
		"no key":              "inspector",
		"half a key":          "inspector " + k[:40],
		"another type":        "inspector ssh-rsa " + k[len("ssh-ed25519 "):],
		"unknown option":      "inspector no-touch-required " + k,
		"namespaces of none":  `inspector namespaces="" ` + k,
		"no value":            "inspector namespaces " + k,
		"no quotes":           "inspector namespaces=git " + k,
		"not closed":          `inspector namespaces="git ` + k,
		"principal open":      `"inspector ` + k,
		"twice":               `inspector namespaces="git",namespaces="git" ` + k,
		"comma at the end":    `inspector namespaces="git", ` + k,
		"no such day":         `inspector valid-after="20261331Z" ` + k,
		"a word for a day":    `inspector valid-after="tomorrow" ` + k,
		"seven figures":       `inspector valid-after="2026113Z" ` + k,
		"before after":        `inspector valid-after="20270101Z",valid-before="20260101Z" ` + k,
		"the beginning of it": `inspector valid-after="19700101Z" ` + k,
	} {
		_, err := seal.Signers([]byte("# signers\n"+line+"\n"), time.UTC)
		var bad *seal.BadSigners
		if !errors.As(err, &bad) || bad.Line != 2 || !strings.Contains(err.Error(), "Write: inspector") {
			t.Errorf("%s: %v; want an error of line 2 with its mend", name, err)
		}
	}
}

// Times without a Z are those of the place.
func TestSignersTakeTheTimeOfThePlace(t *testing.T) {
	a, k := key(t, 0)
	east := time.FixedZone("east", 2*3600)
	list, err := seal.Signers([]byte(`inspector valid-after="202611251300" `+k), east)
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		at   time.Time
		want bool
	}{{noon.Add(-time.Hour), true}, {noon.Add(-time.Hour - time.Second), false}} {
		if _, err := seal.Allowed(list, "inspector", a.PublicKey(), "n", tt.at); (err == nil) != tt.want {
			t.Errorf("at %v: %v, want allowed %v", tt.at, err, tt.want)
		}
	}
}

// A pattern matches what the obvious way says that it matches.
func TestPatternsMatchAsTheSlowWay(t *testing.T) {
	var slow func(p, w string) bool
	slow = func(p, w string) bool {
		switch {
		case p == "":
			return w == ""
		case p[0] == '*':
			return slow(p[1:], w) || w != "" && slow(p, w[1:])
		}
		return w != "" && (p[0] == '?' || p[0] == w[0]) && slow(p[1:], w[1:])
	}
	a, k := key(t, 0)
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.StringMatching(`[ab*?]{1,7}`).Draw(t, "pattern")
		w := rapid.StringMatching(`[ab]{0,7}`).Draw(t, "word")
		list, err := seal.Signers([]byte(p+" "+k), time.UTC)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := seal.Allowed(list, w, a.PublicKey(), "n", noon); (err == nil) != slow(p, w) {
			t.Fatalf("%q and %q: %v, want %v", p, w, err, slow(p, w))
		}
	})
}

// Whatever bytes come, each line that is understood is understood alone as well,
// and nobody is let in whose key is in none of them.
func FuzzSigners(f *testing.F) {
	_, k := key(f, 0)
	stranger, _ := key(f, 9)
	for _, s := range []string{
		"inspector " + k, "# nobody\n", `a,b namespaces="x\"y",valid-after="20260101" ` + k, `"a" cert-authority ` + k + " c", "*\tssh-ed25519\tAAAA", `a valid-before="20260101Z`,
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		list, err := seal.Signers(b, time.UTC)
		if err != nil {
			var bad *seal.BadSigners
			if !errors.As(err, &bad) || bad.Line < 1 || bad.Line > strings.Count(string(b), "\n")+1 {
				t.Fatalf("%q: %v", b, err)
			}
			return
		}
		lines := strings.Split(string(b), "\n")
		for _, s := range list {
			alone, err := seal.Signers([]byte(lines[s.Line-1]), time.UTC)
			if err != nil || len(alone) != 1 || alone[0].Principals != s.Principals || alone[0].Namespaces != s.Namespaces {
				t.Fatalf("line %d of %q alone: %+v, %v; want %+v", s.Line, b, alone, err, s)
			}
		}
		if s, err := seal.Allowed(list, "inspector", stranger.PublicKey(), "waywright-record", noon); err == nil {
			t.Fatalf("%q lets a stranger in by %+v", b, s)
		}
	})
}
