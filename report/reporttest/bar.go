package reporttest

import (
	"fmt"

	"waywright/report"
)

const (
	fat, thin = "fat", "thin"
	hostile   = `<script>alert("x")</script> & 'Ünïcode' ` + "\u202e"
)

// Bar is the record of a lapped bar that is not decided: one test failed and
// conceded, one not measured, one passed, one left out, and nobody has signed.
// It has profiles, a void set of readings, metal and a disturbed machine. One
// name in it is markup.
func Bar() report.Record {
	by := hostile
	relieved := stamp(47, "10T10:35:00", by)
	until := &relieved
	r := report.Record{
		Format: report.Format, Number: "lathe-2-lap-bar-20261110-5c5c5c5c", Title: "Lap a bar to within 2 µm",
		Outcome: report.Outcome{Word: report.NotDecided, Text: "NOT DECIDED", Draft: true,
			Open:   []string{"\"One size over the whole length\" is not measured, and no concession is granted.", "Carried out by: not signed.", "Accepted by: not signed."},
			Counts: report.Counts{Agreed: 4, Pass: 1, Undecided: 1, NotMeasured: 1, Fail: 1, NotApplied: 1}},
		Procedure: report.Procedure{Name: "lap-bar", Revision: "2", Class: "centre lathe", Grade: "precision", Rule: guarded, Digest: procedureHash,
			Sources: []string{"common practice"}, Files: []report.File{{Name: "lap-bar.hcl", SHA256: procedureHash}}},
		Machine: report.Machine{ID: "lathe-2", Class: "centre lathe"},
		Journal: report.Journal{Head: headHash, Entries: 90},
		Begun:   stamp(1, "10T07:00:00", by), Last: stamp(90, "19T12:00:00", by), Inch: false, Task: "test_bar",
		Sittings: []report.Sitting{{N: 1, Operator: by, From: "2026-11-10T07:00:00Z", To: "2026-11-10T12:00:00Z", Entries: 60, Paused: "power cut"},
			{N: 2, Operator: "C. Brandt", From: "2026-11-19T09:00:00Z", To: "2026-11-19T12:00:00Z", Entries: 30}},
		Roles: []report.Role{{Name: "fitter", Title: "Carried out by"}, {Name: "inspector", Title: "Accepted by", OtherThan: "Carried out by", Concedes: true}},
		Givens: []report.Given{
			{Name: "diameter", Title: "Diameter aimed at", Typed: "25", Number: mm("25"), Text: "25 mm", Exact: true, At: stamp(3, "10T07:01:00", by)},
			{Name: "stations", Title: "At how many stations?", Typed: "5", Text: "5", Exact: true, At: stamp(4, "10T07:02:00", by)},
			{Name: "driven", Title: "Which end is driven?", Typed: "boss", Text: "boss", Exact: true, Odd: "not one of the usual words", Reason: "there is a boss under the driver", At: stamp(5, "10T07:02:30", by)},
		},
		Instruments: []report.Instrument{
			{ID: "comparator#6", Name: "comparator", Kind: "bench comparator with a 0.5 µm indicator", Number: "C-1", Resolution: um("0.5"), Error: um("2"), Repeats: um("0.2"), Turn: mm("0.1"), At: stamp(6, "10T07:05:00", by), Until: until},
			{ID: "comparator#47", Name: "comparator", Kind: "bench comparator with a 0.5 µm indicator", Number: "M-8", What: "outside micrometer", Resolution: um("1"), Error: um("4"),
				Odd: []report.Oddity{
					{What: "kind", Said: "The logbook has it as outside micrometer; asked for is bench comparator with a 0.5 µm indicator."},
					{What: "coarse", Said: `Too coarse for "One size along the bar": nothing could pass. Give or take 5.7 µm, where the limits leave 2 µm.`},
				}, Reason: "the comparator is away", At: *until},
			{ID: "thermometer#7", Name: "thermometer", Kind: "thermometer", Skipped: true, At: stamp(7, "10T07:06:00", by)},
		},
		Cautions:    []report.Caution{{Step: "Dwell where the bar is fat", Texts: []string{"Slowest speed. Hold the lap by its handle."}, Spindle: "turning", Skipped: true, At: stamp(30, "10T09:00:00", by)}},
		Releases:    []report.Release{{Step: "Lap", Role: "Foreman", Name: "D. Singh", At: stamp(29, "10T08:59:00", by)}},
		Waits:       []report.Wait{{Name: "cool", Why: "a bar that is 10 kelvin warm reads 2.9 µm large", How: "over", Said: "Two readings agreed.", Waited: minutes("25"), Values: []report.Number{*mm("25.0061"), *mm("25.0052"), *mm("25.0050")}, At: stamp(12, "10T07:40:00", by)}},
		Withdrawals: []report.Withdrawal{{Of: stamp(40, "10T10:00:00", by), What: "bar.100", Said: "25.0005 mm", At: stamp(41, "10T10:00:20", by)}},
		Disturbed:   []report.Disturbance{{What: "machine", Reason: "the comparator's stand was knocked", Again: []string{"Measure along the bar"}, At: stamp(45, "10T10:30:00", by)}},
		Unmeasured:  []report.Unmeasured{{Name: "driver_end", Title: "Diameter under the driver", Reason: "boss under the driver", Stands: true, At: stamp(70, "19T10:30:00", "C. Brandt")}},
		Metal: []report.Metal{
			{Place: "bar", Correction: "Dwell where the bar is fat", Amount: report.Amount{Number: *um("4.0"), Direction: "to take off the diameter", Said: "4.0 µm to take off the diameter"}, Total: um("4.0"), TotalSaid: "4.0 µm to take off the diameter", Planned: true, At: stamp(31, "10T09:20:00", by)},
			{Place: "bar", Correction: "Dwell where the bar is fat", Amount: report.Amount{Number: *um("1.5"), Direction: "to take off the diameter", Said: "1.5 µm to take off the diameter"}, Total: um("5.5"), TotalSaid: "5.5 µm to take off the diameter", Planned: true, At: stamp(52, "10T11:20:00", by)},
		},
		Notes: []report.Note{{Where: "Diameter at 100 mm from the first station", Text: "photograph of the stand", File: &report.File{Name: "stand <1>.jpg", SHA256: sharedHash, Size: 184223}, At: stamp(46, "10T10:31:00", by)}},
	}
	r.Readings = []report.Reading{
		profile("bar#13", 13, 1, "stale", "after: Dwell where the bar is fat", "10T07:45:00", by, "25.0050", "25.0072", "25.0090", "25.0071", "25.0049"),
		profile("bar#36", 36, 2, "void", "moved 1.6 µm since the start; 1.0 µm is allowed", "10T10:00:00", by, "25.0041", "25.0046", "25.0050", "25.0044", "25.0039"),
		profile("bar#60", 60, 3, "used", "", "19T09:40:00", "C. Brandt", "25.0021", "25.0024", "25.0030", "25.0022", "25.0018"),
		temperature(by),
	}
	r.Readings[1].Drift = &report.Drift{Moved: *um("1.6"), Allowed: *um("1.0"), Said: "moved 1.6 µm since the start; 1.0 µm is allowed"}
	r.Results = []report.Result{{Name: "form", Title: "Each station against the mean", Formula: "reading.bar - mean(reading.bar)", Inputs: []string{"bar"}, State: "present",
		Profile: []report.Point{{At: mm("0"), Value: *um("−0.2")}, {At: mm("50"), Value: *um("0.1")}, {At: mm("100"), Value: *um("0.7")}, {At: mm("150"), Value: *um("−0.1")}, {At: mm("200"), Value: *um("−0.5")}}}}
	r.Tests = barTests(by)
	r.Concessions = []report.Concession{*r.Tests[1].Concession}
	return r
}

func profile(id string, entry, working int, state, why, clock, by string, values ...string) report.Reading {
	rd := report.Reading{ID: id, Name: "bar", Title: "Diameter along the bar", Step: "Measure along the bar", Working: working, Keys: []string{"station"},
		Unit: "mm", Code: "mm", Instrument: "comparator#6", State: state, Why: why, Sitting: 1, From: stamp(entry, clock, by), To: stamp(entry+2*len(values), clock, by)}
	for i, v := range values {
		z := fmt.Sprint(i * 50)
		p := report.Place{Name: "bar." + z, Ask: "Diameter at " + z + " mm from the first station", Keys: []string{z}, At: mm(z), Mean: mm(v)}
		for t := range 2 {
			p.Takes = append(p.Takes, report.Take{Typed: v, Number: mm(v), Text: v, At: stamp(entry+2*i+t, clock, by)})
		}
		rd.Places = append(rd.Places, p)
	}
	first := rd.Places[0]
	first.Pass = "again"
	first.Name += ".again"
	rd.Places = append(rd.Places, first)
	return rd
}

func temperature(by string) report.Reading {
	n := number("20.1", "°C", "Cel")
	return report.Reading{ID: "room#8", Name: "room", Title: "Temperature of the bar", Step: "Measure along the bar", Working: 1, Unit: "°C", Code: "Cel",
		Instrument: "thermometer#7", State: "used", Sitting: 1, From: stamp(8, "10T07:10:00", by), To: stamp(8, "10T07:10:00", by),
		Places: []report.Place{{Name: "room", Ask: "Temperature of the bar", Takes: []report.Take{{Typed: "20.1", Number: &n, Text: "20.1", At: stamp(8, "10T07:10:00", by)}}}}}
}

func barTests(by string) []report.Test {
	within := report.Allowed{Lower: um("−2"), Upper: um("2"), Said: "up to 2 µm, either way", Source: "shop rule, estimate"}
	before := []report.Element{
		element("0", "−1.6", "1.6 µm thin", report.Undecided), element("50", "0.6", "0.6 µm fat", report.Pass),
		element("100", "2.4", "2.4 µm fat", report.Fail), element("150", "0.5", "0.5 µm fat", report.Pass), element("200", "−1.7", "1.7 µm thin", report.Undecided)}
	after := []report.Element{
		element("0", "−0.2", "0.2 µm thin", report.Pass), element("50", "0.1", "0.1 µm fat", report.Pass),
		element("100", "0.7", "0.7 µm fat", report.Pass), element("150", "−0.1", "0.1 µm thin", report.Pass), element("200", "−0.5", "0.5 µm thin", report.Pass)}
	even := report.Test{No: 1, Name: "even", Title: "Every station within 2 µm of the mean", Step: "Measure along the bar", Verdict: report.Pass, Word: "PASS",
		Found: finding("0.7", "0.7 µm fat", "0.5", "1.3", fat, thin), Allowed: within, Rule: guarded, P: "> 0.999", Worst: "100 mm", Elements: after, Along: "station",
		Working: []string{"form"}, Readings: []string{"bar#60"}, Instruments: []string{"comparator#6"},
		AsFound: report.AsFound{Read: true, Said: "2.4 µm fat", Found: finding("2.4", "2.4 µm fat", "0.5", "−0.4", fat, thin), Verdict: report.Fail, Word: "FAIL"},
		Doubt:   []report.Doubt{{Source: "takes at 100 mm and the mean", U: *um("0.18"), Share: 0.7, DoF: 13}, {Source: "indication of C-1", U: *um("0.12"), Share: 0.3}}}
	took := report.Amount{Number: *um("4.0"), Direction: "to take off the diameter", At: mm("100"), Said: "4.0 µm to take off the diameter, at 100 mm"}
	even.Attempts = []report.Attempt{
		{N: 1, At: stamp(24, "10T08:20:00", by), AsFound: true, Verdict: report.Fail, Word: "FAIL", Found: even.AsFound.Found, Allowed: within, P: "0.039", Worst: "100 mm", Elements: before, Readings: []string{"bar#13"}, Instruments: []string{"comparator#6"}, Ended: "after: Dwell where the bar is fat",
			Way: &report.Way{Name: "lap", Said: "Dwell where the bar is fat", At: stamp(31, "10T09:20:00", by), Correction: &report.Correction{Name: "lap", Title: "Dwell where the bar is fat", N: 1, Asked: []report.Amount{took}, Gain: 0.8, Reported: ptr(stamp(31, "10T09:20:00", by)),
				Response: &report.Response{Word: "part", Said: "It was moved part of the way.", Told: "It went down by 2.9 µm, give or take 0.6 µm; down by 4.0 µm was expected.", Before: *um("4.1"), After: *um("1.2"), Change: *um("−2.9"), UChange: um("0.6"), Expected: um("−4.0")}}}},
		{N: 2, At: stamp(69, "19T10:20:00", "C. Brandt"), Verdict: report.Pass, Word: "PASS", Found: even.Found, Allowed: within, P: "> 0.999", Worst: "100 mm", Elements: after, Readings: []string{"bar#60"}, Instruments: []string{"comparator#6"}, Stands: true},
	}
	concession := report.Concession{No: 1, Test: "ends", TestNo: 2, Title: "Ends not bell-mouthed", Word: "CANNOT TELL", Reason: "a finer comparator is not to be had", Asked: stamp(80, "19T11:00:00", "C. Brandt"), State: "asked", Said: "Asked for, not decided yet."}
	ends := report.Test{No: 2, Name: "ends", Title: "Ends not bell-mouthed", Step: "Measure along the bar", Verdict: report.Undecided, Word: "CANNOT TELL",
		Found:   finding("−0.9", "0.9 µm end thinner than the middle", "0.4", "0.1", "end fatter than the middle", "end thinner than the middle"),
		Allowed: report.Allowed{Lower: um("−1"), Said: "at most 1 µm end thinner than the middle", Source: "typical of a standard, verify", Memory: true}, Rule: guarded, P: "0.69",
		AsFound: report.AsFound{Said: "not read"}, Readings: []string{"bar#60"}, Instruments: []string{"comparator#6"}, Concession: &concession}
	ends.Attempts = []report.Attempt{{N: 1, At: stamp(69, "19T10:20:00", "C. Brandt"), Verdict: ends.Verdict, Word: ends.Word, Found: ends.Found, Allowed: ends.Allowed, P: "0.69", Readings: ends.Readings, Stands: true,
		Way: &report.Way{Name: "concession", Said: "A concession was asked for.", Reason: concession.Reason, At: concession.Asked}}}
	whole := report.Test{No: 3, Name: "whole", Title: "One size over the whole length", Step: "Measure under the driver", Verdict: report.NotMeasured, Word: "NOT MEASURED", Why: "boss under the driver",
		Allowed: report.Allowed{Upper: um("3"), Said: "at most 3 µm", Source: "shop rule, estimate"}, Rule: guarded, AsFound: report.AsFound{Said: "not read"}}
	mark := report.Test{No: 4, Name: "marked", Title: "The mark " + hostile + " is on the driven end", Step: "Measure under the driver", Setup: true, Verdict: report.Fail, Word: "FAIL",
		Found: &report.Finding{Said: "it is not so", Holds: "no", Exact: true}, Allowed: report.Allowed{Said: "it must be so", Formula: `reading.mark == "driven"`, Source: "drawing"}, Rule: report.Rule{Name: "simple", Said: "Simple."},
		AsFound:  report.AsFound{Read: true, Said: "it is not so", Verdict: report.Fail, Word: "FAIL"},
		Attempts: []report.Attempt{{N: 1, At: stamp(75, "19T10:40:00", "C. Brandt"), AsFound: true, Verdict: report.Fail, Word: "FAIL", Found: &report.Finding{Said: "it is not so", Holds: "no", Exact: true}, Allowed: report.Allowed{Said: "it must be so"}, Stands: true}}}
	thread := report.Test{No: 5, Name: "thread.2", Title: "Pitch of the thread", Keys: []string{"2"}, Step: "Measure under the driver", Verdict: report.NotApplied, Word: "DOES NOT APPLY", Why: "given.thread == \"none\"", Allowed: report.Allowed{Said: "up to 5 µm, either way"}, Rule: guarded, AsFound: report.AsFound{Said: "not read"}}
	return []report.Test{even, ends, whole, mark, thread}
}

func element(at, text, said, verdict string) report.Element {
	word := map[string]string{report.Pass: "PASS", report.Fail: "FAIL", report.Undecided: "CANNOT TELL"}[verdict]
	return report.Element{At: mm(at), Value: *um(text), Said: said, U: um("0.5"), Lower: um("−2"), Upper: um("2"), Verdict: verdict, Word: word}
}

func finding(text, said, bigU, room, plus, minus string) *report.Finding {
	return &report.Finding{Value: um(text), Said: said, U: um(bigU), K: 2.16, DoF: 13, Positive: plus, Negative: minus, Nearer: um(room), Side: "upper"}
}
