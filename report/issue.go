package report

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"

	"waywright/engine"
)

// Issue is a record as it is handed out: its bytes, and what stands beside
// them. The bytes are signed, so nothing that comes after them can stand in
// them: the signatures, what has spoilt the machine since, the record that
// replaces it. The printed forms are made from an issue.
type Issue struct {
	Record     Record      // what its JSON says
	JSON       []byte      // the bytes that are signed
	Sealed     bool        // they stay as they are
	Signatures []Signature // in the order of signing
	Since      []Spoilt    // what has spoilt it since
	ReplacedBy []Link      // the records that correct it

	// Evidence gives the bytes of a photograph or a scan by their SHA-256,
	// hexadecimal; nil where it is not there. The forms show those that they can,
	// and ask for several at once.
	Evidence func(sha256 string) []byte
}

// Link names another record.
type Link struct {
	Number  string `json:"number"`
	Run     string `json:"run,omitempty"`    // of the logbook
	SHA256  string `json:"sha256,omitempty"` // of its JSON; empty while it is not sealed
	Because string `json:"because,omitempty"`
}

// NewIssue makes the issue of a run from its whole state. head gives the
// SHA-256 of a line of its journal, hexadecimal, and lines is how many it has.
// Of a run that is not sealed the JSON is that of the draft, which says
// who has not signed.
func NewIssue(s *engine.State, head func(line int) string, lines int) (Issue, error) {
	before, err := s.BeforeSeal()
	if err != nil {
		return Issue{}, err
	}
	i := Issue{Sealed: s.Seal() != nil}
	if i.Sealed {
		lines = s.Seal().N - 1
	}
	i.Record = Build(before, head(lines), lines)
	if i.Sealed {
		i.Signatures = signatures(s)
	} else {
		i.Record = i.Shown()
	}
	i.JSON, err = Marshal(i.Record)
	return i, err
}

// SealedIssue makes the issue of a sealed run from the bytes that were sealed,
// without making the record again; ok is false where these are others.
func SealedIssue(s *engine.State, sealed []byte) (i Issue, ok bool) {
	seal := s.Seal()
	if seal == nil {
		return Issue{}, false
	}
	i = Issue{Sealed: true, JSON: sealed, Signatures: signatures(s)}
	if i.Digest() != seal.Digest {
		return Issue{}, false
	}
	var err error
	i.Record, err = Parse(sealed)
	return i, err == nil
}

// signatures lists those of a run.
func signatures(s *engine.State) []Signature {
	out := []Signature{}
	for _, g := range s.Signatures() {
		x := Signature{
			Role: g.Role.Name, Name: g.Name, When: clock(g.At), Statement: g.Statement, How: ByName,
			Fingerprint: g.Key, KeyType: g.KeyType, File: g.File, SHA256: g.SHA256, Entry: g.N,
		}
		if g.Key != "" {
			x.How = ByKey
		}
		out = append(out, x)
	}
	return out
}

// SignaturesOf returns what stands in signatures.json beside a sealed record.
func SignaturesOf(s *engine.State, i Issue) Signatures {
	out := Signatures{Format: SignaturesFormat, Record: i.Record.Number, SHA256: i.Digest(), Signatures: i.Signatures}
	if seal := s.Seal(); seal != nil {
		out.Sealed = Stamp{Entry: seal.N, Time: clock(seal.At), By: seal.By}
	}
	for _, role := range s.Unsigned() {
		out.Missing = append(out.Missing, role.Name)
	}
	return out
}

// Digest returns the SHA-256 of the record's JSON, hexadecimal.
func (i Issue) Digest() string {
	sum := sha256.Sum256(i.JSON)
	return hex.EncodeToString(sum[:])
}

// Shown returns the record as the forms show it: the roles with who signed, and
// NOT DECIDED as long as a role that is to sign has not.
func (i Issue) Shown() Record {
	r := i.Record
	r.Roles = slices.Clone(r.Roles)
	signed := true
	for k := range r.Roles {
		role := &r.Roles[k]
		for _, s := range i.Signatures { // those that an older version kept stand in the role
			if s.Role == role.Name {
				role.Signed, role.How, role.At = s.Name, s.How, &Stamp{Entry: s.Entry, Time: s.When, By: s.Name}
			}
		}
		signed = signed && role.Signed != ""
	}
	if len(i.Since) > 0 {
		r.Spoilt = i.Since
	}
	decided := signed || r.Outcome.Word == Rejected && !r.refused() || r.Outcome.Word == Abandoned || r.Format == FirstFormat
	if decided || r.Outcome.Word == NotDecided {
		return r
	}
	r.Outcome.Word, r.Outcome.Text, r.Outcome.Draft = NotDecided, outcomeText(NotDecided, r.Outcome.Counts.Conceded), true
	r.Outcome.Open = slices.Clone(r.Outcome.Open)
	for _, role := range r.Roles {
		if role.Signed == "" {
			r.Outcome.Open = append(r.Outcome.Open, role.Title+": not signed.")
		}
	}
	return r
}

// refused tells whether the record is rejected because a concession was
// refused, which is signed as an acceptance is.
func (r Record) refused() bool {
	return slices.ContainsFunc(r.Concessions, func(c Concession) bool { return c.State == "refused" })
}
