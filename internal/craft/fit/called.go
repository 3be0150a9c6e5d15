package fit

import (
	"slices"
	"strings"
	"unicode"

	"hemwright/internal/show/show"
)

// Called lists the roles an entry of the calendar is for, in the order of the
// roles: all, role codes, ranges of them (R01-R08), groups by name, by the
// beginning of the name or by its letters (MKT for market sellers). Listed
// says that the entry names nobody we know, so that it is for whoever is put
// on its list.
func Called(h *show.House, e show.Entry) (roles []show.RoleID, listed bool) {
	in := make([]bool, len(h.Roles))
	known := false
	for _, who := range e.Who {
		known = mark(h, strings.TrimSpace(who), in) || known
	}
	for i, r := range h.Roles {
		if in[i] {
			roles = append(roles, r.ID)
		}
	}
	return roles, !known
}

// mark marks the roles one word calls; false where it names nobody we know.
func mark(h *show.House, who string, in []bool) bool {
	if strings.EqualFold(who, "helpers") || h.Helper(show.HelperID(who)) != nil {
		return true
	}
	at := func(code string) int {
		return slices.IndexFunc(h.Roles, func(r show.Role) bool { return string(r.ID) == strings.TrimSpace(code) })
	}
	if i := at(who); i >= 0 {
		in[i] = true
		return true
	}
	if a, b, ok := strings.Cut(who, "-"); ok && at(a) >= 0 && at(b) >= at(a) {
		for i := at(a); i <= at(b); i++ {
			in[i] = true
		}
		return true
	}
	if strings.EqualFold(who, "all") {
		for i := range in {
			in[i] = true
		}
		return true
	}
	return markGroup(h, letters(who), in)
}

func markGroup(h *show.House, word string, in []bool) bool {
	for _, fits := range []func(group, word string) bool{strings.HasPrefix, lettersIn} {
		found := false
		for i, r := range h.Roles {
			if g := letters(r.Group); g != "" && word != "" && fits(g, word) {
				in[i], found = true, true
			}
		}
		if found {
			return true
		}
	}
	return false
}

// lettersIn says whether the letters of a short word stand in a group's name
// in their order, the first at its beginning.
func lettersIn(group, word string) bool {
	if len(word) > 4 || group[0] != word[0] {
		return false
	}
	for _, r := range word {
		i := strings.IndexRune(group, r)
		if i < 0 {
			return false
		}
		group = group[i+1:]
	}
	return true
}

func letters(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, s)
}
