package spool

import (
	"bytes"
	"regexp"
)

// saying is a line of smsd's log and what it tells. Where well is set it tells
// that the trouble before it is over.
type saying struct {
	line    *regexp.Regexp
	trouble Trouble
	well    bool
}

// sayings are smsd 3.1.21's own words, each seen by running it.
var sayings = []saying{
	{line: regexp.MustCompile(`terminated while mainprocess is still running`), trouble: HandlerOut},
	{line: regexp.MustCompile(`Your SIM is locked`), trouble: WantsPUK},
	{line: regexp.MustCompile(`needs PIN, but it's not defined|did not accept this PIN`), trouble: WantsPIN},
	{line: regexp.MustCompile(`SIM not inserted|\(SIM failure\)`), trouble: NoSIM},
	{line: regexp.MustCompile(`(Couldn't|Cannot) open serial port|write_to_modem: error|device not found|Cannot open device`), trouble: Unplugged},
	{line: regexp.MustCompile(`not ready to answer commands|[Mm]odem did not answer|Unable to talk with modem|Command failed`), trouble: Mute},
	{line: regexp.MustCompile(`MODEM IS NOT REGISTERED|Modem is not registered`), trouble: NoNetwork},
	{line: regexp.MustCompile(`Blocking \d+ sec`), trouble: Blocked},
	{line: regexp.MustCompile(`Access denied\. Check the file`), trouble: Unreadable},
	{line: regexp.MustCompile(`Smsd v\S+ started|Modem is registered|SMS sent|SMS received|CMD: AT\+CREG\?: \+CREG: \d,[15]`), well: true},
}

// A verdict is the last thing that smsd's log tells.
type verdict struct {
	trouble Trouble
	says    bool // false: nothing is wrong by the log
	gaveUp  bool // smsd will not try the modem again before it is restarted
}

// readLog reads the end of smsd's log. What made smsd give a modem up stands
// before the line that says so.
func readLog(data []byte) verdict {
	var v verdict
	for line := range bytes.Lines(data) {
		for _, s := range sayings {
			if !s.line.Match(line) {
				continue
			}
			switch {
			case s.well:
				v = verdict{}
			case s.trouble == HandlerOut && v.says:
				v.gaveUp = true
			default:
				v = verdict{trouble: s.trouble, says: true, gaveUp: s.trouble == HandlerOut}
			}
			break
		}
	}
	return v
}
