package engine

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestRemarksWithAHeading(t *testing.T) {
	file := &File{Name: "bed.jpg", SHA256: "00", Size: 1, Place: true}
	for _, tt := range []struct {
		text string
		want Noted
	}{
		{"belt on: gear 3", Noted{Text: "belt on: gear 3"}},
		{"part: half-nut renewed, bronze", Noted{Text: "half-nut renewed, bronze", About: AboutPart}},
		{"Parts:  two gibs", Noted{Text: "two gibs", About: AboutPart}},
		{"compensation: bed 0.01 high in the middle, for the wear to come", Noted{Text: "bed 0.01 high in the middle, for the wear to come", About: AboutCompensation}},
		{"from  others: bed ground by the works at Ulm, no. 77: planed too", Noted{Text: "bed ground by the works at Ulm, no. 77: planed too", About: AboutOthers}},
		{"measure again: March 2027, tests 7 and 9", Noted{Text: "March 2027, tests 7 and 9", About: AboutAgain}},
		{"party: yes", Noted{Text: "party: yes"}},
	} {
		got, ref := noted("span", Input{Verb: Note, Text: tt.text, File: file})
		if ref != nil {
			t.Errorf("note %q: %+v", tt.text, ref)
			continue
		}
		tt.want.Name, tt.want.File = "span", file
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("note %q (-want +got):\n%s", tt.text, diff)
		}
	}
	_, ref := noted("span", Input{Verb: Note, Text: "measure again: "})
	want := &Refusal{Code: "value", Understood: `I read "measure again: ".`, Wrong: "Nothing is said of it.", Mend: "Say when, and which tests: note measure again: …"}
	if diff := cmp.Diff(want, ref); diff != "" {
		t.Errorf("a heading alone (-want +got):\n%s", diff)
	}
}

// What is kept of a file is said where its owner may not know it.
func TestRemarksSayWhatIsKept(t *testing.T) {
	for _, tt := range []struct {
		d    Noted
		want string
	}{
		{Noted{Text: "gear 3"}, "Noted."},
		{Noted{About: AboutPart}, "Noted with the parts."},
		{Noted{File: &File{Name: "bed.jpg"}}, "Noted, with the file bed.jpg, 0 bytes."},
		{Noted{File: &File{Name: "bed.jpg", Place: true}}, "Noted, with the file bed.jpg, 0 bytes. It says where it was taken. attach --no-place FILE keeps a file without that."},
		{Noted{File: &File{Name: "bed.jpg", Removed: []string{"the place (GPS)", "texts"}}}, "Noted, with the file bed.jpg, 0 bytes. Taken out of it before it was kept: the place (GPS), texts."},
	} {
		if got := tt.d.said(); got != tt.want {
			t.Errorf("%+v: %q, want %q", tt.d, got, tt.want)
		}
	}
}
