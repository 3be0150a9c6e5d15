package workshop

import (
	"context"
	"os"

	"hemwright/internal/show/show"
	"hemwright/internal/store"
	"hemwright/internal/value/units"
)

// ForPages is a house in a file nobody keeps.
func ForPages(h show.House, day units.Date) *Workshop {
	dir, err := os.MkdirTemp("", "pages")
	if err != nil {
		panic(err)
	}
	w, err := New(dir+"/h", Settings{Day: day})
	if err != nil {
		panic(err)
	}
	if err := w.store.Do(context.Background(), store.Act{Words: "brought in", When: w.clock()}, func(tx *store.Tx) error { return tx.Replace(h) }); err != nil {
		panic(err)
	}
	return w
}
