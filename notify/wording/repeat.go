package wording

// MayRepeat marks a message that may have been said before: the carrier's own
// answer was lost. Where the mark would cost a third segment the words alone
// are sent.
func MayRepeat(o Options, text string) string {
	marked := newVoice(o).say("may-repeat", text)
	if IsGSM(text) && Segments(ToGSM(marked)) > 2 && Segments(text) <= 2 {
		return text
	}
	return marked
}
