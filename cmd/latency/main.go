// SPDX-License-Identifier: MIT

//go:build latency

// Command latency times what a person sees: from a key press or a move of the mouse
// to the changed pixels. It opens the real window, each time on a display of its own in
// memory, drives it as keyboard and mouse would and looks at the pixels.
//
//	latency [-rounds 3] [-edits 40] PROGRAM ...
//
// Several programs are taken in turns, and compared with the first: times depend on the
// machine and on what else it does.
//
// A program that is told by EARLINE_MARKS where to, writes when each step is done:
// change (the key has changed the design), page (what the page shows is known and on
// it), list (what the picture shows is built), panel (inspector, commands and status
// line), picture (it is drawn; waited for), layout (the toolkit has laid the window
// out), paint (it is painted). What the time went into is printed by the name of the
// step that it ended with; show is from there to the pixels.
package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"github.com/jezek/xgb"
)

// size is that of the display, and so of the window, which fills it.
const size = "1280x800x24"

// Where the window has what is driven, in pixels of the display. Every step looks
// whether the picture changed, so that a window arranged otherwise is an error.
var (
	pictureArea = area{520, 70, 560, 400}
	columnArea  = area{690, 590, 40, 150} // of the matrix: the loudspeaker's answers
	columnHead  = point{708, 581}         // selects M+090
	heightField = point{215, 467}         // of the selected loudspeaker
	planButton  = point{413, 35}
	plate       = point{654, 351} // M+090 in the plan
	emptyPlace  = point{560, 480} // in the overview, nothing to take hold of
)

// run is what one run of a program showed.
type run struct {
	edits, drags     times
	inEdits, inDrags steps
	orbit, dragged   gaps
	start            times  // from the process to the room on show
	memory           string // resident at the end
}

func main() {
	rounds := flag.Int("rounds", 1, "runs of each program, in turns")
	edits := flag.Int("edits", 40, "edits, and steps of a drag, in a run")
	orbit := flag.Duration("orbit", 5*time.Second, "how long to orbit, and to drag, in a run")
	long := flag.Duration("soak", 0, "instead: how long to edit ten times a second, with the memory every half minute")
	flag.Usage = usage
	flag.Parse()
	xgb.Logger.SetOutput(io.Discard) // it tells of every display that is closed
	if flag.NArg() == 0 {
		flag.Usage()
		os.Exit(2)
	}
	if *long > 0 {
		for _, program := range flag.Args() {
			if err := soak(program, *long); err != nil {
				fmt.Fprintf(os.Stderr, "latency: %s: %v\n", program, err)
				os.Exit(1)
			}
		}
		return
	}
	all := make([]run, flag.NArg())
	for range *rounds {
		for i, program := range flag.Args() {
			r, err := measure(program, *edits, *orbit)
			if err != nil {
				fmt.Fprintf(os.Stderr, "latency: %s: %v\n", program, err)
				os.Exit(1)
			}
			fmt.Printf("%s: edit %.1f ms, drag step %.1f ms, drag %.1f, orbit %.1f pictures/s; load %s\n", program,
				r.edits.median(), r.drags.median(), r.dragged.rate(), r.orbit.rate(), load())
			all[i].edits = append(all[i].edits, r.edits...)
			all[i].drags = append(all[i].drags, r.drags...)
			all[i].inEdits.join(r.inEdits)
			all[i].inDrags.join(r.inDrags)
			all[i].orbit = append(all[i].orbit, r.orbit...)
			all[i].dragged = append(all[i].dragged, r.dragged...)
			all[i].start = append(all[i].start, r.start...)
			all[i].memory = r.memory
		}
	}
	for i, r := range all {
		fmt.Printf("\n%s\nedit:      %v\n           %v\ndrag step: %v\n           %v\ndragging:  %v\norbit:     %v\nstart:     room on show: %v\nmemory:    resident at the end %s\n",
			flag.Arg(i), r.edits, r.inEdits, r.drags, r.inDrags, r.dragged, r.orbit, r.start, r.memory)
		if i > 0 {
			first := all[0]
			fmt.Printf("of the first: edit %.2f, drag step %.2f, start %.2f of the time, dragging %.2f, orbit %.2f times the pictures\n",
				r.edits.median()/first.edits.median(), r.drags.median()/first.drags.median(), r.start.median()/first.start.median(),
				r.dragged.rate()/first.dragged.rate(), r.orbit.rate()/first.orbit.rate())
		}
	}
}

func usage() {
	fmt.Fprint(flag.CommandLine.Output(), `Latency times what a person sees, from a key press or a move of the mouse to the
changed pixels, in the windows of programs taken in turns:

	latency [flags] PROGRAM ...

edit, drag step   from one key, one move of the mouse to the changed picture; below it,
                  the medians of what that went into, milliseconds: up to the change of
                  the design, what the page shows, the display list, the panels, the
                  picture (waited for), the toolkit's layout, its painting, the hand-over
                  to the display. Programs that write no marks (EARLINE_MARKS) have none.
dragging, orbit   pictures a second while the mouse moves 125 times a second
start             from the start of the process to the room on the display

`)
	flag.PrintDefaults()
}

// measure runs program once.
func measure(program string, edits int, long time.Duration) (r run, err error) {
	d, err := newDisplay()
	if err != nil {
		return r, err
	}
	defer d.close()
	w, err := d.open(program)
	if err != nil {
		return r, err
	}
	defer w.close()
	start, err := w.untilRoom()
	if err != nil {
		return r, err
	}
	r.start = times{start}
	d.settle(pictureArea)
	if r.orbit, err = d.sweep(emptyPlace, point{100, 25}, long); err != nil {
		return r, err
	}
	if err := d.toField(); err != nil {
		return r, err
	}
	edited, err := d.edit(edits)
	if err != nil {
		return r, fmt.Errorf("edit: %w", err)
	}
	if err := d.click(planButton, pictureArea); err != nil {
		return r, fmt.Errorf("go to the plan: %w", err)
	}
	stepped, err := d.drag(plate, edits)
	if err != nil {
		return r, fmt.Errorf("drag: %w", err)
	}
	if r.dragged, err = d.sweep(plate, point{0, 90}, long); err != nil {
		return r, fmt.Errorf("drag: %w", err)
	}
	r.edits, r.drags = lengths(edited), lengths(stepped)
	r.inEdits, r.inDrags = w.steps(edited), w.steps(stepped)
	r.memory = w.memory()
	return r, nil
}

// load is the machine's, over the last minute.
func load() string {
	b, _ := os.ReadFile("/proc/loadavg")
	first, _, _ := strings.Cut(string(b), " ")
	return first
}
