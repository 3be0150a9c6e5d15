package running

import (
	"fmt"
	"time"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

var ruleWrong = why.Declare("running.check", "The timeline does not hold: {what}.", why.Exact)

// Check goes through the show second by second, knowing nothing of how the
// timeline was made, and lists what does not agree with it.
func Check(h *show.House, t answer.Timeline) []why.Reason {
	var bad []why.Reason
	say := func(format string, args ...any) {
		bad = append(bad, ruleWrong.Because(why.No, why.Of("what", fmt.Sprintf(format, args...))))
	}
	second, at := 0, map[show.SceneID]int{}
	for i, s := range h.Scenes {
		at[s.ID] = second
		second += int(s.Running / time.Second)
		if i+1 < len(h.Scenes) {
			second += int((s.GapAfter + s.Interval) / time.Second)
		}
	}
	if int(t.End/time.Second) != second {
		say("it ends at %d s, the scenes at %d s", int(t.End/time.Second), second)
	}
	worn := map[show.PerformerID][]show.LookID{}
	for _, a := range h.Appearances {
		who := h.PlayedBy(a.Role, t.Cast)
		if who == "" {
			continue
		}
		if worn[who] == nil {
			worn[who] = make([]show.LookID, second+1)
		}
		if _, there := at[a.Scene]; !there {
			continue
		}
		for s := at[a.Scene] + int(a.Enter/time.Second); s < at[a.Scene]+int(a.Exit/time.Second); s++ {
			for s >= len(worn[who]) { // on after the end of the show
				worn[who] = append(worn[who], "")
			}
			worn[who][max(0, s)] = a.Look
		}
	}
	found := map[string]int{}
	for who, seconds := range worn {
		last, since := show.LookID(""), 0
		for s, look := range seconds {
			if look == "" {
				continue
			}
			if last != "" && look != last {
				found[fmt.Sprintf("%s %s %s at %d for %d", who, last, look, s, s-since)]++
			}
			last, since = look, s+1
		}
	}
	for _, c := range t.Changes {
		found[fmt.Sprintf("%s %s %s at %d for %d", c.Performer, c.FromLook, c.ToLook, int(c.Enters/time.Second), c.Seconds)]--
	}
	for what, n := range found {
		if n != 0 && len(t.Clashes) == 0 {
			say("%s, %d too few", what, n)
		}
	}
	return append(bad, checkHelp(h, t)...)
}
