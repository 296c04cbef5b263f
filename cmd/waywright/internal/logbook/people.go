package logbook

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/google/renameio/v2"
	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclwrite"
	"github.com/zclconf/go-cty/cty"
	"golang.org/x/crypto/ssh"

	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
	"waywright/procedures/register"
)

// Signatory is a person of people.hcl with the key as it was understood.
type Signatory struct {
	register.Person
	Public ssh.PublicKey // nil: none is written
}

// Signatories reads the people with their keys.
func (b Book) Signatories() ([]Signatory, error) {
	people, err := b.People()
	if err != nil {
		return nil, err
	}
	var out []Signatory
	for _, p := range people {
		s := Signatory{Person: p}
		if p.Key != "" {
			if s.Public, _, _, _, err = ssh.ParseAuthorizedKey([]byte(p.Key)); err != nil {
				return nil, fmt.Errorf("%s line %d: the key of %s is not understood. Write the line of a public key: key = \"ssh-ed25519 AAAA…\"",
					filepath.Join(b.Dir, peopleName), p.At.Start.Line, p.Name)
			}
		}
		out = append(out, s)
	}
	return out, nil
}

// PeopleFile is the path of people.hcl.
func (b Book) PeopleFile() string { return filepath.Join(b.Dir, peopleName) }

// SetKey writes the public key of a person into people.hcl: into the entry of
// that name, or a new one. What else stands in the file stays as it is.
func (b Book) SetKey(name, role, key string) error {
	people, err := b.People()
	if err != nil {
		return err
	}
	for _, p := range people {
		if sameName(p.Name, name) {
			if p.Key != "" {
				return fmt.Errorf("%s has a key already, in line %d of %s. Records that were signed with it stay good. To change it, write the new one there", p.Name, p.At.Start.Line, b.PeopleFile())
			}
			return b.amendPerson(p, role, key)
		}
	}
	id := freeID(people, name)
	w := &entry{head: "person", id: id}
	w.word("name", name)
	if role != "" {
		w.lines = append(w.lines, [2]string{"roles", "[" + quote(role) + "]"})
	}
	w.word("key", key)
	return b.enter(peopleName, w, func(fsys fs.FS, p string) diagnose.List { _, ds := hclfile.People(fsys, p); return ds })
}

// sameName compares names as people write them.
func sameName(a, b string) bool {
	return strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
}

// freeID makes the label of a new person from the first name.
func freeID(people []register.Person, name string) string {
	base := "person"
	if words := strings.Fields(strings.ToLower(name)); len(words) > 0 {
		if s := plainName(words[0]); CheckID(s) == nil {
			base = s
		}
	}
	id := base
	for n := 2; slices.ContainsFunc(people, func(p register.Person) bool { return p.ID == id }); n++ {
		id = fmt.Sprintf("%s-%d", base, n)
	}
	return id
}

// amendPerson adds the key, and the role where it is not there, to an entry.
func (b Book) amendPerson(p register.Person, role, key string) error {
	path := b.PeopleFile()
	old, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	f, ds := hclwrite.ParseConfig(old, peopleName, hcl.InitialPos)
	if ds.HasErrors() {
		return fmt.Errorf("%s: %w", path, errors.Join(ds.Errs()...))
	}
	block := f.Body().FirstMatchingBlock("person", []string{p.ID})
	if block == nil {
		return fmt.Errorf("%s has no entry %q that could be written to. Write into it: key = %s", path, p.ID, quote(key))
	}
	if role != "" && !slices.Contains(p.Roles, role) {
		var roles []cty.Value
		for _, r := range append(slices.Clone(p.Roles), role) {
			roles = append(roles, cty.StringVal(r))
		}
		block.Body().SetAttributeValue("roles", cty.ListVal(roles))
	}
	block.Body().SetAttributeValue("key", cty.StringVal(key))
	if err := renameio.WriteFile(path, f.Bytes(), 0o666); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	return nil
}
