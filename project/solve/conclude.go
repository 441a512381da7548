// SPDX-License-Identifier: MIT

package solve

import (
	"fmt"
	"slices"

	"earline/geometry/unit"
	"earline/project"
	"earline/project/place"
	"earline/project/practice"
	"earline/project/sight"
)

// conclude audits the proposal afresh, by every rule, against d, the design as it was,
// and its audit. What was whole there and is no longer goes into the proof: pictures
// and paths, the heights' distance from the bed, and rules that must be kept. What can
// no longer be built is told by Obstacles. Every solver's proposal passes through here.
//
// A compromise that leaves more broken than there was is dropped: the design then stays
// as it is.
func (p *Proposal) conclude(d *project.Design, was *sight.Result) *sight.Result {
	var is *sight.Result
	p.After, is = count(p.Design)
	wished := p.Solved()
	same := sameSeats(was, is) && sameSpeakers(was, is)
	if same {
		p.addWorse(was, is)
		p.addNearer(d)
	}
	p.addBroken(d, was, is, same)
	if !wished && same && p.After.worse(p.Before) {
		p.drop(d)
		return was
	}
	return is
}

// drop leaves the design as it was.
func (p *Proposal) drop(d *project.Design) {
	p.Proof = p.Obstacles()
	p.Design, p.Changes, p.After, p.Kept = d.Clone(), nil, p.Before, nil
	p.remark("Everything stays as it is: nothing that was tried is better.")
}

// remark adds a sentence to the note.
func (p *Proposal) remark(text string) {
	if p.Note != "" {
		p.Note += " "
	}
	p.Note += text
}

// worse reports whether c has more that is broken than b, what cannot be built first.
func (c Counts) worse(b Counts) bool {
	broken := func(c Counts) []int { return []int{c.Findings, c.Blocked + c.PictureBlocked, c.Tight} }
	return slices.Compare(broken(c), broken(b)) > 0
}

func sameSeats(a, b *sight.Result) bool {
	return slices.EqualFunc(a.Seats, b.Seats, func(s, t place.Seat) bool { return s.Row == t.Row && s.Number == t.Number })
}

func sameSpeakers(a, b *sight.Result) bool {
	if len(a.Speakers) != len(b.Speakers) {
		return false
	}
	for k := range a.Speakers {
		if a.Speakers[k].Name() != b.Speakers[k].Name() {
			return false
		}
	}
	return true
}

// add adds an obstacle that is not told yet.
func (p *Proposal) add(o Obstacle) {
	if !slices.ContainsFunc(p.Proof, func(q Obstacle) bool { return q.Text == o.Text }) {
		p.Proof = append(p.Proof, o)
	}
}

// addWorse adds the pairs and pictures that got worse: of each loudspeaker, and of the
// pictures, the worst, and how many more.
func (p *Proposal) addWorse(was, is *sight.Result) {
	d := p.Design
	for k := range is.Speakers {
		worst, n := -1, 0
		for i := range is.Seats {
			then, now := was.Pair(i, k), is.Pair(i, k)
			if now.Verdict < sight.Tight || now.Verdict <= then.Verdict {
				continue
			}
			if n++; worst < 0 || now.Deciding().Clearance < is.Pair(worst, k).Deciding().Clearance {
				worst = i
			}
		}
		if worst >= 0 && !p.tells(is, worst, k) {
			ob := pairObstacle(d, is, worst, k)
			ob.Text = andMore(ob.Text, n-1, "seat")
			p.add(ob)
		}
	}
	worst, n := -1, 0
	for i := range is.Views {
		if v := is.Views[i].Verdict; v == sight.Clear || v <= was.Views[i].Verdict {
			continue
		}
		if n++; worst < 0 || is.Views[i].Visible < is.Views[worst].Visible {
			worst = i
		}
	}
	if worst >= 0 {
		ob := viewObstacle(d, is, worst)
		if !slices.ContainsFunc(p.Proof, func(o Obstacle) bool { return o.Text == ob.Text }) {
			ob.Text = andMore(ob.Text, n-1, "seat")
			p.add(ob)
		}
	}
}

// tells reports whether the proof already has that pair.
func (p *Proposal) tells(r *sight.Result, i, k int) bool {
	text := pairObstacle(p.Design, r, i, k).Text
	return slices.ContainsFunc(p.Proof, func(o Obstacle) bool { return o.Text == text })
}

// addBroken adds what the rules find now and did not find before, of those that must be
// kept, the first of each. What sight finds is told already, as is the separation of
// the layers. Without the same seats and loudspeakers everything is new.
func (p *Proposal) addBroken(d *project.Design, was, is *sight.Result, same bool) {
	var then []practice.Remark
	if same {
		then = broken(d, was, p.std)
	}
	told := map[string]bool{}
	for _, m := range broken(p.Design, is, p.std) {
		old := slices.ContainsFunc(then, func(o practice.Remark) bool {
			const rounding = 1e-6 // in the unit of the rule
			return o.Rule == m.Rule && excess(&m) <= excess(&o)+rounding && within(m.Seats, o.Seats) && within(m.Speakers, o.Speakers) && within(m.Rows, o.Rows)
		})
		if old || told[m.Rule] {
			continue
		}
		told[m.Rule] = true
		ob := Obstacle{Constraint: m.Rule, Short: excess(&m), Kind: Number, Text: m.Text + "."}
		if rule, ok := practice.Find(m.Rule); ok && rule.Unit == practice.Degrees {
			ob.Kind = Degrees
		} else if ok && rule.Unit == practice.Metres {
			ob.Kind = Metres
		}
		p.add(ob)
	}
}

// broken returns the remarks on rules that must be kept and are not, save those that
// only say what sight says.
func broken(d *project.Design, r *sight.Result, std practice.Standard) (all []practice.Remark) {
	for _, m := range practice.Check(d, r, std).Remarks {
		if !m.OK && m.Severity == practice.Must && m.Rule != "sight" && m.Rule != "picture-whole" {
			all = append(all, m)
		}
	}
	return all
}

func within(a, b []int) bool {
	return !slices.ContainsFunc(a, func(v int) bool { return !slices.Contains(b, v) })
}

// addNearer adds the seats at which bed and heights are nearer together than is
// accepted and than they were.
func (p *Proposal) addNearer(d *project.Design) {
	was, is := apartIn(d, p.std), apartIn(p.Design, p.std)
	worst, n := -1, 0
	for i := range is.is {
		const rounding = 1e-6 // rad
		if is.is[i] >= min(was.is[i], is.accepted[i])-rounding {
			continue
		}
		if n++; worst < 0 || is.is[i] < is.is[worst] {
			worst = i
		}
	}
	if worst < 0 {
		return
	}
	s := is.seats[worst]
	p.add(Obstacle{Constraint: "separation", Where: fmt.Sprintf("row %d seat %d", s.Row, s.Number), Kind: Degrees,
		Short: (is.accepted[worst] - is.is[worst]) / unit.Degree,
		Text: andMore(fmt.Sprintf("Row %d seat %d hears bed and heights only %.1f° apart, where %.3g° is accepted", s.Row, s.Number,
			is.is[worst]/unit.Degree, is.accepted[worst]/unit.Degree), n-1, "seat") + "."})
}

// excess returns by how much a remark is beyond its limits.
func excess(m *practice.Remark) float64 {
	return max(m.Limits.Least()-m.Measured, m.Measured-m.Limits.Most(), 0)
}

// andMore ends a sentence on one of several.
func andMore(text string, n int, what string) string {
	if n == 0 {
		return text
	}
	return fmt.Sprintf("%s; the same holds for %s", text, several(n, "more "+what))
}

// viewObstacle says what hides the picture from seat i.
func viewObstacle(d *project.Design, r *sight.Result, i int) Obstacle {
	v, s := r.Views[i], r.Seats[i]
	ob := Obstacle{Constraint: r.WordsFrom(i, v.Blocker), Where: fmt.Sprintf("row %d seat %d", s.Row, s.Number),
		Short: max(float64(d.Criteria.PictureMargin)-v.Clearance, 0), Text: r.PictureSentence(i, d.Units)}
	if v.Verdict == sight.Tight {
		ob.Text = fmt.Sprintf("Row %d seat %d: the line to the picture's lower edge clears %s by only %s, %s less than the margin.", s.Row, s.Number,
			ob.Constraint, Metres.Show(v.Clearance, d.Units), Metres.Show(ob.Short, d.Units))
	}
	return ob
}

// several says how many there are of what a word names: "1 row", "3 rows".
func several(n int, word string) string {
	if n != 1 {
		word += "s"
	}
	return fmt.Sprintf("%d %s", n, word)
}
