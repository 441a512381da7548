// SPDX-License-Identifier: MIT

package inspector

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"earline/project/practice"
)

// A newcomer was told what a field is called, and nowhere why it matters.
func TestWhatIsJudgedSaysWhyItMatters(t *testing.T) {
	b := opened(t, "large")
	b.in.open.looks = true
	b.in.Update()
	for _, c := range []struct {
		group      int
		name, rule string // rule is empty for what no rule judges
	}{
		{roomGroup, "Height", "headroom"},
		{rowsGroup, "From screen wall", "row-knees"},
		{rowsGroup, "Riser height", "picture-margin"},
		{rowsGroup, "Recline", "row-footrest"},
		{rowsGroup, "Back height", "sight"},
		{screenGroup, "Picture width", "picture-angle-least"},
		{screenGroup, "Lower edge", "picture-bottom"},
		{screenGroup, "Gain", ""},
		{speakersGroup, "Height", "sight"},
		{speakersGroup, "Aim", "coverage-across"},
		{sittersGroup, "Others, percentile", "sight-margin"},
		{surfacesGroup, "Reflectance", ""},
		{criteriaGroup, "Margin, sound", "sight-margin"},
	} {
		l := b.line(t, c.group, c.name)
		tip := l.Tip()
		if tip == "" || tip == c.name {
			t.Errorf("%s: the tip is %q", c.name, tip)
		}
		if r, ok := practice.Find(c.rule); ok && !strings.Contains(tip, r.Why) {
			t.Errorf("%s: the tip %q is not in the words of the rule %q", c.name, tip, r.Title)
		}
	}
}

// Every rule that a tip is taken from is one.
func TestTipsNameRulesThatExist(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	tips := 0
	for _, name := range files {
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			if fun, ok := call.Fun.(*ast.Ident); !ok || fun.Name != "why" {
				return true
			}
			tips++
			for _, a := range call.Args[1:] {
				id, err := strconv.Unquote(a.(*ast.BasicLit).Value)
				if _, ok := practice.Find(id); err != nil || !ok {
					t.Errorf("%s: no rule %q", name, id)
				}
			}
			return true
		})
	}
	if tips < 30 {
		t.Errorf("only %d tips were read", tips)
	}
}
