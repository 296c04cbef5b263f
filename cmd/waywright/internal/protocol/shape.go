package protocol

import (
	"math"

	"waywright/checks/quantity"
	"waywright/engine"
	"waywright/procedures"
)

// The forms of the lines that come out. protocol.schema.json says the same;
// a test holds one against the other.
type (
	question struct {
		V          int         `json:"v"`
		Type       string      `json:"type"`
		ID         string      `json:"id"`
		Name       string      `json:"name"`
		Also       []string    `json:"also,omitempty"`
		Kind       string      `json:"kind"`
		Optional   bool        `json:"optional,omitempty"`
		Sheet      bool        `json:"sheet,omitempty"`
		Field      string      `json:"field,omitempty"`
		Step       *step       `json:"step,omitempty"`
		Spindle    string      `json:"spindle,omitempty"`
		Do         []string    `json:"do,omitempty"`
		Tools      []string    `json:"tools,omitempty"`
		Text       string      `json:"text"`
		Why        string      `json:"why,omitempty"`
		Expired    string      `json:"expired,omitempty"`
		Positive   string      `json:"positive,omitempty"`
		Negative   string      `json:"negative,omitempty"`
		Turning    string      `json:"turning,omitempty"`
		Unit       *unit       `json:"unit,omitempty"`
		Decimals   int         `json:"decimals,omitempty"`
		Range      *span       `json:"range,omitempty"`
		Choices    []choice    `json:"choices,omitempty"`
		Answer     string      `json:"answer"`
		Instrument *instrument `json:"instrument,omitempty"`
		Take       int         `json:"take,omitempty"`
		Takes      int         `json:"takes,omitempty"`
		Station    int         `json:"station,omitempty"`
		Stations   int         `json:"stations,omitempty"`
		At         []float64   `json:"at,omitempty"`
		AtUnit     string      `json:"at_unit,omitempty"`
		So         []*float64  `json:"so,omitempty"`
		Again      bool        `json:"again,omitempty"`
		Back       bool        `json:"back,omitempty"`
		Remaining  int         `json:"remaining,omitempty"`
		Offer      *offer      `json:"offer,omitempty"`
		Cautions   []caution   `json:"cautions,omitempty"`
		SpindleTo  string      `json:"spindle_to,omitempty"`
		Wait       *wait       `json:"wait,omitempty"`
		Gate       *gate       `json:"gate,omitempty"`
		Ways       []way       `json:"ways,omitempty"`
		Response   *response   `json:"response,omitempty"`
		Move       *move       `json:"move,omitempty"`
		Suspicions []suspicion `json:"suspicions,omitempty"`
		Withheld   []withheld  `json:"withheld,omitempty"`
		Role       string      `json:"role,omitempty"`
		OtherThan  string      `json:"other_than,omitempty"`
		Open       []string    `json:"open,omitempty"`
		LeavesOut  []choice    `json:"leaves_out,omitempty"`
		Outcome    string      `json:"outcome"`
	}
	step struct {
		N     int      `json:"n"`
		Of    int      `json:"of"`
		Name  string   `json:"name"`
		Title string   `json:"title"`
		Keys  []string `json:"keys,omitempty"`
	}
	unit struct {
		Name   string `json:"name"`
		Symbol string `json:"symbol"`
		UCUM   string `json:"ucum"`
	}
	span struct {
		From *float64 `json:"from,omitempty"`
		To   *float64 `json:"to,omitempty"`
	}
	choice struct {
		Word  string `json:"word"`
		Label string `json:"label"`
	}
	instrument struct {
		Name       string   `json:"name"`
		Kind       string   `json:"kind,omitempty"`
		ID         string   `json:"id,omitempty"`
		Resolution *float64 `json:"resolution,omitempty"`
		Unit       *unit    `json:"unit,omitempty"`
		Due        string   `json:"due,omitempty"`
	}
	offer struct {
		Value *float64 `json:"value,omitempty"`
		Text  string   `json:"text"`
		From  string   `json:"from,omitempty"`
	}
	caution struct {
		Name   string `json:"name"`
		Text   string `json:"text"`
		Hazard string `json:"hazard,omitempty"`
		Source string `json:"source,omitempty"`
	}
	wait struct {
		Since   string     `json:"since,omitempty"`
		Over    string     `json:"over,omitempty"`
		Reading bool       `json:"reading,omitempty"`
		Last    []*float64 `json:"last,omitempty"`
		Agree   *float64   `json:"agree,omitempty"`
		Every   *float64   `json:"every_s,omitempty"`
		Takes   int        `json:"takes,omitempty"`
	}
	way struct {
		Name string `json:"name"`
		Kind string `json:"kind"`
	}
	gate struct {
		Name       string      `json:"name"`
		Title      string      `json:"title"`
		Keys       []string    `json:"keys,omitempty"`
		Verdict    string      `json:"verdict"`
		Why        string      `json:"why,omitempty"`
		Holds      bool        `json:"holds,omitempty"`
		Value      *float64    `json:"value,omitempty"`
		U          *float64    `json:"U,omitempty"`
		K          *float64    `json:"k,omitempty"`
		DoF        *float64    `json:"dof,omitempty"`
		P          *float64    `json:"p,omitempty"`
		Lo         *float64    `json:"lo,omitempty"`
		Hi         *float64    `json:"hi,omitempty"`
		Rule       string      `json:"rule,omitempty"`
		Unit       *unit       `json:"unit,omitempty"`
		Positive   string      `json:"positive,omitempty"`
		Negative   string      `json:"negative,omitempty"`
		Element    string      `json:"element,omitempty"`
		Elements   []element   `json:"elements,omitempty"`
		Budget     []line      `json:"budget,omitempty"`
		Source     string      `json:"source,omitempty"`
		Noted      bool        `json:"noted,omitempty"`
		Concession *concession `json:"concession,omitempty"`
		Change     *change     `json:"change,omitempty"`
	}
	change struct {
		Since   int      `json:"since"`
		Element string   `json:"element,omitempty"`
		From    *float64 `json:"from,omitempty"`
		By      *float64 `json:"by,omitempty"`
		U       *float64 `json:"U,omitempty"`
		K       *float64 `json:"k,omitempty"`
		DoF     *float64 `json:"dof,omitempty"`
		Shown   bool     `json:"shown"`
	}
	element struct {
		Key     string   `json:"key"`
		Value   *float64 `json:"value,omitempty"`
		U       *float64 `json:"U,omitempty"`
		Lo      *float64 `json:"lo,omitempty"`
		Hi      *float64 `json:"hi,omitempty"`
		P       *float64 `json:"p,omitempty"`
		Verdict string   `json:"verdict"`
	}
	line struct {
		Source string   `json:"source"`
		Share  *float64 `json:"share,omitempty"`
	}
	concession struct {
		Reason  string `json:"reason"`
		By      string `json:"by,omitempty"`
		Decided bool   `json:"decided"`
		Granted bool   `json:"granted"`
		Role    string `json:"role,omitempty"`
		Because string `json:"because,omitempty"`
	}
	advice struct {
		V          int             `json:"v"`
		Type       string          `json:"type"`
		Gate       string          `json:"gate"`
		Name       string          `json:"name"`
		Title      string          `json:"title"`
		Report     string          `json:"report"`
		Do         []string        `json:"do,omitempty"`
		Amount     *float64        `json:"amount,omitempty"`
		Unit       *unit           `json:"unit,omitempty"`
		Direction  string          `json:"direction,omitempty"`
		Stations   []stationAmount `json:"stations,omitempty"`
		Divisions  *float64        `json:"divisions,omitempty"`
		Instrument *instrument     `json:"instrument,omitempty"`
		Gain       *float64        `json:"gain,omitempty"`
		Remembered *float64        `json:"remembered,omitempty"`
		FromRun    string          `json:"from_run,omitempty"`
		Expects    *float64        `json:"expects,omitempty"`
		ExpectUnit *unit           `json:"expect_unit,omitempty"`
		Spoils     []string        `json:"spoils,omitempty"`
		Disturbs   []string        `json:"disturbs,omitempty"`
		Left       int             `json:"left"`
		NoReturn   bool            `json:"no_return,omitempty"`
		Ledger     string          `json:"ledger,omitempty"`
		SoFar      []ledgerTotal   `json:"so_far,omitempty"`
	}
	withheld struct {
		Name  string `json:"name"`
		Title string `json:"title"`
		Why   string `json:"why"`
	}
	suspicion struct {
		Kind    string `json:"kind"`
		Name    string `json:"name"`
		Said    string `json:"said"`
		Mend    string `json:"mend"`
		ByNoise string `json:"by_noise,omitempty"`
		First   bool   `json:"first,omitempty"`
	}
	ledgerTotal struct {
		Place  string   `json:"place"`
		Way    string   `json:"way,omitempty"`
		Amount *float64 `json:"amount,omitempty"`
		Unit   *unit    `json:"unit,omitempty"`
	}
	stationAmount struct {
		At     *float64 `json:"at,omitempty"`
		Amount *float64 `json:"amount,omitempty"`
	}
	response struct {
		Correction string   `json:"correction"`
		Attempt    int      `json:"attempt"`
		Word       string   `json:"word,omitempty"`
		Neighbour  string   `json:"neighbour,omitempty"`
		Cannot     string   `json:"cannot,omitempty"`
		Unit       *unit    `json:"unit,omitempty"`
		Before     *float64 `json:"before,omitempty"`
		After      *float64 `json:"after,omitempty"`
		UChange    *float64 `json:"U_change,omitempty"`
		Shown      bool     `json:"shown"`
		Expected   *float64 `json:"expected,omitempty"`
		Amount     *float64 `json:"amount,omitempty"`
		Moved      *float64 `json:"moved,omitempty"`
		AmountUnit *unit    `json:"amount_unit,omitempty"`
		Direction  string   `json:"direction,omitempty"`
		MovedWay   string   `json:"moved_way,omitempty"`
		Rho        *float64 `json:"response,omitempty"`
		Kappa      *float64 `json:"fidelity,omitempty"`
		Gain       *float64 `json:"gain,omitempty"`
	}
	move struct {
		Correction string      `json:"correction"`
		Band       string      `json:"band"`
		Asked      *float64    `json:"asked,omitempty"`
		AskedWay   string      `json:"asked_way,omitempty"`
		Moved      *float64    `json:"moved,omitempty"`
		MovedWay   string      `json:"moved_way,omitempty"`
		Left       *float64    `json:"left,omitempty"`
		LeftWay    string      `json:"left_way,omitempty"`
		Divisions  *float64    `json:"divisions,omitempty"`
		Unit       *unit       `json:"unit,omitempty"`
		Nudge      bool        `json:"nudge,omitempty"`
		NudgeWay   string      `json:"nudge_way,omitempty"`
		Instrument *instrument `json:"instrument,omitempty"`
	}
	settled struct {
		V    int    `json:"v"`
		Type string `json:"type"`
		Gate gate   `json:"gate"`
	}
	notice struct {
		V         int        `json:"v"`
		Type      string     `json:"type"`
		Kind      string     `json:"kind"`
		Name      string     `json:"name,omitempty"`
		Text      string     `json:"text,omitempty"`
		Titles    []string   `json:"titles,omitempty"`
		Response  *response  `json:"response,omitempty"`
		Drift     *drift     `json:"drift,omitempty"`
		Suspicion *suspicion `json:"suspicion,omitempty"`
		Outcome   string     `json:"outcome,omitempty"`
	}
	drift struct {
		Moved   *float64 `json:"moved,omitempty"`
		Allowed *float64 `json:"allowed,omitempty"`
		Unit    *unit    `json:"unit,omitempty"`
		Reading string   `json:"reading,omitempty"`
		Voids   int      `json:"voids"`
	}
	refusal struct {
		V          int      `json:"v"`
		Type       string   `json:"type"`
		ID         string   `json:"id"`
		Code       string   `json:"code"`
		Understood string   `json:"understood,omitempty"`
		Wrong      string   `json:"wrong,omitempty"`
		Mend       string   `json:"mend,omitempty"`
		Keep       bool     `json:"keep,omitempty"`
		Suggest    []choice `json:"suggest,omitempty"`
		Row        []string `json:"row,omitempty"`
		At         int      `json:"at,omitempty"`
	}
	end struct {
		V       int         `json:"v"`
		Type    string      `json:"type"`
		Ended   bool        `json:"ended"`
		Paused  bool        `json:"paused"`
		Reason  string      `json:"reason,omitempty"`
		Outcome string      `json:"outcome"`
		Gates   []verdictOf `json:"gates,omitempty"`
		Record  string      `json:"record,omitempty"`
		Error   string      `json:"error,omitempty"`
	}
	verdictOf struct {
		Name    string `json:"name"`
		Verdict string `json:"verdict"`
	}
)

// shape turns what the engine says into lines, in the units of the run.
type shape struct{ inch bool }

// finite returns the number, or nil where JSON has none.
func finite(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}

// in returns a base value as a number of u.
func in(x float64, u quantity.Unit) *float64 {
	if u.Factor == 0 {
		return finite(x)
	}
	return finite(u.Of(x))
}

func (s shape) run(u quantity.Unit) quantity.Unit { return quantity.InRun(u, s.inch) }

func unitOf(u quantity.Unit) *unit {
	if u.Name == "" && u.Symbol == "" {
		return nil
	}
	return &unit{u.Name, u.Symbol, u.UCUM}
}

func choicesOf(cs []engine.Choice) []choice {
	var out []choice
	for _, c := range cs {
		out = append(out, choice{c.Word, c.Label})
	}
	return out
}

func isRound(p *procedures.Procedure, reading string) bool {
	for _, st := range p.Steps {
		for _, it := range st.Items {
			if r, ok := it.(*procedures.Reading); ok && r.Name == reading {
				return r.Around != nil
			}
		}
	}
	return false
}
