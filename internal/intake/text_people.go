package intake

import (
	"fmt"
	"regexp"
	"strings"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

var (
	// ageAfter is a name with an age: "Amara (16)", "Mateusz Lindqvist 15",
	// "Birdie, 8".
	ageAfter  = regexp.MustCompile(`^(.*?)[ ,]*\(?\b(\d{1,2})\)?$`)
	sizeAfter = regexp.MustCompile(`(?i)^(.*?)[ ,]*\bsize ([0-9A-Za-z/-]+)$`)
	ageList   = regexp.MustCompile(`^(\d{1,2})(?: *(?:and|to|or|-|–) *(\d{1,2}))?(?: years?(?: old)?)?: *(.+)$`)
	nameWord  = regexp.MustCompile(`^(?:\p{Lu}[\p{L}’'.-]*|de|del|da|di|du|van|von|der|den|la|le|el|al|bin|af|y)$`)
	sides     = regexp.MustCompile(`\s+[-–—=]\s+|:\s+|\t+|\s+(?:as|plays)\s+`)
)

// isName says whether a text may be somebody's name: one to four words, each
// with a capital or one of the little words of names.
func isName(s string) bool {
	words := strings.Fields(s)
	if len(words) == 0 || len(words) > 4 {
		return false
	}
	for _, w := range words {
		if !nameWord.MatchString(w) {
			return false
		}
	}
	first := []rune(words[0])
	return strings.ToUpper(string(first[0])) == string(first[0])
}

// names splits "Birdie, Tomasz and Elif" into names; nil where one of them is
// none.
func names(s string) []string {
	s = strings.NewReplacer(" and ", ", ", " & ", ", ", ";", ",", "…", "").Replace(strings.TrimSuffix(s, "."))
	var out []string
	for _, n := range strings.Split(s, ",") {
		if n = strings.TrimSpace(n); n == "" {
			continue
		}
		if !isName(n) {
			return nil
		}
		out = append(out, n)
	}
	return out
}

// who finds a performer by a full name, or by a first name only one has.
// several says that more than one has it.
func (r *jotting) who(name string) (p *show.Performer, several bool) {
	want := fold(name)
	for i := range r.h.Performers {
		q := &r.h.Performers[i]
		have := fold(q.Name)
		if have == want {
			return q, false
		}
		if strings.HasPrefix(have, want+" ") || strings.HasPrefix(want, have+" ") {
			several = p != nil
			p = q
		}
	}
	if several {
		return nil, true
	}
	return p, false
}

// performer finds or adds a performer; a longer name replaces a shorter one.
func (r *jotting) performer(name string) (p *show.Performer, isNew bool) {
	p, several := r.who(name)
	if p == nil || several {
		id := next("P", 2, func(c string) bool { return r.h.Performer(show.PerformerID(c)) != nil })
		r.h.Performers = append(r.h.Performers, show.Performer{ID: show.PerformerID(id), Name: name})
		return &r.h.Performers[len(r.h.Performers)-1], true
	}
	if len(name) > len(p.Name) {
		p.Name = name
	}
	return p, false
}

// role finds or adds a role by its name, by its beginning before a comma, or
// by its performer and group.
func (r *jotting) role(name string) (*show.Role, bool) {
	if x := r.roleNamed(name); x != nil {
		return x, false
	}
	id := next("R", 2, func(c string) bool { return r.h.Role(show.RoleID(c)) != nil })
	r.h.Roles = append(r.h.Roles, show.Role{ID: show.RoleID(id), Name: name})
	return &r.h.Roles[len(r.h.Roles)-1], true
}

func (r *jotting) roleNamed(name string) *show.Role {
	want := fold(name)
	for i := range r.h.Roles {
		if fold(r.h.Roles[i].Name) == want {
			return &r.h.Roles[i]
		}
	}
	short, _, _ := strings.Cut(want, ",")
	for i := range r.h.Roles {
		if have, _, _ := strings.Cut(fold(r.h.Roles[i].Name), ","); have == short {
			return &r.h.Roles[i]
		}
	}
	return nil
}

// described is a name with what stands behind it.
type described struct {
	name, size string
	age        int
}

func describe(s string) described {
	d := described{name: strings.TrimSpace(s)}
	if m := sizeAfter.FindStringSubmatch(d.name); m != nil {
		d.name, d.size = strings.TrimSpace(m[1]), m[2]
	}
	if m := ageAfter.FindStringSubmatch(d.name); m != nil {
		d.name = strings.TrimSpace(m[1])
		fmt.Sscan(m[2], &d.age)
	}
	return d
}

// give writes what stood behind a name.
func (d described) give(p *show.Performer) string {
	says := p.Name
	if d.age > 0 {
		p.Age = units.Some(d.age)
		says += fmt.Sprintf(" (%d)", d.age)
	}
	if d.size != "" {
		p.LabelSize = d.size
		says += ", wears size " + d.size
	}
	return says
}

// person takes "Amara Delacroix (16): Ottilie", "Ottilie: Amara (16)",
// "Birdie (8) size 122" and a bare name under a heading about people.
func (r *jotting) person(n int, text string) bool {
	at := sides.FindStringIndex(text)
	if at == nil {
		d := describe(text)
		known, _ := r.who(d.name)
		if !isName(d.name) || d.age == 0 && d.size == "" && known == nil && r.topic != "people" {
			return false
		}
		p, isNew := r.performer(d.name)
		says := d.give(p)
		if isNew {
			says += ", a new performer"
		}
		r.take(n, text, "%s.", says)
		return true
	}
	left, right := describe(text[:at[0]]), describe(text[at[1]:])
	known, _ := r.who(right.name)
	if isName(right.name) && left.age == 0 && (right.age > 0 || known != nil && r.roleNamed(left.name) != nil) {
		left, right = right, left // the role came first
	}
	if !isName(left.name) || right.name == "" {
		return false
	}
	if !startsBig(strings.TrimPrefix(right.name, "the ")) {
		return false // "Thu: ring about the hems" is no casting
	}
	p, _ := r.performer(left.name)
	if left.size == "" {
		left.size = right.size
	}
	says := left.give(p)
	var playing []string
	for _, name := range strings.FieldsFunc(right.name, func(c rune) bool { return c == '/' || c == ';' || c == '+' }) {
		x, _ := r.role(strings.TrimSpace(name))
		if x.Performer != "" && x.Performer != p.ID {
			r.keep(n, text, fmt.Sprintf("%s is given to somebody else already. Who plays it?", x.Name))
			return true
		}
		x.Performer = p.ID
		playing = append(playing, x.Name)
	}
	r.take(n, text, "%s plays %s.", says, strings.Join(playing, "; "))
	return true
}

func startsBig(s string) bool {
	first := string([]rune(s)[:1])
	return strings.ToUpper(first) == first && strings.ToLower(first) != first
}

// singular takes one out of a group's name: "Net-menders" gives "Net-mender".
func singular(group string) string {
	for many, one := range map[string]string{"children": "child", "women": "woman", "men": "man", "people": "person", "wives": "wife", "mice": "mouse"} {
		if rest, ok := strings.CutSuffix(group, many); ok {
			return rest + one
		}
	}
	if rest, ok := strings.CutSuffix(group, "ies"); ok {
		return rest + "y"
	}
	if strings.HasSuffix(group, "ss") {
		return group
	}
	return strings.TrimSuffix(group, "s")
}

// group takes "Waves: Freya, Adaeze, Lucio": one role for each of them, since
// each wants clothes.
func (r *jotting) group(n int, text string) bool {
	name, list, ok := strings.Cut(text, ":")
	who := names(list)
	if p, _ := r.who(name); !ok || len(who) == 0 || p != nil || strings.ContainsAny(name, "0123456789(,") || r.roleNamed(name) != nil {
		return false
	}
	if len(who) == 1 && !strings.HasSuffix(name, "s") {
		return false
	}
	group := strings.TrimSpace(name)
	fresh, people, unclear := 0, 0, []string{}
	for _, w := range who {
		if _, several := r.who(w); several {
			unclear = append(unclear, w)
			continue
		}
		p, isNew := r.performer(w)
		if isNew {
			people++
		}
		if !r.inGroup(p.ID, group) {
			r.addToGroup(p.ID, group)
			fresh++
		}
	}
	says := fmt.Sprintf("The group %s: %d people", group, len(who)-len(unclear))
	if fresh == 0 {
		says += ", all in it already"
	}
	if people > 0 {
		says += fmt.Sprintf(", %d new to the show", people)
	}
	r.take(n, text, "%s.", says)
	if len(unclear) > 0 {
		r.open(fmt.Sprintf("More than one is called %s. Which?", strings.Join(unclear, ", ")))
	}
	return true
}

func (r *jotting) inGroup(p show.PerformerID, group string) bool {
	for _, x := range r.h.Roles {
		if x.Performer == p && fold(x.Group) == fold(group) {
			return true
		}
	}
	return false
}

func (r *jotting) addToGroup(p show.PerformerID, group string) {
	one := singular(group)
	name := next(one+" ", 1, func(c string) bool { return r.roleNamed(c) != nil })
	x, _ := r.role(name)
	x.Performer, x.Group, x.Kind = p, group, "ensemble"
}

// ages takes "8: Birdie Nakamura, Tomasz Ajayi" and "11 and 12: …"; two ages
// for several people say which names they have, and stay open.
func (r *jotting) ages(n int, text string) bool {
	m := ageList.FindStringSubmatch(text)
	if m == nil {
		return false
	}
	who := names(m[3])
	if len(who) == 0 {
		return false
	}
	var age int
	fmt.Sscan(m[1], &age)
	for _, w := range who {
		p, _ := r.performer(w)
		if m[2] == "" {
			p.Age = units.Some(age)
		}
	}
	if m[2] == "" {
		r.take(n, text, "%d people of %d.", len(who), age)
		return true
	}
	r.take(n, text, "%d people of %s or %s.", len(who), m[1], m[2])
	r.open("Which of them is how old?")
	return true
}

var (
	homeLine  = regexp.MustCompile(`(?i)^(.+?)[ :,-]+(?:was )?measured at home[ :-]*(.*)$`)
	nightLine = regexp.MustCompile(`(?i)^(?:nb\s+)?(.+?) plays (?:the )?(.+?) (?:every second night|every other night|in cast b|on the other nights)\b(.*)$`)
	anySize   = regexp.MustCompile(`(?i)\bsize (\d{2,3})\b`)
)

// answers are what families answer about measuring, as a line may say it.
var answers = []struct{ words, consent string }{
	{"not measure", "no measuring"}, {"no measuring", "no measuring"}, {"no answer", "not answered"}, {"not answered", "not answered"}, {"slip not back", "not answered"},
}

// answer takes what a family said about measuring: "Wren: please do not
// measure", "Clement - no answer yet", "Pilar measured at home: 149,9 / 78 /
// 70,5 / 85" in the order of the tape.
func (r *jotting) answer(n int, text string) bool {
	if m := homeLine.FindStringSubmatch(text); m != nil {
		return r.homeMeasured(n, m[1], m[2])
	}
	low := strings.ToLower(text)
	for _, a := range answers {
		i := strings.Index(low, a.words)
		if i < 0 {
			continue
		}
		first := strings.Fields(text)[0]
		p, several := r.who(strings.Trim(first, ":,-"))
		if p == nil || several {
			return false
		}
		p.Consent = a.consent
		says := p.Name + ": " + a.consent
		if a.consent == "no measuring" {
			says += "; loose, elastic and tied things"
		}
		if m := anySize.FindStringSubmatch(text); m != nil {
			p.LabelSize = m[1]
			says += "; wears size " + m[1]
		}
		r.take(n, text, "%s.", says)
		return true
	}
	return false
}

// homeOrder is the order of the tape in a line of numbers.
var homeOrder = []body.Kind{body.Height, body.Chest, body.Waist, body.Hip}

func (r *jotting) homeMeasured(n int, name, numbers string) bool {
	p, several := r.who(name)
	if p == nil || several {
		return false
	}
	p.Consent = "home measured"
	parts := strings.Split(numbers, "/")
	taken := 0
	for i, s := range parts {
		l, err := units.ParseLength(strings.TrimSpace(s), r.h.Units.One())
		if err != nil || i >= len(homeOrder) {
			continue
		}
		if lo, hi := body.Limits(homeOrder[i]); l < lo || l > hi {
			continue
		}
		p.Body[homeOrder[i]] = body.Measure{Span: units.Exactly(l), Origin: body.Said, Day: r.day, Who: "the family"}
		taken++
	}
	r.take(n, "", "%s was measured at home: %d numbers, in the order height, chest, waist, hip.", p.Name, taken) // the numbers are not repeated
	if taken < len(parts) && numbers != "" {
		r.open("Not every number could be read as one of these. Look at the page of measures.")
	}
	return true
}

// nights takes "Elif plays the Bell-Child every second night": cast B.
func (r *jotting) nights(n int, text string) bool {
	m := nightLine.FindStringSubmatch(text)
	if m == nil {
		return false
	}
	p, several := r.who(m[1])
	x := r.roleNamed(m[2])
	if x == nil {
		x = r.roleNamed("The " + m[2])
	}
	switch {
	case p == nil || several:
		r.keep(n, text, fmt.Sprintf("Who is %s?", m[1])) // a later line may say
		return true
	case x == nil:
		r.keep(n, text, fmt.Sprintf("Which part is %s?", m[2]))
		return true
	}
	for _, c := range r.h.Casting {
		if c.Role == x.ID && c.Cast == "B" && c.Performer == p.ID {
			r.take(n, text, "%s plays %s in cast B, noted already.", p.Name, x.Name)
			return true
		}
	}
	r.h.Casting = append(append([]show.Casting(nil), r.h.Casting...), show.Casting{Role: x.ID, Cast: "B", Performer: p.ID})
	r.take(n, text, "%s plays %s in cast B.", p.Name, x.Name)
	if strings.TrimSpace(strings.Trim(m[3], ",. ")) != "" {
		r.open("And the rest of the line: who takes whose part then?")
	}
	return true
}

// cares are the rules on pieces a line about somebody may give; no reason is
// kept.
var cares = []struct{ word, rule string }{
	{"no wool on skin", "no wool on skin: line it"}, {"no wool", "no wool on skin: line it"},
	{"no bare metal", "no bare metal inside"}, {"nickel", "no bare metal inside"},
	{"no rubber elastic", "no rubber elastic on skin"}, {"latex", "no rubber elastic on skin"},
	{"arms and hair covered", "arms and hair covered"}, {"closes at the front", "closes at the front"}, {"own room", "a room of one's own"},
}

// care takes "Saoirse no wool on skin. Nadia + Ruben no bare metal inside".
func (r *jotting) care(n int, text string) bool {
	type found struct {
		who  []string
		rule string
	}
	var all []found
	for _, part := range strings.Split(text, ". ") {
		var rules []string
		from := len(part)
		for _, c := range cares {
			if i := indexFold(part, c.word); i > 0 && !contains(rules, c.rule) {
				rules, from = append(rules, c.rule), min(from, i)
			}
		}
		who := names(strings.NewReplacer(" + ", ", ", ":", "").Replace(strings.TrimSpace(part[:from])))
		if len(rules) == 0 || len(who) == 0 {
			return false
		}
		for _, rule := range rules {
			all = append(all, found{who, rule})
		}
	}
	for _, f := range all {
		for _, w := range f.who {
			if p, several := r.who(w); p == nil || several {
				r.keep(n, text, fmt.Sprintf("Who is %s?", w))
				return true
			}
		}
	}
	var says []string
	for _, f := range all {
		for _, w := range f.who {
			p, _ := r.who(w)
			if !contains(p.Care, f.rule) {
				p.Care = append(append([]string(nil), p.Care...), f.rule)
			}
			says = append(says, p.Name+": "+f.rule)
		}
	}
	r.take(n, text, "%s.", strings.Join(says, "; "))
	return true
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
