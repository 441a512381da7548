// SPDX-License-Identifier: MIT

package built

import (
	"encoding/binary"
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"earline/project"
	"earline/project/practice"
	"earline/project/projecttest"
	"earline/project/setout"
	"earline/project/sight"
)

// site is a filled-in list of the lifted small room: a head, then a line for each
// figure of M+090 given.
type site struct {
	d     *project.Design
	sheet *Sheet
	id    string
}

func newSite(t testing.TB) *site {
	d := lifted(t, -1)
	// M+090 hangs at 1.464 m (464 mm over the line) beside the left wall.
	return &site{d, NewSheet(d), idOf(t, d, "M+090")}
}

func (s *site) measure(t testing.TB, q Quantity) (*Item, *Measure) {
	t.Helper()
	for i := range s.sheet.Items {
		it := &s.sheet.Items[i]
		for k := range it.Measures {
			if it.ID == s.id && it.Measures[k].Quantity == q {
				return it, &it.Measures[k]
			}
		}
	}
	t.Fatal("not in the list")
	return nil, nil
}

// planned is a figure as the site sees it, mm.
func (s *site) planned(t testing.TB, q Quantity) float64 {
	it, m := s.measure(t, q)
	return 1000 * s.sheet.Line(it, q).Shown(m.Planned)
}

// read reads a list of one line.
func (s *site) read(t testing.TB, q Quantity, measured string) (*Reading, error) {
	t.Helper()
	it, m := s.measure(t, q)
	return s.sheet.Read(fmt.Appendf(nil, "id;item;quantity;unit;planned;measured\n%s;x;%s;mm;%.1f;%s\n", s.id, s.sheet.Called(it, m.Quantity), s.planned(t, q), measured), "site.csv")
}

func TestAnEmptySiteListMeasuresNothingAndAFullOneEverything(t *testing.T) {
	for seed := range uint64(10) {
		d := projecttest.Room(seed).Clone()
		d.Identify()
		d.Room.Features = append(d.Room.Features, project.Feature{ID: "f99", Kind: project.Column, Name: `=HYPERLINK("x")`, Length: 0.2, Width: 0.2, Height: 2})
		s := NewSheet(d)
		list := s.List()
		if !strings.HasPrefix(string(list), "\ufeffid,item,quantity,unit,planned,measured\r\n") || strings.Contains(string(list), ",=") || strings.Contains(string(list), ",\"=") {
			t.Fatalf("room %d: %.80q", seed, list)
		}
		r, err := s.Read(list, "site.csv")
		if err != nil || r.Taken != 0 || len(r.Questions) != 0 || r.AsBuilt.Given() {
			t.Fatalf("room %d: %+v, %v", seed, r, err)
		}
		// Every figure as planned: then everything is measured, and nothing is off.
		rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(string(list), "\ufeff"))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		var full strings.Builder
		w := csv.NewWriter(&full)
		w.Comma = ';' // as spreadsheets with decimal commas save it
		for i, row := range rows {
			if i > 0 {
				row[4] = strings.ReplaceAll(row[4], ".", ",")
				row[5] = row[4]
			}
			_ = w.Write(row)
		}
		w.Flush()
		r, err = s.Read([]byte(full.String()), "site.csv")
		if err != nil || r.Taken != len(rows)-1 || len(r.Questions) != 0 {
			t.Fatalf("room %d: %d of %d taken, %v, %v", seed, r.Taken, len(rows)-1, r.Questions, err)
		}
		d.AsBuilt = r.AsBuilt
		for _, it := range Items(d) {
			if it.Deviates() {
				t.Errorf("room %d: %s deviates", seed, it.Name)
			}
		}
	}
}

func TestWhatIsReadIsWhatWasWritten(t *testing.T) {
	s := newSite(t)
	r, err := s.read(t, Height, fmt.Sprintf("%.1f", s.planned(t, Height)-5))
	if err != nil || r.Taken != 1 || len(r.Questions) != 0 {
		t.Fatalf("%+v, %v", r, err)
	}
	_, m := s.measure(t, Height)
	if z := r.AsBuilt.Of(s.id).Z; z == nil || math.Abs(float64(*z)-m.Planned+0.005) > 1e-4 {
		t.Errorf("%v, planned %v", z, m.Planned)
	}
}

// Each slip is asked about, and yes enters what was meant: the figure as planned.
func TestASlipOfTheTapeIsAskedAboutByName(t *testing.T) {
	s := newSite(t)
	h, x := s.planned(t, Height), s.planned(t, FromScreen)
	long := 0.0
	for _, c := range s.d.Room.Footprint {
		long = math.Max(long, 1000*float64(c.X))
	}
	for name, c := range map[string]struct {
		q        Quantity
		measured string
		asks     string
	}{
		"centimetres for millimetres":   {Height, fmt.Sprintf("%.2f", h/10), "Centimetres?"},
		"metres for millimetres":        {FromScreen, fmt.Sprintf("%.4f", x/1000), "Metres?"},
		"a decimal comma, metres":       {FromScreen, strings.Replace(fmt.Sprintf("%.4f", x/1000), ".", ",", 1), "Metres?"},
		"below for above the line":      {Height, fmt.Sprintf("%.1f", -h), "The other side of the laser line?"},
		"from the floor":                {Height, fmt.Sprintf("%.1f", h+1000), "From the floor?"},
		"from the wrong wall":           {FromScreen, fmt.Sprintf("%.1f", long-x), "From the screen wall?"},
		"a metre misread":               {FromScreen, fmt.Sprintf("%.1f", x-1000), "A metre misread?"},
		"off by more than can be built": {Height, fmt.Sprintf("%.1f", h-70), "70 mm off the plan"},
	} {
		r, err := s.read(t, c.q, c.measured)
		if err != nil || r.Taken != 0 || len(r.Questions) != 1 {
			t.Errorf("%s, %s: %+v, %v", name, c.measured, r, err)
			continue
		}
		q := r.Questions[0].String()
		if !strings.Contains(q, c.asks) || !strings.Contains(q, "line 2 measured") || strings.Contains(q, "\n") {
			t.Errorf("%s: %s", name, q)
		}
		if r.AsBuilt.Given() {
			t.Errorf("%s: used before it was answered", name)
		}
		if r.Accept(); name == "off by more than can be built" {
			continue
		}
		_, m := s.measure(t, c.q)
		if v, ok := func() (float64, bool) { m2 := r.AsBuilt.Of(s.id); return value(&m2, c.q) }(); !ok || math.Abs(v-m.Planned) > 1e-3 {
			t.Errorf("%s: yes enters %v, planned %v", name, v, m.Planned)
		}
	}
}

func TestFiguresThatChangedPlacesAreAskedAbout(t *testing.T) {
	s := newSite(t)
	h, x := s.planned(t, Height), s.planned(t, FromScreen)
	it, _ := s.measure(t, Height)
	for name, text := range map[string]string{
		"two lines":             fmt.Sprintf("id,quantity,measured\n%s,%s,%.1f\n%s,%s,%.1f\n", s.id, s.sheet.Called(it, Height), x, s.id, s.sheet.Called(it, FromScreen), h),
		"planned and measured":  fmt.Sprintf("id,quantity,planned,measured\n%s,%s,%.1f,%.1f\n", s.id, s.sheet.Called(it, Height), h-5, h),
		"measured over planned": fmt.Sprintf("id,quantity,planned,measured\n%s,%s,%.1f,\n", s.id, s.sheet.Called(it, Height), h-5),
		"a list of another day": fmt.Sprintf("id,quantity,planned,measured\n%s,%s,%.1f,%.1f\n", s.id, s.sheet.Called(it, Height), h-20, h-18),
	} {
		r, err := s.sheet.Read([]byte(text), "site.csv")
		if err == nil && (len(r.Questions) == 0 || r.Taken > 0) {
			t.Errorf("%s: %+v", name, r)
		}
		if err != nil && !strings.Contains(err.Error(), "that is from") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestALineThatCannotBeUsedIsRefusedByRowAndColumn(t *testing.T) {
	s := newSite(t)
	it, _ := s.measure(t, Height)
	height := s.sheet.Called(it, Height)
	for text, want := range map[string]string{
		"id,quantity\n":                                "line 1: no column measured",
		"a,b,c\n1,2,3\n":                               "line 1: no column id",
		"id,quantity,measured\nx9,%h,1\n":              `line 2 id: "x9"`,
		"id,quantity,measured\n%i,depth,1\n":           `line 2 quantity: "depth"`,
		"id,quantity,measured\n%i,%h,NaN\n":            `line 2 measured: "NaN"`,
		"id,quantity,measured\n%i,%h,high\n":           `line 2 measured: "high"`,
		"id,quantity,measured\n%i,%h,2999\n":           "line 2 measured: M+090 left side from laser line: 2999 mm",
		"id,quantity,measured\n%i,%h,464,5\n":          "line 2: 4 cells",
		"id,quantity,unit,measured\n%i,%h,ell,1\n":     `line 2 unit: "ell"`,
		"id,quantity,measured\n%i,%h,464\n%i,%h,464\n": "line 3: M+090 left side from laser line again",
	} {
		text = strings.NewReplacer("%i", s.id, "%h", height).Replace(text)
		r, err := s.sheet.Read([]byte(text), "site.csv")
		if err == nil || r != nil || !strings.HasPrefix(strings.Split(err.Error(), "\n")[0], "site.csv: "+want) {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}

func TestAHalfFilledListKeepsWhatWasMeasuredBefore(t *testing.T) {
	s := newSite(t)
	enter(t, s.d, s.id, Height, 0.003)
	s.sheet = NewSheet(s.d)
	r, err := s.read(t, FromScreen, fmt.Sprintf("%.1f", s.planned(t, FromScreen)+4))
	if err != nil {
		t.Fatal(err)
	}
	if m := r.AsBuilt.Of(s.id); m.X == nil || m.Z == nil || m.Y != nil {
		t.Errorf("%+v", m)
	}
}

// FuzzSiteList holds that no bytes panic, that what is refused is so line by line, and
// that what is taken makes a design that can be kept and is within a metre of the plan.
func FuzzSiteList(f *testing.F) {
	d := lifted(f, -1)
	s := NewSheet(d)
	f.Add(s.List())
	f.Add([]byte("id;quantity;unit;planned;measured\ns1;from laser line;cm;1,5;0x1p-2\n"))
	f.Add([]byte("id,quantity,measured\nscreen,width,\"7' 10\"\"\"\nr1,from screen wall,1e9\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := s.Read(data, "f")
		if err != nil {
			if len(project.Faults(err)) == 0 || r != nil {
				t.Fatalf("%v", err)
			}
			for _, fault := range project.Faults(err) {
				if strings.ContainsAny(fault.Error(), "\r\n") {
					t.Fatalf("%q", fault.Error())
				}
			}
			return
		}
		for _, q := range r.Questions {
			if strings.ContainsAny(q.String(), "\r\n") {
				t.Fatalf("%q", q.String())
			}
		}
		r.Accept()
		c := d.Clone()
		c.AsBuilt = r.AsBuilt
		if err := c.Validate(); err != nil || len(c.GoneMeasured()) > 0 {
			t.Fatalf("%v", err)
		}
		for _, it := range Items(c) {
			for _, m := range it.Measures {
				if !m.Quantity.Angle() && math.Abs(m.Off()) > mostOff+1e-9 {
					t.Fatalf("%s %v: %v off", it.Name, m.Quantity, m.Off())
				}
			}
		}
	})
}

// An installer took the turn from the set-out list, 24.7° left, and the site list wanted
// -155.3 and refused it.
func TestASiteListHasTheTurnAndTiltOfTheSetOutList(t *testing.T) {
	angles := 0
	for seed := range uint64(40) {
		d := projecttest.Room(seed).Clone()
		d.Identify()
		list, err := setout.Of(t.Context(), sight.Audit(d), practice.Standard{})
		if err != nil {
			t.Fatal(err)
		}
		s := NewSheet(d)
		for i := range s.Items {
			it := &s.Items[i]
			at := slices.IndexFunc(list.Items, func(o setout.Item) bool { return o.ID == it.ID && o.Aim != nil })
			if at < 0 {
				continue
			}
			for k := range it.Measures {
				m := &it.Measures[k]
				want := list.Items[at].Aim.Turn
				if m.Quantity == Tilt {
					want = list.Items[at].Aim.Tilt
				}
				straightUp := math.Abs(it.planned(Tilt)) > 89.9 // has no turn
				if !m.Quantity.Angle() || m.Quantity == Turn && straightUp {
					continue
				}
				angles++
				l := s.Line(it, m.Quantity)
				if shown := l.Shown(m.Planned); math.Abs(math.Remainder(shown-want, 360)) > 1e-3 {
					t.Errorf("room %d, %s %s: %.4f in the site list, %.4f in the set-out list (%s)", seed, it.Name, m.Quantity, shown, want, list.Items[at].On)
				} else if back := l.Frame(shown); math.Abs(away(m.Quantity, back, m.Planned)) > 1e-5 {
					t.Errorf("room %d, %s %s: %v read back as %v", seed, it.Name, m.Quantity, m.Planned, back)
				}
			}
		}
	}
	if angles < 100 {
		t.Errorf("%d angles looked at", angles)
	}
}

// The door of a side wall was to be measured as 40 mm wide, which is its leaf.
func TestADoorIsNotMeasuredByItsThickness(t *testing.T) {
	d := projecttest.Room(1).Clone()
	d.Room.Features = []project.Feature{
		{Kind: project.Door, Name: "side", Length: 0.9, Width: 0.04, Height: 2.05},
		{Kind: project.Door, Name: "back", Length: 0.04, Width: 0.9, Height: 2.05},
	}
	d.Identify()
	widths := map[string]bool{}
	for _, it := range Items(d) {
		widths[it.Name] = slices.ContainsFunc(it.Measures, func(m Measure) bool { return m.Quantity == Width })
	}
	if widths["side"] || !widths["back"] {
		t.Errorf("width asked for: %v", widths)
	}
}

// A round column was to be measured as 0 mm wide.
func TestARoundColumnIsMeasuredAcross(t *testing.T) {
	d := projecttest.Room(1).Clone()
	d.Room.Features = []project.Feature{{Kind: project.Column, Name: "post", Round: true, Length: 0.3, Height: 2}}
	d.Identify()
	items := Items(d)
	it := &items[slices.IndexFunc(items, func(it Item) bool { return it.Name == "post" })]
	if w := it.planned(Width); w != 0.3 {
		t.Errorf("planned %v m across, want 0.3", w)
	}
	it.put(d, Width, 0.32)
	if f := d.Room.Features[0]; f.Length != 0.32 || f.Width != 0 {
		t.Errorf("as built %v by %v, want 0.32 across", f.Length, f.Width)
	}
}

// A list saved as Unicode text was refused as "a cell of several lines".
func TestASiteListSavedAsUnicodeTextIsRead(t *testing.T) {
	s := newSite(t)
	it, m := s.measure(t, Height)
	text := fmt.Sprintf("id\tquantity\tunit\tmeasured\r\n%s\t%s\tmm\t%.1f\r\n", s.id, s.sheet.Called(it, m.Quantity), s.planned(t, Height)+4)
	for _, order := range []binary.AppendByteOrder{binary.LittleEndian, binary.BigEndian} {
		data := order.AppendUint16(nil, 0xFEFF)
		for _, u := range utf16.Encode([]rune(text)) {
			data = order.AppendUint16(data, u)
		}
		r, err := s.sheet.Read(data, "site.txt")
		if err != nil || r.Taken != 1 || len(r.Questions) != 0 {
			t.Errorf("%v: %+v, %v", order, r, err)
		}
	}
}

// A row was planned 1.5 m elsewhere after the list was written, and the list was refused
// for the row's empty line.
func TestAnOldListWithAnEmptyLineOfWhatMovedFarIsRead(t *testing.T) {
	s := newSite(t)
	it, m := s.measure(t, Height)
	_, far := s.measure(t, FromScreen)
	text := fmt.Sprintf("id,quantity,unit,planned,measured\n%s,%s,mm,%.1f,\n%s,%s,mm,%.1f,%.1f\n",
		s.id, s.sheet.Called(it, far.Quantity), s.planned(t, FromScreen)+1500,
		s.id, s.sheet.Called(it, m.Quantity), s.planned(t, Height), s.planned(t, Height)+4)
	if r, err := s.sheet.Read([]byte(text), "site.csv"); err != nil || r.Taken != 1 || len(r.Questions) != 0 {
		t.Errorf("%+v, %v", r, err)
	}
}
