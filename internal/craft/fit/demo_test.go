package fit

import (
	"encoding/csv"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

type row map[string]string

func rows(t testing.TB, name string) []row {
	f, err := os.Open("../../demo/data/" + name + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []row
	for _, cells := range all[1:] {
		r := row{}
		for i, c := range cells {
			r[all[0][i]] = c
		}
		out = append(out, r)
	}
	return out
}

func (r row) cm(col string) units.Span {
	v, err := strconv.ParseFloat(r[col], 64)
	if err != nil {
		return units.Span{}
	}
	return units.Exactly(units.Cm(v))
}

func (r row) maybe(col string) units.Maybe[units.Length] {
	if s := r.cm(col); s.Known {
		return units.Some(s.Lo)
	}
	return units.Maybe[units.Length]{}
}

func (r row) list(col, sep string) []string {
	if r[col] == "" {
		return nil
	}
	return strings.Split(r[col], sep)
}

func ids[T ~string](in []string) []T {
	var out []T
	for _, s := range in {
		out = append(out, T(strings.TrimSpace(s)))
	}
	return out
}

func garmentOf(r row, id string) show.Garment {
	g := show.Garment{ID: show.GarmentID(r[id]), Category: show.Category(r["category"]), Name: r["garment"], Colour: r["colour"],
		Chest: r.cm("chest_cm"), Waist: r.cm("waist_cm"), Hip: r.cm("hip_cm"), HemRound: r.cm("hem_round_cm"), Length: r.cm("length_cm"),
		LengthFrom: r["length_from"], Sleeve: r.cm("sleeve_cm"), Shoulders: r.cm("across_shoulders_cm"), Head: r.cm("head_cm"),
		LetOut: r.maybe("let_out_cm"), LetDown: r.maybe("let_down_cm"), Closure: r["closure"], Stretch: r["stretch"], Lined: r["lined"],
		MayCut: r["may_cut"] != "no"}
	if s := r.cm("waist_max_cm"); s.Known {
		g.Waist.Hi = s.Hi
	}
	return g
}

// demo reads the files of the invented show as far as fit needs them.
func demo(t testing.TB) *show.House {
	h := &show.House{}
	for _, r := range rows(t, "cast") {
		p := show.Performer{ID: show.PerformerID(r["performer_id"]), Consent: r["consent_on_file"], Care: r.list("care_notes", ";"),
			LabelSize: r["label_size"], FitsGarment: show.GarmentID(r["garment_that_fits"])}
		for _, k := range body.All() {
			if s := r.cm(k.Code() + "_cm"); s.Known {
				p.Body[k] = body.Measure{Span: s, Origin: body.Measured}
			}
		}
		h.Performers = append(h.Performers, p)
	}
	for _, r := range rows(t, "roles") {
		h.Roles = append(h.Roles, show.Role{ID: show.RoleID(r["role_id"]), Performer: show.PerformerID(r["performer_id"]), Group: r["group"]})
	}
	for _, r := range rows(t, "casting") {
		h.Casting = append(h.Casting, show.Casting{Role: show.RoleID(r["role_id"]), Cast: show.Cast(r["cast"]), Performer: show.PerformerID(r["performer_id"]), Cover: r["cover"] == "yes"})
	}
	for _, r := range rows(t, "scenes") {
		h.Scenes = append(h.Scenes, show.Scene{ID: show.SceneID(r["scene_id"]), Running: time.Minute, Movement: r.list("movement", "; ")})
	}
	for _, r := range rows(t, "appearances") {
		h.Appearances = append(h.Appearances, show.Appearance{Scene: show.SceneID(r["scene_id"]), Role: show.RoleID(r["role_id"]), Look: show.LookID(r["look_id"])})
	}
	for _, r := range rows(t, "looks") {
		h.Looks = append(h.Looks, show.Look{ID: show.LookID(r["look_id"]), Role: show.RoleID(r["role_id"])})
	}
	for _, r := range rows(t, "pieces") {
		layer, _ := strconv.Atoi(r["layer"])
		h.Pieces = append(h.Pieces, show.Piece{ID: show.PieceID(r["piece_id"]), Category: show.Category(r["category"]), Name: r["piece"],
			Looks: ids[show.LookID](r.list("look_ids", "|")), Layer: layer, Colour: r["colour"], Era: r["era"], Fit: r["fit"], Closure: r["closure"],
			LengthTo: r["length_to"], HemClear: r.maybe("hem_clear_cm"), FirstThought: r["first_thought"], Set: show.SetID(r["set_id"])})
	}
	for _, r := range rows(t, "sets") {
		h.Sets = append(h.Sets, show.Set{ID: show.SetID(r["set_id"]), HemFloor: r.maybe("hem_from_floor_cm")})
	}
	for _, r := range rows(t, "feet") {
		h.Feet = append(h.Feet, show.Feet{Performer: show.PerformerID(r["performer_id"]), Heel: r.maybe("heel_cm")})
	}
	for _, r := range rows(t, "stock") {
		h.Garments = append(h.Garments, garmentOf(r, "stock_id"))
	}
	for _, r := range rows(t, "finds") {
		g := garmentOf(r, "find_id")
		h.Finds = append(h.Finds, show.Find{ID: show.FindID(g.ID), Garment: g, Decision: r["decision"]})
	}
	return h
}

func all(h *show.House) []show.Garment {
	gs := append([]show.Garment{}, h.Garments...)
	for _, f := range h.Finds {
		if f.Decision == "bought" {
			gs = append(gs, f.Garment)
		}
	}
	return gs
}
