package reply

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

func TestDebug(t *testing.T) {
	text := os.Getenv("T")
	if text == "" {
		t.Skip()
	}
	farmName, whoName := os.Getenv("FARM"), os.Getenv("WHO")
	if farmName == "" {
		farmName = "quail"
	}
	if whoName == "" {
		whoName = "Ana"
	}
	farm := testFarms[farmName]
	var asked Asked
	if a := os.Getenv("ASKED"); a != "" {
		asked.Paddocks = strings.Split(a, ",")
	}
	r := New(farm.places, farm.herds, farm.units)
	who := farm.people[whoName]
	for _, text := range strings.Split(unescape(text), "||") {
		p := &parser{reader: r, tongue: tongueOf(who.Language), who: who, asked: asked, day: testDay}
		p.text = body(normalise(text))
		p.toks = p.tokens(p.text)
		if os.Getenv("V") != "" {
			for _, k := range p.toks {
				fmt.Printf("   %q set=%x role=%d guard=%d val=%g places=%v herds=%v\n", k.s, k.set, k.role, k.guard, k.val, k.places, k.herds)
			}
			for _, c := range p.clauses(rules, 0, len(p.toks)) {
				fmt.Printf("   clause form=%d %d-%d %v\n", c.form, c.from, c.to, c.caught)
			}
		}
		fmt.Printf("%-50q %s\n", text, show(r.Read(text, who, asked, testDay)))
	}
}
