// SPDX-License-Identifier: MIT

package field

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

// unpainted is an app none of whose objects has been painted.
type unpainted struct{ fyne.App }

func (a unpainted) Driver() fyne.Driver { return unpaintedDriver{a.App.Driver()} }

type unpaintedDriver struct{ fyne.Driver }

func (unpaintedDriver) CanvasForObject(fyne.CanvasObject) fyne.Canvas { return nil }

// A click on a field that had been made visible since the last picture ended the
// program.
func TestAClickOnWhatIsNotYetPaintedEndedTheProgram(t *testing.T) {
	a := test.NewTempApp(t)
	test.NewTempWindow(t, nil)
	none := func(string) {}
	c := newChoice(func() []string { return []string{"a", "b"} }, func() int { return 0 }, func(int) error { return nil }, none)
	e := newEntry(Binding{Value: func() string { return "1" }, Set: func(string) error { return nil }}, none, func([]Offer) {})
	fyne.SetCurrentApp(unpainted{a})
	t.Cleanup(func() { fyne.SetCurrentApp(a) })
	c.Tapped(&fyne.PointEvent{})
	c.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	e.TappedSecondary(&fyne.PointEvent{})
}
