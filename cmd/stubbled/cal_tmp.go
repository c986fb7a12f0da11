package main

import (
	"errors"
	"time"

	"stubbled/config"
	"stubbled/scheduler/season"
)

func calendarFile(*config.Farm, []season.View, time.Time) ([]byte, error) {
	return nil, errors.New("x")
}
