// SPDX-License-Identifier: MIT

package words

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// Catalogue is the translations of one language. It does not change once read, but for
// what it remembers.
type Catalogue struct {
	// Missed is told of each stretch of a text that no entry covers, the first time that it
	// is asked for; nil is nobody. It is set before the catalogue is used.
	Missed func(english string)

	exact map[string]string
	// signed are the patterns by a word that every text of theirs has, and unsigned those
	// that have no such word.
	signed   map[string][]*pattern
	unsigned []*pattern

	mu    sync.Mutex
	finds map[string][]found // what find found in the text that is being translated
	told  map[string]saying  // what was said of a text before
	// english is exact the other way round; nil until it is asked for.
	english map[string]string
}

// remembered is how many texts a catalogue remembers before it begins anew.
const remembered = 1 << 13

// Read reads a catalogue: a JSON object of English texts and their translations. The error
// names every entry that cannot be used; an entry without a translation is none.
func Read(data []byte) (*Catalogue, error) {
	entries, err := decode(data)
	if err != nil {
		return nil, err
	}
	c := &Catalogue{exact: map[string]string{}, signed: map[string][]*pattern{}, told: map[string]saying{}, finds: map[string][]found{}}
	var faults []error
	for _, e := range entries {
		if e.german == "" {
			continue
		}
		p, err := newPattern(e.english, e.german)
		switch {
		case err != nil:
			faults = append(faults, err)
		case p == nil:
			c.exact[strings.ReplaceAll(e.english, "%%", "%")] = strings.ReplaceAll(e.german, "%%", "%")
		case p.weight > 0:
			if sign := p.sign(); sign != "" {
				c.signed[sign] = append(c.signed[sign], p)
			} else {
				c.unsigned = append(c.unsigned, p)
			}
		}
	}
	return c, errors.Join(faults...)
}

// heavier orders patterns by how much they say.
func heavier(a, b *pattern) int {
	return cmp.Or(cmp.Compare(b.weight, a.weight), cmp.Compare(a.loose, b.loose))
}

type entry struct{ english, german string }

// decode reads the entries in their order, and refuses two of one text, of which
// encoding/json would drop one.
func decode(data []byte) ([]entry, error) {
	d := json.NewDecoder(bytes.NewReader(data))
	if t, err := d.Token(); err != nil || t != json.Delim('{') {
		return nil, errors.New("a catalogue is a JSON object of texts")
	}
	var out []entry
	seen := map[string]bool{}
	for d.More() {
		key, err := d.Token()
		if err != nil {
			return nil, fmt.Errorf("catalogue: %w", err)
		}
		value, err := d.Token()
		if err != nil {
			return nil, fmt.Errorf("catalogue: %w", err)
		}
		english, german := key.(string), ""
		german, ok := value.(string)
		if !ok {
			return nil, fmt.Errorf("catalogue: the translation of %q is no text", english)
		}
		if seen[english] {
			return nil, fmt.Errorf("catalogue: %q stands twice", english)
		}
		seen[english] = true
		out = append(out, entry{english, german})
	}
	if _, err := d.Token(); err != nil {
		return nil, fmt.Errorf("catalogue: %w", err)
	}
	return out, nil
}

// Of returns an English text in the language of c.
func (c *Catalogue) Of(english string) string {
	if english == "" {
		return ""
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if s, ok := c.told[english]; ok {
		return s.text
	}
	clear(c.finds) // of this text alone
	s := c.translate(english)
	if c.Missed != nil {
		for _, m := range s.missed {
			c.Missed(m)
		}
	}
	return s.text
}

// Exact returns the translation of an entry without verbs; false if there is none.
func (c *Catalogue) Exact(english string) (string, bool) {
	said, ok := c.exact[english]
	return said, ok
}

// back returns the English of an entry without verbs; text where there is none.
func (c *Catalogue) back(text string) string {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.english == nil {
		c.english = map[string]string{}
		for english, said := range c.exact {
			if other, ok := c.english[said]; !ok || english < other { // of two that say the same, always one
				c.english[said] = english
			}
		}
	}
	if english, ok := c.english[text]; ok {
		return english
	}
	return text
}

// saying is a translation, with the stretches of the text that have none.
type saying struct {
	text   string
	missed []string
}

// worse is how many bytes of a saying are not translated.
func (s saying) worse() (n int) {
	for _, m := range s.missed {
		n += len(m)
	}
	return n
}

// translate returns text in the language of c: as an entry has it; else as the entry whose
// format prints it, or as a sum of parts, of which each has a translation; else as what
// leaves the least of it in English.
func (c *Catalogue) translate(text string) saying {
	if s, ok := c.told[text]; ok {
		return s
	}
	s := c.work(text)
	if len(c.told) >= remembered {
		clear(c.told)
	}
	c.told[text] = s
	return s
}

func (c *Catalogue) work(text string) saying {
	if said, ok := c.whole(text); ok {
		return saying{text: said}
	}
	best := saying{text, []string{text}}
	better := func(s saying) bool {
		if s.worse() < best.worse() {
			best = s
		}
		return len(best.missed) == 0
	}
	if quantity.MatchString(text) || unit.MatchString(text) || !worded.MatchString(text) {
		return saying{text: comma(text)}
	}
	if c.joined(text, parting[:3], better) || c.printed(text, better) || c.joined(text, joints, better) ||
		c.enclosed(text, better) || c.said(text, better) {
		return best
	}
	return best
}

// said offers text as a name and what is said of it, "M+030 reaches 13 mm into the wall",
// or as a sentence and a clause at its end: ", common practice asks for 25°".
func (c *Catalogue) said(text string, better func(saying) bool) bool {
	for i := range len(text) {
		rest, gap := "", ""
		if after, ok := strings.CutPrefix(text[i:], ", "); ok && i > 0 { // a list of which an item has a comma
			a, b := c.translate(text[:i]), c.translate(after)
			if len(a.missed)+len(b.missed) == 0 && better(saying{text: a.text + ", " + b.text}) {
				return true
			}
		}
		switch {
		case i == 0:
			continue
		case text[i] == ' ':
			rest, gap = text[i+1:], " "
		case text[i] == ',' || text[i] == ';':
			rest = text[i:]
		default:
			continue
		}
		printed := slices.ContainsFunc(c.find(rest), func(f found) bool { return f.p.lead != "" && f.p.weight >= telling })
		if _, ok := c.whole(rest); !printed && !(ok && bare(text[:i])) {
			continue
		}
		what := c.translate(rest)
		if len(what.missed) > 0 {
			continue
		}
		of := c.translate(text[:i])
		if better(saying{of.text + gap + what.text, of.missed}) {
			return true
		}
	}
	return false
}

// joined offers text as a sum of parts, until one is good enough.
func (c *Catalogue) joined(text string, joints []string, better func(saying) bool) bool {
	for _, j := range joints {
		s, ok := c.apart(text, j)
		if len(s.missed) > 0 && !slices.Contains(parting, j) {
			continue // a name of which a word is known
		}
		if ok && better(s) {
			return true
		}
	}
	return false
}

// enclosed offers text as something in brackets, before brackets, or that is counted.
func (c *Catalogue) enclosed(text string, better func(saying) bool) bool {
	if bare := strings.TrimRight(text, ".;:,"); bare != text && strings.HasSuffix(bare, ")") {
		if s := c.translate(bare); better(saying{s.text + text[len(bare):], s.missed}) {
			return true
		}
	}
	if inner, ok := bracketed(text); ok {
		s := c.translate(inner)
		if len(s.missed) == 0 && better(saying{text: text[:1] + s.text + text[len(text)-1:]}) {
			return true
		}
	}
	if at := opening(text); at > 0 {
		a, b := c.translate(text[:at]), c.translate(text[at+2:len(text)-1])
		if len(a.missed)+len(b.missed) == 0 && better(saying{text: a.text + " (" + b.text + ")"}) {
			return true
		}
	}
	if m := counted.FindStringSubmatch(text); m != nil { // "3 seats", where there is "seats"
		if said, ok := c.whole(m[2]); ok && better(saying{text: comma(m[1]) + " " + said}) {
			return true
		}
	}
	return false
}

// whole looks a text up as it stands, without what ends it, and with a small first letter.
func (c *Catalogue) whole(text string) (string, bool) {
	if said, ok := c.exact[text]; ok {
		return said, true
	}
	if bare := strings.TrimRight(text, " .:…"); bare != text && bare != "" {
		if said, ok := c.exact[bare]; ok {
			return said + text[len(bare):], true
		}
	}
	switch first, n := utf8.DecodeRuneInString(text); {
	case unicode.IsUpper(first):
		if said, ok := c.exact[string(unicode.ToLower(first))+text[n:]]; ok {
			return upper(said), true
		}
	case unicode.IsLower(first): // a title within a sentence
		if said, ok := c.exact[string(unicode.ToUpper(first))+text[n:]]; ok {
			return said, true
		}
	}
	return "", false
}

// bare reports whether an argument is a number or a label.
func bare(arg string) bool { return !worded.MatchString(arg) || quantity.MatchString(arg) }

// telling is how many bytes of fixed text a pattern has that may print a text although
// what stands for an argument has no translation.
const telling = 8

// tries is how many patterns that can print a text are tried.
const tries = 8

// printed offers text by the patterns that can print it, the heaviest first, until one is
// good enough.
func (c *Catalogue) printed(text string, better func(saying) bool) bool {
	try := func(text, end string, change func(string) string) bool {
		for _, f := range c.find(text) {
			p := f.p
			s := c.print(p, f.args)
			s.text = change(s.text) + end
			if p.weight < telling && len(s.missed) > 0 || p.linking() && !slices.ContainsFunc(f.args, bare) {
				continue // a part of a name
			}
			if better(s) {
				return true
			}
		}
		return false
	}
	same := func(s string) string { return s }
	// What ends a text is no part of an argument.
	bare := strings.TrimRight(text, ".:…")
	if bare != text && bare != "" && try(bare, text[len(bare):], same) || try(text, "", same) {
		return true
	}
	if first, n := utf8.DecodeRuneInString(text); unicode.IsUpper(first) {
		small := string(unicode.ToLower(first)) + text[n:]
		return try(small, "", upper)
	}
	return false
}

// found is a pattern that can print a text, with what stands for its verbs.
type found struct {
	p    *pattern
	args []string
}

// find returns the patterns that can print text, the heaviest first.
func (c *Catalogue) find(text string) (out []found) {
	if out, ok := c.finds[text]; ok {
		return out
	}
	defer func() { c.finds[text] = out }()
	add := func(all []*pattern) {
		for _, p := range all {
			if args := p.match(text); args != nil && !slices.ContainsFunc(out, func(f found) bool { return f.p == p }) {
				out = append(out, found{p, args})
			}
		}
	}
	for from := 0; from < len(text); {
		word, start := nextWord(text, from)
		if word == "" {
			break
		}
		from = start + len(word)
		add(c.signed[word])
	}
	add(c.unsigned)
	slices.SortStableFunc(out, func(a, b found) int { return heavier(a.p, b.p) })
	return out[:min(len(out), tries)]
}

// print fills the translation of p.
func (c *Catalogue) print(p *pattern, args []string) saying {
	var b strings.Builder
	var missed []string
	for _, g := range p.german {
		b.WriteString(g.text)
		if g.arg < 0 {
			continue
		}
		arg := args[g.arg]
		if p.holes[g.arg].figure {
			b.WriteString(comma(arg))
			continue
		}
		if arg == "" {
			continue
		}
		s := c.translate(arg)
		b.WriteString(s.text)
		missed = append(missed, s.missed...)
	}
	return saying{b.String(), missed}
}

// joints are what texts are put together with, besides the first three of parting, the one
// that parts them most first.
var joints = []string{". ", "; ", " · ", ": ", ", ", " - ", " + ", " and ", " or ", " to ", " x ", "/"}

// parting are the joints of which each side stands for itself, so that one in English beside
// a translated one can be borne.
var parting = []string{"\n", "  |  ", " / ", ". ", "; ", " · ", ": "}

// apart translates a text joint by joint.
func (c *Catalogue) apart(text, joint string) (s saying, ok bool) {
	all := strings.Split(text, joint)
	if len(all) < 2 {
		return saying{}, false
	}
	for i, part := range all {
		if strings.TrimSpace(part) == "" {
			continue
		}
		dotted := joint == ". " && i < len(all)-1
		if dotted {
			part += "."
		}
		lead := part[:len(part)-len(strings.TrimLeft(part, " \t-*#•▲▼"))]
		one := c.translate(part[len(lead):])
		if dotted {
			one.text = strings.TrimSuffix(one.text, ".")
		}
		all[i] = lead + one.text
		s.missed = append(s.missed, one.missed...)
	}
	if german, ok := c.exact[strings.TrimSpace(joint)]; ok && strings.TrimSpace(joint) != "" {
		joint = strings.Replace(joint, strings.TrimSpace(joint), german, 1)
	}
	s.text = strings.Join(all, joint)
	return s, true
}

// opening returns where the bracket that ends text opens, behind a gap; 0 for nowhere.
func opening(text string) int {
	deep := 0
	for i := len(text) - 1; i > 0 && (deep > 0 || i == len(text)-1); i-- {
		switch text[i] {
		case ')':
			deep++
		case '(':
			deep--
			if deep == 0 && text[i-1] == ' ' {
				return i - 1
			}
		default:
			if i == len(text)-1 {
				return 0
			}
		}
	}
	return 0
}

// bracketed returns what is between brackets or quotes.
func bracketed(text string) (string, bool) {
	if len(text) > 2 && (text[0] == '(' && text[len(text)-1] == ')' || text[0] == '"' && text[len(text)-1] == '"') {
		return text[1 : len(text)-1], true
	}
	return "", false
}

func upper(text string) string {
	first, n := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + text[n:]
}

var (
	// worded has at least one word to read, not only labels and what is written in capitals.
	worded = regexp.MustCompile(`\p{Ll}{2}|\p{Lu}\p{Ll}`)
	// counted is a number and what is counted.
	counted = regexp.MustCompile(`^([-+−±]?\d[\d.]*)\s+(\pL.*)$`)
	// quantity is numbers with signs and units, nothing to translate.
	quantity = regexp.MustCompile(`^[-+−±≤≥<>~(]?\s*\.?\d[\d.,/: x×()'"″′%°±+−-]*(?:\s*(?:` + units + `)(?:/(?:s|m|m²|Hz|V|kg))?[\d.,/: x×()'"″′%°±+−-]*)*\)?$`)
	unit     = regexp.MustCompile(`^(?:` + units + `)$`)
	point    = regexp.MustCompile(`(\d)\.(\d)`)
	versions = regexp.MustCompile(`\d+(?:\.\d+){2,}`)
)

// units are those that the window writes.
const units = `dB\(A\)|dB\(C\)|dB SPL|mm|cm|dm|km|m|m²|m³|in|ft|Hz|kHz|dB|dBSPL|dBFS|dBu|dBV|ms|µs|s|min|h|W|kW|VA|V|A|kg|g|lb|lx|lm|cd|nit|nits|cd/m²|fL|K|°C|°|%|px|Ω|ohm|MB|l/s|m³/h|N|kN|Pa`

// comma writes the numbers of a text with a decimal comma.
func comma(text string) string {
	if !point.MatchString(text) {
		return text
	}
	keep := versions.FindAllStringIndex(text, -1) // 7.1.4 is no decimal
	var b strings.Builder
	from := 0
	for _, k := range keep {
		b.WriteString(point.ReplaceAllString(text[from:k[0]], "$1,$2"))
		b.WriteString(text[k[0]:k[1]])
		from = k[1]
	}
	b.WriteString(point.ReplaceAllString(text[from:], "$1,$2"))
	return b.String()
}
