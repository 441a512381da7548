// SPDX-License-Identifier: MIT

package drawing

import (
	"image/color"
	"math"
	"strconv"
)

// Dimension is how far apart two points are along a direction: extension lines from
// both to a dimension line, with a stroke across where they meet, and a text on it.
type Dimension struct {
	Layer string
	Ink   color.NRGBA
	A, B  Point
	Line  Point   // any point of the dimension line
	Turn  float64 // of the dimension line from level, in degrees, anticlockwise as one sees it
	Text  string  // "" for the measure in whole millimetres
	Size  float64 // of the type, in mm of the paper; 0 for 3.5, whose capitals are 2.5 mm high
}

// Aligned returns a dimension whose line runs beside A and B, off to the left of the
// way from A to B as one sees it; to the right where off is negative. All are in
// millimetres of the model.
func Aligned(a, b Point, off float64) Dimension {
	d := Dimension{A: a, B: b, Turn: math.Atan2(a.Y-b.Y, b.X-a.X) * 180 / math.Pi}
	x, y := d.along()
	d.Line = Pt(a.X+off*y, a.Y-off*x)
	return d
}

// along returns the direction of the dimension line; (y, -x) is to its left.
func (d Dimension) along() (x, y float64) {
	s, c := math.Sincos(d.Turn * math.Pi / 180)
	return c, -s
}

// Ends returns where the extension lines of A and B meet the dimension line.
func (d Dimension) Ends() (a, b Point) {
	x, y := d.along()
	foot := func(p Point) Point {
		t := (p.X-d.Line.X)*x + (p.Y-d.Line.Y)*y
		return Pt(d.Line.X+t*x, d.Line.Y+t*y)
	}
	return foot(d.A), foot(d.B)
}

// Measure returns the distance that d is of, in mm.
func (d Dimension) Measure() float64 {
	a, b := d.Ends()
	return math.Hypot(b.X-a.X, b.Y-a.Y)
}

// Words returns the text of d.
func (d Dimension) Words() string {
	if d.Text != "" {
		return d.Text
	}
	return strconv.FormatFloat(d.Measure(), 'f', 0, 64)
}

// TypeSize returns the size of the text, in mm of the paper.
func (d Dimension) TypeSize() float64 {
	if d.Size > 0 {
		return d.Size
	}
	return 3.5
}

// What a dimension is drawn with, in mm of the paper. Common practice, no source.
const (
	DimensionPen    = 0.18
	DimensionGap    = 1.0 // from the point to its extension line
	DimensionBeyond = 1.5 // of the extension line beyond the dimension line
	DimensionTick   = 1.2 // of the stroke across, to each side along both axes
	DimensionLift   = 0.8 // of the text above the line
)

// Picture returns d in lines and text, at a scale: mm of the paper to one of the
// model. A text that is too wide for its line stands beyond B.
func (d Dimension) Picture(scale float64, t *Typeface) Marks {
	a, b := d.Ends()
	x, y := d.along()
	if (b.X-a.X)*x+(b.Y-a.Y)*y < 0 {
		x, y = -x, -y // from A to B
	}
	mm := 1 / scale
	move := func(p Point, x, y, by float64) Point { return Pt(p.X+by*x, p.Y+by*y) }
	lines := [][]Point{{a, b}}
	for _, e := range [2][2]Point{{d.A, a}, {d.B, b}} {
		far := math.Hypot(e[1].X-e[0].X, e[1].Y-e[0].Y)
		if far > DimensionGap*mm {
			ux, uy := (e[1].X-e[0].X)/far, (e[1].Y-e[0].Y)/far
			lines = append(lines, []Point{move(e[0], ux, uy, DimensionGap*mm), move(e[1], ux, uy, DimensionBeyond*mm)})
		}
		// Towards upper right of the line, as one reads it.
		tx, ty := x+y, y-x
		lines = append(lines, []Point{move(e[1], tx, ty, -DimensionTick*mm), move(e[1], tx, ty, DimensionTick*mm)})
	}
	words, size := d.Words(), d.TypeSize()
	width := t.Width(words, size) * mm
	at := Pt((a.X+b.X)/2, (a.Y+b.Y)/2)
	if long := math.Hypot(b.X-a.X, b.Y-a.Y); width > long {
		end := move(b, x, y, width+2*mm)
		at = move(b, x, y, width/2+2*mm)
		lines[0] = []Point{a, end}
	}
	// Read from below or from the right.
	turn := math.Mod(d.Turn, 180)
	if turn > 90+1e-9 {
		turn -= 180
	} else if turn <= -90+1e-9 {
		turn += 180
	}
	s, c := math.Sincos(turn * math.Pi / 180)
	at = move(at, -s, -c, DimensionLift*mm)
	return Marks{
		Lines{d.Layer, Pen{Ink: d.Ink, Width: DimensionPen}, lines},
		Text{Layer: d.Layer, Ink: d.Ink, At: at, Text: words, Size: size, Anchor: Middle, Turn: turn},
	}
}
