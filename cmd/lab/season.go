package main

import (
	"bytes"
	"context"
	"fmt"
	"time"

	"hemwright/internal/plan/cutting"
	"hemwright/internal/plan/sourcing"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
)

// seasonKinds are the kinds of a made-up season, with the windows garments are
// drawn from.
var seasonKinds = []struct {
	category show.Category
	name     string
	from     string // where the length is measured from
	lengthTo string
	long     float64 // about, cm
}{
	{show.Dress, "gown", "nape", "ankle", 128}, {show.Skirt, "skirt", "waist", "ankle", 92}, {show.Shirt, "shirt", "nape", "hip", 66},
	{show.Trousers, "trousers", "waist", "ankle", 94}, {show.Bodice, "waistcoat", "nape", "hip", 52}, {show.Accessory, "shawl", "", "", 0},
}

// season makes up a house: performers with six pieces each in two looks, 60
// scenes, and garments of as many sizes as people are. The same seed makes the
// same house.
func season(performers, garments int, seed uint64) show.House {
	c := solve.Budget{Seed: seed}.Chance(0)
	cm := func(x float64) units.Length { return units.Cm(x) }
	h := show.House{Show: show.Show{Code: "season", Currency: "€"}}
	hues := []string{"#2f4f4f", "#8b0000", "#e0c080", "#405080", "#f0f0e8", "#303030", "#607040", "#b06040", "#806090", "#c0c8d0"}
	for i, hex := range hues {
		h.Colours = append(h.Colours, show.Colour{Name: fmt.Sprintf("hue %d", i), Hex: hex})
	}
	hue := func() string { return h.Colours[c.IntN(len(hues))].Name }
	for s := range 60 {
		h.Scenes = append(h.Scenes, show.Scene{ID: show.SceneID(fmt.Sprintf("S%02d", s)), Running: 120 * time.Second})
	}
	for i := range performers {
		tall := 125 + 55*c.Float64()
		chest := tall*0.52 + 12*c.NormFloat64()/2
		p := show.Performer{ID: show.PerformerID(fmt.Sprintf("P%03d", i))}
		for k, v := range map[body.Kind]float64{body.Height: tall, body.Chest: chest, body.Waist: chest * 0.82, body.Hip: chest * 1.06, body.NapeToWaist: tall * 0.24,
			body.WaistToKnee: tall * 0.35, body.WaistToFloor: tall * 0.61, body.InsideLeg: tall * 0.45, body.ShoulderToWrist: tall * 0.34, body.AcrossShoulders: tall * 0.23,
			body.UpperArm: chest * 0.32, body.Neck: chest * 0.39, body.Head: 54} {
			p.Body[k].Span = units.Exactly(cm(v))
		}
		h.Performers = append(h.Performers, p)
		role := show.Role{ID: show.RoleID(fmt.Sprintf("R%03d", i)), Performer: p.ID, Kind: "ensemble"}
		h.Roles = append(h.Roles, role)
		for l := range 2 {
			look := show.Look{ID: show.LookID(fmt.Sprintf("L%03d%d", i, l)), Role: role.ID}
			h.Looks = append(h.Looks, look)
			for range 3 {
				h.Appearances = append(h.Appearances, show.Appearance{Scene: h.Scenes[30*l+c.IntN(30)].ID, Role: role.ID, Look: look.ID, Exit: 120 * time.Second})
			}
			for q := range 3 {
				k := seasonKinds[3*l+q]
				h.Pieces = append(h.Pieces, show.Piece{ID: show.PieceID(fmt.Sprintf("C%03d%d%d", i, l, q)), Category: k.category, Name: k.name, Looks: []show.LookID{look.ID},
					Layer: 3 + q, Colour: hue(), LengthTo: k.lengthTo, Fit: "easy"})
			}
		}
	}
	for i := range garments {
		k := seasonKinds[c.IntN(len(seasonKinds))]
		chest := 60 + 60*c.Float64()
		g := show.Garment{ID: show.GarmentID(fmt.Sprintf("G%05d", i)), Category: k.category, Name: k.name, Colour: hue(), LengthFrom: k.from, MayCut: c.IntN(3) == 0, Owner: "own"}
		if k.long > 0 {
			g.Chest, g.Waist, g.Hip = units.Exactly(cm(chest)), units.Exactly(cm(chest*0.84)), units.Exactly(cm(chest*1.05))
			g.HemRound, g.Length = units.Exactly(cm(chest*1.7)), units.Exactly(cm(k.long*(0.8+0.4*c.Float64())))
			g.LetOut, g.LetDown = units.Some(cm(float64(c.IntN(5)))), units.Some(cm(float64(c.IntN(5))))
		}
		h.Garments = append(h.Garments, g)
	}
	for i := range 200 {
		h.Cloths = append(h.Cloths, show.Cloth{ID: show.ClothID(fmt.Sprintf("K%03d", i)), Name: "cloth", Colour: hue(), Width: cm(140), Length: cm(200 + float64(c.IntN(600)))})
	}
	return h
}

// seasonVerb makes up a season, named as 300x20000 for performers and
// garments, and shares it out.
func seasonVerb(ctx context.Context, r *run) (result, error) {
	var performers, garments int
	if n, err := fmt.Sscanf(r.file, "%dx%d", &performers, &garments); n != 2 || err != nil || performers < 1 || garments < 0 {
		return result{}, fmt.Errorf("%q is no season: write performers x garments, as 300x20000", r.file)
	}
	h := season(performers, garments, r.seed)
	in := sourcing.Input{House: &h, Estimates: cutting.Estimate(&h), Money: units.Money(performers) * 10_00,
		Hours: []sourcing.HoursFor{{Name: "all", Skills: []answer.Skill{answer.Tailor, answer.Maker, answer.Straight, answer.Beginner, answer.Trim}, Minutes: units.Minutes(performers) * 180}}}
	fmt.Fprintf(r.errs, "%.1f s: %d pieces, %d garments, cloth reckoned\n", r.elapsed(), len(h.Pieces), len(h.Garments))
	plan, err := sourcing.Share(ctx, in, r.budget(func(solve.Progress) {}))
	if err != nil {
		return result{}, err
	}
	if bad := sourcing.Check(in, plan); len(bad) > 0 {
		return result{}, fmt.Errorf("the plan does not hold: %s", bad[0].Sentence(units.Metric))
	}
	var out bytes.Buffer
	for _, ch := range plan.Choices {
		fmt.Fprintln(&out, ch.Piece, ch.Source, ch.Garment, ch.Cloth)
	}
	o := plan.Outcome
	return result{Name: "season " + r.file, Seconds: r.elapsed(), Steps: o.Steps, Seed: o.Seed, Value: o.Value, Bound: &o.Bound, Proof: o.Proof.String(), Stopped: o.Stopped}, r.write(out.Bytes())
}
