package hemwright_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// never are words that appear on no face at all; aboutBody are words that
// appear in no sentence that speaks of a body. from: common practice of those
// who measure children, and advice on respectful fitting.
var (
	never = regexp.MustCompile(`(?i)\b(bust|breasts?|crotch|percentiles?|puberty|growth spurt|maturity|bmi|chubby|skinny|husky|petite|slimming|flatter(?:s|ing)|nude|flesh|skin-coloured|problem areas?|handicap(?:ped)?|implausible|abnormal|overweight|obese)\b|fits (?:boys|girls)|too (?:big|small|wide|tight|long|short|fat|thin) for (?:her|him|them)|(?:tall|short) for (?:her|his|their)`)
	child = regexp.MustCompile(`(?i)\b(child|children|performer|her|him|she|he|body|bodies)\b`)
	shape = regexp.MustCompile(`(?i)\b(fat|thin|slim|heavy|overlarge|plump|normal|ideal|average|failed)\b`)
)

// Every word a person may read: pages, scripts, tables of words, and the
// sentences in the code.
func TestWordsThatNeverAppear(t *testing.T) {
	read := 0
	check := func(where, words string) {
		read++
		if m := never.FindString(words); m != "" {
			t.Errorf("%s says %q: %s", where, m, words)
		}
		if child.MatchString(words) && shape.MatchString(words) {
			t.Errorf("%s speaks of somebody's shape: %s", where, words)
		}
	}
	err := filepath.WalkDir("internal", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.Contains(path, "testdata") || strings.Contains(path, "/demo/") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		switch filepath.Ext(path) {
		case ".html", ".txt", ".js":
			b, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			for i, line := range strings.Split(string(b), "\n") {
				check(path+":"+strconv.Itoa(i+1), line)
			}
		case ".go":
			return sentences(path, check)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if read < 3000 {
		t.Errorf("only %d lines and sentences were read", read)
	}
}

// sentences hands on every string of a file; patterns for reading are not
// words for people.
func sentences(path string, check func(where, words string)) error {
	set := token.NewFileSet()
	f, err := parser.ParseFile(set, path, nil, 0)
	if err != nil {
		return err
	}
	ast.Inspect(f, func(n ast.Node) bool {
		if call, ok := n.(*ast.CallExpr); ok {
			if sel, ok := call.Fun.(*ast.SelectorExpr); ok && strings.HasSuffix(sel.Sel.Name, "MustCompile") {
				return false
			}
		}
		if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			if words, err := strconv.Unquote(lit.Value); err == nil {
				check(set.Position(lit.Pos()).String(), words)
			}
		}
		return true
	})
	return nil
}
