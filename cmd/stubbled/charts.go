package main

import (
	"errors"
	"time"

	"stubbled/config"
	"stubbled/scheduler/frost"
	"stubbled/scheduler/season"
)

func writeSeasonChart(string, season.Sight, []season.View) error         { return errors.New("later") }
func writeCalendar(string, *config.Farm, []season.View, time.Time) error { return errors.New("later") }
func writeFeedChart(string, season.Sight, season.FeedPlan) error         { return errors.New("later") }
func writeFrostChart(string, frost.Report) error                         { return errors.New("later") }
