package hemwright_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// floors are the rooms from the ground up; a package may import the floors
// below its own, never its own and never one above.
var floors = map[string]int{
	"value": 0, "engine": 1, "show": 2, "craft": 3, "store": 3, "intake": 3,
	"plan": 4, "demo": 4, "workshop": 5, "face": 6,
}

// sameFloor are the only imports allowed between neighbours.
var sameFloor = []string{
	"show/show show/body", "show/answer show/show", "show/answer show/body",
	"value/why value/units", "value/geom value/units", "value/colour value/units", "value/solve value/units", "value/rows value/why",
	"demo/demotest demo", "engine/assign engine/flow", "engine/schedule engine/flow",
	"face/web face/sheet", "face/cli face/sheet", "face/cli face/web", "face/web face/file", "face/cli face/file",
}

// notBelow are packages of the outer world kept out below the workshop.
var notBelow = []string{"os", "net", "net/http", "database/sql", "math/rand", "math/rand/v2", "log", "log/slog"}

func TestLayers(t *testing.T) {
	fset := token.NewFileSet()
	err := filepath.WalkDir("internal", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(fset, path, nil, 0)
		if err != nil {
			return err
		}
		room := strings.TrimPrefix(filepath.ToSlash(filepath.Dir(path)), "internal/")
		floor := floors[strings.Split(room, "/")[0]]
		for _, spec := range file.Imports {
			name, _ := strconv.Unquote(spec.Path.Value)
			if other, ours := strings.CutPrefix(name, "hemwright/internal/"); ours {
				f := floors[strings.Split(other, "/")[0]]
				if f > floor || f == floor && !slices.Contains(sameFloor, room+" "+other) {
					t.Errorf("%s imports %s, which does not lie below it", path, other)
				}
				if floor == 3 && (room == "store" || room == "intake") && f == 1 {
					t.Errorf("%s imports %s; it knows only value and show", path, other)
				}
				continue
			}
			allowed := room == "store" || name == "math/rand/v2" && room == "value/solve"
			if floor < floors["workshop"] && slices.Contains(notBelow, name) && !allowed {
				t.Errorf("%s imports %s, which is not for the floors below workshop", path, name)
			}
		}
		if floor < floors["workshop"] {
			noClock(t, fset, path, file)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// noClock fails on any reading of the clock.
func noClock(t *testing.T, fset *token.FileSet, path string, file *ast.File) {
	ast.Inspect(file, func(n ast.Node) bool {
		if sel, ok := n.(*ast.SelectorExpr); ok {
			if id, ok := sel.X.(*ast.Ident); ok && id.Name == "time" && slices.Contains([]string{"Now", "Since", "Until", "Sleep", "After", "NewTimer"}, sel.Sel.Name) {
				t.Errorf("%s reads the clock", fset.Position(sel.Pos()))
			}
		}
		return true
	})
}
