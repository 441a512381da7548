// SPDX-License-Identifier: MIT

package sight_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"earline/project"
	"earline/project/file"
	"earline/project/place"
	"earline/project/projecttest"
	"earline/project/sight"
	"earline/project/sight/oracle"
)

// Nobody whom the oracle seats beats a certificate: for pairs and views that are
// said to hold, thousands of companies of random people, each reclined and with
// a headrest as it pleases, the ends of the range favoured; and for the pairs
// that come out closest, the worst of them changed step by step for the worse.
func TestNobodyBeatsACertificate(t *testing.T) {
	rooms, companies := 24, 2000
	if testing.Short() {
		rooms, companies = 5, 200
	}
	for n := range rooms {
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			t.Parallel()
			// Few seats, so that something holds.
			h := challenge(t, projecttest.Rooms{Seats: 6, Speakers: 8, Inside: n%4 != 0, Planes: n >= 20, Projector: n >= 16}.Room(uint64(n)))
			h.sample(companies)
			h.climb(20, 60)
			h.worst()
			h.log()
		})
	}
}

func TestNobodyBeatsACertificateOfTheDemos(t *testing.T) {
	companies := 1000
	if testing.Short() {
		companies = 100
	}
	for _, name := range demoNames {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			d, ok := file.Demo(name)
			if !ok {
				t.Fatal("no demo of that name")
			}
			h := challenge(t, d)
			h.sample(companies)
			h.climb(20, 60)
			h.worst()
			h.log()
		})
	}
}

// Rooms in which the audit was once wrong; see testdata/README.md.
func TestNobodyBeatsACertificateOfRoomsThatWereWrong(t *testing.T) {
	names, err := filepath.Glob("testdata/*.earline")
	if err != nil || len(names) == 0 {
		t.Fatalf("no rooms: %v", err)
	}
	for _, name := range names {
		t.Run(filepath.Base(name), func(t *testing.T) {
			t.Parallel()
			d, err := file.Read(name)
			if err != nil {
				t.Fatal(err)
			}
			h := challenge(t, d)
			h.sample(200)
			h.climb(20, 60)
			h.worst()
			h.log()
		})
	}
}

// challenger tries to beat the certificates of one room.
type challenger struct {
	t           *testing.T
	r           *rand.Rand
	cert        *sight.RangeResult
	room        *oracle.Room
	crowd       *oracle.Crowd
	percentiles []float64

	pairs, views, seated int
	beaten               map[string]bool
	// breaks are the pairs proven to break, found those of them that a company
	// was found to break.
	breaks int
	found  map[[2]int]bool
}

func challenge(t *testing.T, d *project.Design) *challenger {
	t.Helper()
	cert, err := sight.Range(context.Background(), d)
	if err != nil {
		t.Fatal(err)
	}
	data, err := file.Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	room, err := oracle.Read(data)
	if err != nil {
		t.Fatal(err)
	}
	h := &challenger{t: t, r: rand.New(rand.NewPCG(1, 2)), cert: cert, room: room, beaten: map[string]bool{}, found: map[[2]int]bool{}}
	for p := cert.Options.Low; p <= cert.Options.High; p += 0.5 {
		h.percentiles = append(h.percentiles, p)
	}
	h.crowd = room.Crowd(h.percentiles)
	for n := range cert.Pairs {
		if cert.Pairs[n].Judged && cert.Pairs[n].Holds {
			h.pairs++
		}
	}
	h.breaks = cert.Count.Breaks
	for n := range cert.Views {
		if cert.Views[n].Judged && cert.Views[n].Holds {
			h.views++
		}
	}
	return h
}

// log says what was done, and of how many pairs that break sampling found that:
// how sharp it is.
func (h *challenger) log() {
	h.t.Logf("%d pairs and %d views hold; %d companies, which break %d of the %d pairs that do", h.pairs, h.views, h.seated, len(h.found), h.breaks)
	if 2*len(h.found) < h.breaks {
		h.t.Error("too few are found: this test is blunt")
	}
}

// worst seats the worst case of each pair that is proven to break, and looks
// whether it is blocked, and as deep as is said.
func (h *challenger) worst() {
	deg := func(rad float64) float64 { return rad * 180 / math.Pi }
	for i := range h.room.Seats {
		for k := range h.room.Speakers {
			p := h.cert.Pair(i, k)
			if !p.Judged || p.Holds || !p.Certified {
				continue
			}
			w := &p.Worst
			crowd := h.room.Crowd([]float64{w.Listener, max(w.Other, 1), h.cert.Options.High})
			guests := make([]oracle.Guest, len(h.room.Seats))
			for n := range guests {
				guests[n].Recline, _ = h.room.Reclines(n)
			}
			var part *place.Part
			if w.Blocker >= 0 {
				part = &h.cert.Parts[w.Blocker]
				for n, s := range h.room.Seats {
					if s.Row == part.Row && s.Number == part.Seat {
						guests[n] = oracle.Guest{Who: 1, Recline: deg(w.OtherRecline)}
					}
				}
			}
			guests[i] = oracle.Guest{Recline: deg(w.Recline)}
			if part != nil {
				for n, s := range h.room.Seats {
					if s.Row == part.Row && s.Number == part.Seat {
						guests[n].Lowered, guests[n].LongHead = w.Lowered, w.LongHead
					}
				}
			}
			room := crowd.Seat(guests)
			o := room.Path(i, k, room.Speakers[k].Deciding, int(w.Ear))
			ok := false
			for _, m := range o.Met {
				same := m.Kind == "shell" && part == nil || part != nil && m.Kind == kinds[part.Kind] && m.Row == part.Row && m.Seat == part.Seat && m.Index == part.Index
				ok = ok || same && m.Entered && -p.Upper <= m.Shift+deeper && -p.Upper >= m.Inner-deeper
			}
			if !ok {
				_, inner, shift := o.Blocked()
				h.t.Errorf("%s to %s: %+v; so seated, from %.6f to %.6f deep", h.cert.Seats[i].Name(), h.room.Speakers[k].Name, *p, inner, shift)
			}
		}
	}
}

// one is a value from 0 to 1; the ends are where things break.
func (h *challenger) one() float64 {
	switch h.r.IntN(4) {
	case 0:
		return 0
	case 1:
		return 1
	}
	return h.r.Float64()
}

func (h *challenger) guest(seat int) oracle.Guest {
	lo, hi := h.room.Reclines(seat)
	return oracle.Guest{Who: int(math.Round(h.one() * float64(len(h.percentiles)-1))),
		Recline: lo + (hi-lo)*h.one(), Lowered: h.one(), LongHead: h.r.IntN(2) == 0}
}

func (h *challenger) company() []oracle.Guest {
	out := make([]oracle.Guest, len(h.room.Seats))
	for i := range out {
		out[i] = h.guest(i)
	}
	return out
}

func (h *challenger) fault(who string, by *oracle.Solid, guests []oracle.Guest, seat int) {
	if h.beaten[who] {
		return
	}
	h.beaten[who] = true
	if len(h.beaten) > 5 {
		h.t.Fail()
		return
	}
	g := guests[seat]
	text := fmt.Sprintf("%s is said to hold, but P%g reclined %.1f° is blocked by %s", who, h.percentiles[g.Who], g.Recline, by)
	for i, s := range h.room.Seats {
		if s.Row == by.Row && s.Number == by.Seat {
			text += fmt.Sprintf(", P%g reclined %.1f°, headrest lowered by %.2f", h.percentiles[guests[i].Who], guests[i].Recline, guests[i].Lowered)
		}
	}
	h.t.Error(text)
}

// sample seats that many companies and asks of each all that is said to hold.
func (h *challenger) sample(companies int) {
	for range companies {
		h.seated++
		guests := h.company()
		room := h.crowd.Seat(guests)
		for i := range room.Seats {
			for k := range room.Speakers {
				p := h.cert.Pair(i, k)
				if !p.Judged || !p.Holds && h.found[[2]int{i, k}] {
					continue
				}
				for ear := range 2 {
					if !p.Holds {
						if room.Blocks(i, k, ear) != nil {
							h.found[[2]int{i, k}] = true
						}
						continue
					}
					if by := room.Blocks(i, k, ear); by != nil {
						h.fault(fmt.Sprintf("%s to %s", h.cert.Seats[i].Name(), room.Speakers[k].Name), by, guests, i)
					}
				}
			}
			if v := &h.cert.Views[i]; v.Judged && v.Holds {
				if by := room.Covers(i); by != nil {
					h.fault(h.cert.Seats[i].Name()+" to the picture", by, guests, i)
				}
			}
		}
	}
}

// climb looks closer at that many pairs that hold: from random companies on, it
// changes the listener or whoever is nearest at random and keeps what is worse.
func (h *challenger) climb(most, steps int) {
	var pairs [][2]int
	for i := range h.room.Seats {
		for k := range h.room.Speakers {
			if p := h.cert.Pair(i, k); p.Judged && p.Holds {
				pairs = append(pairs, [2]int{i, k})
			}
		}
	}
	h.r.Shuffle(len(pairs), func(a, b int) { pairs[a], pairs[b] = pairs[b], pairs[a] })
	for _, at := range pairs[:min(most, len(pairs))] {
		i, k := at[0], at[1]
		least := math.Inf(1)
		var guests []oracle.Guest
		near := i
		for n := range steps {
			var next []oracle.Guest
			if guests == nil || n%10 == 9 && n < steps/2 {
				next = h.company()
			} else {
				next = append(next, guests...)
				seat := i
				if n%2 == 0 {
					seat = near
				}
				g := h.guest(seat)
				switch h.r.IntN(4) { // one thing at a time
				case 0:
					next[seat].Who = g.Who
				case 1:
					next[seat].Recline = g.Recline
				case 2:
					next[seat].LongHead = g.LongHead
				default:
					next[seat].Lowered = g.Lowered
				}
			}
			h.seated++
			clearance, by := h.clearance(h.crowd.Seat(next), i, k)
			if by != nil && clearance < -touch {
				h.fault(fmt.Sprintf("%s to %s", h.cert.Seats[i].Name(), h.room.Speakers[k].Name), by, next, i)
			}
			if lower := h.cert.Pair(i, k).Lower; clearance < lower-apart {
				h.t.Errorf("%s to %s: clearance %.6f, certified to be %.6f", h.cert.Seats[i].Name(), h.room.Speakers[k].Name, clearance, lower)
				break
			}
			if clearance < least {
				least, guests = clearance, next
				if by != nil {
					for m, s := range h.room.Seats {
						if s.Row == by.Row && s.Number == by.Seat {
							near = m
						}
					}
				}
			}
		}
	}
}

// clearance is the least of both ears and what it is to.
func (h *challenger) clearance(room *oracle.Room, i, k int) (least float64, by *oracle.Solid) {
	least = oracle.Far
	for ear := range 2 {
		o := room.Path(i, k, room.Speakers[k].Deciding, ear)
		for _, m := range o.Met {
			c := m.Gap
			if m.Entered {
				c = -m.Shift
			}
			if (m.Near || m.Entered) && c < least {
				least, by = c, m.Solid
			}
		}
	}
	return least, by
}
