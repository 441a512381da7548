// SPDX-License-Identifier: MIT

package table

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"
)

// A list opens in a spreadsheet: UTF-8 by its mark, lines as RFC 4180 wants them, and
// what begins like a formula stays text (OWASP, "CSV Injection"; the list of signs from
// memory).
func TestWhatLooksLikeAFormulaStaysText(t *testing.T) {
	tb := Table{Header: []string{"name", "height (mm)"}}
	tb.Add(Text(`=HYPERLINK("x")`), Number(-3.25, 1))
	tb.Add(Text("+1"), Number(-0.01, 1))
	tb.Add(Text("M+090 left side, \"a\""), Empty())
	got := string(tb.CSV())
	want := "\ufeffname,height (mm)\r\n" +
		"\"'=HYPERLINK(\"\"x\"\")\",-3.2\r\n'+1,0.0\r\n\"M+090 left side, \"\"a\"\"\",\r\n"
	if got != want {
		t.Errorf("wrote %q, want %q", got, want)
	}
}

// FuzzText holds that any text comes back, and none begins as a formula does.
func FuzzText(f *testing.F) {
	for _, s := range []string{"", "=1", "'", "'=1", "''", "@", "-", "ü, \"", "a\nb"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if Unguard(Guard(s)) != s {
			t.Fatalf("%q comes back as %q", s, Unguard(Guard(s)))
		}
		if strings.Contains(s, "\r") {
			return // reading drops returns, as RFC 4180 readers do
		}
		tb := Table{Header: []string{"a", "b"}}
		tb.Add(Text(s), Number(1, 0))
		all, err := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(tb.CSV(), []byte(mark)))).ReadAll()
		if err != nil || len(all) != 2 || Unguard(all[1][0]) != s {
			t.Fatalf("%q reads as %q, %v", s, all, err)
		}
		if c := all[1][0]; c != "" && strings.ContainsAny(c[:1], "=+-@") {
			t.Fatalf("%q begins as a formula does", c)
		}
	})
}
