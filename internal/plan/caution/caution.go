// Package caution lists what could hurt or upset somebody, one line for each
// thing that must change or be decided before it is worn: the measured fact,
// the rule and where it holds, one suggestion, and who decides. It certifies
// nothing.
package caution

import (
	"fmt"
	"strings"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

var (
	cords    = why.Basis{Key: "cords", Kind: why.Standard, Title: "16 CFR 1120.3 and EN 14682 on cords of children's outerwear; EN 14682 leaves out theatrical costumes, good practice all the same"}
	nickel   = why.Basis{Key: "nickel", Kind: why.Standard, Title: "EU REACH annex XVII entry 27 on nickel in garments"}
	latex    = why.Basis{Key: "latex", Kind: why.Handbook, Title: "public health advice on natural rubber in clothing"}
	hems     = why.Basis{Key: "hems-dance", Kind: why.Handbook, Title: "dancers' advice on hems, 2 to 3 inches clear"}
	lice     = why.Basis{Key: "lice", Kind: why.Handbook, Title: "public health advice on head lice: hats are not shared"}
	chaperon = why.Basis{Key: "chaperones", Kind: why.Handbook, Title: "council guidance in England: twelve children to a chaperone, who does nothing else; other places differ"}

	ruleNeckCord  = why.Declare("caution.cord-neck", "{what} has a cord or hood at the neck, and its youngest wearer is {age}. Outerwear rules allow no free cord there.", cords)
	ruleWaistCord = why.Declare("caution.cord-waist", "{n} pieces tie at the waist on wearers under 14. Outerwear rules allow {most} of free end.", cords)
	ruleMetal     = why.Declare("caution.metal", "{what} closes with {closure}, and a wearer wants no bare metal inside.", nickel)
	ruleRubber    = why.Declare("caution.rubber", "{what} closes with {closure}, and a wearer wants no rubber elastic on the skin.", latex)
	ruleWool      = why.Declare("caution.wool", "{what} comes from {source}, {fibre}, and a wearer wants no wool on the skin.", why.Common)
	ruleCover     = why.Declare("caution.cover", "{what}: a wearer wants arms and hair covered.", why.Common)
	ruleHemDance  = why.Declare("caution.hem-dance", "{what} hangs {clear} above the floor in a dance; {least} and more is asked.", hems)
	ruleHemStairs = why.Declare("caution.hem-stairs", "{what} hangs {clear} above the floor on stairs; {least} and more at the front is asked.", why.House)
	ruleHead      = why.Declare("caution.head", "{what} goes on {n} heads.", lice)
	ruleFew       = why.Declare("caution.chaperones", "For {n} on stage {want} chaperones are wanted; {have} are on the list.", chaperon)
	ruleTwice     = why.Declare("caution.chaperone-dresser", "{who} is down as chaperone and as dresser.", chaperon)
	ruleWrong     = why.Declare("caution.check", "The cautions do not hold: {what}.", why.Exact)
)

// Clearances above the floor: least for a dance (5 to 8 cm advised), least on
// stairs (6 to 8, a house estimate).
const (
	danceClear  = 5 * units.Centimetre
	stairsClear = 6 * units.Centimetre
	freeEnd     = 75 * units.Millimetre
	perChaperon = 12
)

const (
	safety   = "the person in charge of safety"
	guardian = "the guardian"
	lead     = "you"
)

// List lists the cautions of the show under a plan.
func List(h *show.House, plan answer.Plan) []answer.Caution {
	l := &lister{h: h, chosen: map[show.PieceID]answer.Option{}}
	for _, c := range plan.Choices {
		l.chosen[c.Piece] = c.Option
	}
	l.cords()
	l.wishes()
	l.hems()
	l.heads()
	l.chaperones()
	for i := range l.out {
		for k := range h.Decisions {
			if h.Decisions[k].Caution == l.out[i].Key {
				l.out[i].Decided = &h.Decisions[k]
			}
		}
	}
	return l.out
}

type lister struct {
	h      *show.House
	chosen map[show.PieceID]answer.Option
	out    []answer.Caution
}

func (l *lister) say(key string, about []why.Ref, r why.Reason, suggest, decides string) {
	l.out = append(l.out, answer.Caution{Key: key, About: about, Reason: r, Suggest: suggest, Decides: decides})
}

func ref(p *show.Piece) why.Ref { return why.Ref{Kind: "piece", Code: string(p.ID)} }

func name(p *show.Piece) why.Fact { return why.Of("what", fmt.Sprintf("%s %s", p.ID, p.Name)) }

// youngest is the age of a piece's youngest wearer.
func (l *lister) youngest(p *show.Piece) (int, bool) {
	age, known := 0, false
	for _, id := range l.h.Wearers(p) {
		if who := l.h.Performer(id); who != nil && who.Age.Known && (!known || who.Age.V < age) {
			age, known = who.Age.V, true
		}
	}
	return age, known
}

func (l *lister) cords() {
	var waist []why.Ref
	for i := range l.h.Pieces {
		p := &l.h.Pieces[i]
		age, known := l.youngest(p)
		closure := strings.ToLower(p.Closure)
		upper := p.Category == show.Jacket || p.Fit == "neck"
		switch {
		case upper && (strings.Contains(closure, "cord") || strings.Contains(closure, "tie") || strings.Contains(p.Name, "hood")):
			if !known || age <= 14 || strings.Contains(closure, "cord") || strings.Contains(p.Name, "hood") {
				fact := why.Of("age", "not known")
				if known {
					fact = why.Of("age", age)
				}
				l.say("cord-neck "+string(p.ID), []why.Ref{ref(p)}, ruleNeckCord.Because(why.Work, name(p), fact),
					"A snap that pulls open, no free end.", safety)
			}
		case strings.HasPrefix(closure, "tie") && known && age < 14:
			waist = append(waist, ref(p))
		}
	}
	if len(waist) > 0 {
		l.say("cord-waist", waist, ruleWaistCord.Because(why.Work, why.Of("n", len(waist)), why.Of("most", freeEnd)),
			"Tuck the ends in, or sew them down; elastic for the youngest.", safety)
	}
}

// wish is a rule on pieces as families word it: all of the words must occur.
type wish struct {
	words []string
	check func(l *lister, p *show.Piece) (why.Reason, string, bool)
}

var wishes = []wish{
	{[]string{"metal"}, func(l *lister, p *show.Piece) (why.Reason, string, bool) {
		return ruleMetal.Because(why.Work, name(p), why.Of("closure", p.Closure)), "Back it with cloth, or use plastic or covered ones.",
			p.Layer <= 3 && anyWord(p.Closure, "zip", "hook", "snap", "button", "fly")
	}},
	{[]string{"rubber"}, func(l *lister, p *show.Piece) (why.Reason, string, bool) {
		return ruleRubber.Because(why.Work, name(p), why.Of("closure", p.Closure)), "Rubber-free elastic, or a tie.",
			p.Layer <= 3 && anyWord(p.Closure, "elastic")
	}},
	{[]string{"wool"}, func(l *lister, p *show.Piece) (why.Reason, string, bool) {
		src, fibre := l.fibreOf(p.ID)
		return ruleWool.Because(why.Work, name(p), why.Of("source", src), why.Of("fibre", fibre)), "Line it where it touches, or take another.",
			p.Layer <= 4 && strings.Contains(fibre, "wool")
	}},
	{[]string{"arms", "hair"}, func(l *lister, p *show.Piece) (why.Reason, string, bool) {
		return ruleCover.Because(why.Work, name(p)), "Sleeves to the wrist; ask what goes over the hair.",
			p.Layer == 3 && (p.Category == show.Shirt || p.Category == show.Dress)
	}},
}

func (l *lister) wishes() {
	seen := map[string]bool{}
	for i := range l.h.Pieces {
		p := &l.h.Pieces[i]
		for _, id := range l.h.Wearers(p) {
			who := l.h.Performer(id)
			if who == nil {
				continue
			}
			care := strings.ToLower(strings.Join(who.Care, "; "))
			for k, w := range wishes {
				key := fmt.Sprintf("wish-%d %s", k, p.ID)
				if !anyAll(care, w.words) || seen[key] {
					continue
				}
				if r, suggest, hit := w.check(l, p); hit {
					seen[key] = true
					l.say(key, []why.Ref{ref(p)}, r, suggest, guardian)
				}
			}
		}
	}
}

// fibreOf is what the plan makes a piece of.
func (l *lister) fibreOf(id show.PieceID) (why.Ref, string) {
	o := l.chosen[id]
	if g := l.h.Garment(o.Garment); o.Garment != "" && g != nil {
		return why.Ref{Kind: "garment", Code: string(g.ID)}, strings.ToLower(g.Fibre)
	}
	if c := l.h.Cloth(o.Cloth); o.Cloth != "" && c != nil {
		return why.Ref{Kind: "cloth", Code: string(c.ID)}, strings.ToLower(c.Fibre)
	}
	return why.Ref{Kind: "cloth", Code: "not chosen"}, ""
}

func (l *lister) hems() {
	moves := map[show.LookID]map[string]bool{}
	for _, a := range l.h.Appearances {
		if s := l.h.Scene(a.Scene); s != nil {
			if moves[a.Look] == nil {
				moves[a.Look] = map[string]bool{}
			}
			for _, m := range s.Movement {
				moves[a.Look][m] = true
			}
		}
	}
	for i := range l.h.Pieces {
		p := &l.h.Pieces[i]
		if !p.HemClear.Known || p.LengthTo != "floor" {
			continue
		}
		dance, stairs := false, false
		for _, look := range p.Looks {
			dance, stairs = dance || moves[look]["dance"], stairs || moves[look]["stairs"]
		}
		clear := why.Of("clear", p.HemClear.V)
		switch {
		case stairs && p.HemClear.V < stairsClear:
			l.say("hem-stairs "+string(p.ID), []why.Ref{ref(p)}, ruleHemStairs.Because(why.Work, name(p), clear, why.Of("least", stairsClear)),
				"Hem it higher at the front, or give it a loop to lift it by.", safety)
		case dance && p.HemClear.V < danceClear:
			l.say("hem-dance "+string(p.ID), []why.Ref{ref(p)}, ruleHemDance.Because(why.Work, name(p), clear, why.Of("least", danceClear)),
				"Hem it higher, and dance it in rehearsal first.", safety)
		}
	}
}

func (l *lister) heads() {
	onHead := map[show.PieceID]bool{}
	for _, hw := range l.h.Headwear {
		for _, id := range hw.Pieces {
			onHead[id] = true
		}
	}
	for i := range l.h.Pieces {
		p := &l.h.Pieces[i]
		if n := len(l.h.Wearers(p)); n > 1 && (onHead[p.ID] || p.Fit == "head") {
			l.say("head "+string(p.ID), []why.Ref{ref(p)}, ruleHead.Because(why.Work, name(p), why.Of("n", n)),
				"A lining or cap of one's own for each head, or a second one.", lead)
		}
	}
}

func (l *lister) chaperones() {
	n, have := len(l.h.Performers), 0
	for _, p := range l.h.Helpers {
		if !p.Chaperone {
			continue
		}
		have++
		if p.Dresser {
			l.say("chaperone-dresser "+string(p.ID), []why.Ref{{Kind: "helper", Code: string(p.ID)}},
				ruleTwice.Because(why.Work, why.Of("who", p.Name)), "Find another dresser, or another chaperone.", "the licensing authority, or the school")
		}
	}
	if want := (n + perChaperon - 1) / perChaperon; n > 0 && have < want {
		l.say("chaperones", nil, ruleFew.Because(why.Work, why.Of("n", n), why.Of("want", want), why.Of("have", have)),
			"Ask among the families now; write down who was asked.", "the licensing authority, or the school")
	}
}

// Check looks at every caution again from the rows alone: that its piece
// exists, and that nothing that asks for a wish to be kept was forgotten.
func Check(h *show.House, cs []answer.Caution) []why.Reason {
	var bad []why.Reason
	wrong := func(what string) { bad = append(bad, ruleWrong.Because(why.No, why.Of("what", what))) }
	keys := map[string]bool{}
	for _, c := range cs {
		if keys[c.Key] {
			wrong(c.Key + " twice")
		}
		keys[c.Key] = true
		if c.Suggest == "" || c.Decides == "" {
			wrong(c.Key + " says not what to do or who decides")
		}
		for _, r := range c.About {
			if r.Kind == "piece" && h.Piece(show.PieceID(r.Code)) == nil {
				wrong(c.Key + " is about nothing")
			}
		}
	}
	for _, p := range h.Pieces {
		if p.HemClear.Known && p.LengthTo == "floor" && p.HemClear.V < stairsClear && onStairs(h, p) && !keys["hem-stairs "+string(p.ID)] {
			wrong("the hem of " + string(p.ID) + " on stairs is forgotten")
		}
	}
	return bad
}

func anyWord(s string, words ...string) bool {
	for _, w := range words {
		if strings.Contains(strings.ToLower(s), w) {
			return true
		}
	}
	return false
}

func anyAll(s string, words []string) bool {
	for _, w := range words {
		if !strings.Contains(s, w) {
			return false
		}
	}
	return true
}

// onStairs says whether a piece is worn in a scene with stairs.
func onStairs(h *show.House, p show.Piece) bool {
	for _, a := range h.Appearances {
		for _, l := range p.Looks {
			s := h.Scene(a.Scene)
			if a.Look == l && s != nil && anyWord(strings.Join(s.Movement, " "), "stairs") {
				return true
			}
		}
	}
	return false
}
