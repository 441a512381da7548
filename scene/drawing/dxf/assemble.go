// SPDX-License-Identifier: MIT

package dxf

import (
	"math"

	"earline/scene/drawing"
)

// anonymous marks the block of a picture, which nobody inserts by name.
const anonymous = 1

// block adds a block about 0, 0.
func (f *file) block(name string, kind int, content *tags) {
	b := &f.blocks
	b.name(0, "BLOCK")
	b.name(8, "0")
	b.name(2, name)
	b.int(70, kind)
	b.point(10, 0, 0)
	b.name(3, name)
	b.Write(content.Bytes())
	b.name(0, "ENDBLK")
	b.name(8, "0")
}

// style is how programs that draw dimensions anew are to do that: as their pictures are.
type style struct {
	mm   float64 // of the model to one of the paper
	size float64 // of the type, in mm of the paper
}

// assemble puts the sections together.
func (f *file) assemble() []byte {
	var t tags
	section := func(name string, content func()) {
		t.name(0, "SECTION")
		t.name(2, name)
		content()
		t.name(0, "ENDSEC")
	}
	first := style{1, drawing.Dimension{}.TypeSize()}
	if len(f.styles.rows) > 0 {
		first = f.styles.rows[0].value
	}
	e := f.extent
	section("HEADER", func() {
		variable := func(name string) { t.name(9, name) }
		variable("$ACADVER")
		t.name(1, "AC1009")
		variable("$INSUNITS")
		t.int(70, 4) // millimetres
		variable("$MEASUREMENT")
		t.int(70, 1) // metric
		variable("$EXTMIN")
		t.point(10, e.X0, e.Y0)
		variable("$EXTMAX")
		t.point(10, e.X1, e.Y1)
		for _, v := range []struct {
			name  string
			value float64
		}{
			{"$LTSCALE", 1}, {"$DIMSCALE", first.mm}, {"$DIMTXT", first.size * capitals}, {"$DIMASZ", drawing.DimensionTick},
			{"$DIMTSZ", drawing.DimensionTick}, {"$DIMEXO", drawing.DimensionGap}, {"$DIMEXE", drawing.DimensionBeyond},
		} {
			variable(v.name)
			t.number(40, v.value)
		}
		for _, name := range []string{"$DIMTIH", "$DIMTOH"} { // along the line
			variable(name)
			t.int(70, 0)
		}
		variable("$DIMTAD")
		t.int(70, 1) // above it
	})
	section("TABLES", func() { f.tables(&t) })
	section("BLOCKS", func() { t.Write(f.blocks.Bytes()) })
	section("ENTITIES", func() { t.Write(f.entities.Bytes()) })
	t.name(0, "EOF")
	return t.Bytes()
}

func (f *file) tables(t *tags) {
	begin := func(name string, rows int) {
		t.name(0, "TABLE")
		t.name(2, name)
		t.int(70, rows)
	}
	entry := func(kind, name string) {
		t.name(0, kind)
		t.name(2, name)
		t.int(70, 0)
	}
	end := func() { t.name(0, "ENDTAB") }

	// The whole drawing is seen when the file is opened.
	e := f.extent
	begin("VPORT", 1)
	entry("VPORT", "*ACTIVE")
	for _, p := range [][3]float64{
		{10, 0, 0}, {11, 1, 1}, {12, (e.X0 + e.X1) / 2, (e.Y0 + e.Y1) / 2}, // of the screen, and what is in its middle
		{13, 0, 0}, {14, 10, 10}, {15, 10, 10},
	} {
		t.number(int(p[0]), p[1])
		t.number(int(p[0])+10, p[2])
	}
	t.point(16, 0, 0)
	t.number(36, 1)
	t.point(17, 0, 0)
	const aspect = 1.6
	t.number(40, max(1.05*e.Dy(), 1.05*e.Dx()/aspect, 1))
	t.number(41, aspect)
	end()

	begin("LTYPE", 1+len(f.lines.rows))
	entry("LTYPE", "CONTINUOUS")
	t.name(3, "Solid line")
	t.int(72, 'A')
	t.int(73, 0)
	t.number(40, 0)
	for _, l := range f.lines.rows {
		entry("LTYPE", l.name)
		t.name(3, l.name)
		t.int(72, 'A')
		t.int(73, len(l.value))
		sum := 0.0
		for _, v := range l.value {
			sum += v
		}
		t.number(40, sum)
		for i, v := range l.value {
			t.number(49, v*math.Pow(-1, float64(i))) // gaps are below 0
		}
	}
	end()

	begin("LAYER", len(f.layers.rows))
	for _, l := range f.layers.rows {
		entry("LAYER", l.name)
		t.int(62, l.value)
		t.name(6, "CONTINUOUS")
	}
	end()

	begin("STYLE", 2)
	for _, s := range [][2]string{{"STANDARD", "arial.ttf"}, {"BOLD", "arialbd.ttf"}} {
		entry("STYLE", s[0])
		for _, g := range []struct {
			code  int
			value float64
		}{{40, 0}, {41, 1}, {50, 0}} {
			t.number(g.code, g.value)
		}
		t.int(71, 0)
		t.number(42, 2.5) // the last height of type that was used
		t.name(3, s[1])
		t.name(4, "")
	}
	end()

	begin("DIMSTYLE", len(f.styles.rows))
	for _, s := range f.styles.rows {
		entry("DIMSTYLE", s.name)
		for _, g := range []struct {
			code  int
			value float64
		}{
			{40, s.value.mm}, {41, drawing.DimensionTick}, {42, drawing.DimensionGap}, {44, drawing.DimensionBeyond},
			{140, s.value.size * capitals}, {142, drawing.DimensionTick},
		} {
			t.number(g.code, g.value)
		}
		t.int(73, 0)
		t.int(74, 0)
		t.int(77, 1)
	}
	end()
}
