package config

import "strings"

// sort is what a place in the farm file may hold.
type sort int

const (
	object sort = iota // known keys only
	list               // any number of one shape
	word               // text, quoted where it looks like a number
	amount             // text or number; its own parser asks for the unit
	count              // a whole number without a unit
	pairs              // keys of the reader's own, such as field names
)

func (s sort) String() string {
	return [...]string{"keys with values", "a list in [ ] or with dashes", "text", "a value", "a whole number", "keys with values"}[s]
}

// shape is one place of the farm file with what may stand in it.
type shape struct {
	sort  sort
	keys  []string // of an object, in the order they are asked for
	under map[string]*shape
	item  *shape // of a list
}

// A field is one key of an object.
type field struct {
	key   string
	shape *shape
}

func fields(fs ...field) *shape {
	s := &shape{sort: object, under: make(map[string]*shape, len(fs))}
	for _, f := range fs {
		s.keys = append(s.keys, f.key)
		s.under[f.key] = f.shape
	}
	return s
}

func listOf(item *shape) *shape { return &shape{sort: list, item: item} }

func several(sh *shape, keys ...string) []field {
	out := make([]field, len(keys))
	for i, k := range keys {
		out[i] = field{k, sh}
	}
	return out
}

func join(groups ...[]field) *shape {
	var all []field
	for _, g := range groups {
		all = append(all, g...)
	}
	return fields(all...)
}

var (
	aWord   = &shape{sort: word}
	anAmt   = &shape{sort: amount}
	aCount  = &shape{sort: count}
	words   = listOf(aWord)
	aPairs  = &shape{sort: pairs}
	aSecret = several(aWord, "password_file", "password_credential")
	aKey    = several(aWord, "secret_file", "secret_credential")
)

// ruleShape is a rest rule, of the farm or of one paddock.
var ruleShape = fields(several(anAmt, "days", "leave", "at_frost", "lowest", "begin", "confidence", "ends_at", "spring")...)

// fileShape is the whole farm file.
var fileShape = fields(
	field{"farm", join(several(aWord, "name", "timezone", "units"), several(anAmt, "morning", "cap"))},
	field{"frost", join(
		several(aWord, "station", "place"),
		several(anAmt, "threshold", "plan_on", "date", "spread"),
		[]field{{"columns", fields(several(aWord, "date", "tmin_c", "tmin_f", "tmax_c", "tmax_f", "rain_mm")...)}},
	)},
	field{"rest", ruleShape},
	field{"paddocks", listOf(join(
		several(aWord, "id", "was", "name"),
		[]field{{"aliases", words}},
		several(anAmt, "area"),
		several(aWord, "grass", "soil", "stand"),
		[]field{{"rest", ruleShape}, {"frost_offset", anAmt}, {"hazard_plants", words}, {"out_by", anAmt}},
	))},
	field{"herds", listOf(join(
		several(aWord, "id"),
		[]field{{"aliases", words}, {"head", aCount}, {"kind", aWord}, {"weight", anAmt}, {"calving", aWord}},
		[]field{{"weaned", anAmt}, {"paddock", aWord}},
	))},
	field{"contacts", listOf(join(several(aWord, "name", "role", "phone", "email", "language"), several(anAmt, "quiet")))},
	field{"fall_use", listOf(fields(field{"year", aCount}, field{"paddock", aWord}, field{"area", anAmt}))},
	field{"ladder", listOf(fields(field{"before", anAmt}, field{"tell", words}, field{"also_by", words}, field{"repeat_after", anAmt}))},
	field{"carriers", fields(field{"sms", smsShape}, field{"email", emailShape})},
	field{"weather", join(
		several(aWord, "log", "place", "unit", "column"), several(anAmt, "day_first", "every", "silence"),
		[]field{{"service", join(several(aWord, "url", "station", "point", "contact"), several(anAmt, "observe", "forecast", "silence"))}},
	)},
	field{"backup", fields(field{"dir", aWord}, field{"at", anAmt})},
)

var smsShape = fields(
	field{"via", aWord},
	field{"spool", join(
		several(aWord, "dir"), []field{{"queues", words}},
		several(aWord, "pid_file", "log_file", "state_file", "region"),
		several(anAmt, "stuck_after", "take_back", "validity", "poll", "keep"),
	)},
	field{"http", join(
		several(aWord, "url", "method", "encoding"),
		[]field{{"fields", aPairs}, {"headers", aPairs}},
		[]field{{"auth", join(several(aWord, "kind", "user", "name"), aKey)}},
		[]field{{"success", listOf(aCount)}},
		several(aWord, "id_path", "status_path", "error_path"),
		[]field{{"status_map", aPairs}},
		several(aWord, "idempotency"),
		several(anAmt, "timeout", "rate"),
		several(aWord, "check_url", "region"),
		[]field{{"poll", pollShape}, {"webhook", webhookShape}},
	)},
)

// somePaths lead to what a text that came in, or news of one of ours, holds.
var somePaths = several(aWord, "list_path", "id_path", "from_path", "text_path", "sent_path", "status_path", "ref_path", "envelope_path", "error_path")

var pollShape = join(
	several(aWord, "url"), several(anAmt, "every"),
	[]field{{"query", aPairs}}, several(aWord, "cursor"),
	somePaths, []field{{"only", aPairs}},
	several(aWord, "next_path", "next_param"),
	several(anAmt, "look_back"), []field{{"max_pages", aCount}},
)

var webhookShape = join(
	several(aWord, "listen"), several(anAmt, "beyond"), several(aWord, "path", "public_url", "scheme"), aKey,
	several(aWord, "header", "hash", "stamp_header", "stamp_field", "sign_field", "nonce_header", "signed", "encoding"),
	somePaths, []field{{"only", aPairs}},
)

var emailShape = join(
	several(aWord, "from", "reply_to", "authserv"),
	several(aWord, "token_file", "token_credential", "old_token_file", "old_token_credential"),
	[]field{
		{"smtp", join(several(aWord, "host"), []field{{"port", aCount}}, several(aWord, "tls", "user"), aSecret, several(anAmt, "timeout"))},
		{"imap", join(several(aWord, "host"), []field{{"port", aCount}}, several(aWord, "tls", "user"), aSecret, several(aWord, "mailbox"), several(anAmt, "poll", "timeout"))},
	},
)

// secretKeys are what a secret is called by those who would write it here.
var secretKeys = []string{"password", "passwd", "pass", "pwd", "secret", "token", "auth_token", "api_key", "apikey", "key", "bearer"}

// secretKey reports whether a key is a place to write a secret, with the key
// that was meant and what to write instead.
func secretKey(key string, s *shape) (meant, instead string, ok bool) {
	k := strings.ReplaceAll(strings.ToLower(key), "-", "_")
	for _, bad := range secretKeys {
		if k != bad && !strings.HasSuffix(k, "_"+bad) {
			continue
		}
		for _, f := range s.keys {
			if strings.HasSuffix(f, "_file") {
				stem := strings.TrimSuffix(f, "_file")
				return f, stem + "_file (a file that only the daemon may read) or " + stem + "_credential (a name the service manager knows)", true
			}
		}
		return "", "a file or a credential name, such as password_file under carriers", true
	}
	return "", "", false
}
