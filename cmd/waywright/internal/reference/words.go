package reference

import (
	"waywright/checks"
	"waywright/engine/overhaul"
	"waywright/procedures/hclfile/schema"
	"waywright/report"
)

// wordList is a list of words that the program says, and what they mean.
type wordList struct {
	ID, Title, Doc string
	Words          []said
}

// said is a word as it is printed, as files have it, and what it means.
type said struct{ Printed, Word, Means string }

// verdicts are the words of gates.
var verdicts = []struct {
	Verdict checks.Verdict
	Means   string
}{
	{checks.Pass, "The value lies inside its limits, as surely as the decision rule asks."},
	{checks.Fail, "It lies outside, as surely."},
	{checks.Undecided, "It lies so near a limit that the readings cannot show on which side. More takes or a finer instrument may."},
	{checks.NotMeasured, "A reading that it needs could not be taken, or its formula had no answer. It stands in the way of acceptance."},
	{checks.NotApplied, "A condition sends it away on this machine."},
	{checks.Open, "The run has not come so far."},
}

// outcomes are the words of runs.
var outcomes = []struct{ word, means string }{
	{report.Accepted, "Every gate that applies has passed, and every role has signed."},
	{report.Conceded, "So, but for gates that a concession was granted for, by name and with a reason."},
	{report.Surveyed, "Every gate notes what was found: a survey accepts nothing."},
	{report.Rejected, "A gate was given up, or a concession refused."},
	{report.Abandoned, "Nobody goes on with the run, and nothing was decided."},
	{report.NotDecided, "Something is still to be done, to be decided or to be signed."},
}

// states are how a task of a plan stands.
var states = []struct {
	state overhaul.State
	means string
}{
	{overhaul.NotBegun, "No run was begun for it."},
	{overhaul.UnderWay, "A run of it is open."},
	{overhaul.Accepted, "Its newest run is accepted, and nothing has spoilt it."},
	{overhaul.Again, "It was accepted, and a later correction or a value that changed has spoilt that: it is done again."},
	{overhaul.Rejected, "Its newest run that was decided was rejected."},
	{overhaul.Settled, "Its condition is false: it need not be done."},
}

func words() []wordList {
	out := []wordList{
		{ID: "words-verdicts", Title: "What a gate says", Doc: "Of a gate over many values the worst counts, and the place is named."},
		{ID: "words-outcomes", Title: "What becomes of a run"},
		{ID: "words-movements", Title: "What a correction did", Doc: "Said after it was moved, and after the first measurement behind it. The word is what a rehearsal expects with said."},
		{ID: "words-values", Title: "What is asked about a value", Doc: "The word is what a rehearsal expects with said."},
		{ID: "words-tasks", Title: "How a task of a plan stands"},
	}
	for _, v := range verdicts {
		out[0].Words = append(out[0].Words, said{report.VerdictWord(v.Verdict), "", v.Means})
	}
	for _, o := range outcomes {
		out[1].Words = append(out[1].Words, said{report.OutcomeText(o.word, 2), o.word, o.means})
	}
	for i, w := range schema.Responses {
		out[2].Words = append(out[2].Words, said{"", w, schema.ResponseMean[i]})
	}
	for i, w := range schema.Objections {
		out[3].Words = append(out[3].Words, said{"", w, schema.ObjectionMean[i]})
	}
	for _, s := range states {
		out[4].Words = append(out[4].Words, said{"", string(s.state), s.means})
	}
	return out
}
