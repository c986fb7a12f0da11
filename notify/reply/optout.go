package reply

import (
	"slices"
	"strings"

	"stubbled/scheduler/diary"
)

// The words that phone networks and their users have for opting out, opting in
// and help. They are understood only where they are the whole message, and are
// never used for anything else. The English ones are those that carriers and
// their trade body commonly ask for (from memory).
var (
	optOut = phrases(`stop, stopall, stop all, unsubscribe, cancel, end, quit, revoke, optout, opt out, opt me out, stop it,
		stop that, remove me, unsubscribe me, no more texts, no more messages, leave me alone, lose my number, make it stop,
		make this stop, please make it stop, i want to stop, i want to unsubscribe, i want to opt out, i quit, end this, no more text,
		alto, para, pare, parar, paren, basta, ya basta, baja, dar de baja, darme de baja, dame de baja, deme de baja, denme de baja,
		quiero darme de baja, cancelar, cancela, cancele, detener, deten, detente, terminar, termina, fin, finalizar, no mas,
		no mas mensajes, no mas textos, desuscribir, desuscribirme, borrame, quitame, quitenme, dejame en paz, dejenme en paz, salir`)
	// refusals are opt-outs whatever follows, unless it speaks of the farm.
	refusals = phrases(`stop texting, stop messaging, stop sending, stop contacting, stop bothering, stop calling, stop harassing,
		stop these, stop the texts, stop the messages, stop all, stop sms, stop alerts, stop with the, stop spamming, quit texting,
		quit messaging, quit sending, quit bothering, quit contacting, quit spamming, no more texts, no more messages, no more of these,
		no more alerts, no more reminders, dont text me, do not text me, dont message me, do not message me, dont contact me,
		do not contact me, dont send me, do not send me, dont want these texts, dont want these messages, dont want your texts,
		dont want any more texts, dont want any more messages, dont want any more of these, dont want anymore texts, dont want more texts,
		dont want to get these, dont want to receive, dont want to be texted, do not want these, do not want any more, do not want to receive,
		never text me, take me off this list, take me off your list, take me off the list, take me off this, take me off of,
		remove me, remove my number, delete my number, delete me from, lose my number, leave me alone, unsubscribe, opt me out,
		sacame de la lista, saquenme de la lista, quitame de la lista, quitenme de la lista, borrame de la lista, borren mi numero,
		dejame en paz, dejenme en paz, deja de mandar, dejen de mandar, deje de mandar, deja de mandarme, dejen de mandarme, deje de mandarme,
		deja de enviarme, dejen de enviarme, deja de molestar, dejen de molestar, paren de mandar, ya no me manden, ya no me mandes,
		ya no me mande, ya no manden, ya no me envien, ya no me escriban, ya no me escribas, no me manden, no me mandes, no me mande mas,
		no me escriban, no me escribas, no me envien, no me molesten, no me molestes, ya no quiero mensajes, ya no quiero recibir,
		ya no quiero estos, no quiero mas mensajes, no quiero mensajes, no quiero recibir, no quiero estos mensajes, no mas mensajes`)
	optIn = phrases(`start, unstop, yes, start again, opt in, optin, opt me in, resume, subscribe, si, iniciar, inicia, empezar,
		empieza, comenzar, alta, dar de alta, reanudar`)
	askHelp = phrases(`help, info, help me, ayuda, ayudame, ayudeme, informacion, commands, command list, comandos, menu, how does this work,
		how do i use this, what can i text, what can i say, what do i text, instructions, instrucciones, que puedo mandar, como funciona esto,
		que le puedo mandar, i need help, necesito ayuda, options, opciones`)
)

func phrases(list string) map[string]bool {
	m := map[string]bool{}
	for _, p := range strings.Split(list, ",") {
		m[strings.Join(strings.Fields(p), " ")] = true
	}
	return m
}

// politeness may stand around such a message.
var politeness = phrases(`please, pls, plz, thanks, thx, now, ok, okay, hey, hi, hello, already, por favor, porfa, favor, gracias, ya, hola, sir, everyone`)

// wholeMessage answers a text that is nothing but one of those words.
func (p *parser) wholeMessage() (Heard, bool) {
	words, asks := p.plainWords()
	if len(words) == 0 {
		return Heard{}, false
	}
	k := wholeKind(words)
	if k == "" {
		k = wholeKind(p.bare(words))
	}
	if asks && k != diary.Stop && k != diary.Help {
		k = "" // what asks is no command
	}
	if k == "" && !asks && p.refuses(words) {
		k = diary.Stop
	}
	if k == "" && p.tenFour(words) {
		return p.nod(), true
	}
	if k == "" {
		return Heard{}, false
	}
	return Heard{Facts: []diary.Fact{{Kind: k, Words: p.words}}}, true
}

// tenFour knows the radio's word for understood. In words it may be two
// heights where heights were asked for.
func (p *parser) tenFour(words []string) bool {
	if len(words) > 4 || len(words) < 2 {
		return false
	}
	for _, w := range words[2:] {
		if !politeness[w] && w != "good" && w != "buddy" && w != "boss" {
			return false
		}
	}
	if strings.HasPrefix(strings.TrimSpace(p.text), "10-4") {
		return true
	}
	return words[0] == "ten" && words[1] == "four" && len(p.asked.Paddocks) == 0 && p.asked.Recent == ""
}

func wholeKind(words []string) diary.Kind {
	words = slices.Compact(slices.Clone(words)) // STOP STOP STOP
	switch m := strings.Join(words, " "); {
	case optOut[m] || slipped(words, "stop", "unsubscribe"):
		return diary.Stop
	case optIn[m]:
		return diary.Start
	case askHelp[m] || slipped(words, "help"):
		return diary.Help
	case slipped(words, "undo"):
		return diary.Undo
	}
	return ""
}

// slipped knows the commonest of them with one slip of the finger.
func slipped(words []string, of ...string) bool {
	if len(words) != 1 || english().common[words[0]] || spanish().common[words[0]] {
		return false
	}
	for _, w := range of {
		if distance(words[0], w) == 1 || squeeze(words[0]) == w {
			return true
		}
	}
	return false
}

// plainWords are the words and numbers of a text, without marks and accents;
// asks says that a question mark stands among them.
func (p *parser) plainWords() (words []string, asks bool) {
	for _, t := range scan(p.text) {
		if t.kind == mark {
			asks = asks || t.s == "?"
			continue
		}
		words = append(words, fold(t.s))
		if len(words) > 40 {
			return nil, false
		}
	}
	return words, asks
}

// bare takes politeness and the writer's own name from both ends.
func (p *parser) bare(words []string) []string {
	name := fold(firstWord(p.who.Name))
	polite := func(w string) bool { return politeness[w] || (w == name && name != "") }
	for len(words) > 1 && polite(words[0]) {
		words = words[1:]
	}
	for len(words) > 1 && polite(words[len(words)-1]) {
		words = words[:len(words)-1]
	}
	return words
}

// refuses reports whether a reasonable person would read a text as an opt-out.
func (p *parser) refuses(words []string) bool {
	m := " " + strings.Join(words, " ") + " "
	found := p.stopsFirst()
	for r := range refusals {
		if strings.Contains(m, " "+r+" ") {
			found = true
			break
		}
	}
	if !found || strings.Contains(m, " dont stop ") || strings.Contains(m, " if ") {
		return false
	}
	for _, t := range p.tokens(p.text) {
		if t.is(sPlace | sNum | sHerd | sFrost) {
			return false
		}
	}
	return true
}

// stopsFirst reports whether the first sentence of a text is an opt-out and
// nothing else: STOP. I never asked for this.
func (p *parser) stopsFirst() bool {
	var words []string
	for _, t := range scan(p.text) {
		if t.kind == mark {
			if marks[t.s].set&(sStop|sComma|sDash) != 0 && len(words) > 0 {
				break
			}
			continue
		}
		words = append(words, fold(t.s))
		if len(words) > 2 {
			return false
		}
	}
	m := strings.Join(words, " ")
	return m == "stop" || m == "stopall" || m == "stop all" || m == "unsubscribe" || m == "alto"
}
