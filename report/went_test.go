package report

import "testing"

// What a change is called, as a fitter would say it.
func TestShift(t *testing.T) {
	up := Number{Text: "31.8", Unit: "µm", Value: 31.8}
	down := Number{Text: "−31.8", Unit: "µm", Value: -31.8}
	for _, tt := range []struct {
		positive  string
		n         Number
		who, want string
	}{
		{"free end towards the operator", up, "The free end went", "31.8 µm towards the operator"},
		{"free end towards the operator", down, "The free end went", "31.8 µm away from the operator"},
		{"free end high", up, "The free end went", "31.8 µm higher"},
		{"free end high", down, "The free end went", "31.8 µm lower"},
		{"towards the operator", down, "It went", "31.8 µm away from the operator"},
		{"high", up, "It went", "31.8 µm higher"},
		{"larger at the tailstock end", up, "It became", "31.8 µm larger at the tailstock end"},
		{"larger at the tailstock end", down, "It became", "31.8 µm larger at the headstock end"},
		{"hollow", up, "It became", "31.8 µm more hollow"},
		{"hollow", down, "It became", "31.8 µm more crowned"},
		{"hollow: rear end towards the headstock", up, "The rear end went", "31.8 µm towards the headstock"},
		{"spindle out, towards the tailstock", up, "It went", "31.8 µm towards the tailstock"},
		{"up: the apron stands too high", up, "It changed by", "31.8 µm, which is up: the apron stands too high"},
		{"edge proud", up, "It changed by", "31.8 µm, which is edge proud"},
		{"never below nothing", up, "It went", "up by 31.8 µm"},
		{"", down, "It went", "down by 31.8 µm"},
		{"free end high", Number{Text: "0.0", Unit: "µm"}, "It changed by", "0.0 µm"},
	} {
		who, far := senseOf(tt.positive, "").shift(tt.n)
		if who != tt.who || far != tt.want {
			t.Errorf("%q, %s: %q %q, want %q %q", tt.positive, tt.n.Text, who, far, tt.who, tt.want)
		}
	}
}
