// SPDX-License-Identifier: MIT

package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"earline/project"
	"earline/project/file"
)

// The bass of the demos: a bare rectangle by its modes, with their list, a room
// with platforms by waves; every seat, the figures, how far it holds, the caution.
func TestBassAnswers(t *testing.T) {
	// The small room's one subwoofer meets a null at its main seat.
	statuses := map[string]int{"demo:small": statusShort, "demo:large": statusFine}
	for name, wants := range map[string][]string{
		"demo:small": {"3 seats, 1 subwoofer; by sum over modes", "40.9 Hz axial (1,0,0)", "1.3 "},
		"demo:large": {"14 seats, 4 subwoofers; by finite differences", "LFE2 b", "3.4 ", "Wave equation on a grid"},
	} {
		status, out, errs := earline("bass", name)
		if status != statuses[name] || errs != "" {
			t.Fatalf("%s: status %d, said %q", name, status, errs)
		}
		for _, want := range append(wants, "31.5", "mean spatial variance", "How far this holds", "Loud bass harms hearing") {
			if !strings.Contains(out, want) {
				t.Errorf("%s does not say %q:\n%s", name, want, out)
			}
		}
	}
}

// What --align finds is written, is not worse, and is what the file then has.
func TestBassAligns(t *testing.T) {
	dir := t.TempDir()
	to, chart := filepath.Join(dir, "aligned.earline"), filepath.Join(dir, "bass.csv")
	status, out, errs := earline("bass", "demo:two-row", "--align", "--json", "-o", to, "--chart", chart)
	if status != statusFine || errs != "" {
		t.Fatalf("status %d, said %q", status, errs)
	}
	var r struct {
		Format     string
		Subwoofers []struct {
			Name  string
			Gain  float64 `json:"gain_db"`
			Delay float64 `json:"delay_ms"`
		}
		Seats []struct {
			Level []float64 `json:"level_db"`
		}
		Hz      []float64 `json:"frequencies_hz"`
		Figures struct {
			V float64 `json:"mean_spatial_variance_db2"`
		}
		Before struct {
			V float64 `json:"mean_spatial_variance_db2"`
		} `json:"figures_before"`
	}
	if err := json.Unmarshal([]byte(out), &r); err != nil {
		t.Fatal(err)
	}
	if r.Format != "earline-bass" || len(r.Seats) != 6 || len(r.Seats[0].Level) != len(r.Hz) || r.Figures.V > r.Before.V {
		t.Errorf("%+v", r)
	}
	d, err := file.Read(to)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range r.Subwoofers {
		i := slices.IndexFunc(d.Speakers, func(l project.Loudspeaker) bool { return l.Name() == s.Name })
		if i < 0 || d.Speakers[i].Tuning.Gain != s.Gain || d.Speakers[i].Tuning.Delay != s.Delay {
			t.Errorf("%s is written otherwise than printed: %+v", s.Name, s)
		}
	}
	if data, err := os.ReadFile(chart); err != nil || !strings.Contains(string(data), "row 2 seat 3") {
		t.Errorf("chart: %v\n%.200s", err, data)
	}
}

// It gave away 10 to 13 dB from 20 to 40 Hz and said "mean level -3.4 dB": what the
// level of each third was and is stands beside how alike the seats are, and from 20 to
// 50 Hz none falls farther than is asked for.
func TestBassSaysWhatIsPaid(t *testing.T) {
	type answer struct {
		Weighed float64 `json:"weighed_variance_db2"`
		Was     float64 `json:"weighed_variance_before_db2"`
		Seats   []struct{ Weight float64 }
		Thirds  []struct {
			Middle  float64  `json:"middle_hz"`
			Before  float64  `json:"before_db"`
			After   float64  `json:"after_db"`
			Change  float64  `json:"change_db"`
			InPhase float64  `json:"in_phase_db"`
			Floor   *float64 `json:"floor_db"`
		}
		Remarks []string
	}
	var all []answer
	for _, args := range [][]string{{}, {"--give-up", "1 dB"}} {
		status, out, errs := earline(append([]string{"bass", "demo:large", "--align", "--json"}, args...)...)
		if status != statusFine || errs != "" {
			t.Fatalf("status %d, said %q", status, errs)
		}
		var r answer
		if err := json.Unmarshal([]byte(out), &r); err != nil {
			t.Fatal(err)
		}
		all = append(all, r)
		giveUp := 3.0
		if len(args) > 0 {
			giveUp = 1
		}
		if len(r.Thirds) != 9 || r.Weighed >= r.Was || !slices.ContainsFunc(r.Seats, func(s struct{ Weight float64 }) bool { return s.Weight == 3 }) {
			t.Fatalf("%+v", r)
		}
		for _, third := range r.Thirds {
			if (third.Floor != nil) != (third.Middle < 52) {
				t.Errorf("floor at %v Hz: %v", third.Middle, third.Floor)
			}
			if third.Floor != nil && (third.After < third.InPhase-giveUp-1e-3 || third.Change < -giveUp-1e-3) {
				t.Errorf("%+v falls more than %v dB", third, giveUp)
			}
		}
	}
	if all[1].Weighed < all[0].Weighed-0.02*all[0].Was {
		t.Errorf("variance %v with 1 dB given up, %v with 3", all[1].Weighed, all[0].Weighed)
	}
	_, out, _ := earline("bass", "demo:large", "--align")
	for _, want := range []string{"Level by third of an octave", "change ", "to in phase ", "as weighed, from", "of mean level", "more than 3 dB below the best", "The main seat counts three times"} {
		if !strings.Contains(out, want) {
			t.Errorf("it does not say %q:\n%s", want, out)
		}
	}
}

// Each slip has its one line.
func TestBassRefuses(t *testing.T) {
	for args, want := range map[string]string{
		"demo:small -o x.earline":          "--output: found nothing to write, allowed: together with --align or --seek",
		"demo:small --give-up 6":           "--give-up: found nothing to align, allowed: together with --align or --seek",
		"demo:small --align --give-up 0":   `--give-up: found "0", allowed: above 0, up to 60 dB`,
		"demo:small --align --give-up NaN": `--give-up: found "NaN", allowed: above 0, up to 60 dB`,
		"demo:small --chart x.gif":         `--chart: found "x.gif", allowed: a name that ends in .png, .svg, .pdf or .csv, or -`,
		"demo:small --seek --step 1mm":     `--step: found "1mm", allowed: 5 cm to 10 m`,
		"demo:none":                        `demo: found "none", allowed: small, two-row, large`,
		"demo:small --seek --step twelve":  "--step",
	} {
		status, out, errs := earline(append([]string{"bass"}, strings.Fields(args)...)...)
		if status != statusUnusable || !strings.Contains(errs, want) || strings.Count(errs, "\n") != 1 || out != "" {
			t.Errorf("%s: status %d, said %q, printed %q", args, status, errs, out)
		}
	}
}
