package email

import "strings"

// unflow joins the lines that format=flowed has broken (RFC 3676 section 4.2):
// a line that ends in a space goes on in the next one of the same quote depth.
// Quote marks are kept; the signature line `-- ` is never joined.
func unflow(text string, delSp bool) string {
	var (
		out   []string
		open  bool // the last line of out goes on
		depth int
	)
	for line := range strings.SplitSeq(text, "\n") {
		d := 0
		for d < len(line) && line[d] == '>' {
			d++
		}
		body := strings.TrimPrefix(line[d:], " ") // space-stuffing, section 4.4
		signature := body == "-- "
		flows := strings.HasSuffix(body, " ") && !signature
		if delSp && flows {
			body = strings.TrimSuffix(body, " ")
		}
		if open && d == depth && !signature {
			out[len(out)-1] += body
		} else {
			out = append(out, strings.Repeat(">", d)+body)
		}
		open, depth = flows, d
	}
	return strings.Join(out, "\n")
}
