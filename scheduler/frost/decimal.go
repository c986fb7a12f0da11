package frost

// parseDecimal reads a plain decimal such as `-2.25` as a whole number of
// 10^-places, rounding what is finer to the nearest, halves away from zero. No
// exponent, no blanks, no thousands marks; at most six digits before the point.
func parseDecimal(text []byte, places int) (int64, bool) {
	i, negative := 0, false
	if len(text) > 0 && (text[0] == '-' || text[0] == '+') {
		negative = text[0] == '-'
		i = 1
	}
	var n int64
	whole := i
	for i < len(text) && isDigit(text[i]) {
		n = n*10 + int64(text[i]-'0')
		i++
		if i-whole > 6 {
			return 0, false
		}
	}
	digits := i - whole
	var up int64
	if i < len(text) && text[i] == '.' {
		i++
		for i < len(text) && isDigit(text[i]) {
			switch {
			case places > 0:
				n = n*10 + int64(text[i]-'0')
				places--
			case places == 0:
				if text[i] >= '5' {
					up = 1
				}
				places--
			}
			digits++
			i++
		}
	}
	if digits == 0 || i != len(text) {
		return 0, false
	}
	for ; places > 0; places-- {
		n *= 10
	}
	n += up
	if negative {
		n = -n
	}
	return n, true
}

func isDigit(b byte) bool { return '0' <= b && b <= '9' }
