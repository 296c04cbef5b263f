package logbook

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"

	"waywright/procedures"
)

// Digest is the digest over a procedure's files that a run of it would be
// pinned to.
func Digest(files []procedures.File) string {
	var list strings.Builder
	for _, f := range files {
		fmt.Fprintf(&list, "%x  %s\n", sha256.Sum256(f.Bytes), f.Name)
	}
	sum := sha256.Sum256([]byte(list.String()))
	return hex.EncodeToString(sum[:])
}
