package config_test

import (
	"strings"
	"testing"
	"time"

	"stubbled/config"
)

func TestTheEnvironmentStandsAboveTheFile(t *testing.T) {
	t.Setenv("STUBBLED_REST_DAYS", "50 days")
	t.Setenv("STUBBLED_FARM_MORNING", "07:15")
	t.Setenv("STUBBLED_FARM_UNITS", "") // an empty variable is no value
	f := load(t, good(t))
	if f.Rule.RestDays != 50 || f.Paddocks[0].Rule.RestDays != 50 {
		t.Errorf("rest %d and %d days, want the environment's 50", f.Rule.RestDays, f.Paddocks[0].Rule.RestDays)
	}
	if f.Paddocks[1].Rule.RestDays != 60 {
		t.Errorf("north40 rests %d days, want its own 60", f.Paddocks[1].Rule.RestDays)
	}
	if f.Morning != 7*60+15 || f.Units != config.Inches {
		t.Errorf("morning %d, units %s: want the environment's 07:15 and the file's inches", f.Morning, f.Units)
	}
	if own := load(t, good(t), config.WithoutEnvironment()); own.Rule.RestDays != 45 {
		t.Errorf("rest %d days without the environment, want 45", own.Rule.RestDays)
	}
}

func TestAnEnvironmentVariableNeedsItsUnitToo(t *testing.T) {
	t.Setenv("STUBBLED_REST_DAYS", "50")
	_, err := config.Load(written(t, good(t)))
	want := `STUBBLED_REST_DAYS: rest.days: want a number of days such as "45 days", got "50"; did you mean "50 days"?`
	if err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
}

func TestAVariableThatIsNearlyASettingIsTold(t *testing.T) {
	t.Setenv("STUBBLED_REST_DAY", "50 days")
	t.Setenv("STUBBLED_SOMETHING_ELSE", "1")
	w := load(t, good(t)).Warnings.Error()
	if !strings.Contains(w, "STUBBLED_REST_DAY: sets nothing; did you mean STUBBLED_REST_DAYS?") || strings.Contains(w, "SOMETHING_ELSE") {
		t.Errorf("warnings: %s", w)
	}
}

// A section that only the environment writes takes its own defaults.
func TestASectionMayComeFromTheEnvironmentAlone(t *testing.T) {
	t.Setenv("STUBBLED_CARRIERS_EMAIL_FROM", "farm@example.org")
	t.Setenv("STUBBLED_CARRIERS_EMAIL_SMTP_HOST", "smtp.example.org")
	f := load(t, good(t))
	if f.Carriers.Email == nil || f.Carriers.Email.SMTP.Host != "smtp.example.org" || f.Carriers.Email.SMTP.TLS != "starttls" {
		t.Errorf("mail: %+v", f.Carriers.Email)
	}
}

// Whichever key of a section the environment writes, the keys before it have
// their defaults too.
func TestASectionFromTheEnvironmentHasAllItsDefaults(t *testing.T) {
	t.Setenv("STUBBLED_CARRIERS_SMS_VIA", "spool")
	t.Setenv("STUBBLED_CARRIERS_SMS_SPOOL_TAKE_BACK", "8 hours")
	s := load(t, good(t)).Carriers.SMS.Spool
	if s.TakeBack != 8*time.Hour || s.Dir != "/var/spool/stubbled-sms" || s.Stale != 5*time.Minute || s.Keep != 30*24*time.Hour {
		t.Errorf("spool: %+v", s)
	}
}
