package checks

// FreedomSaid says printed degrees of freedom in words.
func FreedomSaid(figures string) string {
	if figures == "1" {
		return "1 degree of freedom"
	}
	return figures + " degrees of freedom"
}
