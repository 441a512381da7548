// SPDX-License-Identifier: MIT

// Command words lists the texts in the sources of the window and of what it shows, in the
// form in which the catalogues of app/words have them: a literal as it stands, a format
// with its verbs, and a sum of literals and values with %s for each value.
//
//	go run ./words [-all] ROOT
//
// prints those that assets/words/de.json has not, one a line as JSON with the file that has
// it first; with -all, every one. Texts that are nothing to read, such as names of fields,
// stand in unspoken.txt, and are passed over: a line for each, quoted as in Go.
package main

import (
	_ "embed"
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

//go:embed unspoken.txt
var unspoken string

// folders hold what reaches the window, and silent ones under them texts that do not.
var (
	folders = []string{"app", "project", "scene", "geometry/unit", "assets/assets.go"}
	silent  = []string{"app/portal", "app/repaint", "app/words", "app/locale", "app/document/claim.go", "app/page/pagetest",
		"project/projecttest", "project/sight/oracle", "project/sight/sighttest", "project/disk",
		"project/crew", "project/handover", "project/table", "scene/gl", "scene/gltf", "scene/drawing", "scene/handout", "scene/sheet"}
)

func main() {
	all := flag.Bool("all", false, "print those that the catalogue has, too")
	flag.Parse()
	root := flag.Arg(0)
	if root == "" {
		root = "."
	}
	if err := list(root, *all); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func list(root string, all bool) error {
	have := map[string]string{}
	data, err := os.ReadFile(filepath.Join(root, "assets", "words", "de.json"))
	if err == nil {
		err = json.Unmarshal(data, &have)
	}
	if err != nil && !os.IsNotExist(err) {
		return err
	}
	for _, line := range strings.Split(strings.TrimSpace(unspoken), "\n") {
		text, err := strconv.Unquote(line)
		if err != nil {
			return fmt.Errorf("unspoken.txt: %s: %w", line, err)
		}
		have[text] = text
	}
	found := map[string]string{}
	for _, f := range folders {
		err := filepath.WalkDir(filepath.Join(root, f), func(path string, d fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			rel, _ := filepath.Rel(root, path)
			rel = filepath.ToSlash(rel)
			switch {
			case slices.Contains(silent, rel) && d.IsDir():
				return filepath.SkipDir
			case slices.Contains(silent, rel), d.IsDir(), !strings.HasSuffix(path, ".go"), strings.HasSuffix(path, "_test.go"):
				return nil
			}
			return texts(path, func(text string) {
				if _, ok := found[text]; !ok {
					found[text] = rel
				}
			})
		})
		if err != nil {
			return err
		}
	}
	out := json.NewEncoder(os.Stdout)
	out.SetEscapeHTML(false)
	keys := make([]string, 0, len(found))
	for k := range found {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b string) int {
		if c := strings.Compare(found[a], found[b]); c != 0 {
			return c
		}
		return strings.Compare(a, b)
	})
	for _, k := range keys {
		if !all && slices.ContainsFunc(forms(k), func(f string) bool { _, ok := have[f]; return ok }) {
			continue
		}
		if err := out.Encode([2]string{k, found[k]}); err != nil {
			return err
		}
	}
	return nil
}

// forms are the keys under which the catalogue may have a text: what begins or ends a
// sum in the source has %s for the rest.
func forms(text string) []string {
	return []string{text, "%s" + text, text + "%s", text + " %s", strings.TrimRight(text, " .:…"), strings.TrimSpace(text)}
}

// texts tells of every text in a file.
func texts(path string, tell func(string)) error {
	f, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
	if err != nil {
		return err
	}
	var visit func(n ast.Node) bool
	visit = func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.ImportSpec:
			return false
		case *ast.Field:
			if n.Tag != nil {
				n.Tag = nil
			}
		case *ast.CallExpr:
			if s, ok := n.Fun.(*ast.SelectorExpr); ok && slices.Contains(mute, s.Sel.Name) {
				return false
			}
		case *ast.BinaryExpr:
			if n.Op != token.ADD {
				return true
			}
			text, some := sum(n, func(e ast.Expr) { ast.Inspect(e, visit) })
			if some {
				offer(text, tell)
			}
			return false
		case *ast.BasicLit:
			if n.Kind == token.STRING {
				if text, err := strconv.Unquote(n.Value); err == nil {
					offer(text, tell)
				}
			}
		}
		return true
	}
	ast.Inspect(f, visit)
	return nil
}

// mute are the functions whose arguments are nothing to read.
var mute = []string{"MustCompile", "Getenv", "Setenv", "HasPrefix", "HasSuffix", "TrimPrefix", "TrimSuffix", "Contains", "ContainsAny", "ContainsRune", "Trim", "TrimRight", "TrimLeft", "Cut", "CutPrefix", "CutSuffix", "Index", "EqualFold", "Split", "Count", "LastIndex", "Join_"}

// sum returns a sum of texts with %s for what is no literal; some reports whether it has
// a literal. other is told of each operand that is none.
func sum(e ast.Expr, other func(ast.Expr)) (text string, some bool) {
	switch e := e.(type) {
	case *ast.ParenExpr:
		return sum(e.X, other)
	case *ast.BinaryExpr:
		if e.Op == token.ADD {
			a, one := sum(e.X, other)
			b, two := sum(e.Y, other)
			return a + b, one || two
		}
	case *ast.BasicLit:
		if e.Kind == token.STRING {
			text, err := strconv.Unquote(e.Value)
			return strings.ReplaceAll(text, "%%", "%"), err == nil
		}
	case *ast.CallExpr: // a format in a sum is a part of it
		if s, ok := e.Fun.(*ast.SelectorExpr); ok && s.Sel.Name == "Sprintf" && len(e.Args) > 0 {
			if format, some := sum(e.Args[0], other); some {
				for _, a := range e.Args[1:] {
					other(a)
				}
				return format, true
			}
		}
	}
	other(e)
	return "%s", false
}

var (
	letters = regexp.MustCompile(`\pL{2}`)
	verb    = regexp.MustCompile(`%[-+#0]*(\[\d+\])?\d*(\.\d+)?[a-zA-Z%]`)
	key     = regexp.MustCompile(`^(?:[a-z0-9-]*[._/#:0-9][a-z0-9._/#:-]*|[\w%.]*\[.*|[\w%.]*_[\w%.\[\]]*|%s[a-z]+|%s\.\w+|[A-Z0-9$]+|[a-z]+[A-Z]\w*)$`)
)

// offer tells of text if it may be something to read.
func offer(text string, tell func(string)) {
	bare := verb.ReplaceAllString(text, "")
	if !letters.MatchString(bare) || key.MatchString(text) || strings.HasPrefix(text, "earline") {
		return
	}
	tell(text)
}
