package running

import (
	"hemwright/internal/show/answer"
	"hemwright/internal/value/why"
)

var (
	ruleEnough   = why.Declare("running.enough", "{have} off stage; {wanted} wanted alone, walking and looking over included.", why.House)
	ruleHelp     = why.Declare("running.with-help", "{have} off stage; alone it takes {alone}, with a dresser {wanted}.", why.House)
	ruleShort    = why.Declare("running.too-short", "{have} off stage, {wanted} wanted with one dresser: {short} short.", why.House)
	ruleTwo      = why.Declare("running.with-two", "{have} off stage; with one dresser it takes {wanted}, with two {two}.", why.House)
	ruleFast     = why.Declare("running.fast", "Under 3 minutes: {have}. Plan who helps.", teaching)
	ruleRehearse = why.Declare("running.rehearse", "Under 2 minutes: rehearse it; the first try takes about {first}.", why.House)
	ruleView     = why.Declare("running.in-view", "Done in view: {have}, {wanted} wanted.", why.Common)
	ruleOnePull  = why.Declare("running.one-pull", "Nothing goes on: what is seen afterwards is on beneath already.", why.Exact)
	ruleKeep     = why.Declare("running.keep", "{n} of the pieces stay on.", why.Exact)
	ruleSides    = why.Declare("running.side-not-known", "The side is not known; a crossing takes {more} more.", why.House)
	ruleYoung    = why.Declare("running.young", "A young performer: everything takes {share} in 100 of the time.", why.House)
	ruleDark     = why.Declare("running.dark", "In the dark: everything takes {share} in 100 of the time.", why.House)
	ruleHair     = why.Declare("running.hair", "The hair is done anew, from {way}: {s}.", why.House)
	ruleMic      = why.Declare("running.microphone", "The microphone moves, from {way}: {s}.", why.House)
	ruleOver     = why.Declare("running.lies-over", "{piece} stays and lies over what changes; if it has to come off and on again, {s} more.", why.House)
	ruleInterval = why.Declare("running.interval", "The interval lies between.", why.Exact)
	ruleNoWay    = why.Declare("running.no-way-behind", "Out on {from}, in on {to}, and no way behind the stage.", why.Exact)
)

// judge turns the dresser's seconds into what is wanted, lower and upper, and
// says whether there is time.
func (c *clock) judge(ch *answer.Change) {
	v := &ch.Verdict
	over := c.steps(ch)
	if ch.InView {
		ch.Wanted = answer.Seconds{Lo: ch.Hands, Hi: ch.Hands * c.t.alone / 100}
		c.inView(ch)
		return
	}
	walkLo, walkHi := c.t.walk(ch)
	ch.Wanted = answer.Seconds{Lo: ch.Hands + walkLo + c.t.lookOver, Hi: ch.Hands*c.t.alone/100 + over + walkHi + c.t.lookOver}
	if ch.Timed == 0 {
		ch.FirstTry = ch.Hands*c.t.firstTry/100 + walkHi + c.t.lookOver
	}
	have, wanted := why.Seconds("have", ch.Seconds), why.Seconds("wanted", ch.Wanted.Lo)
	first := len(v.Reasons)
	switch {
	case crosses(ch) && (c.word(ch.FromScene, "no crossover") || c.word(ch.ToScene, "no crossover")):
		v.Grade = why.No
		v.Reasons = append(v.Reasons, ruleNoWay.Because(why.No, why.Of("from", string(ch.FromSide)), why.Of("to", string(ch.ToSide))))
	case ch.Seconds < ch.Wanted.Lo:
		rest := walkLo + c.t.lookOver
		if takes, _, fits := c.t.hands(ch.Hands, ch.Seconds-rest); fits {
			v.Grade = why.Work
			v.Reasons = append(v.Reasons, ruleTwo.Because(why.Work, have, wanted, why.Seconds("two", takes+rest)))
			break
		}
		v.Grade = why.No
		v.Reasons = append(v.Reasons, ruleShort.Because(why.No, have, wanted, why.Seconds("short", ch.Wanted.Lo-ch.Seconds)))
	case ch.Seconds < ch.Wanted.Hi:
		v.Grade = why.Work
		v.Reasons = append(v.Reasons, ruleHelp.Because(why.Work, have, wanted, why.Seconds("alone", ch.Wanted.Hi)))
	default:
		v.Grade = why.Yes
		v.Reasons = append(v.Reasons, ruleEnough.Because(why.Yes, have, why.Seconds("wanted", ch.Wanted.Hi)))
	}
	if ch.Seconds < Fast {
		v.Reasons = append(v.Reasons, ruleFast.Because(why.Work, have))
	}
	if ch.Seconds < Rehearse && ch.FirstTry > 0 {
		v.Reasons = append(v.Reasons, ruleRehearse.Because(why.Work, why.Seconds("first", ch.FirstTry)))
	}
	if !known(ch.FromSide) || !known(ch.ToSide) {
		v.Reasons = append(v.Reasons, ruleSides.Because(why.Unknown, why.Seconds("more", walkHi-walkLo)))
	}
	for _, stop := range c.stops {
		if ch.Leaves <= stop[0] && stop[1] <= ch.Enters {
			v.Reasons = append(v.Reasons, ruleInterval.Because(why.Yes))
		}
	}
	v.Reasons = append(append([]why.Reason{}, v.Reasons[first:]...), v.Reasons[:first]...) // the judgement first
}

func (c *clock) inView(ch *answer.Change) {
	v := &ch.Verdict
	v.Grade = why.Work
	if ch.Hands > ch.Seconds {
		v.Grade = why.No
	}
	say := []why.Reason{ruleView.Because(v.Grade, why.Seconds("have", ch.Seconds), why.Seconds("wanted", ch.Hands))}
	if len(ch.On) == 0 && len(ch.Off) > 0 {
		say = append(say, ruleOnePull.Because(why.Yes))
	}
	v.Reasons = append(say, v.Reasons...)
}

// steps says what makes a change longer than its closures, and gives the
// seconds it would cost to take off and on again what stays and lies over.
func (c *clock) steps(ch *answer.Change) int {
	v := &ch.Verdict
	if c.young(ch.Performer) && ch.Hands > 0 {
		v.Reasons = append(v.Reasons, ruleYoung.Because(why.Work, why.Of("share", c.t.young)))
	}
	if c.dark(ch) && ch.Hands > 0 {
		v.Reasons = append(v.Reasons, ruleDark.Because(why.Work, why.Of("share", c.t.dark)))
	}
	for _, s := range ch.Steps {
		rule := ruleHair
		if s.Do == "microphone" {
			rule = ruleMic
		}
		if s.Do == "hair" || s.Do == "microphone" {
			v.Reasons = append(v.Reasons, rule.Because(why.Work, why.Of("way", s.By), why.Seconds("s", s.Seconds)))
		}
	}
	if len(ch.Stays) > 0 {
		v.Reasons = append(v.Reasons, ruleKeep.Because(why.Yes, why.Of("n", len(ch.Stays))))
	}
	return c.liesOver(ch)
}

func (c *clock) liesOver(ch *answer.Change) int {
	sum := 0
	for _, id := range ch.Stays {
		over := c.piece[id]
		for _, s := range ch.Steps {
			if p := c.piece[s.Piece]; p != nil && p.Layer < over.Layer && zones(p)&zones(over) != 0 {
				f := c.of(over)
				sum += f.off + f.on
				ch.Verdict.Reasons = append(ch.Verdict.Reasons, ruleOver.Because(why.Unknown, why.Of("piece", over.Name), why.Seconds("s", f.off+f.on)))
				break
			}
		}
	}
	return sum
}
