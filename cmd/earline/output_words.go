// SPDX-License-Identifier: MIT

package main

import "earline/project/bass"

// printOutput prints how loud the subwoofers can play and how loud they must, the same
// for every verb that says so.
func printOutput(p *printer, o *bass.Output) {
	p.printf("\nLevel in thirds at rated power of all together, dB SPL\n%-10s", "Hz")
	for _, t := range o.Thirds {
		p.printf(" %6g", bass.NominalThird(t.Mid))
	}
	p.printf("\n%-10s", "wanted")
	for _, t := range o.Thirds {
		mark := " "
		if !t.Judged {
			mark = "*"
		}
		p.printf(" %5.0f%s", t.Must, mark)
	}
	for i, s := range o.Seats {
		p.printf("\n%-10s", s.Name())
		for n, t := range o.Thirds {
			mark := " "
			switch {
			case t.Judged && o.Can[i][n] < t.Must:
				mark = "X"
			case o.Moves[i][n]:
				mark = "e"
			}
			p.printf(" %5.1f%s", o.Can[i][n], mark)
		}
	}
	p.printf("\n* not judged: the LFE channel does not fill it; X less than wanted; e limited by excursion, not power\n\n")
	printNeeds(p, o)
}

// printNeeds prints the watts that each subwoofer needs, and where.
func printNeeds(p *printer, o *bass.Output) {
	for i, name := range o.Names {
		p.printf("%-10s needs %s at the seat nearest the main position, %s at the weakest; rated %s\n",
			name, watts(o.Needed[i]), watts(o.NeededWorst[i]), watts(o.Rated[i]))
	}
	p.printf("%s\n", wrapped("Main position: "+o.Sentence(o.Main), 100, "  "))
	p.printf("%s\n", wrapped("Weakest: "+o.Sentence(o.Worst), 100, "  "))
}
