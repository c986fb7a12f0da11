package wording

import "stubbled/scheduler/ladder"

// speakers has for every kind what is said of a bundle of it.
var speakers map[ladder.Kind]func(voice, []ladder.Facts) []part

func init() { // a literal would be a cycle: a status speaks through verdicts
	speakers = map[ladder.Kind]func(voice, []ladder.Facts) []part{
		ladder.FallAhead: voice.fallAhead,
		ladder.HeadsUp:   voice.headsUp,
		ladder.LastLook:  voice.lastLook,
		ladder.MovePlan:  voice.movePlan,
		ladder.ShutToday: voice.shutToday,
		ladder.Overdue:   voice.overdue,
		ladder.KeepShut:  voice.keepShut,

		ladder.FallUseStarts: voice.fallUseStarts,
		ladder.FallUseAsk:    voice.fallUseAsk,
		ladder.FallUseOut:    voice.fallUseOut,

		ladder.AskHeight:     voice.askHeight,
		ladder.FrostSeen:     voice.frostSeen,
		ladder.FreezeSeen:    voice.freezeSeen,
		ladder.KillingFreeze: voice.killingFreeze,
		ladder.FrostFirst:    voice.frostFirst,
		ladder.FrostWarning:  voice.frostWarning,
		ladder.HoldBegins:    voice.holdBegins,
		ladder.HoldOver:      voice.holdOver,
		ladder.RestOver:      voice.restOver,
		ladder.SeasonResult:  voice.seasonResult,
		ladder.CutoffMoved:   voice.cutoffMoved,

		ladder.MondayMail:   voice.status,
		ladder.LessonsMail:  voice.seasonResult,
		ladder.SignOfLife:   voice.signOfLife,
		ladder.Alarm:        voice.alarm,
		ladder.Enrolment:    voice.enrolment,
		ladder.FarmFileBad:  voice.farmFileBad,
		ladder.StopTold:     voice.stopTold,
		ladder.TakenBack:    voice.takenBack,
		ladder.ContactsGone: voice.contactsGone,

		ladder.AnswerVerdict:  voice.verdicts,
		ladder.AnswerRecorded: voice.recorded,
		ladder.AnswerAsk:      voice.asked,
		ladder.AnswerStatus:   voice.status,
		ladder.AnswerHelp:     voice.help,
		ladder.AnswerStop:     voice.stopped,
		ladder.AnswerStart:    voice.started,
		ladder.AnswerUndo:     voice.undone,
	}
}
