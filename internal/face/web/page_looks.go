package web

import (
	"fmt"
	"net/http"
	"strings"

	"hemwright/internal/workshop"
)

// looksView is the looks one can give, and who has none yet.
type looksView struct {
	Frame
	Says   string
	Groups []lookGroup
	Whos   []lookWho
	Given  string
}

type lookGroup struct {
	World string
	Looks []lookChoice
}

type lookChoice struct {
	Name, Rank, Pieces, Cheap, Fast string
	Hours, CheapHours, Child, Teen  string
}

// lookWho is a role or a group, and what its first look holds.
type lookWho struct {
	Code, Name, Has string
	N               int
}

func (s *server) looks(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	all, err := s.ws.Templates()
	if err != nil {
		return err
	}
	v := looksView{Frame: s.frame(p, "Looks by world and rank", "/pieces", nil), Given: r.FormValue("given"), Whos: lookWhos(p)}
	for _, t := range all {
		if len(v.Groups) == 0 || v.Groups[len(v.Groups)-1].World != t.World {
			v.Groups = append(v.Groups, lookGroup{World: t.World})
		}
		c := lookChoice{Name: t.Name(), Rank: t.Rank, Cheap: t.CheapWay, Fast: t.Fast, Hours: f(t.Making.Hours()), CheapHours: f(t.Cheap.Hours()), Child: f(t.ClothChild.M2()), Teen: f(t.ClothTeen.M2())}
		var names []string
		for _, q := range t.Pieces {
			names = append(names, q.Name)
		}
		c.Pieces = strings.Join(names, ", ")
		g := &v.Groups[len(v.Groups)-1]
		g.Looks = append(g.Looks, c)
	}
	without := 0
	for _, x := range v.Whos {
		if x.Has == "" {
			without++
		}
	}
	v.Says = plural(without, "role or group has no pieces yet.", "roles and groups have no pieces yet.")
	return s.show(w, http.StatusOK, "looks", v)
}

// lookWhos lists the roles by themselves, then the groups.
func lookWhos(p *workshop.Prepared) []lookWho {
	h := &p.House
	pieces := map[string]int{}
	for _, l := range h.Looks {
		pieces[string(l.Role)] += len(h.LookPieces(l.ID))
	}
	var out []lookWho
	at := map[string]int{}
	has := func(n int) string {
		if n == 0 {
			return ""
		}
		return plural(n, "piece", "pieces")
	}
	for _, r := range h.Roles {
		if r.Group == "" {
			out = append(out, lookWho{string(r.ID), r.Name, has(pieces[string(r.ID)]), 1})
		}
	}
	sums := map[string]int{}
	for _, r := range h.Roles {
		if r.Group == "" {
			continue
		}
		sums[r.Group] += pieces[string(r.ID)]
		if i, ok := at[r.Group]; ok {
			out[i].N++
			continue
		}
		at[r.Group] = len(out)
		out = append(out, lookWho{Code: r.Group, Name: r.Group, N: 1})
	}
	for g, i := range at {
		out[i].Has = has(sums[g])
		out[i].Name = fmt.Sprintf("%s (%d)", g, out[i].N)
	}
	return out
}

func (s *server) giveLook(w http.ResponseWriter, r *http.Request) error {
	given, err := s.ws.GiveLook(r.Context(), r.FormValue("look"), r.FormValue("who"), r.FormValue("colours"))
	if err != nil {
		return err
	}
	return back(w, r, fmt.Sprintf("/looks?given=%d", given.Pieces))
}
