package cli

import (
	"fmt"
	"strings"

	"waywright/cmd/waywright/internal/logbook"
	"waywright/engine"
	"waywright/engine/drive"
	"waywright/procedures/register"

	"waywright/cmd/waywright/internal/voice"
)

// bench is a session with what the shop knows of its instruments.
type bench struct {
	*drive.Session
	plan        *engine.Plan
	instruments []register.Instrument
}

func newBench(b logbook.Book, s *drive.Session, plan *engine.Plan) (*bench, error) {
	instruments, err := b.Instruments()
	if err != nil {
		return nil, err
	}
	return &bench{s, plan, instruments}, nil
}

// Say refuses what no journal can hold, and an instrument of another kind than
// the one that is asked for.
func (b *bench) Say(in engine.Input) ([]engine.Notice, *engine.Refusal, error) {
	for _, text := range []string{in.Text, in.Reason, in.Name} {
		if !sound(text) {
			return nil, &engine.Refusal{Code: "value", Understood: fmt.Sprintf("I read %q.", text), Wrong: "That is not plain text.", Mend: "Type it in letters and figures."}, nil
		}
	}
	if refusal, bound := b.otherKind(in); refusal != nil {
		return nil, refusal, nil
	} else if bound != nil {
		notices, err := b.Record(*bound)
		return notices, nil, err
	}
	return b.Session.Say(in)
}

// otherKind looks at an answer to "which instrument". One of another kind is
// taken only with a reason.
func (b *bench) otherKind(in engine.Input) (*engine.Refusal, *engine.Bound) {
	q := b.Next()
	if q.Kind != engine.AskInstrument || in.Verb != engine.Answer || in.Name != "" && in.Name != q.Name {
		return nil, nil
	}
	name := strings.TrimPrefix(q.Name, "instrument.")
	real, ok := b.real(in.Text)
	wanted := b.wanted(name)
	if !ok || wanted == "" || logbook.Fits(real, wanted) {
		return nil, nil
	}
	if strings.TrimSpace(in.Reason) != "" {
		bound := logbook.Bound(name, real)
		bound.Reason = in.Reason
		return nil, &bound
	}
	return &engine.Refusal{
		Code: "choice", Understood: fmt.Sprintf("I read %s.", real.ID),
		Wrong: fmt.Sprintf("The logbook has it as %s; asked for is %s.", real.Kind, wanted),
		Mend:  "Name another, or none where it is not in the logbook.", Keep: true,
	}, nil
}

// real returns the instrument of the shop with an id, whatever the case.
func (b *bench) real(id string) (register.Instrument, bool) {
	for _, in := range b.instruments {
		if strings.EqualFold(in.ID, strings.TrimSpace(id)) {
			return in, true
		}
	}
	return register.Instrument{}, false
}

// wanted returns the kind that the procedure asks for under a name.
func (b *bench) wanted(name string) string {
	for _, in := range b.plan.Procedure().Instruments {
		if in.Name == name {
			return in.Kind
		}
	}
	return ""
}

// bound gives the figures of an instrument of the shop; ok is false where it
// is not in the register, or of another kind.
func (b *bench) bound(name, id string) (engine.Bound, bool) {
	real, ok := b.real(id)
	if !ok || !logbook.Fits(real, b.wanted(name)) {
		return engine.Bound{}, false
	}
	return logbook.Bound(name, real), true
}

// choices lists the instruments of the shop that are of a kind.
func (b *bench) choices(kind string) []engine.Choice {
	var out []engine.Choice
	for _, in := range b.instruments {
		if logbook.Fits(in, kind) {
			out = append(out, engine.Choice{Word: in.ID, Label: label(in)})
		}
	}
	return out
}

func label(in register.Instrument) string {
	s := in.ID + ", " + in.Kind
	if in.Due != "" {
		s += ", calibrated until " + in.Due
	}
	return s
}

// sitDown makes a run ready for a new sitting, and returns what is to be said
// first.
func (a *app) sitDown(run *logbook.Run, session *drive.Session, resumed bool) ([]engine.Notice, error) {
	if !resumed {
		return nil, nil
	}
	v := voice.Voice{Title: run.Plan.Procedure().Title, Machine: spoken(run.State.Begun().Machine.ID)}
	q := session.Next()
	if q.Kind == engine.End {
		return nil, nil
	}
	out := welcome(v, session.State(), session.Now())
	if text := run.Notice.String(); text != "" {
		out = append(out, engine.Notice{Kind: engine.Recovered, Text: text})
	}
	if q.Kind == engine.AskOperator {
		return out, nil
	}
	// The last sitting was never ended: the power went, or the program.
	_, err := session.Record(engine.Paused{Reason: "the program stopped without a pause"})
	return out, err
}
