package reply

// guardsEnglish are the words that keep what stands beside them out of the
// diary.
var guardsEnglish = []entry{
	{lex{guard: gNegation}, "not, never, none, nothing, nobody, neither, nor, without, can't, cant, cannot, can not, couldn't, couldnt, won't, wont, don't, dont, doesn't, doesnt, didn't, didnt, isn't, isnt, aren't, arent, ain't, aint"},
	{lex{guard: gNegation}, "wasn't, wasnt, weren't, werent, haven't, havent, hasn't, hasnt, hadn't, hadnt, wouldn't, wouldnt, shouldn't, shouldnt, no, nope, nah, yet, not yet, hardly, barely, unable, failed, refused, refuse, instead, nowhere, forgot, forgotten, still, no longer, opposite, except, minus, impossible, denied"},
	{lex{guard: gPlan}, "will, i'll, ill, we'll, he'll, she'll, they'll, theyll, you'll, it'll, itll, gonna, gunna, gona, going to, goin to, going, goin, planning, plan, plans, planned, planning on, tonight, tonite, 2nite, soon, asap, later today, next, upcoming, coming, eventually, in a bit, in a while, in a minute, any day, someday"},
	{lex{guard: gPlan}, "about to, abt to, fixing to, fixin to, fixin, fixing, finna, need, needs, needed, need to, have to, has to, had to, gotta, got to, hafta, must, should, shall, ought, want, wants, wanted, wanna, let's, lets, would, could, might, may, trying, try, tryna, tried, attempt, attempting, ready to, getting ready, supposed to, intend, hope to, hoping, expect, expects, expected, expecting, scheduled"},
	{lex{guard: gPlan}, "before, after, once, until, til, till, 'til, by, moving, pulling, taking, bringing, putting, turning, heading, headed, leaving, weaning, cutting, haying, baling, burning, browning, starting, start, started, begin, beginning, dragging, getting, bringing, rotating, shifting, working, loading, gathering, penning, sorting"},
	{lex{guard: gPlan}, "warning, watch, advisory, forecast, forecasted, forecasting, chance, chances, possible, calling for, predicted, predicting, weatherman, radar, threat, risk, due, goal, target, deadline, limit"},
	{lex{guard: gIf}, "if, unless, in case, assuming, provided, whether, otherwise, else, when, whenever, while, because, since, though, although, but first, as soon as, only if, even if"},
	{lex{guard: gOrder}, "take, move, pull, get, bring, remove, make sure, tell, ask, send, go, come, drive, push, shift, rotate, switch, haul, keep, leave, stay, hold, turn, give, load, gather, pen, sort, shut, close, open, fix, help me, help, check on, look at, look, kick, run, walk, clear out, keep em, cut, burn, bale, mow, swap, trade, sell"},
	{lex{guard: gHedge}, "maybe, mebbe, perhaps, probably, prob, probly, prolly, possibly, think, thinks, thought, thinking, guess, guessing, guessed, believe, reckon, suppose, supposedly, allegedly, apparently, seems, seem, seemed, look like, unsure, not sure, sure hope, dunno, don't know, dont know, idk, heard, hear, says, say, said, saying, told, tells, asked, asks, claims"},
	{lex{guard: gHedge}, "hopefully, hope, almost, nearly, kinda, sorta, kind of, sort of, likely, bet, wish, wished, ever, pretend, imagine, dream, dreamed, dreamt, doubt, doubtful, estimate, estimated, est, wondering, wonder, remember, reminded, over, under, more than, less than, at least, at most, min, max, low, lowest, highest, tallest, shortest, range, ranges, varies, mostly, mixed, some places, rumor, somehow, supposed, as if, example, e.g., hypothetically, in theory, would be, could be, might be, should be, must be"},
	{lex{guard: gAsk}, "who, what, where, why, which, whose, how, do, does, did, can, whats, what's, who's, where's, hows, how's, when's, anyone, anybody, any, wonder if, r u, are you, do you, did you, have you, has anyone"},
	{lex{guard: gFix}, "stop, stopall, unsubscribe, cancel, quit, opt out, optout, end, revoke"}, // only whole messages opt out
	{lex{guard: gFix}, "i mean, i meant, meant, mean, jk, j k, kidding, just kidding, psych, psyche, strike that, oops, oopsie, whoops, woops, my bad, wait, hold on, hang on, correction, correct, corrected, never mind, nevermind, nvm, wrong, mistake, mistaken, error, ignore, disregard, typo, actually, rather, joke, joking, lie, lied, lying, liar, false, fake, test, testing, sarcasm, not really, make that, change, changed, scratch, changing, delete, erase, redo, sike, fooled, april fools, as if, yeah right, confused, forget it, forget that, forget"},
	{lex{guard: gPart}, "half, some, a few, few, several, most, many, couple, a couple, a couple of, part, part of, partial, partially, rest, the rest, remaining, last of, all but, almost all, nearly all, half of, majority, handful, a bunch of, pair, bull, the bull, calf, the calf, cow, heifer, steer, ewe, goat, horse, mare, single, stray, strays, straggler, stragglers, bunch, one of, two of, three of, little bunch, leftover"},
	{lex{guard: gOther}, "neighbor, neighbors, neighbour, neighbours, his, her, their, hers, theirs, your, yours, ur, someone, somebody, another, other, others, else's, strange, he, she, you guys, who ever, whoever, jones"},
	{lex{guard: gThing}, "truck, trucks, trailer, tractor, water, waterer, waterline, water line, tank, trough, pump, windmill, fence, fences, fencing, hay, wire, polywire, gate, gates, power, charger, energizer, hotwire, hot wire, electricity, lights, hay bales, salt, mineral, minerals, feeder, dog, dogs, deer, coyote, coyotes, hog, hogs, people, kids, wife, husband, crew, hunters, hunter, tree, trees, road, bridge, pond, dam, snow, ice, phone, signal, windshield, window, windows, windscreen, car, roof, pumpkin, pipes, pipe, freezer, fridge, garden, tomatoes, leg, alarm, lid, roads, atv, four wheeler, side by side, mower, combine, baler, drone, sprayer, bed, chain, seed head, seed heads, seedhead, seedheads, temp, temps, temperature, wind, mud, score, game, price"},
	{lex{guard: gRain}, "rain, rained, raining, rains, rainfall, rain gauge, raingauge, gauge, shower, showers, storm, stormed, storms, precip, precipitation, moisture, snowed, snowing, hail, hailed, drizzle, sprinkle, sprinkled, flood, flooded, flooding, downpour, wet, inches of rain, inch of rain"},
}

// askEnglish are the words of a question about a paddock.
var askEnglish = []entry{
	{lex{set: sNamed, guard: gAsk}, "how is, how's, hows, how are, how does, how do, how tall is, how high is, how tall, what is, what's, whats, what about, how about, when is, when does, when do, when will, when's, whens, can i, can we, could i, could we, may i, may we, should i, should we, is it ok to, is it okay to, is it safe to, is it time to, ok to, when can i, when can we, when should i, when should we, can i get, what was, how was, are we ok to, am i ok to, how long until, how long till, how long before, how soon can i, how soon can we, how many days left on, how many days on, how much grass is on, how much grass on, what do you have for, what do you have on, how's it look in, is"},
	{lex{set: sVerb}, "look, looking, looks, doing, do, going, ready, graze, grazed, grazing, shut, close, closed, open, rest, resting, good, ok, okay, safe, to graze, graze in, turn in, turn into, go in, go into, go back in, go back into, go back on, tall, high, height, now, done resting, dormant, yet, today, use, get back on, get on, get in, ready to graze, ready for cows, ready for the cows, at right now, shut down, close up, start resting, start rest, need rest, need to rest, come up, like, still"},
}

// countEnglish are numbers, months and weekdays.
var countEnglish = append(counted(
	"zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen",
	"twenty thirty forty fifty sixty seventy eighty ninety",
	"january february march april may june july august september october november december",
	"jan feb mar apr - jun jul aug sep oct nov dec",
	"sunday monday tuesday wednesday thursday friday saturday",
),
	entry{lex{role: rTens, val: 40}, "fourty"},
	entry{lex{role: rTens, val: 90}, "ninty"},
	entry{lex{role: rMonth, val: 9}, "sept"},
	entry{lex{role: rWeekday, val: 1}, "mon"},
	entry{lex{role: rWeekday, val: 2}, "tue, tues"},
	entry{lex{role: rWeekday, val: 4}, "thu, thur, thurs"},
	entry{lex{role: rWeekday, val: 5}, "fri"},
)
