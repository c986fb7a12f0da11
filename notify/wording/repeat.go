package wording

import "stubbled/notify/gsm"

// MayRepeat marks a message that may have been said before: the carrier's own
// answer was lost. Where the mark would cost a third segment the words alone
// are sent.
func MayRepeat(o Options, text string) string {
	marked := newVoice(o).say("may-repeat", "text", text)
	if gsm.Has(text) && gsm.Segments(gsm.Rewrite(marked)) > 2 && gsm.Segments(text) <= 2 {
		return text
	}
	return marked
}
