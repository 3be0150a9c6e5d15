package web

import (
	"net/http"

	"hemwright/internal/show/answer"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// changed lists what is not as it was on a day, or when a sheet was printed.
func (s *server) changed(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	since := r.URL.Query().Get("since")
	view := struct {
		Frame
		Since string
		Act   int64
		Asked bool
		answer.Changed
	}{Frame: s.frame(p, "What changed since", "/sheets", nil), Since: since, Act: p.Act, Asked: since != ""}
	status := http.StatusOK
	if since != "" {
		got, err := s.ws.Changed(since)
		if why.KindOf(err) == why.Invalid && err != nil {
			view.Refused, view.Asked, status = err.Error(), false, why.Invalid.HTTPStatus()
		} else if err != nil {
			return err
		}
		view.Changed = got
	}
	return s.show(w, status, "changed", view)
}
