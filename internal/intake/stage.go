package intake

import (
	"fmt"
	"slices"
	"strings"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// StageRoles are the roles a row of the grid means: a role by its code, or a
// group by its name.
func StageRoles(h *show.House, who string) ([]show.RoleID, error) {
	if h.Role(show.RoleID(who)) != nil {
		return []show.RoleID{show.RoleID(who)}, nil
	}
	var out []show.RoleID
	for _, r := range h.Roles {
		if r.Group != "" && fold(r.Group) == fold(who) {
			out = append(out, r.ID)
		}
	}
	if len(out) == 0 {
		return nil, why.NotFound("role or group", who)
	}
	return out, nil
}

// Tick puts roles on in a scene for the whole of it, in pencil, or takes them
// out of it. Times somebody gave stay.
func Tick(h show.House, scene show.SceneID, roles []show.RoleID, on bool, day units.Date) (show.House, error) {
	if h.Scene(scene) == nil {
		return h, why.NotFound("scene", string(scene))
	}
	r := &jotting{h: h.Own(), day: day}
	if !on {
		r.off(scene, roles)
		return r.h, nil
	}
	for _, role := range roles {
		if !r.isOn(scene, role) {
			r.on(scene, role, 0, 0)
		}
	}
	return r.h, nil
}

func (r *jotting) isOn(scene show.SceneID, role show.RoleID) bool {
	return slices.ContainsFunc(r.h.Appearances, func(a show.Appearance) bool { return a.Scene == scene && a.Role == role })
}

// Times are the minutes and sides of roles in a scene, as typed; an empty one
// stays as it was.
type Times struct {
	Enter, Exit         string // minutes of the scene
	EnterSide, ExitSide string // L or R
}

// SetTimes writes when and where roles enter and leave a scene, in ink.
func SetTimes(h show.House, scene show.SceneID, roles []show.RoleID, t Times) (show.House, error) {
	sc := h.Scene(scene)
	if sc == nil {
		return h, why.NotFound("scene", string(scene))
	}
	r := &jotting{h: h.Own()}
	for i := range r.h.Appearances {
		a := &r.h.Appearances[i]
		if a.Scene != scene || !slices.Contains(roles, a.Role) {
			continue
		}
		if err := t.put(a, sc); err != nil {
			return h, err
		}
		if t.Enter+t.Exit != "" {
			r.state("appearance", string(scene)+" "+string(a.Role), "enter")
		}
	}
	return r.h, nil
}

func (t Times) put(a *show.Appearance, sc *show.Scene) error {
	for _, x := range []struct {
		field, typed, unit string
		at                 any
		read               func(any, cell) *fault
	}{
		{"enter", t.Enter, "min", &a.Enter, set}, {"exit", t.Exit, "min", &a.Exit, set},
		{"enter_side", t.EnterSide, "", &a.EnterSide, side}, {"exit_side", t.ExitSide, "", &a.ExitSide, side},
	} {
		typed := strings.TrimSpace(x.typed)
		if typed == "" {
			continue
		}
		if f := x.read(x.at, cell{text: typed, unit: x.unit}); f != nil {
			return why.Bad(x.field, f.what, f.try)
		}
	}
	switch {
	case a.Exit > sc.Running:
		return why.Bad("exit", fmt.Sprintf("%s min is after the end of %s, which runs %s min.", minutes(a.Exit), sc.ID, minutes(sc.Running)), "Correct the minute, or the scene's length.")
	case a.Enter >= a.Exit:
		return why.Bad("enter", fmt.Sprintf("Coming on at %s min is not before going off at %s min.", minutes(a.Enter), minutes(a.Exit)), "Correct one of the two.")
	}
	return nil
}
