// SPDX-License-Identifier: MIT

package chart

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"earline/app/words"
	"earline/scene/chart"
)

// In a German window a chart is in German, with decimal commas; what is exported from it is
// the same as from an English one.
func TestAChartIsShownInGermanAndExportedInEnglish(t *testing.T) {
	test.NewTempApp(t)
	given := &chart.Chart{Title: "Level", X: chart.Axis{Kind: chart.Frequency, Label: "Frequency"}, Y: chart.Axis{Kind: chart.Decibel, Label: "Level"},
		Series: []chart.Series{{Name: "mean", X: []float64{31.5, 1000}, Y: []float64{-1.5, 2.5}}}, Note: "Level"}
	kept := func() (all [][]byte) {
		c := New()
		c.Set(given)
		for _, kind := range []string{chart.CSV, chart.SVG} {
			path := filepath.Join(t.TempDir(), "chart")
			if err := c.Save(kind, path); err != nil {
				t.Fatal(err)
			}
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, data)
		}
		return all
	}
	want := kept()
	german, err := words.Read([]byte(`{"Level": "Pegel", "Frequency": "Frequenz", "mean": "Mittel"}`))
	if err != nil {
		t.Fatal(err)
	}
	words.Speak(german)
	t.Cleanup(func() { words.Speak(nil) })
	for i, got := range kept() {
		if !bytes.Equal(got, want[i]) {
			t.Errorf("another file in German:\n%s\nwant\n%s", got, want[i])
		}
	}
	c := New()
	w := test.NewTempWindow(t, c)
	w.Resize(fyne.NewSize(600, 300))
	c.Set(given)
	shown := c.face.chart
	if c.title.Text != "Pegel" || shown.X.Label != "Frequenz" || shown.Series[0].Name != "Mittel" || !c.face.style.Comma {
		t.Errorf("%q, %q, %q", c.title.Text, shown.X.Label, shown.Series[0].Name)
	}
	if c.Shown().Series[0].Name != "mean" {
		t.Error("the chart that was given is changed")
	}
	d := given.Layout(chart.Paper{W: 600, H: 300, Scale: 1, Style: c.face.style})
	if got := d.Say(chart.Hit{}); got != "31,5 Hz   −1,5 dB   mean" {
		t.Errorf("a point is read as %q", got)
	}
}
