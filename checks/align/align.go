// Package align holds the formulas that put a spindle, a headstock and a
// tailstock in line with the ways.
//
// Lengths are in mm, slopes are ratios, angles are in radians. Z runs from the
// headstock to the tailstock, X towards the operator, Y up; near is closer to
// the headstock. An indicator reads plus when its plunger is pushed in, so
// that on the front of a bar plus is towards the operator and on top it is up.
//
// The functions are formulas and nothing else: out of their domain, such as
// with a span of nothing, they give an infinity or no number.
package align

import "math"

// AxisSlope returns the slope of the spindle's axis against the travel of the
// carriage, positive when the free end rises, or points towards the operator.
//
// The readings near and far are means over two spindle angles half a turn
// apart (see [Mean]), span apart; radiusDifference is the bar's radius far less
// near, sagDifference its sag far less near, both positive when the far one is
// greater.
func AxisSlope(near, far, span, radiusDifference, sagDifference float64) float64 {
	return (far - near - radiusDifference + sagDifference) / span
}

// Mean returns where the axis lies at a station, from readings half a turn of
// the spindle apart: what the bar is out by turns with it and falls out.
func Mean(p0, p180 float64) float64 { return p0 + (p180-p0)/2 }

// BarError returns what the bar is out by at a station, positive when it
// stands towards the indicator at 0°.
func BarError(p0, p180 float64) float64 { return (p0 - p180) / 2 }

// PadChange returns by how much the nose end of a head is to move to bring its
// slope to target, positive up or towards the operator as the slope is. The
// head turns about its rear pads, which lie pads from those at the nose.
func PadChange(slope, target, pads float64) float64 { return (target - slope) * pads }

// VeeLateral returns how far a head moves sideways when n is taken off one
// flank of a vee of that included angle. On a raised vee it moves away from
// the flank that is cut, in a sunk one towards it.
func VeeLateral(n, angle float64) float64 { return n / (2 * math.Cos(angle/2)) }

// VeeDrop returns how far a head drops when n is taken off one flank of a vee
// of that included angle; off both flanks it drops twice as far.
func VeeDrop(n, angle float64) float64 { return n / (2 * math.Sin(angle/2)) }

// NoseGap returns the gap under the nose-end pads that lets the free end fall
// when they are drawn down. The head turns about its rear pads, which lie pads
// from those at the nose; reach is from the nose-end pads to the free end.
func NoseGap(fall, pads, reach float64) float64 { return fall * pads / (pads + reach) }

// RearGap returns the gap under the rear pads that lets the free end rise when
// they are drawn down, the head turning about its nose-end pads.
func RearGap(rise, pads, reach float64) float64 { return rise * pads / reach }

// SweepHeight returns how much higher the tailstock's axis is than the
// spindle's, from an indicator in the spindle swept over the outside of the
// barrel. The sag of the rig is counted on the radius, positive when it hangs;
// uncorrected it makes the tailstock look high.
func SweepHeight(top, bottom, sag float64) float64 { return (top-bottom)/2 - sag }

// SweepHeightBore is [SweepHeight] with the indicator in a bore, its tip
// pointing outward.
func SweepHeightBore(top, bottom, sag float64) float64 { return (bottom-top)/2 - sag }

// SweepLateral returns how far the tailstock's axis lies towards the operator
// from the spindle's, from a sweep over the outside of the barrel.
func SweepLateral(front, rear float64) float64 { return (front - rear) / 2 }

// FacingSlope returns the slope of the cross slide against the face that the
// spindle turns, positive when it faces hollow. The same point of a faceplate,
// or both rims of a faced disc, is read at diameter apart: delta is the far
// rim's reading less the near one's.
func FacingSlope(delta, diameter float64) float64 { return delta / diameter }

// FacingDepth returns how deep the middle of a faced disc lies below its rim,
// positive when it is hollow; delta as in [FacingSlope].
func FacingDepth(delta float64) float64 { return delta / 2 }

// Tram returns the lean of a vertical spindle against a table, positive when
// the top of the head leans towards a: readings at a and b, the diameter of
// the sweep apart.
func Tram(a, b, sweep float64) float64 { return (a - b) / sweep }
