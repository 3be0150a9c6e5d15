package fit

import (
	"hemwright/internal/show/answer"
	"hemwright/internal/value/units"
)

// op is one alteration worth planning. Minutes are the lead's, plain and
// lined; perMetre goes by the hem. Look is what the house sees of it, in
// hundredths. All figures are house estimates.
type op struct {
	say           string
	plain, lined  units.Minutes
	perMetre      units.Minutes
	skill         answer.Skill
	undo, seen    string
	look          int
	wider, longer int // +1, -1, or 0 where it makes a range
}

var ops = map[string]op{
	"sides in":    {say: "take in the side seams", plain: 25, lined: 50, skill: answer.Straight, undo: "yes", seen: "no", wider: -1},
	"sleeve in":   {say: "take in side and sleeve in one", plain: 40, lined: 75, skill: answer.Straight, undo: "yes", seen: "no", wider: -1},
	"back in":     {say: "take in the centre back seam", plain: 30, lined: 30, skill: answer.Straight, undo: "yes", seen: "no", wider: -1},
	"strap":       {say: "strap across the back", plain: 15, lined: 15, skill: answer.Beginner, undo: "yes", seen: "no", wider: -1},
	"pad":         {say: "pad the hat", plain: 8, lined: 8, skill: answer.Beginner, undo: "yes", seen: "no", wider: -1},
	"elastic":     {say: "elastic in the back waist", plain: 20, lined: 20, skill: answer.Beginner, undo: "yes", seen: "little", look: 3},
	"new elastic": {say: "new elastic", plain: 15, lined: 15, skill: answer.Beginner, undo: "yes", seen: "no"},
	"draw in":     {say: "loops and cord to draw in the back", plain: 60, lined: 60, skill: answer.Straight, undo: "yes", seen: "little", look: 8},
	"hooks in":    {say: "move the hooks or buttons in", plain: 18, lined: 18, skill: answer.Beginner, undo: "yes", seen: "no", wider: -1},
	"hooks out":   {say: "move the hooks or buttons out", plain: 18, lined: 18, skill: answer.Beginner, undo: "yes", seen: "no", wider: 1},
	"sides out":   {say: "let out the side seams", plain: 40, lined: 70, skill: answer.Straight, undo: "partly", seen: "little", look: 2, wider: 1},
	"back out":    {say: "let out the centre back seam", plain: 30, lined: 30, skill: answer.Straight, undo: "partly", seen: "no", wider: 1},
	"tab":         {say: "tab or elastic in the waistband", plain: 25, lined: 25, skill: answer.Beginner, undo: "yes", seen: "no", look: 2, wider: 1},
	"gussets":     {say: "underarm gussets", plain: 50, lined: 75, skill: answer.Maker, undo: "partly", seen: "little", look: 4, wider: 1},
	"panels":      {say: "side panels set in", plain: 80, lined: 90, skill: answer.Maker, undo: "no", seen: "little", look: 12, wider: 1},
	"regather":    {say: "let the gathers out into a new band", plain: 60, lined: 60, skill: answer.Straight, undo: "yes", seen: "no", wider: 1},
	"hem up":      {say: "hem up by machine", plain: 10, lined: 10, perMetre: 6, skill: answer.Straight, undo: "yes", seen: "no", longer: -1},
	"cut and hem": {say: "cut shorter and hem", plain: 15, lined: 15, perMetre: 6, skill: answer.Straight, undo: "no", seen: "no", look: 6, longer: -1},
	"hem down":    {say: "let the hem down, faced", plain: 10, lined: 10, perMetre: 15, skill: answer.Straight, undo: "yes", seen: "little", look: 3, longer: 1},
	"hem band":    {say: "band at the hem", plain: 10, lined: 10, perMetre: 20, skill: answer.Straight, undo: "yes", seen: "yes", look: 15, longer: 1},
	"basque":      {say: "basque at the waist", plain: 50, lined: 50, skill: answer.Maker, undo: "partly", seen: "yes", look: 12, longer: 1},
	"loops":       {say: "catch-up loops and buttons", plain: 18, lined: 18, skill: answer.Beginner, undo: "yes", seen: "little", look: 4},
	"legs up":     {say: "hem the legs up", plain: 28, lined: 28, skill: answer.Beginner, undo: "yes", seen: "no", longer: -1},
	"legs down":   {say: "hem the legs down", plain: 28, lined: 28, skill: answer.Straight, undo: "yes", seen: "little", look: 2, longer: 1},
	"legs off":    {say: "cut the legs to length and hem", plain: 45, lined: 45, skill: answer.Straight, undo: "no", seen: "no", longer: -1},
	"body up":     {say: "shorten the body of the jacket", plain: 70, lined: 70, skill: answer.Tailor, undo: "no", seen: "no", look: 3, longer: -1},
	"tuck sleeve": {say: "tuck inside the sleeve", plain: 8, lined: 8, skill: answer.Beginner, undo: "yes", seen: "no", longer: -1},
	"sleeve up":   {say: "shorten the sleeves", plain: 25, lined: 50, skill: answer.Straight, undo: "partly", seen: "no", longer: -1},
	"cuffs up":    {say: "turn the sleeve hem up and tack it", plain: 25, lined: 25, skill: answer.Straight, undo: "yes", seen: "no", longer: -1},
	"cuff on":     {say: "cuff or frill at the sleeve", plain: 35, lined: 35, skill: answer.Straight, undo: "yes", seen: "yes", look: 6, longer: 1},
	"sleeves on":  {say: "sleeves set in", plain: 75, lined: 75, skill: answer.Maker, undo: "partly", seen: "yes", look: 10, longer: 1},
	"press":       {say: "label and press", plain: 8, lined: 8, skill: answer.Beginner, undo: "yes", seen: "no"},
}

// byName finds an operation by what it says, for the check.
var byName = func() map[string]op {
	m := map[string]op{}
	for _, o := range ops {
		m[o.say] = o
	}
	return m
}()
