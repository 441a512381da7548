// SPDX-License-Identifier: MIT

package main

import (
	"strings"
	"testing"
)

func TestListsAreToldAndWritten(t *testing.T) {
	_, out, errs := earline("lists", "demo:large")
	for _, want := range []string{"Equipment list", "Cable list", "Mass list", "Outlet list", "Air list", "Panel list", "Stages of the work", "licensed"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in:\n%s%s", want, out, errs)
		}
	}
	if _, out, _ = earline("lists", "demo:large", "--list", "masses", "-o", "-"); !strings.HasPrefix(out, "\ufeffon,what,\"mass, kg\"\r\n") {
		t.Errorf("masses as CSV: %.60q", out)
	}
	for args, want := range map[string]string{
		"lists demo:large --list sums":             "equipment, cables",
		"lists demo:large -o x.csv":                "--list: found none",
		"lists demo:large --list masses -o x.xlsx": "ends in .csv",
	} {
		if status, _, errs := earline(strings.Fields(args)...); status != statusUnusable || !strings.Contains(errs, want) {
			t.Errorf("%s: status %d, %s", args, status, errs)
		}
	}
}
