// SPDX-License-Identifier: MIT

package assets

import "strings"

// Topic is a chapter of the manual.
type Topic struct {
	Name  string // as a command line names it
	Title string
	Story string // one line: what it tells
	Text  string // Markdown, its title first
}

// topics are the chapters in the order in which they are read.
var topics = [...]string{
	"window", "commands", "sight", "rules", "solvers", "acoustics", "subwoofers", "projection", "site", "measured", "papers", "lessons", "file", "json", "words", "sources",
}

// Manual returns the manual, chapter by chapter.
func Manual() []Topic {
	var all []Topic
	for _, name := range topics {
		t := Topic{Name: name, Text: string(read("manual/" + name + ".md"))}
		lines := strings.SplitN(t.Text, "\n", 4) // the title, nothing, the story, the rest
		t.Title, t.Story = strings.TrimPrefix(lines[0], "# "), lines[2]
		all = append(all, t)
	}
	return all
}

// TopicNamed returns the chapter of that name, in any case.
func TopicNamed(name string) (Topic, bool) {
	for _, t := range Manual() {
		if strings.EqualFold(t.Name, name) {
			return t, true
		}
	}
	return Topic{}, false
}
