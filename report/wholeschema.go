package report

import (
	_ "embed" // the schema
	"encoding/json"
	"strings"
)

// WholeSchemaID is the $id of the JSON Schema of a machine's record.
const WholeSchemaID = "urn:waywright:schema:machine-1"

// wholeSchema has what only a machine's record has; what it shares with other
// records is taken from theirs.
//
//go:embed schema/machine-1.schema.json
var wholeSchema []byte

// WholeSchema returns the JSON Schema (2020-12) that every record of a machine
// keeps to. It stands by itself.
func WholeSchema() []byte {
	var own, shared struct {
		Defs map[string]any `json:"$defs"`
	}
	var doc map[string]any
	for _, x := range []struct {
		b  []byte
		to any
	}{{wholeSchema, &own}, {wholeSchema, &doc}, {schema, &shared}} {
		if err := json.Unmarshal(x.b, x.to); err != nil {
			panic("report: " + err.Error()) // of a file that is built in
		}
	}
	defs := map[string]any{}
	var add func(v any)
	add = func(v any) {
		switch v := v.(type) {
		case map[string]any:
			for key, x := range v {
				name, ok := x.(string)
				if name, isRef := strings.CutPrefix(name, "#/$defs/"); ok && isRef && key == "$ref" && defs[name] == nil {
					def := own.Defs[name]
					if def == nil {
						def = shared.Defs[name]
					}
					defs[name] = def
					add(def)
				}
				if key != "$defs" {
					add(x)
				}
			}
		case []any:
			for _, x := range v {
				add(x)
			}
		}
	}
	add(doc)
	doc["$defs"] = defs
	b, err := json.MarshalIndent(doc, "", "  ")
	if err != nil {
		panic("report: " + err.Error())
	}
	return append(b, '\n')
}
