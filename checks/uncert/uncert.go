// Package uncert works out how well a result is known.
//
// A result is a function of inputs: readings, and facts taken over from
// elsewhere. The error of an input is made of independent sources, each with
// a standard uncertainty and a coefficient: the scatter of takes, the
// smallest step that can be read, the zero of a setting, the indication error
// of the instrument. Results are correlated only because they share sources,
// so what the readings of one setting have in common drops out of their
// difference by itself.
//
// Use: [New] makes the [Model] of all inputs, [Gradient] the sensitivities of
// a result to them, [Model.Combine] its uncertainty and its budget.
//
// To compare two results, or a result and a limit that is worked out, give
// Combine the difference of their sensitivities over the inputs of both (see
// [Less]): shared sources cancel. Inputs taken at different times, before
// and after a correction, belong into one model for that.
//
// Numbers are in whatever unit the inputs have; for the correlation by kind
// of instrument lengths are millimetres. Everything is computed in the order
// of the inputs, so equal inputs give equal bytes. "Measure rule" numbers are
// those of the rules in DEVELOPERS.md.
//
// Sources: JCGM 100:2008 (GUM), 4.2, 4.3, 5.1, F.1.2.3, F.2.2.1, G.4.
package uncert

import "waywright/checks/montecarlo"

// Instrument is what readings are taken with. Zero numbers are not stated.
type Instrument struct {
	Name       string
	Kind       string  // in words: "outside micrometer"; see [Reach]
	Resolution float64 // smallest step read

	Error    float64 // limit of indication error; taken as Resolution where not stated
	HasError bool
	CertU    float64 // expanded uncertainty of indication from a certificate, before Error
	CertK    float64 // its coverage factor; 2 where not stated

	// Zero is the limit of the error of a zero once set. Where it is not stated
	// the zero is as doubtful as an indication, besides the indication itself;
	// a stated 0 says that Error holds for a reading with its zero.
	Zero    float64
	HasZero bool

	Repeatability    float64 // standard deviation of one take
	RepeatabilityDoF float64 // how well it is known; 8, known to a quarter, where not stated

	Turn float64 // one turn of screw or pointer; by Kind where not stated
}

// Observation is one reading: a number, or the mean of several takes.
type Observation struct {
	ID         string
	Value      float64
	Takes      []float64 // what Value is the mean of; nil for a single take
	Instrument int       // index into the instruments

	// Setting names what readings have in common until the instrument is set
	// to zero again, mounted again or changed: one zero, and indication errors
	// that are alike where the readings lie close together on the scale.
	Setting string

	// Pool names the readings whose scatter is one: those of one instrument in
	// one step.
	Pool string

	// Turned: the instrument stood turned round against the direction in which
	// Value is recorded (a reversed level), so its own errors count the other
	// way.
	Turned bool

	// Moved: Value is how far an indicator went from where it was set to 0.
	// Its zero drops out; the scatter counts twice, the resolution once.
	Moved bool

	// Apart: one take of a reading whose takes a formula looks at one by one.
	// It counts as any other; more of them are not the same result better known.
	Apart bool
}

// Source is an error that is not made by the program from instruments: a
// given taken over with its uncertainty, a drift, a thermometer.
type Source struct {
	ID   string
	Kind Kind    // 0 is Given
	U    float64 // standard uncertainty
	DoF  float64 // degrees of freedom; 0 stands for +Inf

	// Limit: U is that of an error within limits of ±√3·U, all alike likely.
	Limit bool

	// Shape is the distribution that the error is drawn from, about nought;
	// nil stands for the usual one of Limit and DoF. U is what the linear way
	// takes.
	Shape *montecarlo.Source

	// On says which observations the source acts on. Without it the source is
	// an input of its own, with a sensitivity.
	On []Effect
}

// Effect is the coefficient of a source in an observation.
type Effect struct {
	ID          string // of the observation
	Coefficient float64
}

// Kind is a kind of source.
type Kind uint8

// The kinds.
const (
	Given Kind = iota + 1
	Takes
	Resolution
	Zero
	Indication
	Drift
	Temperature
)

func (k Kind) String() string {
	return [...]string{"", "given", "takes", "resolution", "zero", "indication", "drift", "temperature"}[k]
}

// Note is something about the readings that a person should hear.
type Note struct {
	Kind       NoteKind
	ID         string // of the observation; empty when it is about an instrument
	Instrument string
	Spread     float64 // SpreadTooLarge: standard deviation of the takes
	Expected   float64 // SpreadTooLarge, SameTakes: the instrument's repeatability
	DoF        float64 // RepeatabilityUnknown: of the pool
}

// NoteKind is a kind of note.
type NoteKind uint8

// The kinds of notes.
const (
	// SpreadTooLarge: the takes scatter more than the instrument does in 99 of
	// 100 cases; this reading counts with its own spread (measure rule 2).
	SpreadTooLarge NoteKind = iota + 1
	// RepeatabilityUnknown: too few takes to know the scatter (measure rule 2).
	RepeatabilityUnknown
	// SameTakes: five or more equal takes of an instrument that scatters more
	// than half its step (measure rule 20).
	SameTakes
	// ReachUnknown: the kind of instrument does not tell how far its error is
	// alike, and no turn is stated; the worse case is taken (measure rule 5).
	ReachUnknown
)
