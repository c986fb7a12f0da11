package notify_test

import "github.com/golang-sql/civil"

func date(text string) civil.Date {
	d, err := civil.ParseDate(text)
	if err != nil {
		panic(err)
	}
	return d
}
