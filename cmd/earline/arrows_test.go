// SPDX-License-Identifier: MIT

package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"go/parser"
	"go/token"
	"io"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// layers are our packages from the bottom up. A package may import ours from
// layers below it only; "project/" stands for the analyses, which may not
// import each other.
var layers = [][]string{
	{"geometry/unit", "assets", "project/air", "project/disk", "project/bs2051", "project/crew", "project/sight/oracle"},
	{"geometry"},
	{"geometry/geomtest"},
	{"project"},
	{"project/place"},
	{"project/projecttest", "project/pair", "project/panel"},
	{"project/table", "project/fit", "project/shell", "project/diff", "project/follow", "project/system", "project/bass/field", "project/bass/filter"},
	{"project/bass/"},
	{"project/"},
	{"project/sight/"},
	{"scene/drawing"},
	{"scene/drawing/"},
	{"scene/chart"},
	{"scene"},
	{"scene/"},
	{"scene/tour"},
	{"app/", "app/page/"},
	{"app"},
	{"cmd/"},
}

// Analyses that may use other analyses, because their question is made of theirs.
var mayUseAnalyses = []string{"project/practice", "project/sound", "project/blend", "project/solve", "project/setout", "project/add", "project/newroom", "project/settle", "project/layout", "project/compare", "project/built", "project/measured", "project/handover", "project/decay", "project/light", "project/viewing", "project/lesson"}

// pages are those that import no other of them: what two of them need lies below both.
const pages = "app/page/"

// mayUse says all that some packages may import of ours, where that is less than
// the layers below them; "x/" stands for what lies in x.
var mayUse = map[string][]string{
	"scene/drawing":        {"geometry"},
	"scene/drawing/raster": {"scene/drawing"},
	"scene/drawing/svg":    {"scene/drawing"},
	"scene/drawing/pdf":    {"scene/drawing"},
	"scene/drawing/dxf":    {"scene/drawing"},
	"scene/gltf":           {"scene", "project", "project/bs2051", "geometry"},
	"scene/chart":          {"scene/drawing", "scene/drawing/"},
	"scene/sheet":          {"scene/drawing", "project", "project/", "geometry", "geometry/"},
	"scene/bake":           {"scene", "project", "project/", "geometry"},
	"scene/film":           {},
	"scene/tour":           {"scene/walk", "scene/bake", "scene", "project", "project/", "geometry", "geometry/"},
	"scene/figure":         {"scene/chart", "scene", "project", "project/", "geometry"},
}

// heavy are the modules that must stay out of everything that has to run
// without a display, by package prefix, with those who may reach them.
var heavy = map[string][]string{
	"fyne.io/":            {"app", "cmd"},
	"github.com/g3n/":     {"scene/gl", "app", "cmd"},
	"github.com/go-gl/gl": {"scene/gl", "app", "cmd"},
}

// windowless are the packages under app that know no window: they must not reach
// what is heavy either.
var windowless = []string{"app/document", "app/portal", "app/session", "app/words"}

type goPackage struct {
	ImportPath string
	Imports    []string
	Deps       []string
}

func listPackages(t *testing.T) []goPackage {
	t.Helper()
	cmd := exec.Command("go", "list", "-tags", "migrated_fynedo", "-json=ImportPath,Imports,Deps", "earline/...")
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v\n%s", err, &stderr)
	}
	var all []goPackage
	dec := json.NewDecoder(bytes.NewReader(out))
	for {
		var p goPackage
		err := dec.Decode(&p)
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
}

// layer returns the layer of one of our packages, or -1.
func layer(name string) int {
	for i, l := range layers {
		if slices.Contains(l, name) {
			return i
		}
	}
	for i, l := range layers {
		if slices.Contains(l, path.Dir(name)+"/") {
			return i
		}
	}
	return -1
}

// Imports point one way: geometry <- project <- project/<analysis> <- scene <-
// app <- cmd, and what answers questions reaches neither Fyne nor g3n.
func TestImportArrows(t *testing.T) {
	seen := 0
	for _, p := range listPackages(t) {
		name, ours := strings.CutPrefix(p.ImportPath, "earline/")
		if !ours {
			continue
		}
		seen++
		from := layer(name)
		if from < 0 {
			t.Errorf("%s has no layer: say in arrows_test.go where it belongs", name)
			continue
		}
		for _, imp := range p.Imports {
			to, ours := strings.CutPrefix(imp, "earline/")
			if !ours {
				continue
			}
			sideways := layer(to) == from && (from == layer("app/x") || slices.Contains(mayUseAnalyses, name) || strings.HasPrefix(name, "cmd/"))
			if layer(to) >= from && !sideways {
				t.Errorf("%s imports %s: arrows point from cmd towards geometry only", name, to)
			}
			if few, ok := mayUse[name]; ok && !slices.Contains(few, to) && !slices.Contains(few, path.Dir(to)+"/") {
				t.Errorf("%s imports %s: it may know of %s only", name, to, strings.Join(few, ", "))
			}
		}
		for prefix, allowed := range heavy {
			mayReach := slices.ContainsFunc(allowed, func(a string) bool { return name == a || strings.HasPrefix(name, a+"/") })
			if mayReach && !slices.Contains(windowless, name) {
				continue
			}
			for _, dep := range p.Deps {
				if strings.HasPrefix(dep, prefix) {
					t.Errorf("%s reaches %s: it must work without a display", name, dep)
					break
				}
			}
		}
	}
	if seen < 5 {
		t.Fatalf("go list found %d of our packages: the test looked at nothing", seen)
	}
}

// A session knows no window and no picture, a page no other page, the table of commands
// neither; only the window knows the pages, and nothing below app the session.
func TestTheWindowIsMadeOfPartsThatStandAlone(t *testing.T) {
	isPage := func(name string) bool { return strings.HasPrefix(name, pages) && name != pages+"pagetest" }
	pagesSeen := 0
	for _, p := range listPackages(t) {
		name := strings.TrimPrefix(p.ImportPath, "earline/")
		if isPage(name) {
			pagesSeen++
		}
		for _, imp := range p.Imports {
			to, _ := strings.CutPrefix(imp, "earline/")
			switch {
			case isPage(name) && isPage(to):
				t.Errorf("%s imports %s: pages import no page", name, to)
			case (name == "app/room" || name == "app/ask" || name == "app/inspector") && strings.HasPrefix(to, "app/page"):
				t.Errorf("%s imports %s: only the window knows which pages there are", name, to)
			case name == "app/command" && (to == "app/session" || strings.HasPrefix(to, "app/page")):
				t.Errorf("%s imports %s: a command is a function, whatever it works on", name, to)
			case to == "app/session" && !strings.HasPrefix(name, "app"):
				t.Errorf("%s imports %s", name, to)
			}
		}
		if name == "app/session" {
			for _, dep := range p.Deps {
				if strings.HasPrefix(dep, "fyne.io/") || dep == "earline/scene" || strings.HasPrefix(dep, "earline/scene/") {
					t.Errorf("%s reaches %s: it must work without a window", name, dep)
				}
			}
		}
	}
	if pagesSeen < 4 {
		t.Fatalf("go list found %d pages: the test looked at nothing", pagesSeen)
	}
}

// A chart is drawn without naming what it is kept as: a new back end is one line in
// one file.
func TestOnlyTheExportOfChartsNamesBackEnds(t *testing.T) {
	files, err := filepath.Glob("../../scene/chart/*.go")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	for _, name := range files {
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, imp := range f.Imports {
			if strings.HasPrefix(imp.Path.Value, `"earline/scene/drawing/`) && filepath.Base(name) != "export.go" && imp.Path.Value != `"earline/scene/drawing/drawingtest"` {
				t.Errorf("%s imports %s: only export.go may", name, imp.Path.Value)
			}
		}
	}
}

// The package that draws the room is the only one to name g3n. OpenGL is called by it
// and by the one that paints the window.
func TestOnlySceneGLImportsG3N(t *testing.T) {
	for _, p := range listPackages(t) {
		name, ours := strings.CutPrefix(p.ImportPath, "earline/")
		if !ours || name == "scene/gl" {
			continue
		}
		for _, imp := range p.Imports {
			if strings.HasPrefix(imp, "github.com/g3n/") || strings.HasPrefix(imp, "github.com/go-gl/gl/") && name != "app/repaint" {
				t.Errorf("%s imports %s: only scene/gl may", p.ImportPath, imp)
			}
		}
	}
}

// DEVELOPERS.md names every package, and none that is not there.
func TestDevelopersNamesEveryPackage(t *testing.T) {
	text, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	named := map[string]bool{}
	for _, line := range strings.Split(string(text), "\n") {
		if row, ok := strings.CutPrefix(line, "| "); ok {
			first, _, _ := strings.Cut(row, " |")
			for _, name := range strings.Split(first, ", ") {
				named[name] = true
			}
		}
	}
	for _, p := range listPackages(t) {
		name := strings.TrimPrefix(p.ImportPath, "earline/")
		if !named[name] {
			t.Errorf("DEVELOPERS.md does not name %s", name)
		}
		if _, err := os.Stat("../../" + name); err != nil {
			t.Error(err)
		}
	}
}
