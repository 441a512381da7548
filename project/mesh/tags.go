// SPDX-License-Identifier: MIT

package mesh

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"

	"earline/project"
)

// tag is a group of a DXF file: a code that says what the value is, and the value.
type tag struct {
	code  int
	value string
}

// number returns the value as a number.
func (t tag) number() (float64, bool) {
	v, err := strconv.ParseFloat(t.value, 64)
	return v, err == nil && sane(v)
}

// tagReader takes a DXF file apart into groups of two lines.
type tagReader struct {
	*File
	data []byte
	line int
}

// next returns the next group; ok is false at the end.
func (r *tagReader) next() (t tag, ok bool, fault *project.Fault) {
	for {
		if len(r.data) == 0 {
			return tag{}, false, nil
		}
		r.line++
		var code, value []byte
		code, r.data = nextLine(r.data)
		code = bytes.TrimSpace(code)
		if len(code) == 0 && len(bytes.TrimSpace(r.data)) == 0 {
			return tag{}, false, nil
		}
		n, err := strconv.Atoi(string(code))
		if err != nil {
			return tag{}, false, r.fault(fmt.Sprintf("line %d", r.line), quote(string(code)), "the number of a group of a DXF file")
		}
		r.line++
		value, r.data = nextLine(r.data)
		if n == 999 {
			continue // a comment
		}
		return tag{n, string(bytes.TrimSpace(value))}, true, nil
	}
}

// codePages are those of text that is not UTF-8, by what $DWGCODEPAGE calls them.
var codePages = map[string]*charmap.Charmap{
	"1250": charmap.Windows1250, "1251": charmap.Windows1251, "1252": charmap.Windows1252, "1253": charmap.Windows1253, "1254": charmap.Windows1254,
	"1255": charmap.Windows1255, "1256": charmap.Windows1256, "1257": charmap.Windows1257, "1258": charmap.Windows1258,
}

// decoded returns text of a DXF file: UTF-8 where it is that, as releases from 2007 on
// write, else in its code page, that of Western Europe where none is said. Letters
// written as \U+1234 are put in place.
func decoded(text, page string) string {
	if !utf8.ValidString(text) {
		m := charmap.Windows1252
		for digits, other := range codePages {
			if strings.HasSuffix(page, digits) {
				m = other
			}
		}
		text, _ = m.NewDecoder().String(text)
	}
	if !strings.Contains(text, `\U+`) {
		return text
	}
	var b strings.Builder
	for {
		before, after, found := strings.Cut(text, `\U+`)
		b.WriteString(before)
		if !found {
			return b.String()
		}
		if len(after) >= 4 {
			if n, err := strconv.ParseUint(after[:4], 16, 16); err == nil {
				b.WriteRune(rune(n))
				text = after[4:]
				continue
			}
		}
		b.WriteString(`\U+`)
		text = after
	}
}
