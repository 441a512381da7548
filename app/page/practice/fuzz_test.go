// SPDX-License-Identifier: MIT

package practice

import (
	"math"
	"strings"
	"testing"

	"earline/project"
	"earline/project/practice"
)

// FuzzTypedLimit: what is typed as the limit of a rule is a finite number, nothing, or
// refused in one line.
func FuzzTypedLimit(f *testing.F) {
	for _, s := range []string{"", " ", "2.4", "2,4 m", "7' 10\"", "30°", "12,5 %", "NaN", "Inf", "1e400", "-0", "%", "\n"} {
		f.Add(s)
	}
	var units []practice.Unit
	for _, r := range practice.Rules() {
		units = append(units, r.Unit)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, of := range units {
			for _, u := range []project.Units{project.Metric, project.Imperial} {
				v, err := parseValue(text, of, u)
				if err != nil && strings.Contains(err.Error(), "\n") {
					t.Fatalf("%q in %s: %q", text, of, err)
				}
				if err == nil && v != nil && (math.IsNaN(*v) || math.IsInf(*v, 0)) {
					t.Fatalf("%q in %s: %g", text, of, *v)
				}
			}
		}
	})
}
