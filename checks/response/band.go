package response

import "math"

// Band is where a response or a fidelity lies.
type Band uint8

// The bands, in order.
const (
	BandMinus  Band = iota // the other way
	BandNought             // about nothing
	BandPart               // some of it
	BandOne                // about all of it
	BandOver               // more than that
)

func (b Band) String() string {
	return [...]string{"minus", "nought", "part", "one", "over"}[b]
}

// The upper edges of the bands above minus; the edge itself belongs below.
const (
	noughtEdge = 0.15
	partEdge   = 0.75
	oneEdge    = 1.3
)

// minusEdge is the edge below which a ratio is minus: far enough from nought
// that its standard uncertainty u leads there in 6 of 1000 cases at most.
func minusEdge(u float64) float64 { return -math.Max(noughtEdge, 2.5*u) }

// BandOf returns the band of a ratio that is known with the standard
// uncertainty u.
func BandOf(ratio, u float64) Band {
	switch {
	case ratio < minusEdge(u):
		return BandMinus
	case ratio <= noughtEdge:
		return BandNought
	case ratio <= partEdge:
		return BandPart
	case ratio <= oneEdge:
		return BandOne
	}
	return BandOver
}

// beside returns the band across the nearest edge, and how far that edge is in
// units of u. ok is false where it is not nearer than u.
func beside(ratio, u float64) (b Band, distance float64, ok bool) {
	if !(u > 0) {
		return 0, 0, false
	}
	edges := [...]float64{minusEdge(u), noughtEdge, partEdge, oneEdge}
	here := BandOf(ratio, u)
	distance = math.Inf(1)
	for i, e := range edges {
		if d := math.Abs(ratio-e) / u; d < distance {
			distance = d
			b = Band(i)
			if b == here {
				b++
			}
		}
	}
	if distance >= 1 {
		return 0, 0, false
	}
	return b, distance, true
}

// word returns the word of a response and a fidelity.
func word(rho, kappa Band) Word {
	switch [2]Band{rho, kappa} {
	case [2]Band{BandOne, BandOne}:
		return AsExpected
	case [2]Band{BandMinus, BandMinus}:
		return WrongWay
	case [2]Band{BandMinus, BandOne}:
		return WrongSign
	case [2]Band{BandOne, BandMinus}:
		return Reversed
	case [2]Band{BandNought, BandOne}:
		return Undone
	case [2]Band{BandNought, BandNought}:
		return NotMoved
	case [2]Band{BandPart, BandPart}:
		return Part
	case [2]Band{BandPart, BandOne}:
		return Weak
	case [2]Band{BandOver, BandOne}:
		return Strong
	}
	return Unclear
}

// word returns the finding's word for a pair of bands. Without Moved the
// fidelity is taken as one, and a response the other way as wrong way.
func (f *Finding) word(rho, kappa Band) Word {
	w := word(rho, kappa)
	if w == WrongSign && !f.HasMoved {
		return WrongWay
	}
	return w
}

// neighbour returns the word across the nearest edge of either band, or empty
// where none is nearer than u. A neighbour without a name is not one.
func (f *Finding) neighbour() Word {
	here := [2]Band{BandOf(f.Rho, f.URho), BandOf(f.Kappa, f.UKappa)}
	rho, dRho, okRho := beside(f.Rho, f.URho)
	kappa, dKappa, okKappa := beside(f.Kappa, f.UKappa)
	var candidates []Word
	if okRho {
		candidates = append(candidates, f.word(rho, here[1]))
	}
	if okKappa {
		candidates = append(candidates, f.word(here[0], kappa))
		if okRho && dKappa < dRho {
			candidates[0], candidates[1] = candidates[1], candidates[0]
		}
	}
	if okRho && okKappa {
		candidates = append(candidates, f.word(rho, kappa)) // both across: a corner
	}
	for _, w := range candidates {
		if w != Unclear && w != f.Word {
			return w
		}
	}
	return ""
}

// Move is a correction's movement, judged as soon as it is typed.
type Move struct {
	Kappa, UKappa float64
	Band          Band
	// Plain: the planned amount is large enough against the indicator's
	// uncertainty to say anything. Otherwise Band is not to be told.
	Plain bool
	// Neighbour is the band across an edge nearer than UKappa; HasNeighbour
	// tells whether there is one.
	Neighbour    Band
	HasNeighbour bool
	Left         float64 // what is left to go, counted from where things stand
}

// JudgeMove compares how far a correction went, in all, with what was asked
// for, before anything is cut or measured. Nothing is said of a planned
// amount under 5 u of the movement.
func JudgeMove(planned, moved, uMoved float64) Move {
	m := Move{Left: planned - moved, Plain: movePlain(planned, uMoved)}
	if planned == 0 {
		return m
	}
	m.Kappa = moved / planned
	m.UKappa = uMoved / math.Abs(planned)
	m.Band = BandOf(m.Kappa, m.UKappa)
	m.Neighbour, _, m.HasNeighbour = beside(m.Kappa, m.UKappa)
	return m
}

func movePlain(planned, uMoved float64) bool {
	return planned != 0 && math.Abs(planned) >= 5*uMoved
}
