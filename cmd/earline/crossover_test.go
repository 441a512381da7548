// SPDX-License-Identifier: MIT

package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"earline/project/blend"
	"earline/project/file"
)

// The crossover of a demo is told, its proposal written, and the answer about what was
// written is what was promised: nothing more is proposed.
func TestTheCrossoverIsToldAndWritten(t *testing.T) {
	to := filepath.Join(t.TempDir(), "blended.earline")
	status, out, errs := earline("crossover", "demo:two-row")
	if status != statusFine {
		t.Fatal(errs)
	}
	for _, want := range []string{"M+000 centre against the subwoofers, crossover 80 Hz, fourth-order Linkwitz-Riley", "Proposal", "together at 1.2", "Uneven by", "what changes it", "finite differences, to 160 Hz", "check it with a microphone", "Loud bass harms hearing"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in:\n%s", want, out)
		}
	}
	ask := func(name string, more ...string) (r blend.Report) {
		t.Helper()
		_, out, errs := earline(append([]string{"crossover", name, "--json"}, more...)...)
		var all map[string]any
		if err := json.Unmarshal([]byte(out), &all); err != nil {
			t.Fatal(err, errs)
		}
		documented(t, all)
		if err := json.Unmarshal([]byte(out), &r); err != nil {
			t.Fatal(err)
		}
		return r
	}
	before := ask("demo:two-row", "-o", to)
	if before.Proposal.Later == 0 && !before.Proposal.Inverted || before.Mains[0].After.Dip <= before.Mains[0].Before.Dip {
		t.Errorf("%+v, %+v", before.Proposal, before.Mains[0])
	}
	after := ask(to)
	if after.Proposal.Later != 0 || after.Proposal.Inverted {
		t.Errorf("then proposed again: %+v", after.Proposal)
	}
	if got, want := after.Mains[0].Before.Dip, before.Mains[0].After.Dip; got < want-1e-6 || got > want+1e-6 {
		t.Errorf("dip %g dB, promised %g dB", got, want)
	}
}

// The main is chosen by its label; one that is not there is refused with those that are.
func TestTheMainIsChosenByItsLabel(t *testing.T) {
	if _, out, errs := earline("crossover", "demo:small", "--main", "M+030"); !strings.Contains(out, "M+030 left front against the subwoofers") {
		t.Error(out, errs)
	}
	if status, _, errs := earline("crossover", "demo:small", "--main", "M+045"); status != statusUnusable || !strings.HasPrefix(errs, `earline: --main: found "M+045", allowed: M+000, `) && !strings.Contains(errs, `--main: found "M+045", allowed: M+000, `) {
		t.Error(status, errs)
	}
}

// A crossover below the mains' own low end is answered with a warning, not refused.
func TestACrossoverBelowTheMainsIsWarnedOf(t *testing.T) {
	d, _ := file.Demo("small")
	d.Playback.Crossover = 50
	name := filepath.Join(t.TempDir(), "low.earline")
	data, err := file.Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, data, 0o600); err != nil {
		t.Fatal(err)
	}
	status, out, errs := earline("crossover", name)
	if status != statusShort || !strings.Contains(out, "The crossover at 50 Hz lies below the low end of") || !strings.Contains(out, "Nearest that works") {
		t.Errorf("status %d\n%s%s", status, out, errs)
	}
}
