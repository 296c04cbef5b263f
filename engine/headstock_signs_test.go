package engine_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waywright/engine"
	"waywright/engine/enginetest"
)

// swept is a headstock read with a bar in two seatings, at two stations and two
// turns of the spindle, with an indicator that shows whole steps of 2 µm.
type swept struct {
	level, upright float64 // of the axis, µm in 300 mm
	near, far      float64 // what the bar runs out by there, to either side, µm
	reversed       bool    // the needle is read the wrong way round
	swapped        bool    // near and far are taken for one another on the front
	moved          float64 // what the near place has moved by when it is read once more, µm
}

func (h swept) value(name string) string {
	p := strings.Split(name, ".")
	switch p[0] {
	case "near":
		return "40 mm"
	case "span":
		return "200 mm"
	case "bar_diameter":
		return "25 mm"
	case "radius", "pull", "twist":
		return "offered"
	case "axis_height":
		return "125 mm"
	case "pads":
		return "200 mm"
	}
	station := p[2]
	if h.swapped && p[0] == "front" {
		station = map[string]string{"near": "far", "far": "near"}[station]
	}
	lies, out := 0.0, h.near
	if station == "far" {
		lies, out = h.level*200/300, h.far
		if p[0] == "top" {
			lies = h.upright * 200 / 300
		}
	}
	if (p[3] == "180") != (p[1] == "turned") {
		out = -out
	}
	y := lies + out
	if h.reversed {
		y = -y
	}
	if slices.Contains(p, "again") {
		y += h.moved
	}
	return fmt.Sprintf("%.0f um", 2*math.Round(y/2))
}

// beforeHeadstock is what the headstock's procedure takes from accepted runs: a
// bar of one size, a bed without twist, screws that do not pull.
var beforeHeadstock = []engine.AcceptedValue{
	{Name: "ref-test-bar.radius_difference", Unit: "um", Run: "bar-1", Day: "2026-03-02"},
	{Name: "lathe-level-twist.twist", Unit: "um/m", Run: "bed-1", Day: "2026-03-02"},
	{Name: "headstock-holddown.pull", Unit: "um", Run: "pull-1", Day: "2026-03-02"},
}

// sweep works the library's procedure until a gate is not passed, a set is void
// or a signature is asked for, and tells what was said to the readings.
func sweep(t *testing.T, h swept) (said []string) {
	t.Helper()
	r, err := enginetest.Begin(fromLibrary(t, "lathe/headstock-align").WithTrials(fewTrials), engine.Begun{Accepted: beforeHeadstock})
	if err != nil {
		t.Fatal(err)
	}
	p := &person{}
	for range 200 {
		q := r.Next()
		switch q.Kind {
		case engine.AskSign, engine.End, engine.AskWay:
			for _, x := range q.Suspicions {
				said = append(said, string(x.Kind)+" at "+q.Name)
			}
			if q.Kind == engine.AskWay {
				said = append(said, q.Name+" "+q.Gate.Verdict.String())
			}
			return said
		case engine.AskReading, engine.AskGiven:
			var notices []engine.Notice
			notices, refusal, err := r.Say(engine.Input{Name: q.Name, Text: h.value(q.Name)})
			if err != nil || refusal != nil {
				t.Fatalf("%s = %s: %+v %v", q.Name, h.value(q.Name), refusal, err)
			}
			for _, n := range notices {
				if n.Kind == engine.SetVoid {
					return append(said, "void "+n.Name)
				}
				if n.Kind == engine.Suspect {
					said = append(said, string(n.Suspicion.Kind))
				}
			}
			continue
		}
		in, err := p.answer(r, q)
		if err != nil {
			t.Fatal(err)
		}
		if _, refusal, err := r.Say(in); err != nil || refusal != nil {
			t.Fatalf("%s: %+v %v", q.Name, refusal, err)
		}
	}
	t.Fatal("no end")
	return nil
}

// The mistakes of the headstock session, one by one, in the keyed readings of the
// procedure that ships: what is said, and what is not. A bar that runs out drops out
// of the mean of both turns, so nothing is said of it; a shop's rules for what a needle
// and its places can be taken for are common practice.
func TestSignsInTheHeadstockSession(t *testing.T) {
	for _, tt := range []struct {
		name string
		head swept
		want []string
	}{
		{"nothing the matter", swept{level: 6, upright: 12}, nil},
		{"a bar that runs out, and the axis is right", swept{level: 6, upright: 12, near: 4, far: 14}, nil},
		{"a bar in a chuck: the mean of both turns is let pass", swept{level: 6, upright: 12, near: 40, far: 40}, nil},
		{"the near place moved by 4", swept{level: 6, upright: 12, moved: 4}, []string{"void front.marked"}},
		{"it moved by 2, as far as is allowed", swept{level: 6, upright: 12, moved: 2}, nil},
		{"the needle is read the wrong way round: both planes are out the one way", swept{level: 9, upright: 12, reversed: true}, []string{"signs at level_plane", "level_plane fail"}},
		{"one plane out, the other in", swept{level: -9, upright: 12}, []string{"level_plane fail"}},
		{"both out, but too far to be in the other way", swept{level: -60, upright: -60}, []string{"level_plane fail"}},
		{"near and far taken for one another on the front: that alone shows only when it is moved", swept{level: 9, upright: 12, swapped: true}, []string{"level_plane fail"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if d := cmp.Diff(tt.want, sweep(t, tt.head)); d != "" {
				t.Errorf("(-want +got)\n%s", d)
			}
		})
	}
}
