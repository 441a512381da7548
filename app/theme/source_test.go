// SPDX-License-Identifier: MIT

package theme

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// A colour that stands in some widget's source does not follow the theme: on light
// ground it may not be seen at all.
func TestNoColourIsMadeOutsideTheTheme(t *testing.T) {
	files := 0
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && d.Name() == "theme":
			return fs.SkipDir
		case d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go"):
			return nil
		}
		files++
		set := token.NewFileSet()
		f, err := parser.ParseFile(set, path, nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(f, func(n ast.Node) bool {
			lit, ok := n.(*ast.CompositeLit)
			if !ok {
				return true
			}
			if s, ok := lit.Type.(*ast.SelectorExpr); ok {
				if x, ok := s.X.(*ast.Ident); ok && (x.Name == "color" || x.Name == "scene" && s.Sel.Name == "RGB") {
					t.Errorf("%s: %s.%s is made here", set.Position(lit.Pos()), x.Name, s.Sel.Name)
				}
			}
			return true
		})
		return nil
	})
	if err != nil || files < 50 {
		t.Fatalf("read %d files: %v", files, err)
	}
}
