package store

import (
	"strings"
	"testing"
	"time"
	"unicode/utf8"
)

func TestATextThatTheCarrierBringsAgainIsKeptOnce(t *testing.T) {
	s := fresh(t)
	one := In{ID: "7", From: phones["Ana"], Contact: "Ana", Text: "creek 14 8", Sent: sep1}
	must(t, s.Accept(ctx, "sms", []In{one, one}, "a", sep1))
	must(t, s.Accept(ctx, "sms", []In{one, {ID: "8", Text: "off creek"}}, "b", sep1.Add(time.Minute)))
	must(t, s.Accept(ctx, "email", []In{one}, "", sep1.Add(time.Minute))) // another carrier counts by itself
	got, err := s.Pending(ctx)
	must(t, err)
	if len(got) != 3 || got[0].Text != "creek 14 8" || got[0].Carrier != "sms" || !got[0].Received.Equal(sep1) || !got[0].Sent.Equal(sep1) {
		t.Errorf("got %+v", got)
	}
	for carrier, want := range map[string]string{"sms": "b", "email": "", "nobody": ""} {
		if c, err := s.Cursor(ctx, carrier); c != want || err != nil {
			t.Errorf("cursor of %s: %q, want %q (%v)", carrier, c, want, err)
		}
	}
}

func TestACursorIsNotMovedWithoutItsTexts(t *testing.T) {
	s := fresh(t)
	if err := s.Accept(ctx, "sms", []In{{ID: "1", Text: "frost"}, {Text: "no id"}}, "a", sep1); err == nil {
		t.Fatal("a text without an id was taken")
	}
	if c, _ := s.Cursor(ctx, "sms"); c != "" {
		t.Errorf("the cursor moved to %q", c)
	}
	if got, _ := s.Pending(ctx); len(got) != 0 {
		t.Errorf("half was kept: %v", got)
	}
}

func TestTextsAreHeardOnceInTheOrderReceived(t *testing.T) {
	s := fresh(t)
	must(t, s.Accept(ctx, "sms", []In{{ID: "b", Text: "2"}}, "", sep1.Add(time.Second)))
	must(t, s.Accept(ctx, "sms", []In{{ID: "a", Text: "1"}, {ID: "z", Text: "1b"}}, "", sep1))
	got, err := s.Pending(ctx)
	must(t, err)
	order := ""
	for _, in := range got {
		order += in.Text + " "
	}
	if order != "1 1b 2 " {
		t.Errorf("order %q", order)
	}
	for i, want := range []bool{true, false} {
		update(t, s, sep1, func(x *Tx) error {
			fresh, err := x.Heard(got[0].Row)
			if fresh != want {
				t.Errorf("heard for the %d. time: fresh is %v", i+1, fresh)
			}
			return err
		})
	}
	if got, _ := s.Pending(ctx); len(got) != 2 {
		t.Errorf("still waiting: %v", got)
	}
}

func TestWhatPeopleAndAttackersTypeIsKeptWithinBounds(t *testing.T) {
	s := fresh(t)
	for i, text := range []string{"", "a\x00b\x1b[31m", "caf\xe9 14", strings.Repeat("x", 1<<20), strings.Repeat("é", maxText), "'; DROP TABLE facts; --", "🐄 14"} {
		must(t, s.Accept(ctx, "sms", []In{{ID: string(rune('a' + i)), Text: text}}, "", sep1))
	}
	got, err := s.Pending(ctx)
	must(t, err)
	for _, in := range got {
		if len(in.Text) > maxText || !utf8.ValidString(in.Text) {
			t.Errorf("%s: %d bytes, valid %v", in.ID, len(in.Text), utf8.ValidString(in.Text))
		}
	}
	if got[0].Text != "" || got[1].Text != "a\x00b\x1b[31m" || got[2].Text != "caf\uFFFD 14" || got[5].Text != "'; DROP TABLE facts; --" || got[6].Text != "🐄 14" {
		t.Errorf("got %q", []string{got[0].Text, got[1].Text, got[2].Text, got[5].Text, got[6].Text})
	}
}

func TestOptOutsStandUntilTheOwnerSaysStart(t *testing.T) {
	s := fresh(t)
	update(t, s, sep1, func(x *Tx) error {
		for i, want := range []bool{true, false} {
			if f, err := x.Suppress("Ana@Example.org", "Ana", "stop"); f != want || err != nil {
				t.Errorf("%d: %v, %v", i, f, err)
			}
		}
		if _, err := x.Suppress("", "Ana", "stop"); err == nil {
			t.Error("nobody's address was suppressed")
		}
		return nil
	})
	update(t, s, sep1.AddDate(2, 0, 0), func(x *Tx) error {
		at, yes, err := x.Suppressed("ana@example.org ")
		if !yes || !at.Equal(sep1) || err != nil {
			t.Errorf("two years later: %v, %v, %v", at, yes, err)
		}
		if all, err := x.OptOuts(); len(all) != 1 || all[0].Contact != "Ana" || all[0].Why != "stop" || err != nil {
			t.Errorf("opt-outs: %v, %v", all, err)
		}
		if was, err := x.Allow("ana@example.org"); !was || err != nil {
			t.Errorf("allow: %v, %v", was, err)
		}
		if was, _ := x.Allow("ana@example.org"); was {
			t.Error("allowed twice")
		}
		_, yes, err = x.Suppressed("Ana@Example.org")
		if yes {
			t.Error("still suppressed")
		}
		return err
	})
}

func TestTheLastCertainTimeIsKept(t *testing.T) {
	path := t.TempDir() + "/farm.db"
	s := open(t, path, "r")
	if at, err := s.LastSeen(ctx); !at.IsZero() || err != nil {
		t.Errorf("at first: %v, %v", at, err)
	}
	update(t, s, sep1, func(x *Tx) error { return x.SetSeen(sep1) })
	must(t, s.Check(ctx))
	must(t, s.Close())
	s = open(t, path, "r2")
	update(t, s, sep1, func(x *Tx) error {
		if at, err := x.LastSeen(); !at.Equal(sep1) || err != nil {
			t.Errorf("got %v, %v", at, err)
		}
		return nil
	})
}
