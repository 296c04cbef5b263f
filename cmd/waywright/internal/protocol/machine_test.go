package protocol

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"waywright/engine"
)

// lathe is a small model of a lathe whose tailstock stands out of line. It
// reads what the protocol says and answers as a person with a micrometer and
// an indicator would, who first moves the wrong way.
type lathe struct {
	offset   float64 // mm, plus towards the operator
	moves    int
	said     []string // words and verdicts that came
	amounts  []float64
	problems []string
}

func (l *lathe) answer(m map[string]any) string {
	str := func(k string) string { s, _ := m[k].(string); return s }
	reply := func(text string) string {
		b, _ := json.Marshal(map[string]string{"type": "answer", "id": str("id"), "text": text})
		return string(b)
	}
	switch str("kind") {
	case "clear", "confirm", "done":
		return reply("yes")
	case "instrument":
		return reply("none")
	case "wait":
		b, _ := json.Marshal(map[string]string{"type": "answer", "id": str("id"), "text": "short", "reason": "no heat went in"})
		return string(b)
	case "way":
		return reply(l.move(l.amounts[len(l.amounts)-1]))
	case "move":
		return reply(l.move(m["move"].(map[string]any)["left"].(float64)))
	case "sign":
		return reply("the " + str("role"))
	}
	switch str("name") {
	case "centres":
		return reply("300 mm")
	case "span":
		return reply("25 cm")
	case "headstock_end":
		return reply("20.000")
	case "tailstock_end": // each collar follows the tool: D(z) = D − 2·e·z/L
		return reply(fmt.Sprintf("%.3f", 20-2*l.offset*250/300))
	}
	l.problems = append(l.problems, "nobody knows what to say to "+str("name"))
	return `{"type":"answer","verb":"pause"}`
}

// move moves the tailstock, the first time the wrong way.
func (l *lathe) move(by float64) string {
	l.moves++
	if l.moves == 1 {
		by = -by
	}
	by = math.Round(by*1000) / 1000
	l.offset += by
	if by < 0 {
		return fmt.Sprintf("%.3f away", -by)
	}
	return fmt.Sprintf("%.3f towards", by)
}

// A front end that knows the protocol alone brings a lathe into line, though it
// moves the wrong way at first.
func TestMachineIsBroughtIntoLineByProtocolAlone(t *testing.T) {
	r := begin(t, "tailstock-by-test-cut", false)
	inR, inW := io.Pipe()
	outR, outW := io.Pipe()
	done := make(chan error, 1)
	go func() {
		_, err := Serve(inR, outW, r, Options{})
		_ = outW.Close()
		done <- err
	}()
	l := &lathe{offset: -0.085}
	sch := schema(t)
	sc := bufio.NewScanner(outR)
	sc.Buffer(nil, 1<<20)
	var last map[string]any
	for n := 0; sc.Scan() && n < 500; n++ {
		last = validated(t, sch, sc.Bytes())[0]
		switch last["type"] {
		case "question":
			if m, ok := last["move"].(map[string]any); ok {
				l.said = append(l.said, m["band"].(string))
			}
			if _, err := io.WriteString(inW, l.answer(last)+"\n"); err != nil {
				t.Fatal(err)
			}
		case "advice":
			l.amounts = append(l.amounts, last["amount"].(float64))
		case "settled":
			l.said = append(l.said, last["gate"].(map[string]any)["verdict"].(string))
		case "notice":
			if resp, ok := last["response"].(map[string]any); ok {
				l.said = append(l.said, resp["word"].(string))
			}
		case "refusal":
			l.problems = append(l.problems, fmt.Sprint(last["understood"], last["wrong"]))
		}
	}
	if err := <-done; err != nil {
		t.Fatal(err)
	}
	if len(l.problems) > 0 {
		t.Errorf("problems: %v", l.problems)
	}
	if got, want := strings.Join(l.said, " "), "fail minus as_expected pass"; got != want {
		t.Errorf("said %q, want %q", got, want)
	}
	if last["outcome"] != string(engine.Accepted) || math.Abs(l.offset) > 0.002 {
		t.Errorf("end %v with the tailstock %.3f out", last, l.offset)
	}
}
