package report

import (
	"strings"

	"stubbled/cmd/stubbled/usage"
	"stubbled/config"
	"stubbled/scheduler/ladder"
)

// ContactNamed finds a contact of the farm.
func ContactNamed(farm *config.Farm, name string) (*ladder.Contact, error) {
	c, ok := farm.Contact(name)
	if !ok {
		return nil, usage.Errorf("no contact is called %q; the farm file has %s", name, Names(farm))
	}
	return c, nil
}

// Names are those of the farm's contacts.
func Names(farm *config.Farm) string {
	all := make([]string, len(farm.Contacts))
	for i, c := range farm.Contacts {
		all[i] = c.Name
	}
	return strings.Join(all, ", ")
}
