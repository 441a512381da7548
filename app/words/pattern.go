// SPDX-License-Identifier: MIT

package words

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// pattern is an entry whose key has verbs, taken apart so that a text can be matched.
type pattern struct {
	lead   string // before the first verb
	holes  []hole // one for each verb, with what follows it
	german []piece
	weight int // bytes of fixed text: of two that match, the heavier says more
	loose  int // verbs that take any text
}

// hole is a verb and the fixed text after it.
type hole struct {
	figure bool // takes a number only
	empty  bool // may take nothing: it touches the verb before it
	after  string
}

// piece is a stretch of a translation: fixed text, and after it the argument of that
// number, -1 for none.
type piece struct {
	text string
	arg  int
}

// part is a stretch of a format: fixed text, and after it a verb, 0 for none.
type part struct {
	text string
	verb byte
	arg  int
}

// parts takes a format apart.
func parts(format string) []part {
	var out []part
	text, next := "", 0
	for {
		at := strings.IndexByte(format, '%')
		if at < 0 {
			return append(out, part{text: text + format, arg: -1})
		}
		text += format[:at]
		v, arg, n := verb(format[at:])
		format = format[at+n:]
		if v == '%' || v == 0 {
			text += "%"
			continue
		}
		if arg >= 0 {
			next = arg
		}
		out = append(out, part{text, v, next})
		text, next = "", next+1
	}
}

// verb reads the verb of package fmt with which format begins: its letter, the number of
// its argument where it names one, else -1, and how long it is. A sign that begins none is
// one byte long and has no letter.
func verb(format string) (letter byte, arg, length int) {
	arg = -1
	for i := 1; i < len(format); i++ {
		switch c := format[i]; {
		case strings.IndexByte("-+#0123456789.", c) >= 0:
		case c == '[':
			end := strings.IndexByte(format[i:], ']')
			if end < 0 {
				return 0, -1, 1
			}
			n, err := strconv.Atoi(format[i+1 : i+end])
			if err != nil || n < 1 {
				return 0, -1, 1
			}
			arg = n - 1
			i += end
		case c == '%' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z':
			return c, arg, i + 1
		default:
			return 0, -1, 1
		}
	}
	return 0, -1, 1
}

// figure reports whether a verb prints a number.
func figure(v byte) bool { return strings.IndexByte("dfgeFGE", v) >= 0 }

// newPattern returns the entry as a pattern; nil, and no error, if it has no verbs.
func newPattern(english, german string) (*pattern, error) {
	from, to := parts(english), parts(german)
	var args, used []int
	p := &pattern{lead: from[0].text, weight: len(from[len(from)-1].text)}
	for i, f := range from[:len(from)-1] {
		p.weight += len(f.text)
		touches := i > 0 && f.text == ""
		p.holes = append(p.holes, hole{figure(f.verb), touches, from[i+1].text})
		if !figure(f.verb) {
			p.loose++
		}
		args = append(args, f.arg)
	}
	for _, t := range to {
		at := -1
		if t.arg >= 0 {
			used = append(used, t.arg)
			if at = slices.Index(args, t.arg); at < 0 {
				return nil, fmt.Errorf("%q has no argument %d", english, t.arg+1)
			}
			if from[at].verb != t.verb {
				return nil, fmt.Errorf("%q: argument %d is %%%c, and %%%c in the translation", english, t.arg+1, from[at].verb, t.verb)
			}
		}
		p.german = append(p.german, piece{t.text, at})
	}
	slices.Sort(args)
	slices.Sort(used)
	if !slices.Equal(slices.Compact(args), slices.Compact(used)) {
		return nil, fmt.Errorf("%q has other verbs than its translation %q", english, german)
	}
	if len(p.holes) == 0 {
		return nil, nil
	}
	return p, nil
}

// match returns what stands in text for each verb; nil if text is not of p.
func (p *pattern) match(text string) []string {
	rest, ok := strings.CutPrefix(text, p.lead)
	if !ok || !strings.HasSuffix(rest, p.holes[len(p.holes)-1].after) {
		return nil
	}
	if at := rest; len(p.holes) > 1 { // the fixed texts stand there, and in this order
		for _, h := range p.holes {
			i := strings.Index(at, h.after)
			if i < 0 {
				return nil
			}
			at = at[i+len(h.after):]
		}
	}
	f := filler{args: make([]string, len(p.holes))}
	if !f.fill(p.holes, rest) {
		return nil
	}
	return f.args
}

// filler gives each hole of a pattern its stretch of a text.
type filler struct {
	args []string
	// dead are the holes and lengths of the rest of the text that were tried in vain, so
	// that a text of many doubtful stretches takes no longer than it must.
	dead map[[2]int]bool
}

// fill gives the last of the holes the shortest stretches of text that let the others have
// theirs.
func (f *filler) fill(holes []hole, text string) bool {
	if f.dead[[2]int{len(holes), len(text)}] {
		return false
	}
	if f.try(holes, text) {
		return true
	}
	if len(f.args) > 2 {
		if f.dead == nil {
			f.dead = map[[2]int]bool{}
		}
		f.dead[[2]int{len(holes), len(text)}] = true
	}
	return false
}

func (f *filler) try(holes []hole, text string) bool {
	if len(holes) == 0 {
		return text == ""
	}
	h, at := holes[0], len(f.args)-len(holes)
	if h.figure {
		n := number(text)
		if n == 0 || !strings.HasPrefix(text[n:], h.after) || !f.fill(holes[1:], text[n+len(h.after):]) {
			return false
		}
		f.args[at] = text[:n]
		return true
	}
	if len(holes) == 1 {
		all, ok := strings.CutSuffix(text, h.after)
		f.args[at] = all
		return ok && (all != "" || h.empty)
	}
	if h.after == "" { // two verbs that touch: the second begins as a clause does
		for _, clause := range []string{", ", "; ", ": ", " (", " "} {
			for from := 1; from < len(text); from++ {
				i := strings.Index(text[from:], clause)
				if i < 0 {
					break
				}
				from += i
				if f.fill(holes[1:], text[from:]) {
					f.args[at] = text[:from]
					return true
				}
			}
		}
		if text != "" && f.fill(holes[1:], "") {
			f.args[at] = text
			return true
		}
		return false
	}
	least := 1
	if h.empty {
		least = 0
	}
	for from := least; from <= len(text); from++ {
		i := strings.Index(text[from:], h.after)
		if i < 0 {
			return false
		}
		from += i
		if f.fill(holes[1:], text[from+len(h.after):]) {
			f.args[at] = text[:from]
			return true
		}
	}
	return false
}

// number returns how long the number is with which text begins, as package fmt prints it;
// 0 if it begins with none.
func number(text string) int {
	i := 0
	for _, sign := range []string{"-", "+", "−", "±"} {
		if strings.HasPrefix(text, sign) {
			i = len(sign)
			break
		}
	}
	for _, word := range []string{"Inf", "NaN"} {
		if strings.HasPrefix(text[i:], word) {
			return i + len(word)
		}
	}
	digits := func(from int) int {
		for from < len(text) && text[from] >= '0' && text[from] <= '9' {
			from++
		}
		return from
	}
	end := digits(i)
	if end == i {
		return 0
	}
	if end < len(text) && text[end] == '.' && digits(end+1) > end+1 {
		end = digits(end + 1)
	}
	if end < len(text) && text[end] == 'e' {
		at := end + 1
		if at < len(text) && (text[at] == '-' || text[at] == '+') {
			at++
		}
		if digits(at) > at {
			end = digits(at)
		}
	}
	return end
}

// sign returns the longest word of the fixed text of p that stands alone whatever the
// verbs print; empty if there is none.
func (p *pattern) sign() (best string) {
	look := func(text string, before, behind bool) { // whether a verb touches its ends
		for from := 0; from < len(text); {
			word, start := nextWord(text, from)
			if word == "" {
				return
			}
			end := start + len(word)
			if len(word) > len(best) && !(before && start == 0) && !(behind && end == len(text)) {
				best = word
			}
			from = end
		}
	}
	look(p.lead, false, true)
	for i, h := range p.holes {
		look(h.after, true, i < len(p.holes)-1)
	}
	return best
}

// linking reports whether p is no more than a preposition between two texts, as stands in
// many a name: "back of the room".
func (p *pattern) linking() bool {
	return len(p.holes) == 2 && p.lead == "" && p.holes[1].after == "" &&
		slices.Contains([]string{"of", "from", "by", "in", "to", "at", "on", "for", "with"}, strings.TrimSpace(p.holes[0].after))
}

// nextWord returns the first run of letters of text that begins at from or later.
func nextWord(text string, from int) (word string, start int) {
	start = -1
	for i, r := range text[from:] {
		switch {
		case unicode.IsLetter(r):
			if start < 0 {
				start = from + i
			}
		case start >= 0:
			return text[start : from+i], start
		}
	}
	if start < 0 {
		return "", len(text)
	}
	return text[start:], start
}
