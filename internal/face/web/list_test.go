package web

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"
)

// rowsOf are the codes of the rows a list shows, in order.
func rowsOf(body string) []string {
	var out []string
	for _, m := range regexp.MustCompile(`data-code="([^"]*)"`).FindAllStringSubmatch(body, -1) {
		out = append(out, m[1])
	}
	return out
}

func TestEveryListIsATable(t *testing.T) {
	oneAtATime(t)
	s := demoPages(t)
	for _, kind := range []string{"performer", "role", "scene", "look", "piece", "set", "garment", "find", "cloth", "notion", "helper", "date", "performance", "budget", "receipt", "loan", "ask", "colour", "feet", "head", "microphone"} {
		code, body := get(t, s.URL, "/list/"+kind)
		if code != 200 || broken.MatchString(body) || len(rowsOf(body)) == 0 {
			t.Errorf("%s answers %d with %d rows", kind, code, len(rowsOf(body)))
			continue
		}
		first := regexp.MustCompile(`<th scope="row"><a href="([^"]*)">`).FindStringSubmatch(body)
		if code, body := get(t, s.URL, strings.ReplaceAll(first[1], "&#43;", "+")); code != 200 || !strings.Contains(body, "Keep it") {
			t.Errorf("the row %s answers %d", first[1], code)
		}
	}
	if code, _ := get(t, s.URL, "/list/elephant"); code != 404 {
		t.Errorf("a list of elephants answers %d", code)
	}
	if code, _ := get(t, s.URL, "/list/garment?sort=elephant"); code != 404 {
		t.Errorf("sorted by elephants answers %d", code)
	}
}

// Without script: the search, the order of a column both ways, the columns.
func TestListFindsAndSorts(t *testing.T) {
	oneAtATime(t)
	s := house(t, false)
	post(t, s.URL, "/start", url.Values{"text": {"rail\ngown Łódź-red 47 38 52 138 zip\ncoat grey 52 50 54 110\ngown blue 44 36 49 130 zip"}}, "")
	_, all := get(t, s.URL, "/list/garment")
	if got := rowsOf(all); len(got) != 3 {
		t.Fatalf("the rail holds %v", got)
	}
	if _, body := get(t, s.URL, "/list/garment?find=LODZ"); strings.Join(rowsOf(body), " ") != "G001" || !strings.Contains(body, `role="status">1 of 3 found`) {
		t.Errorf("lodz finds %v", rowsOf(body))
	}
	_, up := get(t, s.URL, "/list/garment?sort=chest&find=o")
	if got := strings.Join(rowsOf(up), " "); got != "G003 G001 G002" || !strings.Contains(up, `aria-sort="ascending"`) {
		t.Errorf("by chest: %s", got)
	}
	next := regexp.MustCompile(`aria-sort="ascending"[^>]*><a href="([^"]*)"`).FindStringSubmatch(up)
	_, down := get(t, s.URL, strings.ReplaceAll(next[1], "&amp;", "&"))
	if got := strings.Join(rowsOf(down), " "); got != "G002 G001 G003" || !strings.Contains(down, `aria-sort="descending"`) || !strings.Contains(down, `value="o"`) {
		t.Errorf("by chest, the other way round: %s", got)
	}
	if _, body := get(t, s.URL, "/list/garment?col=colour&col=closure"); strings.Contains(body, `data-key="chest"`) || !strings.Contains(body, `data-key="closure"`) {
		t.Error("other columns are shown than those asked for")
	}
}

func TestACellInItsPlace(t *testing.T) {
	oneAtATime(t)
	s := house(t, true)
	code, body := post(t, s.URL, "/edit/garment/S001", url.Values{"cell": {"chest"}, "chest": {"wide"}}, "")
	if code != 422 || !strings.Contains(body, `is not a length`) || strings.Contains(body, "<tr") {
		t.Errorf("a chest of words answers %d: %s", code, body)
	}
	code, body = post(t, s.URL, "/edit/garment/S001?col=chest&col=colour", url.Values{"cell": {"chest"}, "chest": {"35 flat"}}, "")
	if code != 200 || !strings.Contains(body, `35 cm flat`) || !strings.Contains(body, "garment S001 written") || strings.Contains(body, "data-key=\\\"hip") {
		t.Errorf("a chest of 35 flat answers %d: %s", code, body)
	}
	if code, body = post(t, s.URL, "/edit/garment/S999", url.Values{"cell": {"chest"}, "chest": {"35"}}, ""); code != 404 || !strings.Contains(body, "fault") {
		t.Errorf("a garment that is not there answers %d: %s", code, body)
	}
	post(t, s.URL, "/undo", nil, "")
	if _, body := get(t, s.URL, "/list/garment?find=S001&col=chest"); strings.Contains(body, "35 cm flat") {
		t.Error("undo does not take it back")
	}
}

func TestSeveralAtOnce(t *testing.T) {
	oneAtATime(t)
	s := house(t, true)
	_, before := get(t, s.URL, "/list/garment?col=colour&col=chest")
	act := func(query string, form url.Values, want int) string {
		t.Helper()
		code, body := post(t, s.URL, "/list/"+query, form, "")
		if code != want {
			t.Errorf("%s %v answers %d", query, form, code)
		}
		return body
	}
	undone := func() {
		t.Helper()
		post(t, s.URL, "/undo", nil, "")
		if _, now := get(t, s.URL, "/list/garment?col=colour&col=chest"); strings.Join(rowsOf(now), " ") != strings.Join(rowsOf(before), " ") || strings.Count(now, "vermilion") != strings.Count(before, "vermilion") {
			t.Error("one undo does not take it back")
		}
	}
	two := []string{"S001", "S004"}
	body := act("garment?col=colour", url.Values{"row": two, "do": {"set"}, "column": {"colour"}, "value": {"vermilion"}}, 200)
	if strings.Count(body, `<span class="v">vermilion</span>`) != 2 {
		t.Error("not two of them are vermilion")
	}
	undone()
	body = act("garment", url.Values{"row": two, "do": {"set"}, "column": {"chest"}, "value": {"wide"}}, 422)
	for _, want := range []string{`role="alert">S001, chest: `, `value="wide"`, `value="S004" checked`, `<option value="chest" selected>`} {
		if !strings.Contains(body, want) {
			t.Errorf("after a refusal the page does not hold %s", want)
		}
	}
	body = act("garment?col=chest", url.Values{"row": two, "do": {"up"}}, 200)
	if len(rowsOf(body)) != len(rowsOf(before))+2 || strings.Count(body, "one size up from S001: 4 cm more, a house figure") == 0 {
		t.Error("two more, one size up, are not there")
	}
	undone()
	act("garment", url.Values{"row": two, "do": {"again"}}, 200)
	undone()
	_, any := get(t, s.URL, "/list/find")
	free := rowsOf(any)[:2]
	act("find", url.Values{"row": free, "do": {"out"}}, 200)
	if _, now := get(t, s.URL, "/list/find"); len(rowsOf(now)) != len(rowsOf(any))-2 {
		t.Error("two finds are not taken out")
	}
	undone()
	if body = act("performer", url.Values{"row": {"P01", "P02"}, "do": {"out"}}, 409); !strings.Contains(body, `value="P02" checked`) {
		t.Error("performers who play were taken out, or their ticks are lost")
	}
	act("garment", url.Values{"do": {"out"}}, 422)
	act("performer", url.Values{"row": {"P01"}, "do": {"again"}}, 422)
	act("garment", url.Values{"row": two, "do": {"burn"}}, 422)
}

func TestCopyToGroupFromTheList(t *testing.T) {
	oneAtATime(t)
	s := house(t, false)
	post(t, s.URL, "/start", url.Values{"text": {"Crows: Tom, Ida, Jo\nscene 1 Dawn 4"}}, "")
	post(t, s.URL, "/who/grid", url.Values{"cell": {"S01 Crows"}, "on": {"S01 Crows"}}, "")
	_, roles := get(t, s.URL, "/list/look")
	first := rowsOf(roles)
	if len(first) != 3 {
		t.Fatalf("looks of the crows: %v", first)
	}
	post(t, s.URL, "/edit/piece", url.Values{"piece": {"black cape"}, "look_ids": {first[0]}, "category": {"cape"}}, "")
	_, body := post(t, s.URL, "/list/piece", url.Values{"row": {"C001"}, "do": {"group"}, "group": {"Crows"}}, "")
	if got := rowsOf(body); len(got) != 3 || !strings.Contains(body, "copied from C001 to the group Crows") {
		t.Errorf("capes: %v", got)
	}
	if code, body := post(t, s.URL, "/list/piece", url.Values{"row": {"C001"}, "do": {"group"}, "group": {"Crows"}}, ""); code != http.StatusConflict || !strings.Contains(body, "nothing was copied") {
		t.Errorf("copied twice answers %d", code)
	}
	post(t, s.URL, "/undo", nil, "")
	if _, body := get(t, s.URL, "/list/piece"); len(rowsOf(body)) != 1 {
		t.Error("one undo does not take the capes away")
	}
}
