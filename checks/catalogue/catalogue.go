// Package catalogue lists the functions of the procedure language and of the
// calc command: one registration carries what the checker, the help, the
// reference page and the evaluator need.
//
// The computations themselves are plain Go functions in the packages beside
// this one; here they get names, dimensions and words.
package catalogue

import "waywright/checks/value"

// Func is a function that procedures may call.
type Func struct {
	Name    string
	Theme   string // what it is about, as a heading
	Params  []Param
	Doc     string // one line: what it gives
	Signs   string // what plus means, in words; empty where the result has no sign
	Source  string // the formula's source
	Example Example

	// Tables are the sources of the tables that the function looks values up
	// in; figures from memory say so there.
	Tables []string
	// Cite returns the source of what a call looks up, from its arguments as
	// far as they are written; "" where there is none.
	Cite func(args []value.Value) string

	// Kinked: the result is not smooth in its arguments everywhere, as at the
	// greatest of equals or an amount at nought, so that slopes do not tell how
	// its errors spread (measure rule 10).
	Kinked bool
	// KinkedIn are the arguments in which it is not, where it is in the others;
	// nil stands for all.
	KinkedIn []int
	// NonNegative: the result is not below nought, whatever the arguments, and
	// errors make it too large on average (measure rule 15).
	NonNegative bool
	// Turns: the result is an angle round a whole turn, where 359° and 1° are
	// neighbours.
	Turns bool
	// KeepsSign: the result is not below nought where no argument is.
	KeepsSign bool

	// Expands: the function uses the coefficient of expansion of the material
	// that is its last argument. Eval takes one more argument, by how much the
	// coefficient is off, 1/K, which nobody writes (measure rule 7).
	Expands bool

	// Check returns the type of the result for arguments of these types, or
	// an error that says which argument is wrong and what is wanted instead.
	Check func(args []value.Type) (value.Type, *ArgError)

	// Eval computes the result of present arguments of checked types. Where
	// the computation is not defined the result is Absent and says why. It
	// never returns a NaN or an infinity as a Present number.
	Eval func(args []value.Value) value.Value

	// Num, where there is one, gives to the last bit what Eval gives for
	// arguments of one number each, without making values of them; not finite
	// where the result is Absent. It may overwrite x, which has room behind
	// its end for a number for every parameter.
	Num func(x []float64) float64

	// Many is the same for a function of one argument, for the numbers of a
	// collection or of takes, all of them present.
	Many func(x []float64) float64

	// Lazy: it is evaluated though elements of its arguments may not be present.
	Lazy bool

	// Moves are the arguments whose numbers are moved into the result without a
	// look at them; what the others are says where to. None: it does not.
	Moves []int

	// Over, where there is one, prepares the function for many calls in which
	// nothing of the arguments changes but their numbers. They are present, takes
	// stand for their mean where the parameter does not want them as they are,
	// and the numbers that change are NaN. It returns what the result is like, and
	// what gives its numbers to the last bit as Eval does, from those of all
	// arguments, which are finite unless the function is lazy; see [Numbers] for
	// their order. A number that is not there is NaN. The Kernel has room of its
	// own and is for one goroutine; it is nil where it cannot be, as where keys
	// hang on numbers.
	Over func(args []value.Value) (gives value.Value, k Kernel)
}

// Param describes a parameter, for help and messages.
type Param struct {
	Name string
	Doc  string
	// Kind says in words what it may be, where asking Check does not tell all.
	Kind string
	// Takes is true where repeated takes are wanted as they are; elsewhere
	// they arrive as their mean.
	Takes bool
	// Optional parameters stand last.
	Optional bool
}

// Example is a worked example: an expression, what it gives, and where that
// is published or derived.
type Example struct {
	Expr, Want, Source string
}

// ArgError says what is wrong with an argument. Arg counts from 0; −1 means
// the number of arguments.
type ArgError struct {
	Arg  int
	What string // "is an angle, but a length is wanted: write mm(…)"
}
