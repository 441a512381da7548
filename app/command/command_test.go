// SPDX-License-Identifier: MIT

package command

import (
	"errors"
	"fmt"
	"go/parser"
	"go/token"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// sample returns a small table with a command of each kind.
func sample(can *error, on *bool) Table {
	nothing := func() {}
	return Table{
		{ID: "file.open", Name: "Open…", Menu: "File", Key: Key{Name: "O", Ctrl: true}, Says: "Opens a room from a file.", Do: nothing},
		{ID: "file.recent", Name: "Open recent", Menu: "File", Says: "Opens a room again.",
			Items: func() []Command { return nil }},
		{ID: "edit.undo", Name: "Undo", Menu: "Edit", Key: Key{Name: "Z", Ctrl: true}, Says: "Takes back the last change.",
			Detail: func() string { return "raise M+030" }, Can: func() error { return *can }, Do: nothing},
		{ID: "view.plan", Name: "Plan", Menu: "View", Key: Key{Name: "2"}, Says: "Shows the room from above.", Do: nothing},
		{ID: "view.people", Name: "People", Menu: "View", LineAbove: true, Key: Key{Name: "P"}, Says: "Draws the people.",
			On: func() bool { return *on }, Do: nothing},
		{ID: "view.sit-in", Name: "Sit in", Menu: "View", Says: "Shows what a sitter sees.",
			Items: func() []Command {
				return []Command{
					{ID: "view.sit-in.1.1", Name: "Seat 1.1", Says: "Shows what this sitter sees.", Do: nothing},
					{ID: "view.sit-in.1.2", Name: "Seat 1.2", Says: "Shows what this sitter sees.", Do: nothing},
				}
			}},
		{ID: "view.client", Name: "Client view", Menu: "View", Key: Key{Name: "F11"}, Also: []Key{{Name: "C"}},
			Says: "Shows the room alone.", Do: nothing},
	}
}

func sampleTable() Table { return sample(new(error), new(bool)) }

func ids(cs []Command) []string {
	var ids []string
	for _, c := range cs {
		ids = append(ids, c.ID)
	}
	return ids
}

func TestCheckFindsEveryFault(t *testing.T) {
	if err := sampleTable().Check(); err != nil {
		t.Fatalf("the table without a fault: %v", err)
	}
	for _, c := range []struct {
		name   string
		change func(Table)
		says   string
	}{
		{"two of one ID", func(t Table) { t[3].ID = "edit.undo" }, "empty or taken"},
		{"two of one name in one menu", func(t Table) { t[4].Name = "Plan" }, `place in the menu with "view.plan"`},
		{"two of one key", func(t Table) { t[4].Key = t[3].Key }, "shares 2"},
		{"a further key taken", func(t Table) { t[6].Also[0].Name = "P" }, "shares P"},
		{"unexplained", func(t Table) { t[3].Says = "" }, "explanation"},
		{"two lines", func(t Table) { t[3].Says = "One.\nTwo." }, "more than one line"},
		{"nothing to do", func(t Table) { t[3].Do = nil }, "Do or Items"},
		{"a key of text entries", func(t Table) { t[3].Key = Key{Name: "V", Ctrl: true} }, "text entries"},
		{"a small letter", func(t Table) { t[3].Key.Name = "q" }, "no key"},
		{"Shift alone", func(t Table) { t[3].Key.Shift = true }, "Shift needs Ctrl"},
		{"a submenu with a key", func(t Table) { t[5].Key.Name = "S" }, "submenu cannot"},
		{"another name in the toolbar", func(t Table) { t[3].Short = "Above" }, "not in its name"},
		{"a path for a menu", func(t Table) { t[3].Menu = "View/Drawings" }, "not the name of a menu"},
	} {
		table := sampleTable()
		c.change(table)
		if err := table.Check(); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q", c.name, err, c.says)
		}
	}
}

func TestKeysFindTheirCommand(t *testing.T) {
	table := sampleTable()
	for k, want := range map[Key]string{
		RuneKey('2'):              "view.plan",
		RuneKey('p'):              "view.people",
		RuneKey('C'):              "view.client",
		{Name: "F11"}:             "view.client",
		{Name: "Z", Ctrl: true}:   "edit.undo",
		{Name: "Z"}:               "",
		{Name: "P", Ctrl: true}:   "",
		{Name: "F11", Ctrl: true}: "",
		{}:                        "",
	} {
		if c, ok := table.ForKey(k); c.ID != want || ok != (want != "") {
			t.Errorf("%v runs %q, want %q", k, c.ID, want)
		}
	}
}

func TestKeysAreWrittenAsMenusDo(t *testing.T) {
	for want, k := range map[string]Key{"Ctrl+Shift+S": {Name: "S", Ctrl: true, Shift: true}, "F3": {Name: "F3"}, "P": {Name: "P"}, "Esc": {Name: "Escape"}, "": {}} {
		if got := strings.ReplaceAll(k.String(), "Cmd", "Ctrl"); got != want {
			t.Errorf("%+v is written %q, want %q", k, got, want)
		}
	}
}

func TestMenusShowWhatIsOnAndCanBeDone(t *testing.T) {
	var can error
	on := false
	table := sample(&can, &on)
	before := table.Menus()
	var names []string
	for _, m := range before {
		names = append(names, m.Name)
	}
	if want := []string{"File", "Edit", "View"}; !slices.Equal(names, want) {
		t.Fatalf("menus %v, want %v", names, want)
	}
	if got := before[1].Items[0].Label; got != "Undo: raise M+030" {
		t.Errorf("undo is called %q", got)
	}
	if !before[0].Items[1].Dimmed {
		t.Error("a submenu with nothing in it can be opened")
	}
	if !SameMenus(before, table.Menus()) {
		t.Error("nothing changed and the menus look different")
	}
	on = true
	ticked := table.Menus()
	if !ticked[2].Items[1].On || SameMenus(before, ticked) {
		t.Error("what was switched on is not shown so")
	}
	can = errors.New("nothing to undo")
	if dim := table.Menus(); !dim[1].Items[0].Dimmed || SameMenus(ticked, dim) {
		t.Error("what cannot be done is not dimmed")
	}
}

func TestSheetHasEveryKey(t *testing.T) {
	var got []string
	for _, s := range sampleTable().Sheet() {
		for _, l := range s.Lines {
			got = append(got, s.Name+": "+l.Keys+" "+l.Name)
		}
	}
	want := []string{"File: Ctrl+O Open…", "Edit: Ctrl+Z Undo", "View: 2 Plan", "View: P People", "View: F11 or C Client view"}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

func TestFindPutsTheBestFirst(t *testing.T) {
	for query, want := range map[string][]string{
		"pl":        {"view.plan", "view.people"},                             // head of a word before inside one
		"open":      {"file.open", "file.recent"},                             // equals in the table's order
		"seat 2":    {"view.sit-in.1.2"},                                      // every word
		"2 SEAT":    {"view.sit-in.1.2"},                                      // in any order and case
		"room":      {"file.open", "file.recent", "view.plan", "view.client"}, // what it does, early before late
		"view plan": {"view.plan"},                                            // the menu counts
		"m+030":     {"edit.undo"},                                            // what it acts on too
		"xyz":       nil,
	} {
		got := ids(sampleTable().Find(query))
		if query == "room" { // four hits in the same field: only which, and none forgotten
			slices.Sort(got)
			slices.Sort(want)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%q finds %v, want %v", query, got, want)
		}
	}
	if got, want := len(sampleTable().Find("  ")), len(sampleTable().All()); got != want {
		t.Errorf("an empty query finds %d of %d", got, want)
	}
}

// Laws of Find: it finds exactly the commands that contain every word; the order
// of the words does not matter; a further word only narrows.
func TestFindLaws(t *testing.T) {
	table := sampleTable()
	word := rapid.OneOf(rapid.StringMatching(`[a-z0-9.+]{1,3}`),
		rapid.StringMatching(`[!-~]{1,2}`))
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(word, 1, 3).Draw(t, "words")
		found := ids(table.Find(strings.Join(words, " ")))
		var want []string
		for _, c := range table.All() {
			text := strings.ToLower(c.Label() + "\n" + c.Menu + "\n" + c.Says)
			if !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, strings.ToLower(w)) }) {
				want = append(want, c.ID)
			}
		}
		sorted := slices.Clone(found)
		slices.Sort(sorted)
		slices.Sort(want)
		if !slices.Equal(sorted, want) {
			t.Fatalf("%q finds %v, want %v", words, sorted, want)
		}
		slices.Reverse(words)
		if again := ids(table.Find(strings.Join(words, " "))); !slices.Equal(again, found) {
			t.Fatalf("%q the other way round: %v, then %v", words, found, again)
		}
		fewer := ids(table.Find(words[0]))
		for _, id := range found {
			if !slices.Contains(fewer, id) {
				t.Fatalf("%s is found by %q and not by %q", id, words, words[0])
			}
		}
	})
}

// Only the widgets import Fyne, and of the window's packages only its theme and controls.
func TestOnlyTheWidgetsKnowFyne(t *testing.T) {
	widgets := []string{"mainmenu.go", "toolbar.go", "shortcuts.go", "finder.go", "keysheet.go", "query.go"}
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range files {
		if !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), e.Name(), nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range f.Imports {
			path, _ := strconv.Unquote(i.Path.Value)
			ours := strings.HasPrefix(path, "earline/")
			if path == "earline/app/words" { // which knows no toolkit
				continue
			}
			if ours && path != "earline/app/theme" && path != "earline/app/field" {
				t.Errorf("%s imports %s", e.Name(), path)
			}
			if (ours || strings.HasPrefix(path, "fyne.io/")) && !slices.Contains(widgets, e.Name()) {
				t.Errorf("%s imports %s: only %v may", e.Name(), path, widgets)
			}
		}
	}
}

// The list after typing "sec", to see a section.
func ExampleTable_Find() {
	do := func() {}
	table := Table{
		{ID: "file.save", Name: "Save", Menu: "File", Says: "Saves the room; takes a second.", Do: do},
		{ID: "view.long-section", Name: "Long section", Menu: "View", Key: Key{Name: "3"}, Says: "Shows the room from the side.", Do: do},
	}
	for _, c := range table.Find("sec") {
		fmt.Println(c.Name, c.Key)
	}
	// Output:
	// Long section 3
	// Save
}
