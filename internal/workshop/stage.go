package workshop

import (
	"context"
	"fmt"

	"hemwright/internal/intake"
	"hemwright/internal/plan/running"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// Ticks puts roles on in scenes for the whole of each, or takes them out: all
// of it one deed.
func (w *Workshop) Ticks(ctx context.Context, ticks []Tick) error {
	words := fmt.Sprintf("%d ticks in who is on", len(ticks))
	if len(ticks) == 1 {
		words = fmt.Sprintf("%s %s in %s", ticks[0].Who, map[bool]string{true: "on", false: "not on"}[ticks[0].On], ticks[0].Scene)
	}
	return w.act(ctx, words, func(h *show.House) error {
		for _, t := range ticks {
			roles, err := intake.StageRoles(h, t.Who)
			if err != nil {
				return err
			}
			if *h, err = intake.Tick(*h, t.Scene, roles, t.On, w.Day(h.Show)); err != nil {
				return err
			}
		}
		return nil
	})
}

// Tick is a role's code or a group's name, and whether it is on in a scene.
type Tick struct {
	Scene show.SceneID
	Who   string
	On    bool
}

// SetTimes writes when and where a role or a group enters and leaves a scene.
func (w *Workshop) SetTimes(ctx context.Context, scene show.SceneID, who string, t intake.Times) error {
	return w.act(ctx, fmt.Sprintf("The times of %s in %s", who, scene), func(h *show.House) error {
		roles, err := intake.StageRoles(h, who)
		if err != nil {
			return err
		}
		*h, err = intake.SetTimes(*h, scene, roles, t)
		return err
	})
}

// Running is the house with who is on and every change, and nothing else of
// what could be worked out: quick enough to follow a tick.
func (w *Workshop) Running() (*Prepared, error) {
	act, err := w.store.LastAct()
	if err != nil {
		return nil, err
	}
	if last := w.current(act); last != nil {
		return last, nil
	}
	h, err := w.house()
	if err != nil {
		return nil, err
	}
	p := &Prepared{Day: w.Day(h.Show)}
	p.know(h)
	p.Timelines = running.Timelines(&p.House)
	return p, nil
}

// Rehearse keeps how long a change took, at best, from the exit to being
// ready.
func (w *Workshop) Rehearse(ctx context.Context, who show.PerformerID, from, to show.SceneID, seconds int) error {
	return w.act(ctx, fmt.Sprintf("%s from %s to %s in %d s", who, from, to, seconds), func(h *show.House) error {
		switch {
		case h.Performer(who) == nil:
			return why.NotFound("performer", string(who))
		case h.Scene(from) == nil:
			return why.NotFound("scene", string(from))
		case h.Scene(to) == nil:
			return why.NotFound("scene", string(to))
		case seconds <= 0 || seconds > 3600:
			return why.Bad("seconds", fmt.Sprintf("%d s is no time for a change.", seconds), "Write the seconds it took, as 75.")
		}
		h.Rehearsed = append(h.Rehearsed, show.Rehearsed{Performer: who, From: from, To: to, Seconds: seconds, Day: w.Day(h.Show)})
		return nil
	})
}

// Took keeps how long a helper worked at something, beside what it was thought
// to take, so that the next estimates learn from it.
func (w *Workshop) Took(ctx context.Context, who show.HelperID, piece show.PieceID, what string, took, thought units.Minutes) error {
	return w.act(ctx, fmt.Sprintf("%s: %s on %s", took, what, piece), func(h *show.House) error {
		switch {
		case h.Helper(who) == nil:
			return why.NotFound("helper", string(who))
		case h.Piece(piece) == nil:
			return why.NotFound("piece", string(piece))
		case took <= 0 || took > 6000:
			return why.Bad("took", fmt.Sprintf("%d minutes is no time for a piece of work.", took), "Write the minutes it took, as 45.")
		}
		h.Logged = append(h.Logged, show.Logged{Helper: who, Piece: piece, What: what, Minutes: took, Thought: max(0, thought), Day: w.Day(h.Show)})
		return nil
	})
}

// Away says who could step into the roles of somebody who is away, in their
// clothes.
func Away(p *Prepared, cast show.Cast, gone show.PerformerID) []answer.Away {
	return running.WhoCouldStepIn(&p.House, cast, gone, p.Plan)
}
