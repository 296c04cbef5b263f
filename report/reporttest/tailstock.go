// Package reporttest holds records made by hand, for the tests of what is made
// from a record. The story, the people and the figures are invented.
package reporttest

import (
	"fmt"
	"strings"

	"waywright/report"
)

const (
	headHash      = "3b1f5f0a6a0b8e7e0d5a3bb0c5d8a4f1c9d6e2b7a8f00112233445566778899a"
	procedureHash = "9f2c4e6a8b0d1f3e5a7c9b1d3f5e7a9c0b2d4f6e8a1c3e5f7a9b0d2c4e6f8a1b"
	sharedHash    = "1122334455667788990011223344556677889900aabbccddeeff001122334455"
)

func stamp(entry int, time, by string) report.Stamp {
	return report.Stamp{Entry: entry, Time: "2026-11-" + time + "Z", By: by}
}

// number makes a number of its printed digits.
func number(text, unit, code string) report.Number {
	var x float64
	if _, err := fmt.Sscanf(strings.Replace(text, "−", "-", 1), "%g", &x); err != nil {
		panic("reporttest: " + text + ": " + err.Error())
	}
	return report.Number{Value: x, Unit: unit, Code: code, Text: text}
}

func um(text string) *report.Number      { n := number(text, "µm", "um"); return &n }
func mm(text string) *report.Number      { n := number(text, "mm", "mm"); return &n }
func minutes(text string) *report.Number { n := number(text, "min", "min"); return &n }

const (
	taperPlus  = "larger at the tailstock end"
	taperMinus = "larger at the headstock end"
)

func taper(text, said, bigU, fromTo, room, side string) *report.Finding {
	return &report.Finding{
		Value: um(text), Said: said, U: um(bigU), K: 2.31, DoF: 8, Positive: taperPlus, Negative: taperMinus,
		Between: fromTo, Nearer: um(room), Side: side,
	}
}

var guarded = report.Rule{Name: "guarded", Level: 0.95,
	Said: "Guarded: PASS only where the limit is kept with a probability of at least 0.95, FAIL only where with at most 0.05. Between them: CANNOT TELL."}

func taperLimit() report.Allowed {
	return report.Allowed{Lower: um("−13.33"), Upper: um("13.33"), Said: "up to 13.33 µm, either way",
		Formula: "plus_minus(um(20) * given.span / mm(300))", Source: "common practice: 0.02 on the diameter in 300"}
}

// Tailstock is the record of a tailstock that was moved the wrong way first,
// typed the wrong way too, and then came right: accepted.
func Tailstock() report.Record {
	const anna, ben = "Anna Kowalska", "Ben Osei"
	r := report.Record{
		Format: report.Format, Number: "lathe-2-tailstock-by-test-cut-20261103-3b1f5f0a",
		Title: "Tailstock in line: test cut between centres",
		Outcome: report.Outcome{Word: report.Accepted, Text: "ACCEPTED",
			Counts: report.Counts{Agreed: 1, Pass: 1}},
		Procedure: report.Procedure{Name: "tailstock-by-test-cut", Revision: "1", Class: "centre lathe",
			Purpose: "Turn two collars at one setting and set the tailstock over until they agree.",
			Rule:    guarded, Digest: procedureHash,
			Files: []report.File{{Name: "tailstock-by-test-cut.hcl", SHA256: procedureHash, Size: 4211}, {Name: "shared.hcl", SHA256: sharedHash, Size: 3900}}},
		Machine: report.Machine{ID: "lathe-2", Class: "centre lathe", Serial: "1180",
			Facts: []report.Fact{{Name: "maker", Text: "not marked"}},
			Sizes: []report.Measure{{Name: "centre_height", Number: *mm("125")}, {Name: "test_bar.length", Number: *mm("300")}}},
		Journal: report.Journal{Head: headHash, Entries: 61, Program: "waywright 0.1"},
		Begun:   stamp(1, "03T08:02:11", anna),
		Last:    stamp(61, "04T09:31:40", ben),
		Sittings: []report.Sitting{
			{N: 1, Operator: anna, From: "2026-11-03T08:02:11Z", To: "2026-11-03T11:48:02Z", Entries: 44, Paused: "end of the shift"},
			{N: 2, Operator: anna, From: "2026-11-04T07:30:00Z", To: "2026-11-04T09:31:40Z", Entries: 17},
		},
		Roles: []report.Role{
			{Name: "fitter", Title: "Carried out by", Signed: anna, How: "typed", At: ptr(stamp(60, "04T09:20:00", anna))},
			{Name: "inspector", Title: "Accepted by", OtherThan: "Carried out by", Concedes: true, Signed: ben, How: "typed", At: ptr(stamp(61, "04T09:31:40", ben))},
		},
		Givens: []report.Given{
			{Name: "centres", Title: "Length of the bar between its centres", Typed: "300", Number: mm("300"), Text: "300 mm", From: "the entry of lathe-2", Exact: true, At: stamp(3, "03T08:03:00", anna)},
			{Name: "span", Title: "Distance between the two collars, middle to middle", Typed: "200 mm", Number: mm("200"), Text: "200 mm", Exact: true, At: stamp(4, "03T08:03:40", anna)},
		},
		Instruments: []report.Instrument{
			{ID: "micrometer#5", Name: "micrometer", Kind: "outside micrometer", Number: "M-3", What: "outside micrometer", Maker: "Brook and Sons", Serial: "30711",
				From: mm("0"), To: mm("50"), Resolution: um("1"), Error: um("4"), Zero: um("2"), Repeats: um("1"), RepeatsDoF: 8, Turn: mm("0.5"), Certificate: um("1.6"), K: 2,
				CertificateNo: "K-0418", Calibrated: "2026-03-31", CalibratedBy: "Halm Gauges", Due: "2027-03-31", Source: "DIN 863", At: stamp(5, "03T08:05:00", anna)},
			{ID: "indicator#19", Name: "indicator", Kind: "dial indicator on the tailstock barrel", Number: "I-2", Resolution: um("10"), Due: "2026-10-03", Overdue: true, Reason: "only shows the movement", At: stamp(19, "03T09:02:00", anna)},
		},
		Confirms: []report.Confirm{{Name: "one_setting", Title: "Were both collars cut without touching the cross slide?", Step: "Take the test cut", Answer: "yes", At: stamp(7, "03T08:15:00", anna)}},
		Cautions: []report.Caution{
			{Step: "Take the test cut", Texts: []string{"No gloves, rings, watch or loose sleeves near the turning spindle. Chuck key out."}, Spindle: "turning", At: stamp(6, "03T08:06:00", anna)},
			{Step: "Measure both collars", Spindle: "stopped", At: stamp(8, "03T08:16:00", anna)},
		},
		Waits: []report.Wait{
			{Name: "cool", Why: "the bar is warm from the cut", How: "over", Said: "It was over.", Asked: minutes("10"), Waited: minutes("11"), At: stamp(9, "03T08:27:00", anna)},
			{Name: "cool", Why: "the bar is warm from the cut", How: "short", Said: "It was cut short.", Asked: minutes("10"), Waited: minutes("6"), Reason: "the bar feels cold", At: stamp(26, "03T09:30:00", anna)},
		},
		Amendments: []report.Amendment{{Name: "headstock_end", Title: "Diameter, headstock-end collar", Take: 2, From: "32.347 mm", To: "31.847 mm", Reason: "misread by one turn of the thimble", At: stamp(13, "03T08:31:00", anna)}},
		Notes:      []report.Note{{Where: "Diameter, tailstock-end collar", Text: "light chatter on the tailstock collar", At: stamp(15, "03T08:33:00", anna)}},
	}
	r.Readings = tailstockReadings(anna)
	r.Results = []report.Result{{Name: "taper", Title: "Taper over the span", Found: taper("−1.0", "1.0 µm "+taperMinus, "4.4", "5.4 µm "+taperMinus+" to 3.4 µm "+taperPlus, "12.3", "lower"),
		Formula: "mean(reading.tailstock_end) - mean(reading.headstock_end)", Inputs: []string{"tailstock_end", "headstock_end"}, State: "present"}}
	r.Tests = []report.Test{tailstockTest(anna)}
	return r
}

func ptr[T any](v T) *T { return &v }

func collar(entry int, clock, by, which string, working int, state, why string, takes ...string) report.Reading {
	title := "Diameter, " + which + "-end collar"
	name := which + "_end"
	p := report.Place{Name: name, Ask: title}
	sum := 0.0
	for i, t := range takes {
		p.Takes = append(p.Takes, report.Take{Typed: t, Number: mm(t), Text: t, At: stamp(entry+i, clock, by)})
		sum += mm(t).Value
	}
	if len(takes) > 1 {
		p.Mean = mm(fmt.Sprintf("%.4f", sum/float64(len(takes))))
	}
	return report.Reading{ID: fmt.Sprintf("%s#%d", name, entry), Name: name, Title: title, Step: "Measure both collars", Working: working,
		Unit: "mm", Code: "mm", Instrument: "micrometer#5", State: state, Why: why, Places: []report.Place{p}, Sitting: 1,
		From: stamp(entry, clock, by), To: stamp(entry+len(takes)-1, clock, by)}
}

func tailstockReadings(by string) []report.Reading {
	const after = "after: Set the tailstock over"
	rs := []report.Reading{
		collar(10, "03T08:30:00", by, "headstock", 1, "stale", after, "31.847", "31.847", "31.848"),
		collar(14, "03T08:34:00", by, "tailstock", 1, "stale", after, "31.892", "31.892", "31.893"),
		collar(27, "03T09:35:00", by, "headstock", 2, "stale", after, "31.801", "31.800", "31.801"),
		collar(30, "03T09:37:00", by, "tailstock", 2, "stale", after, "31.892", "31.891", "31.892"),
		collar(52, "04T08:40:00", by, "headstock", 3, "used", "", "31.752", "31.753", "31.753"),
		collar(55, "04T08:44:00", by, "tailstock", 3, "used", "", "31.752", "31.751", "31.752"),
	}
	t := &rs[0].Places[0].Takes[1]
	t.Typed = "32.347"
	t.Amended = []report.Amendment{{Name: "headstock_end", Take: 2, From: "32.347 mm", To: "31.847 mm", Reason: "misread by one turn of the thimble", At: stamp(13, "03T08:31:00", by)}}
	rs[1].Places[0].Takes[2].Typed = "1.25563 inch"
	return rs
}

func tailstockTest(by string) report.Test {
	found := taper("−1.0", "1.0 µm "+taperMinus, "4.4", "5.4 µm "+taperMinus+" to 3.4 µm "+taperPlus, "12.3", "lower")
	first := taper("45.0", "45.0 µm "+taperPlus, "4.4", "40.6 to 49.4 µm "+taperPlus, "−31.7", "upper")
	second := taper("91.0", "91.0 µm "+taperPlus, "4.4", "86.6 to 95.4 µm "+taperPlus, "−77.7", "upper")
	asked := func(text, way string) []report.Amount {
		return []report.Amount{{Number: *mm(text), Direction: way, Said: text + " mm " + way}}
	}
	moved := func(typed, text, way string, at report.Stamp) []report.Movement {
		return []report.Movement{{Typed: typed, Amount: asked(text, way)[0], At: at}}
	}
	const towards, away = "towards the operator", "away from the operator"
	doing := []string{"Put an indicator on the tailstock barrel.", "Slacken the clamp, move, lock, read again."}
	a1, a2 := asked("0.034", towards)[0], asked("0.068", towards)[0]
	m2 := asked("0.070", towards)[0]
	return report.Test{
		No: 1, Name: "cylindrical", Title: "The bar turns parallel", Step: "Measure both collars", Lasting: "turns_parallel",
		Verdict: report.Pass, Word: "PASS", Found: found, Allowed: taperLimit(), Rule: guarded, P: "> 0.999",
		AsFound: report.AsFound{Read: true, Said: first.Said, Found: first, Verdict: report.Fail, Word: "FAIL"},
		Change:  &report.Change{Attempt: 1, By: *um("−46.0"), U: um("5.8"), K: 2.07, DoF: 22, Shown: true, Said: "as left differs from as found by 46.0 µm, give or take 5.8 µm"},
		Working: []string{"taper"}, Readings: []string{"headstock_end#52", "tailstock_end#55"}, Givens: []string{"span"},
		Instruments: []string{"micrometer#5"},
		Doubt: []report.Doubt{
			{Source: "M-3, its own error", U: *um("1.46"), Share: 0.72, Own: um("2.31"), Sensitivity: 0.632},
			{Source: "M-3, scatter of 3 takes of each of headstock-end collar and tailstock-end collar", U: *um("0.82"), Share: 0.22, DoF: 12, Own: um("1.00"), Sensitivity: 0.82},
			{Source: "M-3, its smallest step", U: *um("0.41"), Share: 0.06, Own: um("0.29"), Sensitivity: 1.414},
		},
		Method: &report.Method{Name: "sensitivities", Said: "worked out from how much each source moves the value"},
		Risk:   &report.Risk{AtMost: 0.0004, Said: "less than 0.1 out of 100"},
		Attempts: []report.Attempt{
			{N: 1, At: stamp(16, "03T08:36:00", by), AsFound: true, Verdict: report.Fail, Word: "FAIL", Found: first, Allowed: taperLimit(), P: "< 0.001",
				Readings: []string{"headstock_end#10", "tailstock_end#14"}, Instruments: []string{"micrometer#5"}, Ended: "after: Set the tailstock over",
				Way: &report.Way{Name: "set_over", Said: "Set the tailstock over", At: stamp(20, "03T09:04:00", by), Correction: &report.Correction{
					Name: "set_over", Title: "Set the tailstock over", Do: doing, N: 1, Asked: []report.Amount{a1},
					Movements: moved("0.034 towards", "0.034", towards, stamp(20, "03T09:04:00", by)), Moved: &a1,
					Response: &report.Response{Word: "wrong_sign", Said: "The result went the other way from what the indicator showed: readings were swapped or a sign was wrong.",
						Told:   "It became 46.0 µm larger at the tailstock end, give or take 6.2 µm; 45.3 µm larger at the headstock end was expected.",
						Before: *um("45.0"), After: *um("91.0"), Change: *um("46.0"), UChange: um("6.2"), Shown: true, Expected: um("−45.3")},
					Disturbed: []string{"Take the test cut", "Measure both collars"}, Reported: ptr(stamp(20, "03T09:04:00", by)),
				}}},
			{N: 2, At: stamp(32, "03T09:38:00", by), Verdict: report.Fail, Word: "FAIL", Found: second, Allowed: taperLimit(), P: "< 0.001",
				Readings: []string{"headstock_end#27", "tailstock_end#30"}, Instruments: []string{"micrometer#5"}, Ended: "after: Set the tailstock over",
				Way: &report.Way{Name: "set_over", Said: "Set the tailstock over", At: stamp(40, "03T11:20:00", by), Correction: &report.Correction{
					Name: "set_over", Title: "Set the tailstock over", Do: doing, N: 2, Asked: []report.Amount{a2},
					Movements: moved("0,07 towards", "0.070", towards, stamp(40, "03T11:20:00", by)), Moved: &m2,
					Judged: []report.MoveJudge{{How: "minus", Said: "Pushed towards the operator, the needle went minus: it reads reversed. Its signs were turned.", At: stamp(38, "03T11:02:00", by)}},
					Response: &report.Response{Word: "as_expected", Said: "It did what it should.",
						Told:   "It became 92.0 µm larger at the headstock end, give or take 6.2 µm; 90.7 µm larger at the headstock end was expected.",
						Before: *um("91.0"), After: *um("−1.0"), Change: *um("−92.0"), UChange: um("6.2"), Shown: true, Expected: um("−90.7")},
					Disturbed: []string{"Take the test cut", "Measure both collars"}, Reported: ptr(stamp(40, "03T11:20:00", by)),
				}}},
			{N: 3, At: stamp(57, "04T08:46:00", by), Verdict: report.Pass, Word: "PASS", Found: found, Allowed: taperLimit(), P: "> 0.999",
				Readings: []string{"headstock_end#52", "tailstock_end#55"}, Instruments: []string{"micrometer#5"}, Stands: true},
		},
	}
}
