// SPDX-License-Identifier: MIT

package sight

import "earline/project"

// Failer is what the laws need of a test.
type Failer interface {
	Helper()
	Errorf(format string, args ...any)
}

// CheckLaws is sighttest.Check, put here by laws_test.go: a test inside this
// package cannot import what imports this package.
var CheckLaws func(t Failer, d *project.Design, r *Result)

// audit audits d and checks that the answer obeys the laws.
func audit(t Failer, d *project.Design) *Result {
	t.Helper()
	r := Audit(d)
	CheckLaws(t, d, r)
	return r
}

// update is audit for Update.
func update(t Failer, prev *Result, d *project.Design, moved ...int) *Result {
	t.Helper()
	r := Update(prev, d, moved...)
	CheckLaws(t, d, r)
	return r
}
