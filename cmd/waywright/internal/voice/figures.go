package voice

import (
	"math"
	"strconv"
	"time"

	"waywright/checks/quantity"
)

func number(n int) string { return strconv.Itoa(n) }

// amount prints an amount of movement: never finer than the instrument shows
// that reads it.
func amount(x float64, u quantity.Unit, step float64) string {
	return hold(quantity.Format(x, u, amountDecimals(u, step)))
}

func amountDecimals(u quantity.Unit, step float64) int {
	if step > 0 {
		return quantity.Decimals(u, step)
	}
	return quantity.Usual(u)
}

// limit prints a limit to so many decimals, without noughts behind.
func limit(x float64, u quantity.Unit, decimals int) string {
	return quantity.TrimNoughts(quantity.Number(x, u, decimals))
}

// divisions is how many divisions to move: whole ones, because an instrument
// shows nothing finer; 0 for less than half of one.
func divisions(d float64) int { return int(math.Round(math.Abs(d))) }

// duration says a length of time as a person does.
func duration(d time.Duration) string {
	d = d.Round(time.Second)
	switch {
	case d >= 48*time.Hour:
		return times(int(d.Hours()/24), "day", "days")
	case d >= 2*time.Hour:
		return times(int(d.Hours()), "hour", "hours")
	case d >= 2*time.Minute:
		return times(int(d.Round(time.Minute).Minutes()), "minute", "minutes")
	}
	return times(int(d.Seconds()), "second", "seconds")
}

// countdown says what is left of a wait, to the second when it is short.
func countdown(d time.Duration) string {
	s := int(math.Ceil(d.Seconds()))
	switch {
	case s >= 3600:
		return number(s/3600) + " h " + number(s%3600/60) + " min"
	case s >= 120:
		return number((s+59)/60) + " min"
	case s == 60:
		return "1 min"
	case s > 60:
		return "1 min " + number(s-60) + " s"
	}
	return number(s) + " s"
}
