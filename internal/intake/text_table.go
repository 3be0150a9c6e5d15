package intake

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"hemwright/internal/show/show"
)

// tableAt says how many lines at the front of a text are one table: two or
// more with tabs, or three or more with the same number of commas or
// semicolons, at least three.
func tableAt(lines []string) int {
	n := 0
	for n < len(lines) && strings.Contains(lines[n], "\t") {
		n++
	}
	if n >= 2 {
		return n
	}
	for _, sep := range ";," {
		n, want := 0, strings.Count(lines[0], string(sep))
		for n < len(lines) && want >= 3 && strings.Count(lines[n], string(sep)) == want {
			n++
		}
		if n >= 3 {
			return n
		}
	}
	return 0
}

// table understands a pasted table: who is on in which scene, a list of
// scenes, any list an import knows, else each of its lines by itself.
func (r *jotting) table(first int, lines []string) {
	rows, err := split(strings.Join(lines, "\n"))
	if err != nil || len(rows) == 0 {
		for i, l := range lines {
			r.line(first+i, strings.TrimSpace(l))
		}
		return
	}
	defer func(topic string) { r.topic = topic }(r.topic)
	head := rows[0].cells
	told := r.told[len(r.guesses)]
	guess := begun(sheet{name: r.name, header: head, rows: rows[1:]})
	switch {
	case told.Kind == "" && r.isGrid(head):
		r.topic = "table"
		guess.Many = "who is on"
		r.guesses = append(r.guesses, guess)
		r.grid(first, rows)
	case told.Kind == "" && hasColumn(head, "scene", "title") && !hasColumn(head, "role", "who", "look"):
		r.topic = "table"
		r.sceneTable(first, rows, told, guess)
	case r.list(first, rows, lines, told):
	default:
		r.guesses = append(r.guesses, guess)
		for i, l := range lines {
			if l = strings.TrimSpace(l); l != "" {
				r.line(first+i, l)
			}
		}
	}
}

func hasColumn(head []string, words ...string) bool {
	for _, h := range head {
		for _, w := range words {
			if strings.HasPrefix(strings.ToLower(strings.TrimSpace(h)), w) {
				return true
			}
		}
	}
	return false
}

// list hands a table with a header an import knows to the import; what stands
// above the header is read line by line.
func (r *jotting) list(first int, all []row, lines []string, told Told) bool {
	above := all[headerAt(r.name, all)].line - 1
	title := lines[:above]
	first, lines = first+above, lines[above:]
	f := File{Name: r.name, Data: []byte(strings.Join(lines, "\n"))}
	said := map[string]Told{}
	if told.Kind != "" || len(told.Columns) > 0 {
		said[r.name] = told
	}
	s, err := readSheet(f)
	if err != nil {
		return false
	}
	if told.Kind == "" {
		if _, err := recognise(s); err != nil {
			return false
		}
	}
	h, rep, err := TakeAs(r.h, []File{f}, said)
	if err != nil {
		return false
	}
	for _, u := range h.Unread {
		if u.File == r.name {
			r.kept = append(r.kept, u)
		}
	}
	r.h = h
	for i, l := range title {
		if l = strings.TrimSpace(l); l != "" {
			r.line(first-above+i, l)
		}
	}
	r.guesses = append(r.guesses, rep.Guesses...)
	for _, l := range rep.Taken {
		r.take(first, lines[0], "A table: %s", l.What)
	}
	for _, l := range rep.Changed {
		r.take(first+max(0, l.Row-1), "", "%s", l.What)
	}
	for _, l := range rep.Left {
		r.said = append(r.said, Said{Line: first + max(0, l.Row-1), Text: l.Text, Ask: strings.TrimSpace(l.What + " " + l.Try), topic: "table"})
	}
	return true
}

// sceneTable takes rows of a scene's name or number, and its minutes.
func (r *jotting) sceneTable(first int, rows []row, told Told, guess Guess) {
	at := map[string]int{"title": -1, "minutes": -1, "number": -1}
	for i, h := range rows[0].cells {
		switch low := strings.ToLower(h); {
		case strings.Contains(low, "min") || strings.Contains(low, "length") || strings.Contains(low, "time"):
			at["minutes"] = i
		case strings.HasPrefix(low, "title") || strings.HasPrefix(low, "name") || at["title"] < 0 && strings.HasPrefix(low, "scene") && low != "scene no" && low != "scene number":
			at["title"] = i
		case low == "no" || low == "nr" || low == "#" || low == "scene no" || low == "scene number":
			at["number"] = i
		}
	}
	r.guesses = append(r.guesses, obeyed(at, told, guess, rows[1:]))
	cell := func(x row, what string) string {
		if i := at[what]; i >= 0 && i < len(x.cells) {
			return strings.TrimSpace(x.cells[i])
		}
		return ""
	}
	r.take(first, strings.Join(rows[0].cells, ", "), "A table of scenes.")
	for _, x := range rows[1:] {
		n := first + x.line - rows[0].line
		text := strings.Join(x.cells, " ")
		if r.interval(n, strings.TrimSpace(text)) {
			continue
		}
		title, number := cell(x, "title"), cell(x, "number")
		if m := sceneLine.FindStringSubmatch(title); m != nil && number == "" {
			number, title = m[1], strings.TrimSpace(m[2])
			if title == "" {
				title = "scene " + number
			}
		}
		if title == "" && number == "" {
			r.keep(n, text, "Which scene is this?")
			continue
		}
		r.addScene(n, text, number, title, cell(x, "minutes"))
	}
}

// isGrid says whether a header names scenes in all but its first cell.
func (r *jotting) isGrid(head []string) bool {
	if len(head) < 3 {
		return false
	}
	known := 0
	for _, h := range head[1:] {
		if r.sceneNamed(h) >= 0 || isSceneNumber(h) {
			known++
		}
	}
	return known*10 >= (len(head)-1)*8
}

func isSceneNumber(s string) bool {
	s = strings.TrimPrefix(strings.ToLower(strings.TrimSpace(s)), "scene ")
	s = strings.TrimPrefix(s, "s")
	n, err := strconv.Atoi(strings.TrimSpace(s))
	return err == nil && n > 0 && n < 200
}

// grid takes who is on: a row is a role, a performer or a group, a column a
// scene; any mark is on for the whole scene, "2-5" its minutes.
func (r *jotting) grid(first int, rows []row) {
	head := rows[0].cells
	at := make([]show.SceneID, len(head))
	for i, h := range head[1:] {
		k := r.sceneNamed(h)
		if k < 0 && isSceneNumber(h) {
			number := strings.TrimSpace(strings.TrimPrefix(strings.TrimPrefix(strings.ToLower(strings.TrimSpace(h)), "scene "), "s"))
			r.addScene(first, h, number, "Scene "+number, "")
			r.said = r.said[:len(r.said)-1]
			k = r.sceneNamed(number)
		}
		if k >= 0 {
			at[i+1] = r.h.Scenes[k].ID
		}
	}
	r.take(first, strings.Join(head, ","), "A table of who is on in %d scenes.", len(head)-1)
	for _, x := range rows[1:] {
		r.gridRow(first+x.line-rows[0].line, x, at)
	}
}

func (r *jotting) gridRow(n int, x row, at []show.SceneID) {
	text := x.cells[0]
	roles := r.rolesCalled(text)
	if text == "" {
		r.keep(n, strings.Join(x.cells, ","), "Who is this? The first cell is empty.")
		return
	}
	count, open := 0, ""
	if len(roles) == 0 {
		x, _ := r.role(text)
		roles, open = []show.RoleID{x.ID}, "A new role. Who plays it?"
	}
	for i, scene := range at {
		if i == 0 || scene == "" || i >= len(x.cells) {
			continue
		}
		mark := strings.TrimSpace(x.cells[i])
		if mark == "" {
			r.off(scene, roles)
			continue
		}
		from, to, exact := minutesIn(mark)
		sc := r.h.Scene(scene)
		if exact && to > sc.Running {
			open = fmt.Sprintf("%s lasts %d minutes. Until when are they on?", scene, int(sc.Running.Minutes()))
			exact = false
		}
		if strings.EqualFold(mark, "some") || strings.EqualFold(mark, "part") {
			open = fmt.Sprintf("Who of them is on in %s? All are taken to be.", scene)
		}
		count++
		for _, role := range roles {
			if exact {
				r.on(scene, role, from, to)
			} else {
				r.on(scene, role, 0, 0)
			}
		}
	}
	who := text
	if len(roles) > 1 {
		who = fmt.Sprintf("%s (%d people)", text, len(roles))
	}
	r.take(n, strings.Join(x.cells, ","), "%s: on in %d scenes.", who, count)
	if open != "" {
		r.open(open)
	}
}

// minutesIn reads "2-5" as minutes of a scene.
func minutesIn(mark string) (from, to time.Duration, ok bool) {
	a, b, cut := strings.Cut(strings.ReplaceAll(mark, "–", "-"), "-")
	x, f1 := cell{text: strings.TrimSpace(a), unit: "min"}.times(1)
	y, f2 := cell{text: strings.TrimSpace(b), unit: "min"}.times(1)
	if !cut || f1 != nil || f2 != nil || y <= x {
		return 0, 0, false
	}
	return time.Duration(x) * time.Second, time.Duration(y) * time.Second, true
}

// rolesCalled are the roles a name means: one role, all of a group, or all a
// performer plays.
func (r *jotting) rolesCalled(name string) []show.RoleID {
	var out []show.RoleID
	for _, x := range r.h.Roles {
		if x.Group != "" && fold(x.Group) == fold(name) {
			out = append(out, x.ID)
		}
	}
	if len(out) > 0 {
		return out
	}
	if x := r.roleNamed(name); x != nil {
		return []show.RoleID{x.ID}
	}
	if p, _ := r.who(name); p != nil {
		for _, x := range r.h.Roles {
			if x.Performer == p.ID && x.Group == "" {
				out = append(out, x.ID)
			}
		}
	}
	return out
}

// on puts a role on stage in a scene; to 0 is the whole scene, in pencil. An
// exact time somebody gave before stays where only the whole scene is said.
func (r *jotting) on(scene show.SceneID, role show.RoleID, from, to time.Duration) {
	put(&r.h, scene, role, from, to)
	code := string(scene) + " " + string(role)
	if to == 0 {
		r.assume("appearance", code, "enter", "on for the whole scene until you say")
	} else {
		r.state("appearance", code, "enter")
	}
}

// put puts a role on in a scene, in the look it has.
func put(h *show.House, scene show.SceneID, role show.RoleID, from, to time.Duration) {
	sc := h.Scene(scene)
	exact := to != 0
	if !exact {
		to = sc.Running
	}
	for i := range h.Appearances {
		a := &h.Appearances[i]
		if a.Scene == scene && a.Role == role {
			if exact {
				a.Enter, a.Exit = from, to
			}
			return
		}
	}
	h.Appearances = append(h.Appearances, show.Appearance{Scene: scene, Role: role, Look: lookOf(h, role), Enter: from, Exit: to})
}

// off takes roles out of a scene.
func (r *jotting) off(scene show.SceneID, roles []show.RoleID) {
	gone := func(a show.Appearance) bool { return a.Scene == scene && slices.Contains(roles, a.Role) }
	if !slices.ContainsFunc(r.h.Appearances, gone) {
		return
	}
	r.h.Appearances = slices.DeleteFunc(r.h.Appearances, gone)
	for _, role := range roles {
		r.state("appearance", string(scene)+" "+string(role), "enter")
	}
}

// lookOf is the first look of a role; one is begun where it has none.
func lookOf(h *show.House, role show.RoleID) show.LookID {
	best := -1
	for i, l := range h.Looks {
		if l.Role == role && (best < 0 || l.Order < h.Looks[best].Order) {
			best = i
		}
	}
	if best >= 0 {
		return h.Looks[best].ID
	}
	id := show.LookID(next("L", 3, func(c string) bool { return h.Look(show.LookID(c)) != nil }))
	name := string(role)
	if x := h.Role(role); x != nil {
		name = x.Name
		if x.Group != "" {
			name = singular(x.Group)
		}
	}
	h.Looks = append(h.Looks, show.Look{ID: id, Role: role, Name: name, Order: 1})
	return id
}

// obeyed puts the columns of a table of scenes where they were told to be,
// and says what each is taken for.
func obeyed(at map[string]int, told Told, guess Guess, rows []row) Guess {
	for i, key := range told.Columns {
		for k := range at {
			if at[k] == i {
				at[k] = -1
			}
		}
		if _, is := at[key]; is {
			at[key] = i
		}
	}
	guess.Many = "scenes"
	for _, key := range []string{"number", "title", "minutes"} {
		guess.Fields = append(guess.Fields, Choice{key, key})
		i := at[key]
		if i < 0 || i >= len(guess.Columns) {
			continue
		}
		c := &guess.Columns[i]
		c.Key, c.Label, c.How = key, key, "named"
		if told.Columns[i] == key {
			c.How = "told"
		}
		for _, x := range rows {
			if i >= len(x.cells) || x.cells[i] == "" {
				continue
			}
			c.Of++
			if _, f := (cell{text: x.cells[i], unit: "min"}).times(1); key != "minutes" || f == nil {
				c.Read++
			}
		}
	}
	for i := range guess.Columns {
		c := &guess.Columns[i]
		if c.Told = told.Columns[i]; c.Told == LeaveOut {
			c.Key, c.How = LeaveOut, "told"
		}
	}
	return guess
}
