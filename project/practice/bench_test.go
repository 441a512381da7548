// SPDX-License-Identifier: MIT

package practice_test

import (
	"testing"

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
