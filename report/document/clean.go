package document

import (
	"reflect"
	"strings"
	"unicode"
)

// clean replaces, in every text of a record, what may not stand in a page or
// could rearrange it.
func clean(record any) { cleanValue(reflect.ValueOf(record).Elem()) }

func cleanValue(v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(cleanText(v.String()))
	case reflect.Struct:
		for i := range v.NumField() {
			cleanValue(v.Field(i))
		}
	case reflect.Slice:
		for i := range v.Len() {
			cleanValue(v.Index(i))
		}
	case reflect.Pointer:
		if !v.IsNil() {
			cleanValue(v.Elem())
		}
	}
}

func cleanText(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t' || r == '\r':
			return ' '
		case unicode.IsControl(r), turnsWriting(r):
			return unicode.ReplacementChar
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD"))
}

// turnsWriting tells whether r overrides or embeds a direction of writing
// (Unicode Standard Annex 9, explicit formatting characters).
func turnsWriting(r rune) bool {
	return r >= 0x202A && r <= 0x202E || r >= 0x2066 && r <= 0x2069 || r == 0x200E || r == 0x200F || r == 0x061C
}
