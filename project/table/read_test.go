// SPDX-License-Identifier: MIT

package table

import (
	"errors"
	"io"
	"slices"
	"strings"
	"testing"

	"earline/project"
)

// all reads a table whole.
func all(text string) (r *Reader, lines [][]string, err error) {
	r, err = Open([]byte(text), "t.csv")
	if err != nil {
		return nil, nil, err
	}
	for {
		_, cells, err := r.Next()
		if errors.Is(err, io.EOF) {
			return r, lines, nil
		} else if err != nil {
			return r, lines, err
		}
		lines = append(lines, slices.Clone(cells))
	}
}

func TestATableReadsAlikeFromSpreadsheetsOfAnyCountry(t *testing.T) {
	for name, text := range map[string]string{
		"commas":          "id,planned,measured\ns1,1566.3,\n",
		"a mark":          mark + "id,planned,measured\ns1,1566.3,\n",
		"Windows":         "id,planned,measured\r\ns1,1566.3,\r\n",
		"semicolons":      "id;planned;measured\ns1;1566,3;\n",
		"tabs":            "id\tplanned\tmeasured\ns1\t1566,3\t\n",
		"quotes":          "\"id\",\"planned\",\"measured\"\n\"s1\",\"1566,3\",\"\"\n",
		"heads retyped":   "ID;Planned (mm);Measured [mm]\ns1;1566,3;\n",
		"empty columns":   "id;planned;measured;;\ns1;1566,3;;;\n",
		"empty lines":     "id;planned;measured\n\n;;\ns1;1566,3;\n\n",
		"another order":   "measured,planned,id\n,1566.3,s1\n",
		"blanks":          "id , planned , measured\ns1 , 1566.3 ,\n",
		"no line end":     "id,planned,measured\ns1,1566.3,",
		"a guarded cell":  "id,planned,measured\ns1,1566.3,\n",
		"several marks ,": "id;planned;measured;note\ns1;1566,3;;a, b, c\n",
	} {
		r, lines, err := all(text)
		if err != nil || len(lines) != 1 {
			t.Errorf("%s: %v, %v", name, lines, err)
			continue
		}
		id, planned, measured := r.Column("id"), r.Column("planned"), r.Column("measured")
		if id < 0 || planned < 0 || measured < 0 {
			t.Errorf("%s: columns %q", name, r.Columns)
			continue
		}
		v, err := ParseNumber(lines[0][planned])
		if lines[0][id] != "s1" || v != 1566.3 || err != nil || lines[0][measured] != "" {
			t.Errorf("%s: %q, %v %v", name, lines[0], v, err)
		}
	}
}

func TestWhatIsNoTableIsRefusedInOneLine(t *testing.T) {
	for text, want := range map[string]string{
		"":                       "t.csv: line 1: an empty file, allowed: a line that names the columns",
		"\n;;\n\n":               "t.csv: line 1: an empty file, allowed: a line that names the columns",
		"id,x\ns1,\xff":          "t.csv: line 2 column 4: byte 0xff, allowed: text in UTF-8",
		"id,x\ns1,\"a\ns2,b\n":   "t.csv: line 2: a cell of several lines, allowed: one line; a quote may not be closed",
		"id,x\ns1,\"a\nb\"\ns,1": "t.csv: line 2: a cell of several lines, allowed: one line; a quote may not be closed",
	} {
		if _, _, err := all(text); err == nil || err.Error() != want {
			t.Errorf("%q:\n got %v\nwant %s", text, err, want)
		}
	}
}

// FuzzRead holds that no bytes panic or go on for ever, that what is refused is so in
// one line, and that lines count upwards.
func FuzzRead(f *testing.F) {
	f.Add([]byte("id;planned\n\"a\nb\";2"))
	f.Add([]byte("\ufeffid\tx\r\n'=1\t\"\r\n"))
	f.Add([]byte("a,b\n\"\"\",1\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := Open(data, "f")
		last := 0
		for err == nil {
			var line int
			var cells []string
			line, cells, err = r.Next()
			if err == nil && (line <= last || len(cells) == 0) {
				t.Fatalf("line %d after %d: %q", line, last, cells)
			}
			last = max(last, line)
		}
		if errors.Is(err, io.EOF) {
			return
		}
		var fault *project.Fault
		if !errors.As(err, &fault) || strings.ContainsAny(err.Error(), "\n\r") {
			t.Fatalf("%T %v", err, err)
		}
	})
}
