package seal

import (
	"strings"
	"testing"
)

// What another build words otherwise is told from what it states otherwise.
func TestWordsAreToldFromFacts(t *testing.T) {
	for _, tt := range []struct {
		name, sealed, again string
		facts, words, more  int
	}{
		{"the same", `{"a":1,"said":"x"}`, `{"a":1,"said":"x"}`, 0, 0, 0},
		{"another order of properties", `{"a":1,"b":2}`, `{"b":2,"a":1}`, 0, 0, 0},
		{"a sum in another order", `{"a":0.30000000000000004}`, `{"a":0.3}`, 0, 0, 0},
		{"the last printed figure", `{"a":0.3001}`, `{"a":0.3}`, 1, 0, 0},
		{"another word", `{"told":"It went 3 µm larger"}`, `{"told":"It became 3 µm larger"}`, 0, 1, 0},
		{"another figure in words", `{"told":"It went 3 µm larger"}`, `{"told":"It became 4 µm larger"}`, 1, 0, 0},
		{"another sign in words", `{"told":"It went −3 µm"}`, `{"told":"It went 3 µm"}`, 1, 0, 0},
		{"another verdict in words", `{"told":"PASS now"}`, `{"told":"FAIL now"}`, 1, 0, 0},
		{"more is told", `{"told":"3 µm"}`, `{"told":"3 µm, of 5 µm"}`, 0, 1, 0},
		{"a direction of a value", `{"found":{"said":"3 µm high"}}`, `{"found":{"said":"3 µm low"}}`, 1, 0, 0},
		{"what somebody typed", `{"typed":"3 high"}`, `{"typed":"3 low"}`, 1, 0, 0},
		{"a reason", `{"reason":"cracked"}`, `{"reason":"sound"}`, 1, 0, 0},
		{"the heading of readings", `{"readings":[{"title":"Collar: diameter"}]}`, `{"readings":[{"title":"Diameter"}]}`, 0, 1, 0},
		{"the name of a test", `{"tests":[{"title":"Run-out at 300"}]}`, `{"tests":[{"title":"Run-out at the nose"}]}`, 1, 0, 0},
		{"where a limit is from", `{"allowed":{"source":"ISO"}}`, `{"allowed":{"source":"the drawing"}}`, 1, 0, 0},
		{"what is in doubt", `{"doubt":[{"source":"its own error"}]}`, `{"doubt":[{"source":"M-7, its own error"}]}`, 0, 1, 0},
		{"a list of sentences", `{"open":["a","b"]}`, `{"open":["c"]}`, 0, 1, 0},
		{"a list of numbers", `{"values":[1,2]}`, `{"values":[1]}`, 1, 0, 0},
		{"said by this one only", `{"a":1}`, `{"a":1,"b":{"c":2}}`, 0, 0, 1},
		{"said by the other one only", `{"a":1,"b":2}`, `{"a":1}`, 1, 0, 0},
		{"another kind of value", `{"a":"1"}`, `{"a":1}`, 1, 0, 0},
		{"a null", `{"a":null}`, `{"a":{}}`, 1, 0, 0},
		{"in a list of objects", `{"t":[{"v":1},{"v":2}]}`, `{"t":[{"v":1},{"v":3}]}`, 1, 0, 0},
	} {
		h, err := hold([]byte(tt.sealed), []byte(tt.again))
		if err != nil || len(h.facts) != tt.facts || len(h.words) != tt.words || len(h.more) != tt.more {
			t.Errorf("%s: %d facts, %d words, %d more, %v; want %d, %d, %d", tt.name, len(h.facts), len(h.words), len(h.more), err, tt.facts, tt.words, tt.more)
		}
	}
	if _, err := hold([]byte("{"), []byte("{}")); err == nil {
		t.Error("half an object is taken for a record")
	}
}

// A difference deep in a long sentence is in what is shown of it.
func TestLongSentencesAreCutToWhereTheyDiffer(t *testing.T) {
	long := "The tailstock went over by what was asked of it, and the second cut shows it, "
	h, err := hold([]byte(`{"told":"`+long+long+`says the fitter."}`), []byte(`{"told":"`+long+long+`says the turner."}`))
	if err != nil || len(h.words) != 1 {
		t.Fatalf("%+v, %v", h, err)
	}
	if got := list(h.words); !strings.Contains(got, "the fitter.") || !strings.Contains(got, "the turner.") || len(got) > 250 {
		t.Errorf("shown: %s", got)
	}
}
