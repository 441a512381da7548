// SPDX-License-Identifier: MIT

package file

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"earline/project"
)

// node is a JSON value as it stands in the file: members in order, doubled ones
// too, numbers as written.
type node struct {
	value any // nil, bool, json.Number, string, []node or []member
}

type member struct {
	name  string
	value node
}

// parse reads data as one JSON value.
func parse(data []byte) (node, *project.Fault) {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")) // as some editors begin a file
	if at := invalidUTF8(data); at >= 0 {
		return node{}, &project.Fault{Field: place(data, at), Found: fmt.Sprintf("byte 0x%02x", data[at]), Allowed: "text in UTF-8"}
	}
	// One pass for the grammar, as its errors know their place; then the tree.
	var whole json.RawMessage
	if err := json.Unmarshal(data, &whole); err != nil {
		return node{}, syntaxFault(data, err)
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	left := maxValues
	n, err := read(d, &left)
	if errors.Is(err, errMany) {
		return node{}, &project.Fault{Found: fmt.Sprintf("over %d values", maxValues), Allowed: "a design"}
	}
	if err != nil {
		return node{}, syntaxFault(data, err)
	}
	return n, nil
}

// errMany ends the reading of a file with more values than any design has.
var errMany = errors.New("too many values")

// read reads one value; left is how many values and names there may still be.
func read(d *json.Decoder, left *int) (node, error) {
	if *left--; *left < 0 {
		return node{}, errMany
	}
	t, err := d.Token()
	if err != nil {
		return node{}, err
	}
	delim, ok := t.(json.Delim)
	if !ok {
		return node{value: t}, nil
	}
	if delim == '[' {
		list := []node{}
		for d.More() {
			n, err := read(d, left)
			if err != nil {
				return node{}, err
			}
			list = append(list, n)
		}
		_, err := d.Token()
		return node{value: list}, err
	}
	members := []member{}
	for d.More() {
		name, err := d.Token()
		if err != nil {
			return node{}, err
		}
		*left--
		n, err := read(d, left)
		if err != nil {
			return node{}, err
		}
		text, _ := name.(string)
		members = append(members, member{text, n})
	}
	_, err = d.Token()
	return node{value: members}, err
}

// get returns the first member of that name of an object.
func (n node) get(name string) (node, bool) {
	members, _ := n.value.([]member)
	for _, m := range members {
		if m.name == name {
			return m.value, true
		}
	}
	return node{}, false
}

// words says what n is, for a message.
func (n node) words() string {
	switch v := n.value.(type) {
	case nil:
		return "null"
	case bool:
		return fmt.Sprint(v)
	case json.Number:
		return cut(v.String())
	case string:
		return fmt.Sprintf("%q", cut(v))
	case []node:
		return "a list"
	}
	return "an object"
}

// syntaxFault says where and at what JSON grammar failed.
func syntaxFault(data []byte, err error) *project.Fault {
	f := &project.Fault{Allowed: "JSON"}
	syntax, ok := err.(*json.SyntaxError)
	if !ok {
		f.Found = err.Error()
		return f
	}
	at := min(max(int(syntax.Offset)-1, 0), len(data))
	if strings.HasPrefix(syntax.Error(), "unexpected end") {
		f.Field, f.Found, f.Allowed = place(data, len(data)), "end of file", "the rest of the design; the file is cut short"
		return f
	}
	f.Field, f.Found = place(data, at), fmt.Sprintf("%q", word(data[at:]))
	switch {
	case strings.Contains(syntax.Error(), "after top-level value"):
		f.Allowed = "nothing after the design"
	case strings.Contains(syntax.Error(), "beginning of value"):
		f.Allowed = "a JSON value"
	case strings.Contains(syntax.Error(), "object key string"):
		f.Allowed = "a field name in double quotes"
	case strings.Contains(syntax.Error(), "after object key:value pair"):
		f.Allowed = "a comma or }"
	case strings.Contains(syntax.Error(), "after array element"):
		f.Allowed = "a comma or ]"
	case strings.Contains(syntax.Error(), "after object key"):
		f.Allowed = "a colon"
	}
	return f
}

// word returns the first word of b, or its first character.
func word(b []byte) string {
	n := 0
	for n < len(b) && n < 20 && (b[n] >= 'a' && b[n] <= 'z' || b[n] >= 'A' && b[n] <= 'Z' || b[n] >= '0' && b[n] <= '9') {
		n++
	}
	if n == 0 && len(b) > 0 {
		_, n = utf8.DecodeRune(b)
	}
	return string(b[:n])
}

// place returns where byte at of data stands, as editors count: from 1, columns
// in characters.
func place(data []byte, at int) string {
	before := data[:at]
	line := bytes.Count(before, []byte("\n")) + 1
	column := utf8.RuneCount(before[bytes.LastIndexByte(before, '\n')+1:]) + 1
	return fmt.Sprintf("line %d column %d", line, column)
}

func invalidUTF8(data []byte) int {
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return -1
}

func cut(s string) string {
	if len(s) > 60 {
		return strings.ToValidUTF8(s[:60], "") + "…"
	}
	return s
}
