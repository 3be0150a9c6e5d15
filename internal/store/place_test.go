package store

import (
	"context"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"hemwright/internal/demo/demotest"
	"hemwright/internal/intake"
	"hemwright/internal/show/show"
)

// longest is the length of a longest rising run, by trying them all.
func longest(was []int64) int {
	best := 0
	for mask := range 1 << len(was) {
		last, n, ok := nowhere, 0, true
		for i, p := range was {
			if mask>>i&1 == 1 {
				ok = ok && p > last
				last, n = p, n+1
			}
		}
		if ok {
			best = max(best, n)
		}
	}
	return best
}

func TestPlacesRiseAndKeepTheMost(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		was := rapid.SliceOfNDistinct(rapid.Int64Range(-20, 20), 0, 9, rapid.ID[int64]).Draw(rt, "places")
		for _, i := range rapid.SliceOfN(rapid.IntRange(0, 8), 0, 4).Draw(rt, "new") {
			if i < len(was) {
				was[i] = nowhere
			}
		}
		got := places(was)
		for i := range got {
			if i > 0 && got[i] <= got[i-1] {
				rt.Fatalf("%v became %v", was, got)
			}
		}
		for i := range was { // with room between them
			if was[i] != nowhere {
				was[i] *= apart
			}
		}
		got, kept := places(was), 0
		for i := range got {
			if was[i] != nowhere && got[i] == was[i] {
				kept++
			}
		}
		if kept < longest(was) {
			rt.Fatalf("%v became %v", was, got)
		}
	})
}

// One row out of the middle and one into it are two images, not a hundred.
func TestJournalStaysSmall(t *testing.T) {
	s, _ := fresh(t)
	h := demotest.House(t)
	put(t, s, "import", h)
	h.Garments = slices.Delete(slices.Clone(h.Garments), 10, 11)
	h.Garments = slices.Insert(h.Garments, 60, show.Garment{ID: "new", Name: "smock"})
	put(t, s, "one out, one in", h)
	same(t, "kept", read(t, s), h)
	var n int
	if err := s.r.QueryRow("SELECT count(*) FROM image WHERE act_id = (SELECT max(id) FROM act)").Scan(&n); err != nil || n != 2 {
		t.Errorf("%d images, %v", n, err)
	}
	slices.Reverse(h.Garments)
	put(t, s, "the other way round", h)
	same(t, "turned", read(t, s), h)
}

// Whatever an import lets through, the file's own checks take as well.
func TestWhatIsImportedCanBeKept(t *testing.T) {
	s, _ := fresh(t)
	var files []intake.File
	for name, text := range map[string]string{
		"p.csv": "performer_id,name,sex_for_growth,birth_month,measured_on,consent_on_file,waist_cm\nA,Ann,?,2016-13,never,perhaps,23\nB,,,,,no measuring,60\n",
		"r.csv": "role_id,role,performer_id\nX,Fox,Q\nY,Owl,A\n",
		"s.csv": "scene_id,title,running_min,gap_after_s\n1,One,-3,-1\n2,Two,4,x\n",
		"l.csv": "look_id,look,role_id,order_for_role\nL,fur,X,-1\n",
		"a.csv": "scene_id,role_id,look_id,enter_min,exit_min,enter_side\n1,X,L,4,3,up\n2,X,L,3,1,\n2,X,L,-1,99,\n",
		"c.csv": "piece_id,piece,look_ids,layer,price_limit_eur,set_id\nP,cap,L|M,77,-2,none\n",
		"g.csv": "stock_id,garment,waist_cm,waist_max_cm,return_by,may_cut\nG,coat,80,70,soon,perhaps\n",
		"k.csv": "cloth_id,cloth,width_cm,outline_cm,weight_g_per_m2\nK,felt,-4,\"0,0;1\",light\n",
		"h.csv": "helper_id,name,from_date,to_date,hours_per_week,pace_ratio_to_lead\nH,Jo,2027-03-01,2027-02-01,-4,-1\n",
		"n.csv": "note_id,note,minutes,role_id,helper_id\nN,loose,-3,Z,H9\n",
		"e.csv": "date,what,kind,start_time\n2027-02-30,walk,plan,25:00\n2027-02-28,walk,plan,25:00\n",
		"v.csv": "performance_id,date,start_time,cast\nV,,99,A\n",
	} {
		files = append(files, intake.File{Name: name, Data: []byte(text)})
	}
	slices.SortFunc(files, func(a, b intake.File) int { return slices.Compare([]byte(a.Name), []byte(b.Name)) })
	h, _, err := intake.Take(show.House{}, files)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Do(context.Background(), Act{Words: "import", When: noon}, func(tx *Tx) error { return tx.Replace(h) }); err != nil {
		t.Fatal(err)
	}
	same(t, "kept", read(t, s), h)
}
