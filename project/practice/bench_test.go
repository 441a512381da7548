// SPDX-License-Identifier: MIT

package practice_test

import (
	"testing"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/file"
	"earline/project/practice"
	"earline/project/sight"
)

func demo(t testing.TB, name string) *project.Design {
	t.Helper()
	d, ok := file.Demo(name)
	if !ok {
		t.Fatalf("no demo %s", name)
	}
	return d
}

func BenchmarkCheck(b *testing.B) {
	d := demo(b, "large")
	r := sight.Audit(d)
	b.ReportAllocs()
	for b.Loop() {
		practice.Check(d, r, practice.Standard{})
	}
}

// BenchmarkMovedRow is one step of a dragged row without its picture: the room laid
// out again, its audit, and what the rules find.
func BenchmarkMovedRow(b *testing.B) {
	d := demo(b, "large")
	row := &d.Seating.Rows[1]
	start := row.Distance
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		row.Distance = start + unit.Length(i%50)*0.01
		r := sight.Audit(d)
		if len(practice.Check(d, r, practice.Standard{}).Remarks) == 0 {
			b.Fatal("nothing measured")
		}
	}
}
