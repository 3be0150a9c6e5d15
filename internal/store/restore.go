package store

import (
	"context"
	"fmt"
	"os"
	"strings"

	"hemwright/internal/value/why"
)

// Restore makes the house what it was in a copy: the rows of the copy take
// the place of the rows of the house, in one act that can be undone. What was
// done before stays in the journal.
func (s *Store) Restore(ctx context.Context, n int, a Act) error {
	c, err := s.copyNumbered(n)
	if err != nil {
		return err
	}
	if !whole(c.Path) {
		return why.Bad("copy", fmt.Sprintf("Copy %d is damaged; nothing was changed.", n), "Choose another: hemwright copies")
	}
	if err := s.keepCopySparing(n); err != nil {
		return err
	}
	temp := c.Path + ".part"
	os.Remove(temp)
	if err := copyFile(temp, c.Path); err != nil {
		return s.words(err)
	}
	defer os.Remove(temp)
	old, err := open(temp, false) // brings an older one up to date
	if err != nil {
		return err
	}
	if err := old.Close(); err != nil {
		return err
	}
	if _, err := s.w.ExecContext(ctx, "ATTACH ? AS copy", temp); err != nil {
		return s.words(err)
	}
	defer s.w.Exec("DETACH copy")
	id, err := s.do(ctx, a, "act", 0, func(tx *Tx) error { return tx.replaceAll("copy.", nil) })
	if err == nil && id == 0 {
		return &why.Error{Kind: why.Conflict, Field: "copy", What: fmt.Sprintf("The house is as it was in copy %d already.", n), Try: "See which others there are: hemwright copies"}
	}
	return err
}

// replaceAll makes every table hold the rows of its namesake, whose name is
// the same after a prefix; of tables in part only what the namesake holds is
// changed.
func (tx *Tx) replaceAll(prefix string, part map[string]bool) error {
	if _, err := tx.tx.Exec("PRAGMA defer_foreign_keys = ON"); err != nil {
		return err
	}
	names, err := journaled(tx.tx)
	if err != nil {
		return err
	}
	for _, name := range names {
		cols, err := columnsIn(tx.tx, name)
		if err != nil {
			return err
		}
		var all, keys []string
		for _, c := range cols {
			all = append(all, c.name)
			if c.key {
				keys = append(keys, c.name)
			}
		}
		list, key := strings.Join(all, ", "), strings.Join(keys, ", ")
		only := ""
		if part[name] {
			only = fmt.Sprintf(" AND (%s) IN (SELECT %s FROM %s%s)", key, key, prefix, name)
		}
		_, err = tx.tx.Exec(fmt.Sprintf("DELETE FROM main.%s WHERE (%s) IN (SELECT %s FROM (SELECT %s FROM main.%s EXCEPT SELECT %s FROM %s%s))%s",
			name, key, key, list, name, list, prefix, name, only))
		if err != nil {
			return fmt.Errorf("table %s: %w", name, err)
		}
		_, err = tx.tx.Exec(fmt.Sprintf("INSERT INTO main.%s (%s) SELECT %s FROM %s%s EXCEPT SELECT %s FROM main.%s",
			name, list, list, prefix, name, list, name))
		if err != nil {
			return fmt.Errorf("table %s: %w", name, err)
		}
	}
	return nil
}
