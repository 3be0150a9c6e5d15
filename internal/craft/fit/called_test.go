package fit

import (
	"fmt"
	"testing"

	"hemwright/internal/show/show"
)

func TestCalled(t *testing.T) {
	h := &show.House{Helpers: []show.Helper{{ID: "K1"}}}
	for i, g := range []string{"", "", "", "market sellers", "moon men", "guild cooks", "guild maids"} {
		h.Roles = append(h.Roles, show.Role{ID: show.RoleID(fmt.Sprintf("R0%d", i+1)), Group: g})
	}
	for _, c := range []struct {
		who    []string
		want   string
		listed bool
	}{
		{[]string{"all"}, "[R01 R02 R03 R04 R05 R06 R07]", false}, {[]string{"R02-R04"}, "[R02 R03 R04]", false},
		{[]string{"MKT"}, "[R04]", false}, {[]string{"moo", "R01"}, "[R01 R05]", false}, {[]string{"guild"}, "[R06 R07]", false},
		{[]string{"as listed"}, "[]", true}, {[]string{"helpers", "K1"}, "[]", false}, {nil, "[]", true},
	} {
		roles, listed := Called(h, show.Entry{Who: c.who})
		if fmt.Sprint(roles) != c.want || listed != c.listed {
			t.Errorf("%v calls %v, %v; want %s, %v", c.who, roles, listed, c.want, c.listed)
		}
	}
}
