// SPDX-License-Identifier: MIT

package main

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// refusals checks that each command line is answered with one line on standard error
// and nothing else.
func refusals(t *testing.T, cases map[string]string) {
	t.Helper()
	for line, want := range cases {
		status, out, errs := earline(strings.Fields(line)...)
		if status != statusUnusable || out != "" || errs != "earline: "+want+"\n" {
			t.Errorf("earline %s: status %d, printed %.60q, said\n%swant\nearline: %s", line, status, out, errs, want)
		}
	}
}

// "earline aduit" opened a window, or said that there was no display.
func TestAMistypedCommandWasTakenForAFile(t *testing.T) {
	refusals(t, map[string]string{
		"aduit":                   `unknown command "aduit"; did you mean audit?`,
		"aduit demo:large":        `unknown command "aduit"; did you mean audit?`,
		"aduit --json demo:large": `unknown command "aduit"; did you mean audit?`,
		"help aduit":              `unknown command "aduit"; did you mean audit?`,
		"rendr demo:large -o x":   `unknown command "rendr"; did you mean render?`,
		"planner":                 `unknown command "planner", allowed: asbuilt, audit, bass, compare, completion, crossover, decay, demo, equalise, export, handout, handover, import, lesson, light, lists, man, new, picture, render, responses, setout, solve, sound, tour, or a FILE for the window`,
	})
}

// What is called as files are, or is one, still goes to the window.
func TestAFileIsNoMistypedCommand(t *testing.T) {
	t.Setenv("DISPLAY", "")
	t.Setenv("WAYLAND_DISPLAY", "")
	t.Chdir(t.TempDir())
	if err := os.WriteFile("aduit", nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, word := range []string{"aduit", "room.earline", "./room", "rooms/large", "demo:large"} {
		if _, _, errs := earline(word); !strings.Contains(errs, "no window can be opened") {
			t.Errorf("%s: said %q", word, errs)
		}
	}
}

// "accepts 1 arg(s), received 0" did not say of what.
func TestUsageErrorsSayWhatIsNeeded(t *testing.T) {
	refusals(t, map[string]string{
		"audit":                          "audit needs a FILE: a design, demo:NAME, or - for standard input",
		"sound":                          "sound needs a FILE: a design, demo:NAME, or - for standard input",
		"bass demo:small demo:large":     `bass: found 2 words ("demo:small", "demo:large"), allowed: one FILE`,
		"solve":                          "solve needs a FILE and what to find: lift, rows, screen, heights, panels, projector, layout",
		"solve demo:small":               `solve: found nothing after "demo:small", allowed: lift, rows, screen, heights, panels, projector, layout`,
		"solve demo:small everything":    `solve: found "everything", allowed: lift, rows, screen, heights, panels, projector, layout`,
		"audit --nope demo:small":        "audit: found --nope, which is no flag here, allowed: --all, --cures, --help, --json, --quiet, --rules, --tolerance",
		"audit -x demo:small":            "audit: found -x, which is no flag here, allowed: --all, --cures, --help, --json, --quiet, --rules, --tolerance",
		"audit --json=perhaps x.earline": `--json: found "perhaps", allowed: true or false`,
		"demo small large":               `demo: found "small", "large", allowed: one NAME, or none for a list`,
		"demo huge":                      `demo: found "huge", allowed: small, two-row, large`,
		"audit small":                    "small: no such file or directory; the demo room of that name is demo:small",
		"completion tcsh":                `completion: found "tcsh", allowed: bash, zsh, fish or powershell`,
		"demo:small x.earline":           `earline: found 2 words ("demo:small", "x.earline"), allowed: one FILE`,
	})
}

// Junk in a flag was passed over when the flag had no part in the answer, other
// numbers were read as programming languages write them, and 0 meant the default.
func TestJunkInFlagsIsNeverPassedOver(t *testing.T) {
	refusals(t, map[string]string{
		"sound demo:small --octave junk":                                      `--octave: found "junk", allowed: 63, 125, 250, 500, 1000, 2000, 4000, 8000 Hz`,
		"sound demo:small --octave 500":                                       "--octave: found no --map, allowed: together with --map",
		"render demo:small -o x.png --octave 0x1p9":                           `--octave: found "0x1p9", allowed: 63, 125, 250, 500, 1000, 2000, 4000, 8000 Hz`,
		"bass demo:small --step 30cm":                                         "--step: found no --seek, allowed: together with --seek",
		"solve demo:small lift --elevation 0":                                 `--elevation: found "0", allowed: an angle other than 0, or no flag for the default`,
		"solve demo:small lift --elevation NaN":                               `--elevation: found "NaN", allowed: an angle such as 30 or -12.5°`,
		"solve demo:small lift --elevation Inf":                               `--elevation: found "Inf", allowed: an angle such as 30 or -12.5°`,
		"solve demo:small lift --elevation 120":                               "--elevation: found 120°, allowed: -89° to 89°",
		"solve demo:small lift --seats 5":                                     "--seats: found with lift, allowed: with layout",
		"solve demo:small screen --angle 0x10":                                `--angle: found "0x10", allowed: an angle such as 30 or -12.5°`,
		"solve demo:small screen --angle 0":                                   `--angle: found "0", allowed: an angle other than 0, or no flag for the default`,
		"solve demo:small heights --gap 0mm":                                  `--gap: found "0mm", allowed: more than 0, or no flag for the default`,
		"solve demo:small heights --grid x":                                   `--grid: found "", allowed: ` + lengthForms(t),
		"solve demo:small heights --grid 60cm":                                `--grid: found "60cm", allowed: PITCHxPITCH, such as 60cmx60cm`,
		"solve demo:small lift --module 60cm":                                 "--module: found with lift, allowed: with panels",
		"solve demo:small panels --module 0mm":                                `--module: found "0mm", allowed: more than 0, or no flag for the default`,
		"solve demo:small panels --module 3m":                                 "--module: found 3.000 m, allowed: 0.200 m to 2.000 m",
		"solve demo:small panels --walls north":                               `--walls: found "north", allowed: left wall, back wall, right wall, screen wall, ceiling`,
		"solve demo:small panels --absorb wool":                               `--absorb: found "wool", allowed: the id of a material of the design or of those that come with Earline`,
		"solve demo:small rows --curve 0x3":                                   `--curve: found "0x3", allowed: a whole number, such as 6`,
		"solve demo:small rows --curve 500":                                   "--curve: found 500, allowed: 0 to 100 points",
		"solve demo:small layout --seats 1_0":                                 `--seats: found "1_0", allowed: a whole number, such as 6`,
		"solve demo:small layout --seats 6,5":                                 `--seats: found "6,5", allowed: a whole number, such as 6`,
		"solve demo:small layout --system 99":                                 `--system: found "99", allowed: 0+2+0, 0+5+0, 2+5+0, 4+5+0, 4+5+1, 3+7+0, 4+9+0, 9+10+3, 0+7+0, 4+7+0, 5.1, 5.1.2, 5.1.4, 7.1, 7.1.2, 7.1.4, 7.1.6, 9.1, 9.1.2, 9.1.4, 9.1.6`,
		"sound demo:small --map= ":                                            "--map: found an empty name, allowed: a file's name, or -",
		"audit demo:small --rules=":                                           "--rules: found an empty name, allowed: a file's name, or -",
		"sound demo:small --target loud":                                      `--target: found "loud", allowed: reference or private`,
		"render demo:large -o x.png --beam 1.5":                               "--beam: found 1.5, allowed: 2.39, 1.85, 1.78",
		"render ../../testdata/rooms/low-screen.earline -o x.png --beam 2.39": "--beam: found a design without a projector, allowed: a design with one",
		"render demo:large -o x.png --beam wide":                              `--beam: found "wide", allowed: width over height, such as 2.39`,
		"solve ../../testdata/rooms/low-screen.earline projector":             "../../testdata/rooms/low-screen.earline: projector: none, allowed: a design with a projector or a projector model",
		"solve demo:large projector --angle 45":                               "--angle: found with projector, allowed: with screen",
		"render demo:small -o x.png --scene show":                             `--scene: found no --client, allowed: together with --client`,
		"render demo:small -o x.png --client --scene dusk":                    `--scene: found "dusk", allowed: house, preshow, show or cleaning`,
		"render demo:small -o x.png --client --fine":                          `--fine: found no --scene, allowed: together with --scene`,
		"render demo:small -o x.png --client --scene show --exposure 4":       `--exposure: found "4", allowed: -3 to 3 stops, such as 0.5`,
		"render demo:small -o x.png --client --scene show --exposure NaN":     `--exposure: found "NaN", allowed: -3 to 3 stops, such as 0.5`,
		"render demo:small -o x.png --client --exposure 1":                    `--exposure: found no --scene, allowed: together with --scene`,
		"render demo:small -o x.png --curtain x":                              `--curtain: found no --client, allowed: together with --client`,
		"render demo:small -o x.png --client --curtain x":                     `--curtain: found a file with one design, allowed: one that keeps the room as found, or an option, beside the plan`,
		"render demo:small -o x.png --client --curtain=":                      `--curtain: found no name, allowed: the name of a design of the file`,
		"render demo:small -o x.png --map X":                                  `--map: found "X", allowed: M+030, M-030, M+000, M+110, M-110, U+030, U-030, LFE1`,
		"sound demo:small --map x --loudspeaker X":                            `--loudspeaker: found "X", allowed: M+030, M-030, M+000, M+110, M-110, U+030, U-030, LFE1`,
		"audit demo:small --json -q":                                          "--quiet: found --json as well, allowed: one of the two",
		"bass demo:small --align -o - --chart -":                              "standard output: found --output - and --chart -, allowed: one of them",
		"sound demo:small --json --map -":                                     "standard output: found --json and --map -, allowed: one of them",
		"tour demo:small -o film.avi":                                         `--output: found "film.avi", allowed: the name of a folder, or of a file that ends in .png or .gif`,
		"tour demo:small -o -":                                                `--output: found "-", allowed: the name of a folder, or of a file that ends in .png or .gif`,
		"tour demo:small -o x.gif --fps 0":                                    `--fps: found "0", allowed: 1 to 60`,
		"tour demo:small -o x.gif --view plan":                                `--view: found no --entrance, allowed: together with --entrance`,
		"tour demo:small -o x.gif --entrance --view plan":                     `--view: found "plan", allowed: a view in perspective`,
		"render demo:small -o x.png --view walk:1,2":                          `--view: view "walk:1,2": found 2 numbers, allowed: X,Y,Z,HEADING or X,Y,Z,HEADING,PITCH in metres and degrees, with decimal points`,
		"render demo:small -o x.png --view walk:0x1p3,1,1,0":                  `--view: view "walk:0x1p3,1,1,0": found "0x1p3", allowed: a number from -1000 to 1000`,
	})
}

func lengthForms(t *testing.T) string {
	t.Helper()
	_, err := anyLength("")
	_, allowed, _ := strings.Cut(err.Error(), "allowed: ")
	return allowed
}

// Decimal commas are read in lengths and angles, as they are in the window.
func TestDecimalCommasAreRead(t *testing.T) {
	for _, lines := range [][2]string{
		{"solve demo:large lift --elevation 30,5", "solve demo:large lift --elevation 30.5"},
		{"solve demo:small screen --angle 45,5", "solve demo:small screen --angle 45.5°"},
		{"solve demo:small heights --gap 12,5cm", "solve demo:small heights --gap 125mm"},
		{"solve demo:small heights --grid 0,6x62,5cm", "solve demo:small heights --grid 60cmx0.625m"},
	} {
		_, comma, errs := earline(strings.Fields(lines[0])...)
		_, point, more := earline(strings.Fields(lines[1])...)
		if errs+more != "" || comma != point {
			t.Errorf("%s: said %q, %q, answers alike: %v", lines[0], errs, more, comma == point)
		}
	}
}

// A picture of 8192x8192 took three gigabytes, and a grid of millimetres all there was.
func TestSizesThatWouldTakeGigabytesAreRefused(t *testing.T) {
	refusals(t, map[string]string{
		"render demo:small -o x.png --size 8192x8192":   `--size: found "8192x8192", allowed: WIDTHxHEIGHT, each 16 to 8192 pixels and no more than 4096x4096 in all, such as 1280x800`,
		"render demo:small -o x.png --size 99999999x16": `--size: found "99999999x16", allowed: WIDTHxHEIGHT, each 16 to 8192 pixels and no more than 4096x4096 in all, such as 1280x800`,
		"solve demo:small heights --grid 1mmx1mm":       `--grid: found "1mm", allowed: 5 cm to 10 m`,
		"bass demo:small --seek --step 1mm":             `--step: found "1mm", allowed: 5 cm to 10 m`,
		"sound demo:small --map x --step 1mm":           `--step: found "1mm", allowed: 2 cm to 10 m`,
	})
}

// A file called with an escape sequence coloured the terminal, one with a line break
// made two messages.
func TestControlCharactersInFileNamesAreWrittenOut(t *testing.T) {
	const name = "a\nb\x1b[31m\u202e.earline"
	for _, args := range [][]string{{"audit", name}, {"render", "demo:small", "-o", "no-such-folder/" + name + ".png"},
		{"audit", "demo:small", "--rules", name}, {"sound", "demo:small", "--polar", "compact=" + name},
		{"bass", "demo:small", "--chart", name}, {"--demo", name}, {"demo", "small", "-o", "no-such-folder/" + name}, {"render", "demo:small", "-o", "x.png", "--view", name}} {
		_, out, errs := earline(args...)
		if strings.Count(errs, "\n") != 1 || strings.ContainsAny(errs, "\x1b\u202e") || !strings.Contains(errs, `a\nb\x1b[31m\u202e`) || out != "" {
			t.Errorf("%q: said %q", args, errs)
		}
	}
}

// Bass refused a design without its name.
func TestBassNamesTheFile(t *testing.T) {
	const name = "../../testdata/rooms/five-rows.earline" // has no subwoofer
	status, _, errs := earline("bass", name)
	if status != statusUnusable || !strings.HasPrefix(errs, "earline: "+name+": loudspeakers: no subwoofer") {
		t.Errorf("status %d, said %q", status, errs)
	}
}

// full is a disk that takes no more.
type full struct{}

func (full) Write([]byte) (int, error) {
	return 0, &os.PathError{Op: "write", Path: "/dev/stdout", Err: io.ErrShortWrite}
}

// "earline demo > /dev/full" and "earline --help > /dev/full" ended with status 0.
func TestAFullDiskBehindStandardOutputIsSaid(t *testing.T) {
	for _, line := range []string{"demo", "--help", "audit --help", "--version", "audit demo:small", "audit demo:small --json", "demo small -o -",
		"sound demo:small", "bass demo:small", "solve demo:small lift", "man", "completion bash"} {
		var errs strings.Builder
		status := run(strings.Fields(line), strings.NewReader(""), full{}, &errs)
		if status != statusUnusable || errs.String() != "earline: standard output: short write\n" {
			t.Errorf("%s: status %d, said %q", line, status, errs.String())
		}
	}
}

// Help that is asked for in any way is the same.
func TestHelpIsAlikeHoweverAskedFor(t *testing.T) {
	for _, verb := range []string{"audit", "render", "demo", "solve", "sound", "bass", "man", "completion"} {
		status, asked, _ := earline("help", verb)
		if _, flagged, _ := earline(verb, "--help"); status != statusFine || asked != flagged || !strings.Contains(asked, "-h, --help") {
			t.Errorf("help %s: status %d, %q", verb, status, asked)
		}
	}
	_, out, _ := earline("--help")
	if !strings.Contains(out, "completion") || !strings.Contains(out, "manual page") {
		t.Errorf("completion or the manual is hidden:\n%s", out)
	}
}

// A name in a folder that is not there says so, not how a temporary file is called.
func TestNoFolderToWriteTo(t *testing.T) {
	name := filepath.Join("no-such-folder", "x.earline")
	if _, _, errs := earline("demo", "small", "-o", name); errs != "earline: "+name+": no such file or directory\n" {
		t.Errorf("said %q", errs)
	}
}
