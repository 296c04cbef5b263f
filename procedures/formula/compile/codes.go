package compile

import (
	"fmt"
	"maps"
	"slices"

	"github.com/hashicorp/hcl/v2"
)

// Code is the stable name of a kind of diagnostic. It is a diagnostic's
// Extra.
type Code string

// The codes. A code that is given up is not used again.
const (
	TooDeep       Code = "F001"
	UnknownName   Code = "F002"
	BlanksAtMinus Code = "F003"
	NotHere       Code = "F004"
	NotAValue     Code = "F005"
	UnknownFunc   Code = "F006"
	ArgCount      Code = "F007"
	WrongArg      Code = "F008"
	DimMismatch   Code = "F009"
	WrongOperand  Code = "F010"
	PointSum      Code = "F011"
	ZeroUnit      Code = "F012"
	NotAChoice    Code = "F013"
	NoPositions   Code = "F014"
	WrongKey      Code = "F015"
	MixedElements Code = "F016"
	MixedBranches Code = "F017"
	ForKey        Code = "F018"
	ForVariable   Code = "F019"
	NoElements    Code = "F020"
	NotUsed       Code = "F021"
	WrongDim      Code = "F022"
	WrongKind     Code = "F023"
	BadNumber     Code = "F024"
	NoValue       Code = "F025"
	UnknownType   Code = "F026"
	DoubleKey     Code = "F027"
	PlainText     Code = "F028"
)

// codes hold, for each code, the summary of its diagnostics and what it stands
// for.
var codes = map[Code][2]string{
	TooDeep:       {"Expression is nested too deeply", "An expression is nested more deeply than anyone can read. Split it into results."},
	UnknownName:   {"Unknown name", "No such name is known in this place."},
	BlanksAtMinus: {"Hyphen is part of the name", "A name may hold a hyphen, so a minus between two names needs blanks round it."},
	NotHere:       {"Name cannot be used here", "The name exists, but has no value in this place."},
	NotAValue:     {"Not a value", "Steps, gates, corrections, sign-offs, instruments and cautions are pointed at, not computed with."},
	UnknownFunc:   {"Unknown function", "No function has this name."},
	ArgCount:      {"Wrong number of arguments", "A function was given too few or too many arguments."},
	WrongArg:      {"Wrong argument", "An argument is not of the kind or dimension that the function wants."},
	DimMismatch:   {"Dimensions do not agree", "Two values of different dimensions cannot be added, subtracted or compared."},
	WrongOperand:  {"Operator does not work on this", "The operator does not work on values of this kind."},
	PointSum:      {"Temperatures only have differences", "A temperature is a point on a scale: only differences of it can be added or multiplied."},
	ZeroUnit:      {"Zero needs its unit", "No length at all is um(0), not 0: zero needs its unit."},
	NotAChoice:    {"Not one of the choices", "A text is compared with a word that it can never be."},
	NoPositions:   {"An index is a key", "An index is a key, never a position. What has no keys is reached with first, last or at."},
	WrongKey:      {"No such key", "The value has no such key, or its keys are of another kind."},
	MixedElements: {"Elements do not agree", "All elements of a list or of an object are of one kind and dimension."},
	MixedBranches: {"Branches do not agree", "Both branches of a conditional are of one kind and dimension."},
	ForKey:        {"A for keeps its keys", "A for that makes keyed values keeps the keys it goes over."},
	ForVariable:   {"Variable reuses a name", "A variable of a for may not have the name of something else."},
	NoElements:    {"Nothing to go over", "A for goes over keyed values, profiles, turns and lists."},
	NotUsed:       {"Not used in procedures", "This piece of HCL has no meaning in a procedure."},
	WrongDim:      {"Wrong dimension for its place", "The value is of another dimension than its place."},
	WrongKind:     {"Wrong kind for its place", "The value is of another kind than its place."},
	BadNumber:     {"Number too large", "A number is too large to compute with."},
	NoValue:       {"Never has a value", "The expression can never have a value, whatever is read."},
	UnknownType:   {"Kind is not known", "Nothing in the place says of what kind and dimension the value is."},
	DoubleKey:     {"Key stands twice", "An object has the same key twice."},
	PlainText:     {"Text is not plain", "Texts are plain: one line, without control characters."},
}

// Codes returns all codes in order.
func Codes() []Code { return slices.Sorted(maps.Keys(codes)) }

// Summary returns what a diagnostic of this code says first, short and
// general; "" for a code that there is not.
func (c Code) Summary() string { return codes[c][0] }

// Explain returns what a code stands for, in a sentence or two; "" for one
// that there is not.
func (c Code) Explain() string { return codes[c][1] }

// say adds an error. Subject is the least a person would underline; context
// is what to show around it, or the same. Detail says what is so, then what
// to write.
func (c *checker) say(code Code, subject, context hcl.Range, detail string, args ...any) term {
	if len(args) > 0 {
		detail = fmt.Sprintf(detail, args...)
	}
	d := &hcl.Diagnostic{
		Severity: hcl.DiagError,
		Summary:  code.Summary(),
		Detail:   detail,
		Subject:  subject.Ptr(),
		Extra:    code,
	}
	if context != subject {
		d.Context = context.Ptr()
	}
	c.diags = append(c.diags, d)
	return badAt(context)
}
