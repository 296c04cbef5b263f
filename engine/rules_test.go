package engine_test

import (
	"path/filepath"
	"strings"
	"testing"

	"waywright/engine"
	"waywright/engine/enginetest"
)

// scenario plays one file of testdata/scenarios.
func scenario(t *testing.T, name string) {
	t.Helper()
	enginetest.Run(t, filepath.Join("..", "testdata", "scenarios", name+".txt"), load)
}

func TestRule07TakesStandForTheirMean(t *testing.T)   { scenario(t, "rule-07-takes") }
func TestRule08AnIndexIsAKey(t *testing.T)            { scenario(t, "rule-08-keys") }
func TestRule09KeysKeepTheOrderOfTaking(t *testing.T) { scenario(t, "rule-09-order") }
func TestRule10ElementByElement(t *testing.T)         { scenario(t, "rule-10-elements") }
func TestRule11MissingAbsentUnmeasured(t *testing.T)  { scenario(t, "rule-11-absent") }
func TestRule12TextIsOneOfItsChoices(t *testing.T)    { scenario(t, "rule-12-choices") }
func TestRule13ConditionsComparePlainly(t *testing.T) { scenario(t, "rule-13-plain") }
func TestRule14ValuesInText(t *testing.T)             { scenario(t, "rule-14-text") }
func TestRule15GivensAreExactOrNot(t *testing.T)      { scenario(t, "rule-15-givens") }
func TestRule16RowsAndUnits(t *testing.T)             { scenario(t, "rule-16-rows") }
func TestRule16DivisionsAndInches(t *testing.T)       { scenario(t, "rule-16-units") }
func TestRule16DirectionsAsWords(t *testing.T)        { scenario(t, "rule-16-directions") }
func TestRule17KeysKnownInTheRun(t *testing.T)        { scenario(t, "rule-17-each") }
func TestRule18GateInAStepWithEach(t *testing.T)      { scenario(t, "rule-18-rounds") }
func TestRule19StationAngleTake(t *testing.T)         { scenario(t, "rule-19-places") }
func TestRule20VoidSets(t *testing.T)                 { scenario(t, "rule-20-void") }
func TestRule20ReasonOnlyAfterThree(t *testing.T)     { scenario(t, "rule-20-reason") }
func TestRule20BothWays(t *testing.T)                 { scenario(t, "rule-20-both-ways") }
func TestRule21DoneAndConfirmed(t *testing.T)         { scenario(t, "rule-21-done") }
func TestRule22BrokenSets(t *testing.T)               { scenario(t, "rule-22-broken") }
func TestRule22NeedleReversed(t *testing.T)           { scenario(t, "rule-22-nudge") }
func TestRule22TurnedInstrument(t *testing.T)         { scenario(t, "rule-22-turned") }
func TestRule23TheWalk(t *testing.T)                  { scenario(t, "rule-23-walk") }
func TestRule23SittingsAndPower(t *testing.T)         { scenario(t, "rule-23-sittings") }
func TestRule23SkippedCaution(t *testing.T)           { scenario(t, "rule-23-skipped") }
func TestRule24ConditionTurnsFalse(t *testing.T)      { scenario(t, "rule-24-when") }
func TestRule25NotApplied(t *testing.T)               { scenario(t, "rule-25-not-applied") }
func TestRule25NoAnswerIsNotMeasured(t *testing.T)    { scenario(t, "rule-25-no-answer") }
func TestRule26WorstElement(t *testing.T)             { scenario(t, "rule-26-worst") }
func TestRule27DecisionOfItsOwn(t *testing.T)         { scenario(t, "rule-27-decision") }
func TestRule28StaleAfterACorrection(t *testing.T)    { scenario(t, "rule-28-stale") }
func TestRule29NothingStored(t *testing.T)            { scenario(t, "rule-29-results") }
func TestRule30Concession(t *testing.T)               { scenario(t, "rule-30-concession") }
func TestRule30Refused(t *testing.T)                  { scenario(t, "rule-30-refused") }
func TestRule31MovedIsNeverStale(t *testing.T)        { scenario(t, "rule-31-moved") }
func TestRule32Disturbed(t *testing.T)                { scenario(t, "rule-32-disturbed") }
func TestRule32GoodFor(t *testing.T)                  { scenario(t, "rule-32-good-for") }
func TestRule33RejectMayAlwaysBeChosen(t *testing.T)  { scenario(t, "rule-33-reject") }
func TestRule41Waits(t *testing.T)                    { scenario(t, "rule-41-waits") }
func TestRule42Back(t *testing.T)                     { scenario(t, "rule-42-back") }
func TestRule42BackOverAnAmendment(t *testing.T)      { scenario(t, "rule-42-amended") }
func TestRule42BackOverAWait(t *testing.T)            { scenario(t, "rule-42-wait") }
func TestRule43Amend(t *testing.T)                    { scenario(t, "rule-43-amend") }
func TestRule43ChoiceLapses(t *testing.T)             { scenario(t, "rule-43-lapse") }
func TestRule45FromAnotherRun(t *testing.T)           { scenario(t, "rule-45-accepted") }
func TestRule48GradeFirst(t *testing.T)               { scenario(t, "rule-48-grade") }
func TestOtherThan(t *testing.T)                      { scenario(t, "other-than") }
func TestOtherThanWhoReleased(t *testing.T)           { scenario(t, "other-than-released") }
func TestRule36CautionsSkipped(t *testing.T)          { scenario(t, "rule-36-cautions-skipped") }
func TestRule41TemperaturesAgree(t *testing.T)        { scenario(t, "rule-41-temperature") }
func TestRule41GoesOnWhileClosed(t *testing.T)        { scenario(t, "rule-41-resumed") }
func TestRule38TheNeedleTestedAtOnce(t *testing.T)    { scenario(t, "corr-38-sign") }
func TestCannotAndAgain(t *testing.T)                 { scenario(t, "cannot") }

// An event that names what the files do not have is damage: the journal belongs
// to other files, and the fold says which event it is.
func TestRule44ForeignEventsAreDamage(t *testing.T) {
	length := engine.Taken{Typed: "5", Value: 5, Unit: "um"}
	for name, d := range map[string]engine.Data{
		"a question of no file":    engine.Answered{Name: "width", Takes: []engine.Taken{length}},
		"a question not open":      engine.Answered{Name: "high.middle", Takes: []engine.Taken{length}},
		"a value of another kind":  engine.Answered{Name: "height", Takes: []engine.Taken{{Typed: "5 s", Value: 5, Unit: "s"}}},
		"a word for a number":      engine.Answered{Name: "height", Word: "tall"},
		"a result typed in":        engine.Answered{Name: "off", Takes: []engine.Taken{length}},
		"an instrument of no file": engine.Bound{Name: "laser", ID: "L-1"},
		"a wait of no file":        engine.Waited{Name: "cool", How: "over"},
		"a way at no gate":         engine.Chosen{Gate: "square", Way: "reject"},
		"a correction of no file":  engine.Chosen{Gate: "level", Way: "grind", Correction: true},
		"a report without choice":  engine.Reported{Correction: "move", Moved: &length},
		"a movement not asked":     engine.MoveJudged{Correction: "move", How: "carry_on"},
		"a reading not there":      engine.Unable{Name: "low", Reason: "gone"},
		"an amendment of nothing":  engine.Amended{Name: "zero", Take: 1, To: length, Reason: "misread"},
		"a withdrawal of nothing":  engine.Withdrawn{Of: 99},
		"a step of no file":        engine.Disturbed{What: "step", Name: "grind", Reason: "moved"},
		"a concession not asked":   engine.Decided{Role: "inspector", Gate: "level", Granted: true, Reason: "so"},
		"a role of no file":        engine.Signed{Role: "owner", Name: "O. Wner"},
		"a second beginning":       engine.Begun{Procedure: "post"},
	} {
		t.Run(name, func(t *testing.T) {
			r := enginetest.Play(t, "begin post\nheight = 50\nomit", load)
			events := append(r.Events(), engine.Event{N: 5, Time: enginetest.Start, Data: d})
			if _, err := engine.Fold(r.Plan, events); err == nil || !strings.Contains(err.Error(), "event 5") {
				t.Errorf("Fold with %#v: %v, want an error that names event 5", d, err)
			}
		})
	}
}
