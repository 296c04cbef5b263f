package seal

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"golang.org/x/crypto/ssh"
)

// Signer is a line of a file of allowed signers: whose key it is, what it may
// sign, and when.
type Signer struct {
	Principals string // a list of patterns, as they stand there: inspector,*@shop
	Key        ssh.PublicKey
	Namespaces string    // a list of patterns; empty: any
	After      time.Time // zero: no limit
	Before     time.Time
	Authority  bool // the key signs other keys, not records
	Comment    string
	Line       int // of the file, from 1
}

// BadSigners is the error for a line that is not understood.
type BadSigners struct {
	Line int
	What string
	Mend string
}

func (e *BadSigners) Error() string { return fmt.Sprintf("line %d: %s. %s", e.Line, e.What, e.Mend) }

const signerMend = `Write: inspector namespaces="waywright-record" ssh-ed25519 AAAA…`

// Signers reads a file of allowed signers, in the form of ssh-keygen(1): one
// key a line, principals first, then options, then the key.
//
//	inspector ssh-ed25519 AAAAC3Nz…
//	inspector,ben namespaces="waywright-record",valid-before="20290101Z" ssh-ed25519 AAAAC3Nz… Ben Osei
//
// The options are cert-authority, namespaces, valid-after and valid-before,
// whatever the case of their letters. Times without a Z at their end are in the
// time zone given. The error is a [*BadSigners] that names the first line that
// is not understood.
func Signers(b []byte, zone *time.Location) ([]Signer, error) {
	var out []Signer
	for n := 1; len(b) > 0; n++ {
		var line []byte
		line, b, _ = bytes.Cut(b, []byte("\n"))
		s, ok, err := signer(strings.TrimSuffix(string(line), "\r"), zone)
		if err != nil {
			return nil, &BadSigners{Line: n, What: err.Error(), Mend: signerMend}
		}
		if ok {
			s.Line = n
			out = append(out, s)
		}
	}
	return out, nil
}

const blanks = " \t"

// signer reads one line; ok is false where it holds none.
func signer(line string, zone *time.Location) (s Signer, ok bool, err error) {
	line = strings.Trim(line, blanks)
	if line == "" || line[0] == '#' {
		return s, false, nil
	}
	if !utf8.ValidString(line) || strings.ContainsRune(line, 0) {
		return s, false, fmt.Errorf("it is not text")
	}
	rest := ""
	if s.Principals, rest, err = firstWord(line); err != nil {
		return s, false, err
	}
	if rest == "" {
		return s, false, fmt.Errorf("there is no key after %q", s.Principals)
	}
	key, comment, keyErr := readKey(rest)
	if keyErr != nil { // then options stand before it
		options, behind, err := optionWords(rest)
		if err != nil {
			return s, false, err
		}
		if key, comment, err = readKey(behind); err != nil {
			if behind == "" {
				err = keyErr
			}
			return s, false, err
		}
		if err := s.options(options, zone); err != nil {
			return s, false, err
		}
	}
	s.Key, s.Comment = key, comment
	return s, true, nil
}

// firstWord takes the principals off: up to a blank, or what stands in quotes.
func firstWord(line string) (word, rest string, err error) {
	i := strings.IndexAny(line, blanks+`"`)
	switch {
	case i < 0:
		return line, "", nil
	case line[i] == '"':
		inside, after, ok := strings.Cut(line[i+1:], `"`)
		if !ok {
			return "", "", fmt.Errorf("a quotation mark is not closed")
		}
		return line[:i] + inside, strings.TrimLeft(after, blanks), nil
	}
	return line[:i], strings.TrimLeft(line[i:], blanks), nil
}

// readKey reads a key's type and its bytes.
func readKey(s string) (key ssh.PublicKey, comment string, err error) {
	typ, rest, _ := strings.Cut(s, " ")
	if i := strings.IndexByte(typ, '\t'); i >= 0 {
		typ, rest = s[:i], s[i+1:]
	}
	rest = strings.TrimLeft(rest, blanks)
	text := rest
	if i := strings.IndexAny(rest, blanks); i >= 0 {
		text, comment = rest[:i], strings.Trim(rest[i:], blanks)
	}
	if text == "" {
		return nil, "", fmt.Errorf("there is no key in it")
	}
	blob, err := base64.StdEncoding.DecodeString(text)
	if err != nil {
		return nil, "", fmt.Errorf("the key is not whole: it is not base64")
	}
	key, err = ssh.ParsePublicKey(blob)
	if err != nil {
		return nil, "", fmt.Errorf("the key is not understood (%v)", err)
	}
	if key.Type() != typ {
		return nil, "", fmt.Errorf("it says %q, and the key is of type %q", typ, key.Type())
	}
	return key, comment, nil
}

// optionWords takes the options off: up to a blank that is not in quotes.
func optionWords(s string) (options, rest string, err error) {
	quoted := false
	for i := 0; i < len(s); i++ {
		switch {
		case s[i] == '\\' && i+1 < len(s) && s[i+1] == '"':
			i++
		case s[i] == '"':
			quoted = !quoted
		case !quoted && strings.IndexByte(blanks, s[i]) >= 0:
			return s[:i], strings.TrimLeft(s[i:], blanks), nil
		}
	}
	if quoted {
		return "", "", fmt.Errorf("a quotation mark is not closed")
	}
	return s, "", nil
}

func (s *Signer) options(text string, zone *time.Location) error {
	seen := map[string]bool{}
	for {
		name, rest, value := optionName(text)
		if name != "cert-authority" && seen[name] {
			return fmt.Errorf("%s is written twice", name)
		}
		seen[name] = true
		var err error
		switch name {
		case "cert-authority":
			s.Authority = true
		case "namespaces", "valid-after", "valid-before":
			if !value {
				return fmt.Errorf("%s needs a value: %s=\"…\"", name, name)
			}
			if rest, err = s.option(name, rest, zone); err != nil {
				return err
			}
		default:
			return fmt.Errorf("%q is neither a key nor an option that is known", text)
		}
		if rest == "" {
			break
		}
		if rest[0] != ',' || rest == "," {
			return fmt.Errorf("something is wrong behind the option %s", name)
		}
		text = rest[1:]
	}
	if !s.After.IsZero() && !s.Before.IsZero() && !s.Before.After(s.After) {
		return fmt.Errorf("valid-before is not later than valid-after")
	}
	return nil
}

// optionName takes the name of an option off, in small letters.
func optionName(text string) (name, rest string, value bool) {
	i := strings.IndexAny(text, "=,")
	if i < 0 {
		return strings.ToLower(text), "", false
	}
	if text[i] == '=' {
		return strings.ToLower(text[:i]), text[i+1:], true
	}
	return strings.ToLower(text[:i]), text[i:], false
}

func (s *Signer) option(name, text string, zone *time.Location) (rest string, err error) {
	value, rest, err := unquote(text)
	if err != nil {
		return "", fmt.Errorf("%s: %w", name, err)
	}
	switch name {
	case "namespaces":
		s.Namespaces = value
		if value == "" {
			return "", fmt.Errorf("namespaces names none")
		}
	case "valid-after":
		s.After, err = moment(value, zone)
	case "valid-before":
		s.Before, err = moment(value, zone)
	}
	return rest, err
}

// unquote reads a value in quotation marks. Inside, \" stands for one.
func unquote(s string) (value, rest string, err error) {
	if s == "" || s[0] != '"' {
		return "", "", fmt.Errorf("its value stands in quotation marks")
	}
	var b strings.Builder
	for i := 1; i < len(s); i++ {
		switch {
		case s[i] == '\\' && i+1 < len(s) && s[i+1] == '"':
			b.WriteByte('"')
			i++
		case s[i] == '"':
			return b.String(), s[i+1:], nil
		default:
			b.WriteByte(s[i])
		}
	}
	return "", "", fmt.Errorf("a quotation mark is not closed")
}

// moment reads a day, or a day and a time, with a Z or UTC behind it for UTC.
func moment(text string, zone *time.Location) (time.Time, error) {
	s := text
	upper := strings.ToUpper(s)
	switch {
	case len(s) > 1 && strings.HasSuffix(upper, "Z"):
		s, zone = s[:len(s)-1], time.UTC
	case len(s) > 3 && strings.HasSuffix(upper, "UTC"):
		s, zone = s[:len(s)-3], time.UTC
	}
	form := map[int]string{8: "20060102", 12: "200601021504", 14: "20060102150405"}[len(s)]
	if form == "" || strings.Trim(s, "0123456789") != "" {
		return time.Time{}, fmt.Errorf("%q is no time: write year, month and day, 20271231Z", text)
	}
	t, err := time.ParseInLocation(form, s, zone)
	if err != nil {
		return time.Time{}, fmt.Errorf("%q is no time: there is no such day or hour", text)
	}
	if t.Unix() == 0 { // a reader that counts seconds takes it for no limit
		return time.Time{}, fmt.Errorf("%q is the time that counts as none", text)
	}
	return t, nil
}

// Allowed returns the line that lets a principal sign with a key in a namespace
// at a time. The error says why none does.
func Allowed(list []Signer, principal string, key ssh.PublicKey, namespace string, at time.Time) (Signer, error) {
	why := fmt.Errorf("no line is for %q", principal)
	for _, s := range list {
		if !matchList(s.Principals, principal) {
			continue
		}
		switch {
		case s.Authority || !bytes.Equal(s.Key.Marshal(), key.Marshal()):
			why = fmt.Errorf("line %d has another key for %q: %s", s.Line, principal, ssh.FingerprintSHA256(s.Key))
		case s.Namespaces != "" && !matchList(s.Namespaces, namespace):
			why = fmt.Errorf("line %d has this key, but not for the namespace %q", s.Line, namespace)
		case !s.After.IsZero() && at.Before(s.After):
			why = fmt.Errorf("line %d: the key was not valid yet on %s", s.Line, day(at))
		case !s.Before.IsZero() && at.After(s.Before):
			why = fmt.Errorf("line %d: the key was not valid any more on %s", s.Line, day(at))
		default:
			return s, nil
		}
	}
	return Signer{}, why
}

func day(t time.Time) string { return t.UTC().Format(time.DateOnly) }

// matchList tells whether a word matches one of the patterns of a list, and
// none of those with an exclamation mark before them.
func matchList(list, word string) bool {
	found := false
	for pattern := range strings.SplitSeq(list, ",") {
		not := strings.HasPrefix(pattern, "!")
		if match(strings.TrimPrefix(pattern, "!"), word) {
			if not {
				return false
			}
			found = true
		}
	}
	return found
}

// match compares a word with a pattern, in which * stands for any letters and
// ? for any one. Its time grows with the product of the two lengths at most.
func match(pattern, word string) bool {
	p, w, star, mark := 0, 0, -1, 0
	for w < len(word) {
		switch {
		case p < len(pattern) && pattern[p] == '*':
			star, mark = p, w
			p++
		case p < len(pattern) && (pattern[p] == '?' || pattern[p] == word[w]):
			p++
			w++
		case star >= 0:
			mark++
			p, w = star+1, mark
		default:
			return false
		}
	}
	return strings.Trim(pattern[p:], "*") == ""
}
