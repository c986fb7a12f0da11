package config

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"stubbled/notify/gsm"
)

// The longest names that leave room for the rest of a one-segment text, in
// GSM septets.
const (
	longestName  = 20
	longestAlias = 12
)

// septets counts what a name takes in a text. Letters with marks that a text
// cannot carry count as their plain letter; a letter that has none is an error.
func septets(name string) (int, error) {
	n := 0
	for _, r := range norm.NFC.String(name) {
		plain := string(plainLetter(r))
		if !gsm.Has(plain) {
			return 0, fmt.Errorf("%q holds %q, which a text message cannot carry; use plain letters", clip(name), r)
		}
		n += gsm.Septets(plain)
	}
	return n, nil
}

// plainLetter is the letter itself, or the same without its marks where a text
// cannot carry those.
func plainLetter(r rune) rune {
	switch r {
	case '‘', '’', '´', '`':
		return '\''
	case '“', '”':
		return '"'
	case '–', '—':
		return '-'
	}
	if !gsm.Has(string(r)) {
		r, _ = utf8.DecodeRuneInString(norm.NFD.String(string(r)))
	}
	return r
}

// fold is the form in which names are compared: no case, no marks, no spaces
// or punctuation. North 40, north40 and NORTH-40 are one.
func fold(name string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, norm.NFKD.String(name))
}

// commands are the words that mean something by themselves when texted, in
// English and Spanish, folded. A paddock that answered to one could not be told
// from the command.
var commands = wordSet(`
	a b c d on off in out to from moved move turn ok okay yes y no not stop stopall unsubscribe end quit cancel
	n k kk roger copy revoke optout opt remove start unstop subscribe resume menu commands options help info status undo void
	later snooze frost freeze froze frozen brown browned regrowth
	clear dry drought hay hayed burn burned burnt wean weaned read reading today yesterday tomorrow all none every
	inch inches cm mm ft foot feet centimetre centimetres centimeter centimeters yep nope done thanks
	am pm sent may farm
	helada helo hielo escarcha seco seca sequia cafe pardo marron rebrote rebroto limpio libre despejado fuera afuera
	sali salio salieron dentro adentro entro entraron meti saque mover movi movimos pase estado deshacer anular
	ayuda alto parar baja alta iniciar empezar comenzar inicio luego despues tarde si vale bueno bien listo gracias
	heno corte cortado quemado quemada destete destetado hoy ayer manana todo todos pulgada pulgadas pie pies
	para pare paren basta cancelar cancela cancele detener deten detente terminar termina fin finalizar desuscribir salir
	reanudar comandos arret td
`)

// stock are words for animals in general: no name for a paddock, but a good
// one for a herd.
var stock = wordSet(`cow cows cattle herd herds heifer heifers steer steers bull bulls calf calves pair pairs yearling
	yearlings stocker stockers sheep ewes goats animals stock vaca vacas ganado hato novillo novillos novilla novillas
	vaquilla vaquillas toro toros becerro becerros ternero terneros animales`)

// takesPaddock are commands that are followed by a paddock's name.
var takesPaddock = wordSet(`on off out in frost brown regrowth clear dry later hayed hay burned status moved move to from
	helada cafe pardo rebrote limpio libre seco fuera dentro estado despues luego heno quemado`)

// numbers are words that read as a height, with the digits that they are heard
// as.
var numbers = numberWords(`zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen
	seventeen eighteen nineteen`, `cero uno dos tres cuatro cinco seis siete ocho nueve diez once doce trece catorce quince dieciseis
	diecisiete dieciocho diecinueve`)

// tens are the words from twenty on, by tens.
var tens = []string{"twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"}
var spanishTens = []string{"veinte", "treinta", "cuarenta", "cincuenta", "sesenta", "setenta", "ochenta", "noventa"}

func numberWords(lists ...string) map[string]int {
	words := map[string]int{}
	for _, l := range lists {
		for n, w := range strings.Fields(l) {
			words[w] = n
		}
	}
	for i := range tens {
		words[tens[i]], words[spanishTens[i]] = 20+10*i, 20+10*i
	}
	return words
}

// heard is the form in which a texted name is told from another: fold, with
// numbers in words as digits, no zeros in front of digits, and & as and.
// Pasture Three is Pasture 3, and 9 Oaks is Nine Oaks.
func heard(name string) string {
	var b strings.Builder
	tens := 0
	flush := func() {
		if tens > 0 {
			b.WriteString(strconv.Itoa(tens))
		}
		tens = 0
	}
	for _, w := range wordsOf(name) {
		n, isNumber := numbers[w]
		switch {
		case isNumber && tens > 0 && n > 0 && n < 10:
			tens += n
			flush()
		case isNumber && n >= 20:
			flush()
			tens = n
		case isNumber:
			flush()
			b.WriteString(strconv.Itoa(n))
		default:
			flush()
			if digits := strings.TrimLeft(w, "0"); w[0] <= '9' && digits != "" {
				w = digits
			}
			b.WriteString(w)
		}
	}
	flush()
	return b.String()
}

var joiners = strings.NewReplacer("&", " and ", "+", " and ", "'", "", "’", "")

// wordsOf parts a name into folded runs of letters and of digits.
func wordsOf(name string) []string {
	var out []string
	last := ' '
	for _, r := range norm.NFKD.String(joiners.Replace(name)) {
		kind := ' '
		switch {
		case unicode.Is(unicode.Mn, r):
			continue
		case unicode.IsLetter(r):
			kind = 'a'
		case unicode.IsDigit(r):
			kind = '0'
		}
		switch {
		case kind == ' ':
		case kind == last:
			out[len(out)-1] += string(unicode.ToLower(r))
		default:
			out = append(out, string(unicode.ToLower(r)))
		}
		last = kind
	}
	return out
}

func wordSet(text string) map[string]bool {
	set := map[string]bool{}
	for _, w := range strings.Fields(text) {
		set[fold(w)] = true
	}
	return set
}

// isNumber reports whether a folded name is digits alone.
func isNumber(folded string) bool {
	return folded != "" && strings.Trim(folded, "0123456789") == ""
}
