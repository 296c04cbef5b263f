package picture

import (
	"waywright/report"
	"waywright/report/draw"
)

// OfRun returns the pictures of a run as a whole.
func OfRun(r report.Record) []draw.Picture { return nil }
