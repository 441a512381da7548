// SPDX-License-Identifier: MIT

package main

import (
	"bytes"
	"encoding/json"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"earline/project"
	"earline/project/file"
	"earline/scene/gl"
)

// earline runs the command line and returns its status and what it printed.
func earline(args ...string) (status int, out, errs string) { return earlineReads("", args...) }

// earlineReads is earline with something on standard input.
func earlineReads(in string, args ...string) (status int, out, errs string) {
	var stdout, stderr bytes.Buffer
	status = run(args, strings.NewReader(in), &stdout, &stderr)
	return status, stdout.String(), stderr.String()
}

// The audit of the three-row demo names the blocked sides and whose heads block
// them, and ends with status 1.
func TestAuditNamesWhoBlocksTheSides(t *testing.T) {
	status, out, errs := earline("audit", "demo:large")
	if status != statusShort || errs != "" {
		t.Fatalf("status %d, want %d; said %q", status, statusShort, errs)
	}
	if want := "Sides M±090: blocked for 5 of 14 seats; head in row 2 seat 2 stands 83 mm in the way of row 2 seat 3"; !strings.Contains(strings.Join(strings.Fields(out), " "), want) {
		t.Errorf("does not say %q:\n%s", want, out)
	}
	_, all, _ := earline("audit", "--all", "demo:large")
	found := false
	for _, line := range strings.Split(all, "\n") {
		f := strings.Fields(line)
		if len(f) > 3 && f[0] == "2.3" && f[1] == "M+090" && strings.Contains(line, "head in row 2 seat 2") {
			found = true
		}
	}
	if !found {
		t.Errorf("no line says that row 2 seat 3 loses M+090 behind the head in row 2 seat 2:\n%s", all)
	}
	for _, want := range []string{"14 seats, 21 loudspeakers", "8 blocked", "upper bounds", "percentile 50 behind"} {
		if !strings.Contains(out, want) {
			t.Errorf("does not say %q", want)
		}
	}
	for i, line := range strings.Split(out, "\n") {
		if len(line) > 110 {
			t.Errorf("line %d is %d wide", i+1, len(line))
		}
	}
}

// Raising the sides clears every blocked pair, and the status says so.
func TestRaisingTheSidesClearsThem(t *testing.T) {
	name := filepath.Join(t.TempDir(), "raised.earline")
	if status, _, errs := earline("demo", "large", "-o", name); status != statusFine {
		t.Fatal(errs)
	}
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	raised := b
	for _, z := range []string{`"z_m": 1.4`, `"z_m": 1.72`} {
		if !bytes.Contains(raised, []byte(z+"\n")) {
			t.Fatalf("no loudspeaker hangs at %s", z)
		}
		raised = bytes.ReplaceAll(raised, []byte(z+"\n"), []byte(`"z_m": 2.5`+"\n"))
	}
	if err := os.WriteFile(name, raised, 0o644); err != nil {
		t.Fatal(err)
	}
	status, out, _ := earline("audit", name)
	if status != statusFine || !strings.Contains(out, " 0 blocked, 56 not judged") {
		t.Errorf("status %d:\n%s", status, out)
	}
}

// The JSON keys are what the manual documents.
func TestAuditJSONKeys(t *testing.T) {
	status, out, _ := earline("audit", "demo:small", "--json")
	if status != statusFine {
		t.Errorf("status %d", status)
	}
	var got map[string]any
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	documented(t, got)
	if n := len(got["pairs"].([]any)); n != 3*8 {
		t.Errorf("%d pairs, want 24", n)
	}
	if got["format"] != "earline-audit" || got["version"] != 1.0 {
		t.Errorf("format %v version %v", got["format"], got["version"])
	}
}

func collect(v any, keys map[string]bool) {
	switch v := v.(type) {
	case map[string]any:
		for k, w := range v {
			keys[k] = true
			collect(w, keys)
		}
	case []any:
		for _, w := range v {
			collect(w, keys)
		}
	}
}

// Bad input gets one clear line for each fault and status 2; nothing panics.
func TestBadInput(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		p := filepath.Join(dir, name)
		if err := os.WriteFile(p, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return p
	}
	_, good, _ := earline("demo")
	if !strings.Contains(good, "large") {
		t.Fatalf("demo lists:\n%s", good)
	}
	demo := filepath.Join(dir, "demo.earline")
	if status, _, errs := earline("demo", "small", "-o", demo); status != 0 {
		t.Fatal(errs)
	}
	text, err := os.ReadFile(demo)
	if err != nil {
		t.Fatal(err)
	}
	change := func(name, from, to string) string {
		s := strings.Replace(string(text), from, to, 1)
		if s == string(text) {
			t.Fatalf("%s: %q is not in the demo", name, from)
		}
		return write(name, s)
	}
	for _, c := range []struct {
		name string
		args []string
		want []string // all in the first line of the error
	}{
		{"no such file", []string{"audit", filepath.Join(dir, "none.earline")}, []string{"none.earline"}},
		{"truncated", []string{"audit", write("cut.earline", string(text[:len(text)/2]))}, []string{"cut.earline"}},
		{"not JSON", []string{"audit", write("text.earline", "hello")}, []string{"text.earline"}},
		{"newer version", []string{"audit", change("new.earline", `"version": 2`, `"version": 99`)}, []string{"new.earline", "version", "99", "allowed"}},
		{"unknown field", []string{"audit", change("odd.earline", `"gain"`, `"gane"`)}, []string{"odd.earline", "screen.gane"}},
		{"no seats", []string{"audit", change("zero.earline", `"seats": 3`, `"seats": 0`)}, []string{"zero.earline", "seating.rows[0].seats", "0", "allowed"}},
		{"500 seats", []string{"audit", change("many.earline", `"seats": 3`, `"seats": 500`)}, []string{"many.earline", "500", "allowed"}},
		{"NaN", []string{"audit", change("nan.earline", `"gain": 1`, `"gain": NaN`)}, []string{"nan.earline"}},
		{"negative", []string{"audit", change("neg.earline", `"width_m": 2.2`, `"width_m": -2.2`)}, []string{"neg.earline", "screen.width_m", "-2.2", "allowed"}},
		{"unknown demo", []string{"audit", "demo:huge"}, []string{"huge", "small, two-row, large"}},
		{"unknown verb flag", []string{"audit", "--nope", demo}, []string{"--nope"}},
		{"no file", []string{"audit"}, []string{"audit needs a FILE", "demo:NAME"}},
		{"render without output", []string{"render", demo}, []string{"--output"}},
		{"render size", []string{"render", demo, "-o", "x.png", "--size", "big"}, []string{"--size: found \"big\"", "allowed"}},
		{"render view", []string{"render", demo, "-o", filepath.Join(dir, "x.png"), "--view", "seat:9.9"}, []string{"seat:9.9", "allowed"}},
		{"render ending", []string{"render", demo, "-o", "x.gif"}, []string{"x.gif", ".png"}},
		{"render rays", []string{"render", demo, "-o", "x.png", "--rays", "some"}, []string{"--rays: found \"some\"", "allowed"}},
		{"write over", []string{"demo", "small", "-o", demo}, []string{"demo.earline", "already"}},
	} {
		status, out, errs := earline(c.args...)
		first, _, _ := strings.Cut(errs, "\n")
		if status != statusUnusable || out != "" {
			t.Errorf("%s: status %d, printed %q, said %q", c.name, status, out, errs)
		}
		for _, w := range c.want {
			if !strings.Contains(first, w) {
				t.Errorf("%s: said %q, want %q in it", c.name, first, w)
			}
		}
	}
}

// What is odd but can be computed is audited, and said.
func TestFindingsAreSaid(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "odd.earline")
	earline("demo", "small", "-o", name)
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	// The row 3 m behind the back wall.
	odd := bytes.Replace(b, []byte(`"distance_m": 2.7`), []byte(`"distance_m": 7.2`), 1)
	if bytes.Equal(odd, b) {
		t.Fatal("the demo's row is not at 2.7 m")
	}
	if err := os.WriteFile(name, odd, 0o644); err != nil {
		t.Fatal(err)
	}
	status, out, errs := earline("audit", name)
	if status != statusShort || errs != "" || !strings.Contains(out, "outside the room") {
		t.Errorf("status %d, %q:\n%s", status, errs, out)
	}
}

// In house light the client sees a bare screen; a room without lamps has no scene.
func TestRenderInTheLightOfAScene(t *testing.T) {
	if _, err := gl.NewContext(); err != nil {
		if os.Getenv("EARLINE_NO_SKIP") != "" {
			t.Fatal(err)
		}
		t.Skip(err)
	}
	dir := t.TempDir()
	name := filepath.Join(dir, "house.png")
	if status, _, errs := earline("render", "demo:small", "-o", name, "--client", "--scene", "house", "--size", "160x100"); status != statusFine {
		t.Fatalf("status %d: %s", status, errs)
	}
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	// Where the picture would be sunset, the bare screen is grey.
	if r, g, b, _ := img.At(103, 20).RGBA(); r < 0x3000 || max(r, g, b)-min(r, g, b) > 0x2000 {
		t.Errorf("the screen is (%#x, %#x, %#x)", r, g, b)
	}
	d, _ := file.Demo("small")
	d.LightGroups = nil
	b, err := file.Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	dark := filepath.Join(dir, "dark.earline")
	if err := os.WriteFile(dark, b, 0o600); err != nil {
		t.Fatal(err)
	}
	status, _, errs := earline("render", dark, "-o", filepath.Join(dir, "x.png"), "--client", "--scene", "show")
	if want := "dark.earline: light_groups: none, allowed: one at least"; status != statusUnusable || !strings.Contains(errs, want) {
		t.Errorf("without lamps: status %d: %s, want %s", status, errs, want)
	}
}

// Left of the curtain is another design of the file.
func TestRenderACurtain(t *testing.T) {
	if _, err := gl.NewContext(); err != nil {
		if os.Getenv("EARLINE_NO_SKIP") != "" {
			t.Fatal(err)
		}
		t.Skip(err)
	}
	d, _ := file.Demo("small")
	d.Keep(project.Variant{Name: "As found", Role: project.Existing})
	d.Keep(project.Variant{Name: "Option: 2", Role: project.Option})
	b, err := file.Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	two, name := filepath.Join(dir, "two.earline"), filepath.Join(dir, "x.png")
	if err := os.WriteFile(two, b, 0o600); err != nil {
		t.Fatal(err)
	}
	for curtain, edge := range map[string]int{"As found:0.25": 40, "Option: 2": 80, "As found:0,75": 120} {
		if status, _, errs := earline("render", two, "-o", name, "--client", "--size", "160x100", "--curtain", curtain); status != statusFine {
			t.Fatalf("%s: status %d: %s", curtain, status, errs)
		}
		f, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(f)
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		for _, y := range []int{30, 60, 90} {
			if r, g, b, _ := img.At(edge, y).RGBA(); min(r, g, b) < 0xf000 {
				t.Errorf("%s: no edge at %d, %d", curtain, edge, y)
			}
		}
	}
	for curtain, want := range map[string]string{
		"As left":     `--curtain: found "As left", allowed: As found, Option: 2`,
		"As found:2":  `--curtain: found "2" after the name, allowed: a share from 0 to 1, such as 0.5`,
		"As found:":   `--curtain: found "" after the name, allowed: a share`,
		"As found:Na": `--curtain: found "Na" after the name, allowed: a share`,
	} {
		if status, _, errs := earline("render", two, "-o", name, "--client", "--curtain", curtain); status != statusUnusable || !strings.Contains(errs, want) {
			t.Errorf("%s: status %d: %s, want %s", curtain, status, errs, want)
		}
	}
}

// Render writes a picture of the size asked for, with no window and no display.
func TestRenderWithoutDisplay(t *testing.T) {
	if c, err := gl.NewContext(); err != nil {
		if os.Getenv("EARLINE_NO_SKIP") != "" {
			t.Fatal(err)
		}
		t.Skip(err)
	} else {
		_ = c
	}
	t.Setenv("DISPLAY", "")
	t.Setenv("WAYLAND_DISPLAY", "")
	name := filepath.Join(t.TempDir(), "out.png")
	status, _, errs := earline("render", "demo:two-row", "-o", name, "--view", "ear:2.2:M+135", "--size", "320x200")
	if status != statusFine {
		t.Fatalf("status %d: %s", status, errs)
	}
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	if b := img.Bounds(); b.Dx() != 320 || b.Dy() != 200 {
		t.Errorf("%v, want 320x200", b)
	}
	colours := map[[3]uint32]bool{}
	for y := 0; y < 200; y += 5 {
		for x := 0; x < 320; x += 5 {
			r, g, b, a := img.At(x, y).RGBA()
			if a != 0xffff {
				t.Fatalf("(%d, %d) is not opaque", x, y)
			}
			colours[[3]uint32{r >> 10, g >> 10, b >> 10}] = true
		}
	}
	if len(colours) < 20 {
		t.Errorf("only %d colours: nothing was drawn", len(colours))
	}
}

// Without a display the bare command says so in one line and points to the verbs.
func TestNoDisplay(t *testing.T) {
	t.Setenv("DISPLAY", "")
	t.Setenv("WAYLAND_DISPLAY", "")
	status, _, errs := earline("--demo", "small")
	if status != statusUnusable || strings.Count(errs, "\n") != 1 || !strings.Contains(errs, "earline audit") {
		t.Errorf("status %d: %q", status, errs)
	}
}

func TestHelpAndVersion(t *testing.T) {
	if status, out, _ := earline("--version"); status != statusFine || !strings.Contains(out, version) {
		t.Errorf("--version: %d %q", status, out)
	}
	status, out, _ := earline("--help")
	for _, verb := range []string{"audit", "render", "demo", "--version"} {
		if status != statusFine || !strings.Contains(out, verb) {
			t.Errorf("--help: %d, %q not in\n%s", status, verb, out)
		}
	}
}
