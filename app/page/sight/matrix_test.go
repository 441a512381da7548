// SPDX-License-Identifier: MIT

package sight

import (
	"image"
	"image/color"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"earline/app/theme"
	"earline/project"
	"earline/project/file"
	"earline/project/sight"
)

func demo(t testing.TB, name string) (*project.Design, *sight.Result) {
	t.Helper()
	d, ok := file.Demo(name)
	if !ok {
		t.Fatalf("no demo %s", name)
	}
	return d, sight.Audit(d)
}

// shown returns a matrix of the large demo in a window of the given size.
func shown(t *testing.T, w, h float32) (*matrix, *sight.Result) {
	t.Helper()
	test.NewTempApp(t)
	d, r := demo(t, "large")
	m := newMatrix()
	win := test.NewTempWindow(t, m)
	win.SetPadded(false)
	win.Resize(fyne.NewSize(w, h))
	m.Set(r, d.Units)
	return m, r
}

func click(m *matrix, x, y float32) {
	at := fyne.NewPos(x, y)
	m.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}, Button: desktop.MouseButtonPrimary})
	m.MouseUp(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}, Button: desktop.MouseButtonPrimary})
}

func TestEveryCellIsFoundWhereItIsPainted(t *testing.T) {
	m, r := shown(t, 600, 160)
	var got cell
	m.OnChoose = func(c cell) { got = c }
	for i := range r.Seats {
		for k := picture; k < len(r.Speakers); k++ {
			want := cell{i, k}
			m.Choose(&want) // scrolls it into view
			x, y, w := m.cell(want)
			if size := m.Size(); x < 0 || y < headHeight || x+w > size.Width+1 || y+cellHeight > size.Height+1 {
				t.Fatalf("%v is at (%v, %v), out of view", want, x, y)
			}
			click(m, x+w/2, y+cellHeight/2)
			if got != want {
				t.Fatalf("a click on %v chose %v", want, got)
			}
		}
	}
}

func TestCellsWearTheColourOfTheirVerdict(t *testing.T) {
	m, r := shown(t, 1400, 340)
	img := m.paint(1400, 340).(*image.RGBA)
	for i := range r.Seats {
		for k := range r.Speakers {
			x, y, _ := m.cell(cell{i, k})
			plate, _, _ := theme.Verdict(r.Pair(i, k).Verdict)
			want := plate.NRGBA()
			got := color.NRGBAModel.Convert(img.At(int(x)+2, int(y)+2)).(color.NRGBA)
			if got != want {
				t.Fatalf("seat %d loudspeaker %d (%v) is painted %v, want %v", i, k, r.Pair(i, k).Verdict, got, want)
			}
		}
	}
}

func TestArrowsMoveTheChoiceAndStopAtTheEdge(t *testing.T) {
	m, r := shown(t, 600, 160)
	var got cell
	m.OnChoose = func(c cell) { got = c }
	key := func(names ...fyne.KeyName) {
		for _, n := range names {
			m.TypedKey(&fyne.KeyEvent{Name: n})
		}
	}
	key(fyne.KeyReturn) // the keyboard begins at the first cell
	if want := (cell{0, picture}); got != want {
		t.Errorf("the first key chose %v, want %v", got, want)
	}
	key(fyne.KeyRight, fyne.KeyRight, fyne.KeyDown)
	if want := (cell{1, 1}); got != want {
		t.Errorf("arrows chose %v, want %v", got, want)
	}
	for range 40 {
		key(fyne.KeyDown, fyne.KeyRight)
	}
	if want := (cell{len(r.Seats) - 1, len(r.Speakers) - 1}); got != want {
		t.Errorf("at the far corner %v, want %v", got, want)
	}
}

func TestHeadingsAreNotCells(t *testing.T) {
	m, _ := shown(t, 600, 160)
	speaker, seat := -1, -1
	m.OnSpeaker = func(k int) { speaker = k }
	m.OnSeat = func(i int) { seat = i }
	m.OnChoose = func(c cell) { t.Errorf("a heading chose %v", c) }
	click(m, left+3, 5)
	click(m, 10, headHeight+cellHeight+5)
	if speaker != 0 || seat != 1 {
		t.Errorf("headings gave loudspeaker %d and seat %d, want 0 and 1", speaker, seat)
	}
	click(m, 10, 5)
}

func TestChoiceGoesWithItsSeat(t *testing.T) {
	m, r := shown(t, 600, 160)
	m.Choose(&cell{len(r.Seats) - 1, 0})
	small, audit := demo(t, "small")
	m.Set(audit, small.Units)
	if m.Chosen() != nil {
		t.Error("a cell that is gone is still chosen")
	}
	m.Set(nil, project.Metric)
	if c, where := m.at(fyne.NewPos(60, 60)); where != nowhere {
		t.Errorf("an empty table has %v", c)
	}
}

func TestShort(t *testing.T) {
	for _, c := range []struct {
		metres float64
		units  project.Units
		want   string
	}{
		{0.0412, project.Metric, "41"},
		{-0.0941, project.Metric, "-94"},
		{1.2, project.Metric, ">1 m"},
		{0.0254, project.Imperial, "1.0"},
		{-0.1, project.Imperial, "-3.9"},
		{10, project.Imperial, ">3 ft"},
	} {
		if got := short(c.metres, c.units); got != c.want {
			t.Errorf("short(%v, %s) = %q, want %q", c.metres, c.units, got, c.want)
		}
	}
}

func TestPercentNeverRoundsAPartAway(t *testing.T) {
	for share, want := range map[float64]string{0: "0 %", 0.001: "1 %", 0.5: "50 %", 0.999: "99 %", 1: "100 %"} {
		if got := percent(share); got != want {
			t.Errorf("percent(%v) = %q, want %q", share, got, want)
		}
	}
}

func BenchmarkPaint(b *testing.B) {
	test.NewTempApp(b)
	d, _ := demo(b, "large")
	for i := range d.Seating.Rows {
		d.Seating.Rows[i].Seats = 8
	}
	for len(d.Speakers) < 24 {
		l := d.Speakers[0]
		l.Copy = string(rune('c' + len(d.Speakers)))
		d.Speakers = append(d.Speakers, l)
	}
	m := newMatrix()
	m.Resize(fyne.NewSize(1300, 520))
	m.Set(sight.Audit(d), d.Units)
	b.Run("seats=24,speakers=24", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			m.paint(1300, 520)
		}
	})
}
