package picture

import (
	"slices"
	"strings"

	"waywright/report"
	"waywright/report/draw"
)

// levels tells whether a result is heights that were worked out of slopes read
// along the stations.
func (v view) levels(x report.Result) bool {
	if len(x.Profile) == 0 || !isLength(x.Profile[0].Value.Unit) || !slices.ContainsFunc(runsIn(x), func(r run) bool { return !r.round() }) {
		return false
	}
	return slices.ContainsFunc(v.r.Readings, func(rd report.Reading) bool {
		label, _, _ := strings.Cut(rd.Name, ".")
		return inclined(rd.Unit) && slices.ContainsFunc(x.Inputs, func(in string) bool { return in == "reading."+label || strings.HasPrefix(in, "reading."+label+".") })
	})
}

// inclinedReading tells whether a reading is slopes along stations.
func (v view) inclinedReading(rd report.Reading) bool {
	return inclined(rd.Unit) && slices.ContainsFunc(runsOf(rd), func(r run) bool { return !r.round() })
}

// level draws a bed by all slopes that were read along it: its heights, and how
// it leans.
func (v view) level() []draw.Picture {
	own := slices.ContainsFunc(v.working(), v.levels) || slices.ContainsFunc(v.readings(), v.inclinedReading)
	if !own || slices.ContainsFunc(v.working(), func(x report.Result) bool { return len(x.Heights) > 0 }) {
		return nil
	}
	heights, leans, senses := v.bed()
	if len(heights)+len(leans) == 0 || len(heights) > len(shapes) || len(leans) > len(shapes) {
		return nil
	}
	l := draw.Level{Title: "Level along the bed", Heights: seriesOf(heights), Leans: seriesOf(leans),
		High: senses.high, Low: senses.low, Over: senses.over, Under: against(senses.over)}
	var said []string
	form := ""
	if len(heights) > 0 {
		l.Refs, form = v.heightRefs(heights)
		l.HeightUnit, l.Across = heights[0].unit, "station, "+heights[0].at[0].Unit
		said = append(said, "how its height runs")
	}
	if len(leans) > 0 {
		l.LeanUnit, l.Across = leans[0].unit, "station, "+leans[0].at[0].Unit
		said = append(said, "how it leans across")
	}
	l.Desc = strings.TrimSpace("The bed along its stations: " + strings.Join(said, ", and below it ") + "." + doubtSaid(append(heights, leans...)...) + " " + form)
	if f := v.t.Found; f != nil && f.Value != nil && len(leans) > 0 && v.twists() {
		l.Title = "Level and twist of the bed"
		l.Twist = "twist"
		l.Desc += " The bracket spans the twist, " + f.Said + "."
	}
	return []draw.Picture{called("level", l.Draw(), rowNumbers("Station", "Value", append(heights, leans...)))}
}

// heightRefs are the lines that the form of the only row of heights is counted
// from, and what they are.
func (v view) heightRefs(heights []run) (refs []draw.Ref, said string) {
	if len(heights) != 1 {
		return nil, ""
	}
	for _, x := range v.working() {
		if method, ok := v.formOf(x.Name); ok && v.levels(x) {
			return lines(heights[0], method)
		}
	}
	return nil, ""
}

// twists tells whether the test judges the range of what leans.
func (v view) twists() bool {
	return slices.ContainsFunc(v.working(), func(x report.Result) bool { return strings.Contains(x.Formula, "twist(") })
}

type bedSenses struct{ high, low, over string }

// bed are the heights and the leanings of the record: slopes that no height is
// worked out of are leanings.
func (v view) bed() (heights, leans []run, s bedSenses) {
	taken := map[string]bool{}
	for _, x := range v.r.Results {
		if x.State != "present" || !v.levels(x) {
			continue
		}
		s.high, s.low = x.Positive, x.Negative
		heights = append(heights, runsIn(x)...)
		for _, in := range x.Inputs {
			parts := strings.Split(in, ".")
			if len(parts) > 1 && parts[0] == "reading" {
				taken[parts[1]] = true
			}
		}
	}
	for _, rd := range v.r.Readings {
		label, _, _ := strings.Cut(rd.Name, ".")
		if rd.State != "used" || taken[label] || !v.inclinedReading(rd) {
			continue
		}
		s.over = rd.Positive
		leans = append(leans, runsOf(rd)...)
	}
	short := func(r run) bool { return len(r.y) < 2 }
	return slices.DeleteFunc(heights, short), slices.DeleteFunc(leans, short), s
}
