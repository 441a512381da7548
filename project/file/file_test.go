// SPDX-License-Identifier: MIT

package file

import (
	"bytes"
	"errors"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"pgregory.net/rapid"

	"earline/assets"
	"earline/geometry/unit"
	"earline/project"
	"earline/project/fit"
)

// What is built in reads, holds nothing unlikely, and is what Encode writes.
func TestBuiltIn(t *testing.T) {
	designs := map[string][]byte{"start": assets.Start()}
	for _, d := range assets.Demos() {
		designs[d.Name] = d.Data
	}
	for name, data := range designs {
		d, err := Decode(data, name)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for _, f := range fit.Findings(d) {
			t.Errorf("%s: %s", name, f)
		}
		again, err := Encode(d)
		if err != nil {
			t.Errorf("%s: %v", name, err)
		} else if diff := cmp.Diff(string(data), string(again)); diff != "" {
			t.Errorf("%s is not what Encode writes (-file +Encode):\n%s", name, diff)
		}
	}
	if _, ok := Demo("LARGE"); !ok {
		t.Error("no demo named large")
	}
	if _, ok := Demo("none"); ok {
		t.Error("a demo named none")
	}
}

// Decode(Encode(d)) is d, and Encode(Decode(b)) is b, for any design that
// Validate accepts.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDesign(t)
		d.Identify() // as everything read is
		data, err := Encode(d)
		if err != nil {
			t.Fatalf("Encode: %v", err)
		}
		got, err := Decode(data, "x")
		if err != nil {
			t.Fatalf("Decode: %v\n%s", err, data)
		}
		if diff := cmp.Diff(d, got); diff != "" {
			t.Fatalf("went round changed (-in +out):\n%s", diff)
		}
		again, err := Encode(got)
		if err != nil || !bytes.Equal(data, again) {
			t.Fatalf("Encode is not stable: %v", err)
		}
	})
}

// drawDesign changes the numbers, texts and list lengths of the starter design
// within what Validate accepts.
func drawDesign(t *rapid.T) *project.Design {
	d := New()
	length := func(name string, lo, hi float64) unit.Length {
		return unit.Length(rapid.Float64Range(lo, hi).Draw(t, name))
	}
	text := func(name string) string {
		return rapid.StringOfN(rapid.RuneFrom([]rune("aZ0 <&>\"\\/é席\u2028😀")), 0, 12, -1).Draw(t, name)
	}
	d.Name, d.Notes = text("name"), text("notes")+rapid.SampledFrom([]string{"", "\n\tmore"}).Draw(t, "line")
	d.Units = rapid.SampledFrom([]project.Units{project.Metric, project.Imperial}).Draw(t, "units")
	l, w := length("room length", 2, 90), length("room width", 2, 90)
	d.Room.Footprint = []project.Corner{{X: 0, Y: 0}, {X: l, Y: 0}, {X: l, Y: w}, {X: 0, Y: w}}
	d.Room.Ceiling = project.Ceiling{Slope: project.LeftToRight, Height: length("h", 0.5, 30), FarHeight: length("far", 0.5, 30)}
	point := func() project.Point {
		return project.Point{X: length("x", -100, 100), Y: length("y", -100, 100), Z: length("z", -100, 100)}
	}
	for range rapid.IntRange(0, 3).Draw(t, "features") {
		f := project.Feature{
			Kind: rapid.SampledFrom([]project.FeatureKind{project.Soffit, project.Door, project.Stage}).Draw(t, "kind"),
			Name: text("feature"), At: point(),
			Length: length("l", 0.001, 100), Width: length("w", 0.001, 100), Height: length("h", 0.001, 100),
			Turn: unit.Degrees(rapid.Float64Range(-360, 360).Draw(t, "turn")),
		}
		if f.Kind == project.Door {
			f.Swing = project.InRight
		}
		d.Room.Features = append(d.Room.Features, f)
	}
	d.Seating.Rows[0].Seats = rapid.IntRange(1, 400).Draw(t, "seats")
	d.Seating.Rows[0].Stagger = length("stagger", -100, 100)
	if rapid.Bool().Draw(t, "point") {
		d.Seating.Main = project.MainPosition{At: point()}
	}
	d.Speakers = d.Speakers[:rapid.IntRange(0, len(d.Speakers)).Draw(t, "speakers")]
	if len(d.Speakers) == 0 {
		d.Speakers = nil
		if rapid.Bool().Draw(t, "no models") {
			d.Models = nil
		}
	}
	for i := range d.Speakers {
		d.Speakers[i].At = point()
		d.Speakers[i].Copy = text("copy")
		d.Speakers[i].Aim.Fixed = rapid.Bool().Draw(t, "fixed")
		d.Speakers[i].Aim.Azimuth = unit.Degrees(rapid.Float64Range(-360, 360).Draw(t, "az"))
	}
	if rapid.Bool().Draw(t, "projection") {
		drawProjection(t, d, text, point)
	}
	if rapid.Bool().Draw(t, "lit") {
		drawLight(t, d, text, point)
	}
	return d
}

// The schema is nowhere stricter than the program.
func TestSchemaAcceptsWhatIsValid(t *testing.T) {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(assets.Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("earline.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("earline.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		data, err := Encode(drawDesign(t))
		if err != nil {
			t.Fatal(err)
		}
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(v); err != nil {
			t.Fatalf("%v\n%s", err, data)
		}
	})
}

func TestLengthsAsText(t *testing.T) {
	data := bytes.Replace(assets.Start(), []byte(`"height_m": 2.5`), []byte(`"height_m": "8' 2 7/16\""`), 1)
	d, err := Decode(data, "x")
	if err != nil {
		t.Fatal(err)
	}
	if got, want := float64(d.Room.Ceiling.Height), (8*12+2+7.0/16)*0.0254; math.Abs(got-want) > 1e-15 {
		t.Errorf("height %v, want %v", got, want)
	}
}

func TestEncodeRefuses(t *testing.T) {
	d := New()
	d.Screen.Gain = math.NaN()
	if _, err := Encode(d); err == nil || err.Error() != "screen.gain: not a number, allowed: 0.05 to 20" {
		t.Errorf("Encode: %v", err)
	}
	path := filepath.Join(t.TempDir(), "x.earline")
	if err := Write(path, d); err == nil {
		t.Error("Write wrote it")
	}
	if _, err := os.Stat(path); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("Write left a file: %v", err)
	}
}

func TestWriteReadDisk(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "room.earline")
	d := New()
	if err := Write(path, d); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(path, 0o640); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(dir, "link.earline")
	if err := os.Symlink(path, link); err != nil && runtime.GOOS != "windows" {
		t.Fatal(err)
	}
	d.Name = "changed"
	if err := Write(link, d); err != nil {
		t.Fatal(err)
	}
	got, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(d, got); diff != "" {
		t.Errorf("read back (-written +read):\n%s", diff)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Errorf("the link is no link any more: %v %v", info, err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("permissions %v, want those it had, 0640", info.Mode())
	}
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) != 2 {
		t.Errorf("%d entries left in the folder, want the file and the link (%v)", len(entries), err)
	}
	if _, err := Read(filepath.Join(dir, "none.earline")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("Read of no file: %v", err)
	}
	if err := Write(dir, d); err == nil {
		t.Error("Write replaced a folder")
	}
	if err := Write(filepath.Join(dir, "none", "x.earline"), d); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("Write into no folder: %v", err)
	}
}

func TestRecovery(t *testing.T) {
	name := filepath.Join(t.TempDir(), "recovery", "a"+RecoveryExt)
	d := New()
	for _, r := range []Recovery{{d, "", ""}, {d, "/jobs/a/room.earline", "1234"}, {d, "/jobs/\xff", "1234"}} {
		if err := WriteRecovery(name, r); err != nil {
			t.Fatal(err)
		}
		want := r
		if strings.Contains(r.Path, "\xff") { // no text: it would come back as another name
			want.Path, want.Base = "", ""
		}
		got, err := ReadRecovery(name)
		if diff := cmp.Diff(want, got); err != nil || diff != "" {
			t.Errorf("read back changed (%v, -in +out):\n%s", err, diff)
		}
		opened, err := Read(name)
		if diff := cmp.Diff(d, opened); err != nil || diff != "" {
			t.Errorf("a copy cannot be opened as a file (%v):\n%s", err, diff)
		}
	}
	if err := os.WriteFile(name, []byte("{"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := ReadRecovery(name); err == nil {
		t.Error("a broken copy is read")
	}
}

// The mechanism that brings old files up to date, with steps made up here:
// version 1 called the name "title", version 2 gave units as a number.
func TestMigrations(t *testing.T) {
	rename := func(root node) node {
		members := root.value.([]member)
		for i := range members {
			if members[i].name == "title" {
				members[i].name = "name"
			}
		}
		return root
	}
	units := func(root node) node {
		members := root.value.([]member)
		for i := range members {
			if members[i].name == "units" && members[i].value.words() == "1" {
				members[i].value.value = "imperial"
			}
		}
		return root
	}
	steps := []migration{rename, units}
	start := string(assets.Start())
	old := strings.Replace(start, `"name": "New room"`, `"title": "Old room"`, 1)
	old = strings.Replace(old, `"units": "metric"`, `"units": 1`, 1)
	d, err := decode([]byte(old), "old", 3, steps)
	if err != nil {
		t.Fatal(err)
	}
	if d.Name != "Old room" || d.Units != project.Imperial {
		t.Errorf("name %q units %q after two steps", d.Name, d.Units)
	}
	two := strings.Replace(old, `"version": 1`, `"version": 2`, 1)
	if _, err := decode([]byte(two), "old", 3, steps); err == nil || !strings.Contains(err.Error(), "old: title: unknown field") {
		t.Errorf("a version 2 file took the step from 1: %v", err)
	}
	if _, err := decode([]byte(start), "old", 3, steps); err != nil {
		t.Errorf("a step touched what it need not: %v", err)
	}
	for version, want := range map[string]string{
		"4": "old: version: 4, written by a newer Earline, allowed: 1 to 3",
		"0": "old: version: 0, below the first, allowed: 1 to 3",
	} {
		bad := strings.Replace(start, `"version": 1`, `"version": `+version, 1)
		if _, err := decode([]byte(bad), "old", 3, steps); err == nil || err.Error() != want {
			t.Errorf("version %s: %v, want %s", version, err, want)
		}
	}
	if len(migrations) != Version-1 {
		t.Errorf("%d migrations lead to version %d", len(migrations), Version)
	}
}

// FuzzDecodeDesign holds that no bytes panic, every error is made of faults of
// one line, and what decodes goes round unchanged.
func FuzzDecodeDesign(f *testing.F) {
	f.Add(assets.Start())
	for _, d := range assets.Demos() {
		f.Add(d.Data)
	}
	f.Add(bytes.Replace(assets.Start(), []byte(`"slope": "flat",`), []byte(`"slope": "flat", "planes": [{"from": {"x_m": 0, "y_m": 0}, "from_height_m": 1.6, "to": {"x_m": 0, "y_m": 1}, "to_height_m": 2.2}],`), 1))
	f.Add(bytes.Replace(assets.Start(), []byte(`"version": 1,`), []byte(`"version": 1, "unsaved_work_of": "/a", "began_from_sha256": 7,`), 1))
	f.Add(bytes.Replace(bytes.Replace(assets.Start(), []byte(`"version": 1,`), []byte(`"version": 2,`), 1), []byte(`"units":`),
		[]byte(`"light_groups": [{"kind": "strip", "nosings": true, "panels": "p9", "flux_lm": 100, "scenes": {}}], "units":`), 1))
	f.Add(bytes.Replace(bytes.Replace(assets.Start(), []byte(`"version": 1,`), []byte(`"version": 2,`), 1), []byte(`"units":`),
		[]byte(`"datum": {"height_m": 1.2, "from": "structural floor", "floor_buildup_m": "25 mm", "across_from": "left wall", "wall_buildup_m": [0, 0.06]}, "job": {"reference": "12", "revision": "B", "revised_on": "2026-11-29"}, "units":`), 1))
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := Decode(data, "f")
		if err != nil {
			faults := project.Faults(err)
			if len(faults) == 0 || d != nil {
				t.Fatalf("error without faults, or with a design: %v", err)
			}
			for _, x := range faults {
				if s := x.Error(); strings.ContainsAny(s, "\n\r") || x.File != "f" {
					t.Fatalf("not a fault of one line and of the file: %q", s)
				}
			}
			return
		}
		out, err := Encode(d)
		if err != nil {
			t.Fatalf("decoded, but cannot be encoded: %v", err)
		}
		again, err := Decode(out, "f")
		if err != nil {
			t.Fatalf("encoded, but cannot be decoded: %v", err)
		}
		if diff := cmp.Diff(d, again); diff != "" {
			t.Fatalf("went round changed:\n%s", diff)
		}
		out2, err := Encode(again)
		if err != nil || !bytes.Equal(out, out2) {
			t.Fatalf("Encode is not stable: %v", err)
		}
		fit.Findings(d) // must not panic on anything that Validate accepts
	})
}
