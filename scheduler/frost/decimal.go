package frost

// tenTo are the powers of ten.
var tenTo = [...]int64{1, 10, 100, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12}

// parseDecimal reads a plain decimal such as `-2.25` as a whole number of
// 10^-places, rounding what is finer to the nearest, halves away from zero. No
// exponent, no blanks, no thousands marks; at most six digits before the point
// and twelve behind it.
func parseDecimal(text []byte, places int) (int64, bool) {
	negative := false
	if len(text) > 0 && (text[0] == '-' || text[0] == '+') {
		negative = text[0] == '-'
		text = text[1:]
	}
	var n int64
	point := len(text)
	for i, c := range text {
		switch digit := c - '0'; {
		case digit <= 9:
			n = n*10 + int64(digit)
		case c == '.' && point == len(text):
			point = i
		default:
			return 0, false
		}
	}
	finer := len(text) - 1 - point
	if point > 6 || finer > 12 || len(text) == 0 || finer == 0 && point == 0 {
		return 0, false
	}
	if finer = max(finer, 0); finer <= places {
		n *= tenTo[places-finer]
	} else {
		n = divRound(n, tenTo[finer-places])
	}
	if negative {
		n = -n
	}
	return n, true
}

func isDigit(b byte) bool { return '0' <= b && b <= '9' }
