package intake

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// garmentWords are the words that name a garment, with its kind. "long" says
// where a garment of that word is measured from.
var garmentWords = map[string]struct {
	kind show.Category
	from string
}{
	"dress": {show.Dress, "nape"}, "gown": {show.Dress, "nape"}, "frock": {show.Dress, "nape"}, "robe": {show.Dress, "nape"},
	"nightgown": {show.Dress, "nape"}, "nightdress": {show.Dress, "nape"}, "smock": {show.Dress, "nape"}, "tunic": {show.Dress, "nape"},
	"bridesmaid": {show.Dress, "nape"}, "pinafore": {show.Dress, "nape"}, "kaftan": {show.Dress, "nape"},
	"skirt": {show.Skirt, "waist"}, "overskirt": {show.Skirt, "waist"}, "kilt": {show.Skirt, "waist"},
	"shirt": {show.Shirt, "nape"}, "blouse": {show.Shirt, "nape"}, "top": {show.Shirt, "nape"}, "jumper": {show.Shirt, "nape"}, "pullover": {show.Shirt, "nape"},
	"trousers": {show.Trousers, "waist"}, "breeches": {show.Trousers, "waist"}, "shorts": {show.Trousers, "waist"}, "leggings": {show.Trousers, "waist"}, "jeans": {show.Trousers, "waist"},
	"waistcoat": {show.Bodice, "nape"}, "bodice": {show.Bodice, "nape"}, "vest": {show.Bodice, "nape"},
	"petticoat": {show.Under, "waist"}, "stays": {show.Under, "nape"}, "roll": {show.Under, ""}, "slip": {show.Under, "nape"}, "corset": {show.Under, "nape"}, "hoop": {show.Under, "waist"},
	"jacket": {show.Jacket, "nape"}, "coat": {show.Jacket, "nape"}, "blazer": {show.Jacket, "nape"}, "cardigan": {show.Jacket, "nape"},
	"cloak": {show.Jacket, "nape"}, "cape": {show.Jacket, "nape"}, "shawl": {show.Accessory, ""}, "apron": {show.Accessory, "waist"},
	"hat": {show.Accessory, ""}, "cap": {show.Accessory, ""}, "bonnet": {show.Accessory, ""}, "belt": {show.Accessory, ""}, "scarf": {show.Accessory, ""},
}

// closings are how a garment closes, the longer words first.
var closings = []string{
	"back zip", "side zip", "front zip", "back buttons", "front buttons", "side buttons", "back lacing", "front lacing", "half placket",
	"elastic waist", "elastic neck", "elastic", "side hooks", "front hooks", "back hooks", "fly front", "open front", "tie waist", "wrap", "snap",
	"zip", "buttons", "lacing", "hooks", "over head",
}

var (
	placeAfter = regexp.MustCompile(`(?i)\b(?:rail|box|shelf|tub) ([A-Za-z]?\d{1,3})\b`)
	number     = regexp.MustCompile(`\b\d{1,3}(?:[.,]\d)?(?: ?1/[248])?\b`)
	byWidth    = regexp.MustCompile(`(\d{1,4}(?:[.,]\d+)?)\s*[x×]\s*(\d{1,4}(?:[.,]\d+)?)`)
	priceAfter = regexp.MustCompile(`(?:,\s*|\s+(?:at|for)\s+)(?:€|£|\$)?\s*(\d{1,3}(?:[.,]\d{1,2})?)\s*(?:€|£|\$|eur|euros?)?$`)
)

// jotted is a garment as a line gives it.
type jotted struct {
	name, colour, closure, place, lined string
	kind                                show.Category
	numbers                             []units.Length // flat, as written
}

// KindOfGarment is the kind a garment's words say it is, and where its length
// is measured from; both empty where no word is known.
func KindOfGarment(words string) (kind, from string) {
	var j jotted
	if !j.named(words) {
		return "", ""
	}
	return string(j.kind), j.from()
}

// jot reads a garment line: words, flat numbers in the order of the tape,
// how it closes, where it hangs. false where no garment is named or no number
// stands in it.
func (r *jotting) jot(text string) (jotted, bool) {
	var j jotted
	rest := text
	if m := placeAfter.FindStringSubmatchIndex(rest); m != nil {
		j.place = rest[m[2]:m[3]]
		rest = rest[:m[0]] + rest[m[1]:]
	}
	at := number.FindAllStringIndex(rest, -1)
	if len(at) == 0 {
		return j, false
	}
	words, after := strings.TrimSpace(rest[:at[0][0]]), strings.ToLower(rest[at[len(at)-1][1]:])
	for _, c := range closings {
		if strings.Contains(after, c) {
			j.closure = c
			break
		}
	}
	if strings.Contains(after, "lined") && !strings.Contains(after, "unlined") {
		j.lined = "yes"
	}
	for _, m := range at {
		l, err := units.ParseLength(rest[m[0]:m[1]], r.h.Units.One())
		if err != nil {
			return j, false
		}
		j.numbers = append(j.numbers, l)
	}
	return j, j.named(words)
}

// named splits "school pinafore dress navy and cream" into name and colour:
// the colour stands behind the last word that names a garment. Of several
// such words the last of the first run says what kind it is.
func (j *jotted) named(words string) bool {
	fields := strings.Fields(strings.TrimRight(words, ",:"))
	kindAt, last := -1, -1
	for i, w := range fields {
		if _, is := garmentWords[strings.Trim(strings.ToLower(w), ",")]; is {
			if kindAt < 0 || kindAt == i-1 {
				kindAt = i
			}
			last = i
		}
	}
	if last < 0 {
		return false
	}
	j.kind = garmentWords[strings.Trim(strings.ToLower(fields[kindAt]), ",")].kind
	j.name = strings.Trim(strings.Join(fields[:last+1], " "), ",")
	j.colour = strings.Trim(strings.Join(fields[last+1:], " "), ",")
	return true
}

// garment puts the flat numbers where the kind has them: girths doubled.
func (j jotted) garment() (show.Garment, string) {
	g := show.Garment{Category: j.kind, Name: j.name, Colour: j.colour, Closure: j.closure, Lined: j.lined, Place: j.place, MayCut: true, Owner: "own"}
	head := j.head()
	g.LengthFrom = garmentWords[head].from
	var says []string
	put := func(where string, at *units.Span, l units.Length, girth bool) {
		if girth {
			l *= 2
		}
		*at = units.Exactly(l)
		says = append(says, where)
	}
	n := j.numbers
	for i, where := range j.places() {
		switch where {
		case "chest":
			put("chest", &g.Chest, n[i], true)
		case "waist":
			put("waist", &g.Waist, n[i], true)
		case "hip":
			put("hip", &g.Hip, n[i], true)
		case "head":
			put("head", &g.Head, n[i], false)
		case "length":
			put("length", &g.Length, n[i], false)
		}
	}
	if j.closure != "" && strings.Contains(j.closure, "elastic") {
		g.Stretch = ""
	}
	return g, strings.Join(says, ", ")
}

// head is the word that says what kind of garment it is.
func (j jotted) head() string {
	word := ""
	for _, w := range strings.Fields(strings.ToLower(j.name)) {
		if x, is := garmentWords[strings.Trim(w, ",")]; is && x.kind == j.kind {
			word = strings.Trim(w, ",")
		}
	}
	return word
}

// places say what each number measures: the order of the tape, less what the
// kind has not. A dress with three numbers gives its waist or its hip in the
// middle, whichever the number can be: a waist is less than the chest.
func (j jotted) places() []string {
	n := len(j.numbers)
	upper := []string{"chest", "waist", "hip", "length"}
	lower := []string{"waist", "hip", "length"}
	order := upper
	switch {
	case j.kind == show.Skirt || j.kind == show.Trousers || j.from() == "waist":
		order = lower
	case j.kind == show.Accessory:
		order = []string{"head", "length"}
	case j.kind == show.Under && j.head() == "roll":
		order = []string{"waist"}
	case n == 3 && (j.kind != show.Dress || j.numbers[1] < j.numbers[0]):
		order = []string{"chest", "waist", "length"}
	case n == 3:
		order = []string{"chest", "hip", "length"}
	}
	if n == 2 && len(order) > 2 {
		order = []string{order[0], "length"}
	}
	return order[:min(n, len(order))]
}

func (j jotted) from() string { return garmentWords[j.head()].from }

// enough says whether the numbers can be placed at all.
func (j jotted) enough() bool { return len(j.numbers) <= len(j.places()) }

// rail takes a garment that hangs on the rail.
func (r *jotting) rail(n int, text string) bool {
	j, ok := r.jot(text)
	if !ok || byWidth.MatchString(text) {
		return false
	}
	if !j.enough() {
		r.keep(n, text, fmt.Sprintf("%d numbers for a %s: which is which?", len(j.numbers), j.head()))
		return true
	}
	g, says := j.garment()
	if old := r.hung(text, g); old != nil {
		r.take(n, text, "%s %s, on the rail already.", old.ID, old.Name)
		return true
	}
	g.ID = show.GarmentID(next("G", 3, func(c string) bool { return r.h.Garment(show.GarmentID(c)) != nil || r.h.Find(show.FindID(c)) != nil }))
	r.h.Garments = append(r.h.Garments, g)
	r.assume("garment", string(g.ID), "may_cut", "ours, and may be cut, until somebody says otherwise")
	r.take(n, text, "%s on the rail, %s: %s.", g.ID, kindWord(g), r.measuresOf(g, says))
	if g.Colour == "" {
		r.open("Which colour?")
	}
	return true
}

func kindWord(g show.Garment) string {
	if g.Colour == "" {
		return g.Name
	}
	return g.Name + ", " + g.Colour
}

// measuresOf says the numbers round the garment, and its length.
func (r *jotting) measuresOf(g show.Garment, order string) string {
	var out []string
	for _, x := range []struct {
		name string
		s    units.Span
	}{{"chest", g.Chest}, {"waist", g.Waist}, {"hip", g.Hip}, {"head", g.Head}, {"length", g.Length}} {
		if x.s.Known {
			out = append(out, x.name+" "+r.h.Units.PrintSpan(x.s))
		}
	}
	if order == "" {
		return "not measured"
	}
	return strings.Join(out, ", ") + " " + r.h.Units.Unit() + ", girths all round"
}

// hung finds a garment that an earlier taking of the same line put up: the
// second of two like lines is the second of two like garments.
func (r *jotting) hung(text string, g show.Garment) *show.Garment {
	skip := r.same[text]
	r.same[text]++
	for i := range r.h.Garments {
		q := &r.h.Garments[i]
		if q.Name == g.Name && q.Colour == g.Colour && q.Chest == g.Chest && q.Waist == g.Waist && q.Hip == g.Hip && q.Length == g.Length {
			if skip == 0 {
				return q
			}
			skip--
		}
	}
	return nil
}

// found takes a garment with a place and a price: "jumble sale: gown violet
// 45 36 49 136 zip, 9".
func (r *jotting) found(n int, text string) bool {
	where, rest, colon := strings.Cut(text, ":")
	if !colon {
		where, rest = "", text
	}
	m := priceAfter.FindStringSubmatchIndex(rest)
	if m == nil {
		return false
	}
	j, ok := r.jot(strings.TrimSpace(rest[:m[0]]))
	if !ok || !j.enough() || !colon && r.topic != "finds" {
		return false
	}
	price, err := units.Coins(rest[m[2]:m[3]])
	if err != nil {
		return false
	}
	g, says := j.garment()
	for i := range r.h.Finds {
		if f := &r.h.Finds[i]; f.Where == where && f.Garment.Name == g.Name && f.Garment.Colour == g.Colour && f.Garment.Chest == g.Chest && f.Garment.Length == g.Length {
			f.Price = units.Some(price)
			r.take(n, text, "%s %s, noted already.", f.ID, f.Garment.Name)
			return true
		}
	}
	id := next("F", 3, func(c string) bool { return r.h.Find(show.FindID(c)) != nil || r.h.Garment(show.GarmentID(c)) != nil })
	g.ID, g.Owner = show.GarmentID(id), ""
	r.h.Finds = append(r.h.Finds, show.Find{ID: show.FindID(id), SeenOn: r.day, Where: where, Garment: g, Price: units.Some(price)})
	if where != "" {
		where = " at " + where
	}
	r.take(n, text, "%s, seen%s for %s: %s, %s.", id, where, price, kindWord(g), r.measuresOf(g, says))
	return true
}

var clothWords = []string{"curtain", "sheet", "tablecloth", "bolt", "remnant", "poplin", "cotton", "velvet", "lining", "cloth", "duvet", "blanket", "net", "muslin",
	"calico", "satin", "wool", "linen", "felt", "fleece", "oilcloth", "brocade", "voile", "jersey", "denim"}

var (
	countFirst = regexp.MustCompile(`^(\d{1,2}) +`)
	timesLast  = regexp.MustCompile(`(?i) *[x×] *(\d{1,2})$`)
	roundSize  = regexp.MustCompile(`(?i)\bround +(\d{2,3})\b`)
	fadeEdge   = regexp.MustCompile(`(?i)\bfade +(left|right|top|bottom)(?: +(\d{1,3}))?`)
)

// cloth takes a cloth of the shelf: "curtain 228 x 213 weed green, fade left
// 14", "2 sheets double moon white", "tablecloth round 228 ivory".
func (r *jotting) cloth(n int, text string) bool {
	low := strings.ToLower(text)
	if !slices.ContainsFunc(clothWords, func(w string) bool { return strings.Contains(low, w) }) || strings.Contains(low, ":") || strings.Contains(low, " from the ") {
		return false
	}
	if parts := clothParts(text); len(parts) > 1 {
		for _, p := range parts {
			r.cloth(n, p)
		}
		return true
	}
	size := byWidth.FindStringSubmatchIndex(text)
	round := roundSize.FindStringSubmatchIndex(text)
	preset := linenOf(low)
	if size == nil && round == nil && preset < 0 || size == nil && r.isGarment(text) {
		return false
	}
	c := show.Cloth{Shape: "rectangle", RightSide: "either", Stretch: "none", Source: "shelf", Washed: washedWord(low)}
	count := 1
	rest := text
	if m := countFirst.FindStringSubmatch(rest); m != nil {
		fmt.Sscan(m[1], &count)
		rest = rest[len(m[0]):]
	}
	if m := timesLast.FindStringSubmatch(rest); m != nil && (size == nil || len(rest)-len(m[0]) >= size[1]) {
		fmt.Sscan(m[1], &count)
		rest = rest[:len(rest)-len(m[0])]
	}
	assumed := ""
	switch size, round := byWidth.FindStringSubmatchIndex(rest), roundSize.FindStringSubmatchIndex(rest); {
	case size != nil:
		c.Width, c.Length = r.lengthOf(rest[size[2]:size[3]]), r.lengthOf(rest[size[4]:size[5]])
		rest = rest[:size[0]] + "|" + rest[size[1]:]
	case round != nil:
		d := r.lengthOf(rest[round[2]:round[3]])
		c.Shape, c.Width, c.Length, c.Diameter = "round", d, d, units.Some(d)
		rest = rest[:round[0]] + "|" + rest[round[1]:]
	default:
		c.Width, c.Length = linens[preset].width, linens[preset].length
		assumed = "size of a new one; measure it"
		for _, w := range linens[preset].words {
			if i := indexFold(rest, w); i >= 0 {
				end := i + len(w)
				if end < len(rest) && rest[end] == 's' {
					end++
				}
				rest = rest[:i] + "|" + rest[end:]
				c.Name = strings.TrimSpace(c.Name + " " + w)
			}
		}
	}
	if c.Width == 0 || c.Length == 0 || count == 0 {
		return false
	}
	r.nameCloth(&c, rest)
	r.flaw(&c, text)
	r.hangCloth(n, text, c, count, assumed)
	return true
}

// clothParts splits a line that names several cloths with their sizes: what
// the first one is, the others are too.
func clothParts(text string) []string {
	if len(byWidth.FindAllString(text, -1)) < 2 {
		return nil
	}
	word := strings.Fields(text)[0]
	var out []string
	for i, p := range strings.Split(text, ",") {
		p = strings.TrimSpace(p)
		if !byWidth.MatchString(p) {
			return nil
		}
		if i > 0 && !strings.Contains(strings.ToLower(p), strings.ToLower(word)) {
			p = word + " " + p
		}
		out = append(out, p)
	}
	return out
}

func (r *jotting) isGarment(text string) bool {
	_, ok := r.jot(text)
	return ok
}

func washedWord(low string) string {
	switch {
	case strings.Contains(low, "not washed") || strings.Contains(low, "unwashed"):
		return "no"
	case strings.Contains(low, "washed"):
		return "yes"
	}
	return ""
}

func (r *jotting) lengthOf(s string) units.Length {
	l, err := units.ParseLength(s, r.h.Units.One())
	if err != nil {
		return 0
	}
	return l
}

// nameCloth splits what is left of the line: name before the size, colour
// behind it; in "bolt end teal poplin 112 x 640" both stand before.
func (r *jotting) nameCloth(c *show.Cloth, rest string) {
	rest, _, _ = strings.Cut(rest, ",")
	for _, w := range []string{"not washed", "unwashed", "washed"} {
		rest = strings.ReplaceAll(rest, w, "")
	}
	before, after, _ := strings.Cut(rest, "|")
	after = strings.TrimSpace(strings.ReplaceAll(after, "|", ""))
	before = strings.TrimSpace(before)
	if c.Name == "" {
		c.Name = before
	}
	c.Colour = strings.TrimPrefix(after, "of ")
	if c.Colour == "" {
		c.Colour = r.colourIn(before)
	}
	if c.Name == "" {
		c.Name = "cloth"
	}
}

// colourIn finds the longest colour of the house in some words.
func (r *jotting) colourIn(words string) string {
	best := ""
	low := strings.ToLower(words)
	for _, c := range r.h.Colours {
		if strings.Contains(" "+low+" ", " "+strings.ToLower(c.Name)+" ") && len(c.Name) > len(best) {
			best = c.Name
		}
	}
	for _, c := range plainColours {
		if strings.Contains(" "+low+" ", " "+c+" ") && len(c) > len(best) {
			best = c
		}
	}
	return best
}

// plainColours are colour words of everyday English.
var plainColours = []string{"white", "black", "grey", "gray", "red", "blue", "green", "yellow", "brown", "pink", "purple", "orange", "cream", "ivory", "beige",
	"navy", "teal", "turquoise", "violet", "lilac", "mint", "olive", "maroon", "burgundy", "gold", "silver", "ochre", "rust", "wine", "petrol", "aqua", "drab", "unbleached"}

// flaw takes "fade left 14": a strip along an edge that is not to be used.
func (r *jotting) flaw(c *show.Cloth, text string) {
	m := fadeEdge.FindStringSubmatch(text)
	if m == nil || m[2] == "" {
		if m != nil {
			c.Note = m[0]
		}
		return
	}
	by := r.lengthOf(m[2])
	switch strings.ToLower(m[1]) {
	case "left":
		c.Flaws = []show.Flaw{{X: 0, Y: 0, W: by, H: c.Length}}
	case "right":
		c.Flaws = []show.Flaw{{X: c.Width - by, Y: 0, W: by, H: c.Length}}
	case "top":
		c.Flaws = []show.Flaw{{X: 0, Y: 0, W: c.Width, H: by}}
	case "bottom":
		c.Flaws = []show.Flaw{{X: 0, Y: c.Length - by, W: c.Width, H: by}}
	}
}

// hangCloth puts so many of a cloth on the shelf, less those there already.
func (r *jotting) hangCloth(n int, text string, c show.Cloth, count int, assumed string) {
	there := 0
	for _, k := range r.h.Cloths {
		if k.Name == c.Name && k.Colour == c.Colour && k.Width == c.Width && k.Length == c.Length {
			there++
		}
	}
	for ; there < count; there++ {
		c.ID = show.ClothID(next("K", 2, func(code string) bool { return r.h.Cloth(show.ClothID(code)) != nil }))
		r.h.Cloths = append(r.h.Cloths, c)
		if assumed != "" {
			r.assume("cloth", string(c.ID), "width", assumed)
			r.assume("cloth", string(c.ID), "length", assumed)
		}
	}
	many := ""
	if count > 1 {
		many = fmt.Sprintf("%d times ", count)
	}
	name := c.Name
	if c.Colour != "" {
		name += ", " + c.Colour
	}
	says := fmt.Sprintf("%s%s, %s by %s %s", many, name, r.h.Units.Print(c.Width), r.h.Units.Print(c.Length), r.h.Units.Unit())
	if len(c.Flaws) > 0 {
		says += ", less a strip that is not to be used"
	}
	r.take(n, text, "On the shelf: %s.", says)
	if assumed != "" {
		r.open("Measured as a new one; what does the tape say?")
	}
}

// ReadFind reads a line somebody typed in a shop: "gown violet 45 36.5 49 136
// zip, 9", as a find with its price where one is said. The error says what is
// missing.
func ReadFind(h *show.House, line string, day units.Date) (show.Find, error) {
	r := &jotting{h: *h, day: day}
	where, rest, colon := strings.Cut(line, ":")
	if !colon {
		where, rest = "", line
	}
	f := show.Find{Where: strings.TrimSpace(where), SeenOn: day}
	rest = strings.TrimSpace(rest)
	if m := priceAfter.FindStringSubmatchIndex(rest); m != nil {
		if price, err := units.Coins(rest[m[2]:m[3]]); err == nil {
			f.Price, rest = units.Some(price), strings.TrimSpace(rest[:m[0]])
		}
	}
	j, ok := r.jot(rest)
	switch {
	case !ok:
		return f, why.Bad("line", fmt.Sprintf("%q names no garment with a number.", line), "Write what it is, its colour and the flat numbers: gown violet 45 36.5 49 136 zip, 9")
	case !j.enough():
		return f, why.Bad("line", fmt.Sprintf("%d numbers for a %s: which is which?", len(j.numbers), j.head()), "Write chest, waist, hip, length, as far as it has them.")
	}
	f.Garment, _ = j.garment()
	return f, nil
}

// GarmentWords are the words that name a garment, with their kinds.
func GarmentWords() map[string]string {
	out := make(map[string]string, len(garmentWords))
	for w, g := range garmentWords {
		out[w] = string(g.kind)
	}
	return out
}
