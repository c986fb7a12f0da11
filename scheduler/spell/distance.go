package spell

// Far is the distance of words that are no slips of each other.
const Far = 99

// The bounds within which a distance is worked out: a longer word, or a greater
// difference in length, costs nothing.
const (
	mostLetters = 64
	mostSlips   = 3
)

// Distance is how many slips of the finger lie between two words: letters
// added, dropped, changed, or swapped with their neighbour (Damerau, A technique
// for computer detection and correction of spelling errors, CACM 7(3), 1964).
// No letter is touched twice, so that it is the optimal string alignment
// distance: a swap with another letter put between the two is 3 slips, not 2.
//
// It counts letters (runes) as they stand: bring both words to one case first.
// It is the same both ways round, and 0 only for the same word. Words that
// differ by more than 3 letters in length, and any of more than 64 letters, are
// Far from everything, even from themselves.
func Distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	if max(len(x), len(y)) > mostLetters || max(len(x)-len(y), len(y)-len(x)) > mostSlips {
		return Far
	}
	before := make([]int, len(y)+1) // the row before the last
	last := make([]int, len(y)+1)
	row := make([]int, len(y)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(y)]
}
