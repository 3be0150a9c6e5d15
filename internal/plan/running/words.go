package running

import "fmt"

// clockWords says a second of the show as it stands on a sheet: 0:41:20.
func clockWords(s int) string { return fmt.Sprintf("%d:%02d:%02d", s/3600, s/60%60, s%60) }
