package draw

import (
	"fmt"
	"strings"
)

// fileStyle is how a picture looks that stands by itself. Boxes and arrows
// differ by their lines, not by colour alone.
const fileStyle = `
text { font: 13px "Source Sans 3", "Segoe UI", "Helvetica Neue", Helvetica, Arial, "DejaVu Sans", sans-serif; fill: #141414; }
.d-strong { font-weight: 600; }
.d-small { font-size: 12px; fill: #555; }
.d-head { font-size: 15px; font-weight: 700; }
.d-box { fill: #f1f1ee; stroke: #7a7a7a; }
.d-soft { fill: #fff; stroke: #7a7a7a; stroke-dasharray: 3 3; }
.d-heavy { fill: #fff; stroke: #141414; stroke-width: 2.2; }
.d-flow, .d-dashed, .d-dotted { fill: none; stroke: #7a7a7a; stroke-width: 1.3; }
.d-dashed { stroke: #141414; stroke-dasharray: 7 4; }
.d-dotted { stroke: #141414; stroke-dasharray: 1.5 3.5; stroke-width: 1.6; }
.d-tip { fill: #141414; }
.d-band { fill: #dde7ee; }
.d-limit { stroke: #33536b; stroke-width: 2; fill: none; }
.d-axis, .d-fold { stroke: #141414; fill: none; }
.d-grid { stroke: #c9c9c9; stroke-width: .6; fill: none; }
.d-trace, .d-trace2, .d-trace3, .d-fitted { stroke: #141414; stroke-width: 1.2; fill: none; }
.d-trace2 { stroke-dasharray: 6 3; }
.d-trace3 { stroke-dasharray: 1.5 3; }
.d-fitted { stroke-dasharray: 7 3 1.5 3; }
polyline.d-doubt { stroke: #141414; stroke-width: 1.4; fill: none; }
rect.d-doubt { fill: #141414; opacity: .55; }
.d-value { fill: #141414; stroke: #fff; }
.d-cross { fill: none; stroke: #141414; stroke-width: 2.4; }
.d-diamond, .d-ring { fill: #fff; stroke: #141414; stroke-width: 2; }
.d-paper { fill: #fff; }
@media (prefers-color-scheme: dark) {
  text, .d-tip { fill: #e9e8e4; }
  .d-small { fill: #b0b2b0; }
  .d-box { fill: #23292d; }
  .d-soft, .d-heavy, .d-paper { fill: #15181b; }
  .d-heavy, .d-dashed, .d-dotted { stroke: #e9e8e4; }
  .d-band { fill: #26394a; }
  .d-limit { stroke: #9dbad2; }
  .d-value, rect.d-doubt { fill: #e9e8e4; }
  .d-value { stroke: #15181b; }
  .d-axis, .d-fold, .d-trace, .d-trace2, .d-trace3, .d-fitted, polyline.d-doubt, .d-cross, .d-diamond, .d-ring { stroke: #e9e8e4; }
  .d-grid { stroke: #4a4f54; }
  .d-cross { fill: none; }
  .d-diamond, .d-ring { fill: #15181b; }
}
`

// File writes the picture as an SVG file that needs nothing else.
func File(p Picture) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %s %s\" width=\"%[1]s\" height=\"%[2]s\" role=\"img\" aria-labelledby=\"t d\">\n",
		num(p.W), num(p.H))
	fmt.Fprintf(&b, "<title id=\"t\">%s</title>\n<desc id=\"d\">%s</desc>\n<style>%s</style>\n", esc(p.Title), esc(p.Desc), fileStyle)
	writeMark(&b, Rect{W: p.W, H: p.H, Class: "paper"})
	b.WriteByte('\n')
	for _, m := range p.Marks {
		writeMark(&b, m)
		b.WriteByte('\n')
	}
	b.WriteString("</svg>\n")
	return []byte(b.String())
}
