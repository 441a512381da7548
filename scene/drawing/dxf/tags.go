// SPDX-License-Identifier: MIT

package dxf

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// tags are the pairs of lines that a DXF file consists of: a group code, which says
// what the value is, and the value.
type tags struct{ bytes.Buffer }

// name writes a value of letters, digits and signs that is ours.
func (t *tags) name(code int, value string) { fmt.Fprintf(t, "%3d\r\n%s\r\n", code, value) }

func (t *tags) int(code, value int) { t.name(code, strconv.Itoa(value)) }

func (t *tags) number(code int, value float64) {
	t.name(code, strconv.FormatFloat(value+0, 'f', 6, 64))
}

// point writes x, y and a z of 0.
func (t *tags) point(code int, x, y float64) {
	t.number(code, x)
	t.number(code+10, y)
	t.number(code+20, 0)
}

// text writes what people wrote: as \U+XXXX what is no ASCII, and what would be taken
// for a code of the format. It stays on its line; per cent signs side by side are set
// apart.
func (t *tags) text(code int, value string) {
	var b strings.Builder
	for i := 0; i < len(value); {
		r, n := utf8.DecodeRuneInString(value[i:])
		switch {
		case unicode.IsControl(r) || r == '\u2028' || r == '\u2029':
			b.WriteByte(' ')
		case r == '%' && i > 0 && value[i-1] == '%': // two of them begin a code
			b.WriteString(" %")
		case r == '^': // before a letter a control character
			b.WriteString("^ ")
		case r > 0xffff: // has no escape
			b.WriteString(`\U+FFFD`)
		case r == '\\' || r > '~':
			fmt.Fprintf(&b, `\U+%04X`, r)
		default:
			b.WriteRune(r)
		}
		i += n
	}
	t.name(code, b.String())
}

// table gives each key a name that no other has, in the order in which they came up.
type table[K comparable, V any] struct {
	allowed func(string) string // brings a name into what the format allows
	names   map[K]string
	taken   map[string]bool
	rows    []row[V]
}

type row[V any] struct {
	name  string
	value V
}

func newTable[K comparable, V any](allowed func(string) string) *table[K, V] {
	return &table[K, V]{allowed, map[K]string{}, map[string]bool{}, nil}
}

func (t *table[K, V]) has(key K) bool {
	_, ok := t.names[key]
	return ok
}

// of returns the name of a key; one that is new is called as wished, or nearly so, and
// has that value.
func (t *table[K, V]) of(wish string, key K, value V) string {
	if name, ok := t.names[key]; ok {
		return name
	}
	wish = t.allowed(wish)
	name := wish
	for n := 2; t.taken[name]; n++ {
		end := "_" + strconv.Itoa(n)
		name = wish[:min(len(wish), longest-len(end))] + end
	}
	t.names[key], t.taken[name] = name, true
	t.rows = append(t.rows, row[V]{name, value})
	return name
}

// get returns the value of a name.
func (t *table[K, V]) get(name string) (v V) {
	for _, r := range t.rows {
		if r.name == name {
			return r.value
		}
	}
	return v
}

// longest is how long a name may be in release 12.
const longest = 31

// layerName returns a name of layers and blocks: capitals, digits, $, - and _.
func layerName(name string) string {
	name = strings.Map(func(r rune) rune {
		switch r = unicode.ToUpper(r); {
		case r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '$', r == '-', r == '_':
			return r
		}
		return '_'
	}, name)
	if name == "" {
		name = "_"
	}
	return name[:min(len(name), longest)]
}
