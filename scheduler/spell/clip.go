package spell

// Clip keeps what is quoted back short: text of more letters (runes) than that
// ends in stops, which count.
func Clip(text string, runes int) string {
	letters := []rune(text)
	if len(letters) <= runes {
		return text
	}
	stops := "..."[:min(3, runes)]
	return string(letters[:runes-len(stops)]) + stops
}
