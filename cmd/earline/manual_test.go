// SPDX-License-Identifier: MIT

package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/pflag"

	"earline/assets"
	"earline/project/practice"
)

var updateManual = flag.Bool("update-manual", false, "write the manual's tables anew")

// The tables of rules, fields and options are made from what the program has, so that
// none is missing. make manual writes them.
func TestTheManualsTables(t *testing.T) {
	for name, table := range map[string]string{"rules": rulesTable(), "file": fieldsTable(t), "commands": optionsTable()} {
		topic, ok := assets.TopicNamed(name)
		head, rest, found := strings.Cut(topic.Text, "<!-- made from the ")
		from, _, _ := strings.Cut(rest, " -->")
		_, tail, ended := strings.Cut(rest, "<!-- end -->")
		if !ok || !found || !ended {
			t.Fatalf("%s: no place for its table", name)
		}
		want := head + "<!-- made from the " + from + " -->\n" + table + "<!-- end -->" + tail
		if *updateManual {
			if err := os.WriteFile(filepath.Join("../../assets/manual", name+".md"), []byte(want), 0o644); err != nil {
				t.Fatal(err)
			}
		} else if diff := cmp.Diff(want, topic.Text); diff != "" {
			t.Errorf("%s is behind the program: make manual (-wanted +there)\n%s", name, diff)
		}
	}
}

// row returns a line of a table.
func row(cells ...string) string {
	for i, c := range cells {
		cells[i] = strings.ReplaceAll(c, "|", `\|`)
	}
	return "| " + strings.Join(cells, " | ") + " |\n"
}

// rulesTable lists every rule, group by group.
func rulesTable() string {
	var b strings.Builder
	var group practice.Group
	for _, r := range practice.Rules() {
		if r.Group != group {
			group = r.Group
			title := string(group)
			b.WriteString("\n### " + strings.ToUpper(title[:1]) + title[1:] + "\n\n| rule | limit | severity | measures | source |\n|---|---|---|---|---|\n")
		}
		b.WriteString(row("`"+r.ID+"` "+r.Title, limit(&r), r.Severity.String(), r.Measures, r.Source.String()))
	}
	return b.String() + "\n"
}

// limit returns the limits of a rule in its unit.
func limit(r *practice.Rule) string {
	unit := map[practice.Unit]string{practice.Degrees: "°", practice.Metres: " m", practice.Ratio: "", practice.Share: " %", practice.Count: ""}[r.Unit]
	show := func(v float64) string {
		if r.Unit == practice.Share {
			v *= 100
		}
		return fmt.Sprintf("%g%s", v, unit)
	}
	switch l := r.Limits; {
	case l.Min != nil && l.Max != nil:
		return show(*l.Min) + " to " + show(*l.Max)
	case l.Min != nil:
		return "at least " + show(*l.Min)
	case l.Max != nil:
		return "at most " + show(*l.Max)
	}
	return "none"
}

// optionsTable lists every command with its options.
func optionsTable() string {
	var b strings.Builder
	for _, c := range commands(rootCommand()) {
		fmt.Fprintf(&b, "\n## %s\n\n%s.\n\n| option | does |\n|---|---|\n", strings.TrimSuffix(c.UseLine(), " [flags]"), c.Short)
		c.Flags().VisitAll(func(f *pflag.Flag) {
			kind, usage := pflag.UnquoteUsage(f)
			name := strings.TrimSpace("--" + f.Name + " " + kind)
			if f.Shorthand != "" {
				name = "-" + f.Shorthand + ", " + name
			}
			if f.DefValue != "" && f.DefValue != "false" && f.DefValue != "[]" && f.DefValue != "0" {
				usage += " (default " + f.DefValue + ")"
			}
			b.WriteString(row("`"+name+"`", usage))
		})
	}
	return b.String() + "\n"
}

// field is what the schema says of a field.
type field struct {
	Ref         string `json:"$ref"`
	Type        string
	Description string
	Enum        []string
	Items       *field
	Minimum     *float64
	Maximum     *float64
	MinItems    *int
	MaxItems    *int
	Required    []string
	Properties  ordered
}

// ordered is an object of JSON with its fields in their order.
type ordered []struct {
	Name  string
	Field field
}

// UnmarshalJSON implements json.Unmarshaler.
func (o *ordered) UnmarshalJSON(data []byte) error {
	dec := json.NewDecoder(bytes.NewReader(data))
	if _, err := dec.Token(); err != nil {
		return err
	}
	for dec.More() {
		name, err := dec.Token()
		if err != nil {
			return err
		}
		var f field
		if err := dec.Decode(&f); err != nil {
			return err
		}
		*o = append(*o, struct {
			Name  string
			Field field
		}{name.(string), f})
	}
	return nil
}

// fieldsTable lists every field of a design, object by object.
func fieldsTable(t *testing.T) string {
	t.Helper()
	var schema struct {
		field
		Defs ordered `json:"$defs"`
	}
	if err := json.Unmarshal(assets.Schema(), &schema); err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	object := func(name string, f field) {
		fmt.Fprintf(&b, "\n## %s\n\n%s\n\n| field | is | value |\n|---|---|---|\n", name, f.Description)
		for _, p := range f.Properties {
			what := p.Field.Description
			if !strings.Contains("\n"+strings.Join(f.Required, "\n")+"\n", "\n"+p.Name+"\n") {
				what = strings.TrimSpace(what + " Optional.")
			}
			b.WriteString(row("`"+p.Name+"`", what, allowed(p.Field)))
		}
	}
	object("design", schema.field)
	for _, d := range schema.Defs {
		if d.Field.Type == "object" {
			object(d.Name, d.Field)
		}
	}
	return b.String() + "\n"
}

// allowed says what values a field may have.
func allowed(f field) string {
	span := func(lo, hi string) string {
		switch {
		case lo != "" && hi != "":
			return lo + " to " + hi
		case hi != "":
			return "at most " + hi
		case lo != "":
			return "at least " + lo
		}
		return ""
	}
	number := func(v *float64) string {
		if v == nil {
			return ""
		}
		return fmt.Sprintf("%v", *v)
	}
	count := func(v *int) string {
		if v == nil {
			return ""
		}
		return fmt.Sprint(*v)
	}
	switch {
	case f.Enum != nil:
		words := strings.Join(f.Enum, ", ")
		if f.Enum[0] == "" {
			words = "empty" + words
		}
		return words
	case f.Ref != "":
		name := strings.TrimPrefix(f.Ref, "#/$defs/")
		return map[string]string{"line": "text", "id": "text", "place": "length", "size": "length above 0", "reach": "length from 0"}[name] +
			map[bool]string{true: "", false: name}[strings.Contains("line id place size reach", name)]
	case f.Type == "array":
		return strings.TrimSpace(span(count(f.MinItems), count(f.MaxItems)) + " of " + allowed(*f.Items))
	case f.Type == "number" || f.Type == "integer":
		return strings.TrimSpace(map[bool]string{true: "whole number", false: "number"}[f.Type == "integer"] + " " + span(number(f.Minimum), number(f.Maximum)))
	case f.Type == "boolean":
		return "true or false"
	case f.Type == "string":
		return "text"
	}
	return "`earline`" // the format
}

// documented reports every key of an answer that the manual does not name.
func documented(t *testing.T, answer any) {
	t.Helper()
	topic, _ := assets.TopicNamed("json")
	keys := map[string]bool{}
	collect(answer, keys)
	if len(keys) < 10 {
		t.Errorf("%d keys: looked at nothing", len(keys))
	}
	for k := range keys {
		if !strings.Contains(topic.Text, "`"+k+"`") {
			t.Errorf("key %q is not in the manual", k)
		}
	}
}

// The keys of every answer are in the manual.
func TestEveryJSONKeyIsInTheManual(t *testing.T) {
	for _, args := range [][]string{
		{"audit", "demo:large", "--tolerance", "--json"},
		{"sound", "demo:large", "--json"},
		{"bass", "demo:small", "--align", "--json"},
		{"decay", "demo:small", "--json"},
		{"crossover", "demo:small", "--json"},
		{"setout", "demo:small", "--json"},
		{"light", "demo:large", "--json"},
		{"asbuilt", "testdata/asbuilt.earline", "--json"},
		{"compare", "demo:large", "--found", "demo:large", "--json"},
	} {
		_, out, errs := earline(args...)
		var got map[string]any
		if err := json.Unmarshal([]byte(out), &got); err != nil {
			t.Fatal(args, err, errs)
		}
		documented(t, got)
	}
}

// No option in the manual is one that the program no longer has.
func TestTheManualNamesNoOptionOfOld(t *testing.T) {
	have := map[string]bool{}
	for _, c := range commands(rootCommand()) {
		c.Flags().VisitAll(func(f *pflag.Flag) { have["--"+f.Name] = true })
	}
	for _, topic := range assets.Manual() {
		for _, option := range regexp.MustCompile("--[a-z][a-z-]*").FindAllString(topic.Text, -1) {
			if !have[option] {
				t.Errorf("%s: %s is no option", topic.Name, option)
			}
		}
	}
}

// Every chapter is linked in the README, has a title and a line that says what it tells,
// leads to files that are there, and is no command's name, whose help it would hide.
func TestEveryChapterIsFound(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob("../../assets/manual/*.md")
	if err != nil || len(files) != len(assets.Manual()) {
		t.Errorf("%d files, %d chapters: %v", len(files), len(assets.Manual()), err)
	}
	for _, topic := range assets.Manual() {
		if !bytes.Contains(readme, []byte("["+topic.Name+"](assets/manual/"+topic.Name+".md)")) {
			t.Errorf("%s is not linked in the README", topic.Name)
		}
		if topic.Title == "" || len(topic.Story) < 10 || strings.HasPrefix(topic.Story, "#") || strings.Contains(topic.Title, "\n") {
			t.Errorf("%s: title %q, story %q", topic.Name, topic.Title, topic.Story)
		}
		for _, c := range commands(rootCommand()) {
			if c.Name() == topic.Name {
				t.Errorf("%s is a command too", topic.Name)
			}
		}
		status, out, errs := earline("help", strings.ToUpper(topic.Name))
		if status != statusFine || errs != "" || !strings.HasPrefix(out, "# "+topic.Title+"\n") || strings.Contains(out, "<!--") {
			t.Errorf("help %s: status %d, %q, %.60q", topic.Name, status, errs, out)
		}
	}
	if status, _, errs := earline("help", "nonsense"); status != statusUnusable || !strings.Contains(errs, "window, commands") {
		t.Errorf("status %d: %s", status, errs)
	}
	if status, out, _ := earline("help", "sound"); status != statusFine || !strings.Contains(out, "earline sound FILE") {
		t.Errorf("status %d: %s", status, out)
	}
}

// What stands in the manual as an example can be typed as it is.
func TestTheManualsExamplesRun(t *testing.T) {
	t.Chdir(t.TempDir())
	ran := 0
	for _, topic := range assets.Manual() {
		for i, block := range strings.Split(topic.Text, "\n```") {
			switch language, body, _ := strings.Cut(block, "\n"); {
			case i%2 == 0:
			case language == "json":
				if _, err := practice.DecodeStandard([]byte(body), "example"); err != nil {
					t.Errorf("%s: %v", topic.Name, err)
				}
			case language == "sh":
				for _, line := range strings.Split(strings.TrimSpace(body), "\n") {
					line, _, _ = strings.Cut(line, "#")
					words := strings.Fields(line)
					if len(words) < 2 || words[0] != "earline" {
						t.Errorf("%s: %q is no command", topic.Name, line)
						continue
					}
					if words[1] == "render" && testing.Short() {
						continue
					}
					ran++
					if status, _, errs := earline(words[1:]...); status == statusUnusable {
						t.Errorf("%s: %s: %s", topic.Name, line, errs)
					}
				}
			default:
				t.Errorf("%s: example in %q", topic.Name, language)
			}
		}
	}
	if ran < 15 {
		t.Errorf("%d examples: looked at nothing", ran)
	}
}
