package report

// Signature is a signature that stands beside a record, as its printed forms
// show it. It was made over the bytes of the record's JSON, or is a name that
// somebody typed.
type Signature struct {
	Role        string // as the procedure names it: inspector
	Name        string // of the person
	When        string // RFC 3339, UTC
	Statement   string // what was signed: I accept as stated
	How         string // [ByKey] or [ByName]
	Fingerprint string // of the key: SHA256:…
	KeyType     string // as a file of allowed signers has it: ssh-ed25519
	File        string // that holds the signature: record.json.inspector.sig
	Entry       int    // of the journal, where it stands in it
}

// How something was signed.
const (
	ByKey  = "key"
	ByName = "typed"
)

// SignatureSpace is the namespace of signatures over a record, so that no
// signature made for another purpose counts here.
const SignatureSpace = "waywright-record"
