package reporttest

import (
	"fmt"
	"math"
	"strings"

	"waywright/report"
)

// Large is the record of a long inspection: so many tests in groups of six, two
// of three over a profile of twenty-one stations, each with three attempts and
// a reading for every attempt. The figures follow from the numbers of test,
// attempt and station.
func Large(tests int) report.Record {
	r := Tailstock()
	r.Number, r.Title = "lathe-2-whole-inspection-20261103-77777777", "Whole inspection of a centre lathe"
	r.Tests, r.Readings, r.Results = nil, nil, nil
	for no := 1; no <= tests; no++ {
		largeTest(&r, no, 3*no <= 2*tests)
	}
	r.Outcome.Counts = report.Counts{Agreed: tests, Pass: tests}
	return r
}

const largeStations = 21

// height is a made-up height, in µm.
func height(no, attempt, station int) float64 {
	wave := math.Sin(float64(station*(1+no%5))/3) * float64(12/attempt)
	return math.Round(10*(wave+float64(no%7)-3)) / 10
}

func microns(x float64) report.Number {
	text := strings.Replace(fmt.Sprintf("%.1f", x), "-", "−", 1)
	return report.Number{Value: x, Unit: "µm", Code: "um", Text: text}
}

func rising(x float64) string {
	n, way := microns(math.Abs(x)), "rising"
	if x < 0 {
		way = "falling"
	}
	return n.WithUnit() + " " + way
}

func largeTest(r *report.Record, no int, profile bool) {
	t := tailstockTest("Anna Kowalska")
	name := fmt.Sprintf("way_%d", no)
	t.No, t.Name, t.Title = no, name, fmt.Sprintf("Way %d is straight, seen from the side", no)
	t.Step, t.Lasting = fmt.Sprintf("Group %d of the ways", (no-1)/6+1), ""
	t.Working, t.Readings = []string{name}, nil
	bound := 20.0
	t.Allowed = report.Allowed{Lower: um("−20"), Upper: um("20"), Said: "up to 20 µm, either way", Source: "common practice, verify", Memory: no%9 == 0}
	for i := range t.Attempts {
		a := &t.Attempts[i]
		rd := largeReading(no, i+1, name)
		r.Readings = append(r.Readings, rd)
		a.Readings, a.Allowed = []string{rd.ID}, t.Allowed
		worst := height(no, i+1, largeStations/2)
		v := microns(worst)
		a.Found = &report.Finding{Value: &v, Said: rising(worst), U: um("1.8"), K: 2, Positive: "rising", Negative: "falling"}
		nearer := microns(bound - math.Abs(worst))
		a.Found.Nearer, a.Found.Side = &nearer, "upper"
		if profile {
			a.Elements = largeElements(no, i+1)
		}
	}
	last := t.Attempts[len(t.Attempts)-1]
	t.Found, t.Elements, t.Readings = last.Found, last.Elements, last.Readings
	if profile {
		t.Along, t.Worst = "station", "500 mm"
	}
	t.AsFound.Found, t.AsFound.Said = t.Attempts[0].Found, t.Attempts[0].Found.Said
	r.Tests = append(r.Tests, t)
	r.Results = append(r.Results, report.Result{Name: name, Title: "Height over the way", Found: t.Found, State: "present",
		Formula: "straightness(reading." + name + ")", Inputs: []string{name}})
}

func station(i int) *report.Number { return mm(fmt.Sprint(50 * i)) }

func largeElements(no, attempt int) []report.Element {
	var out []report.Element
	for i := range largeStations {
		y := height(no, attempt, i)
		out = append(out, report.Element{Key: fmt.Sprint(50 * i), At: station(i), Value: microns(y), Said: rising(y), U: um("1.8"),
			Lower: um("−20"), Upper: um("20"), Verdict: report.Pass, Word: "PASS"})
	}
	return out
}

func largeReading(no, attempt int, name string) report.Reading {
	at := stamp(100*no+attempt, fmt.Sprintf("%02dT%02d:%02d:00", 3+attempt, 7+no/10, no%60), "Anna Kowalska")
	rd := report.Reading{ID: fmt.Sprintf("%s#%d", name, at.Entry), Name: name, Title: "Indicator along the way", Step: "Read the way", Working: attempt,
		Keys: []string{"station"}, Unit: "µm", Code: "um", Positive: "rising", Instrument: "micrometer#5", State: "stale", Why: "after: Scrape the way",
		Sitting: 1, From: at, To: at}
	if attempt == 3 {
		rd.State, rd.Why = "used", ""
	}
	for i := range largeStations {
		n := microns(height(no, attempt, i))
		key := fmt.Sprint(50 * i)
		rd.Places = append(rd.Places, report.Place{Name: name + "." + key, Ask: "Reading", Keys: []string{key}, At: station(i),
			Takes: []report.Take{{Typed: strings.Replace(n.Text, "−", "-", 1), Number: &n, Text: n.Text, At: at}}})
	}
	return rd
}
