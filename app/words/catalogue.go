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
	// led are the patterns by the text before their first verb, of the lengths in leads;
	// free are those that begin with a verb. The heaviest stand first.
	led   map[string][]*pattern
	leads []int
	free  []*pattern

	mu   sync.Mutex
	said map[string]string
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
	c := &Catalogue{exact: map[string]string{}, led: map[string][]*pattern{}, said: map[string]string{}}
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
		case p.lead != "":
			c.led[p.lead] = append(c.led[p.lead], p)
		case p.weight > 0:
			c.free = append(c.free, p)
		}
	}
	for lead, all := range c.led {
		slices.SortStableFunc(all, heavier)
		c.leads = append(c.leads, len(lead))
	}
	slices.Sort(c.leads)
	c.leads = slices.Compact(c.leads)
	slices.SortStableFunc(c.free, heavier)
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
	said, ok := c.said[english]
	c.mu.Unlock()
	if ok {
		return said
	}
	said, missed := c.translate(english)
	if c.Missed != nil {
		for _, m := range missed {
			c.Missed(m)
		}
	}
	c.mu.Lock()
	if len(c.said) >= remembered {
		clear(c.said)
	}
	c.said[english] = said
	c.mu.Unlock()
	return said
}

// translate returns text in the language of c, and what of it has no translation.
func (c *Catalogue) translate(text string) (said string, missed []string) {
	if said, ok := c.whole(text); ok {
		return said, nil
	}
	if said, missed, ok := c.printed(text); ok {
		return said, missed
	}
	if quantity.MatchString(text) || !worded.MatchString(text) {
		return comma(text), nil
	}
	for _, j := range joints {
		if said, missed, ok := c.apart(text, j); ok {
			return said, missed
		}
	}
	if inner, ok := bracketed(text); ok {
		said, missed := c.translate(inner)
		return text[:1] + said + text[len(text)-1:], missed
	}
	if head, tail, ok := strings.Cut(text, " ("); ok && strings.HasSuffix(tail, ")") && head != "" && len(tail) > 1 {
		a, some := c.translate(head)
		b, more := c.translate(strings.TrimSuffix(tail, ")"))
		return a + " (" + b + ")", append(some, more...)
	}
	if m := counted.FindStringSubmatch(text); m != nil { // "3 seats", where there is "seats"
		if said, ok := c.whole(m[2]); ok {
			return comma(m[1]) + " " + said, nil
		}
	}
	return text, []string{text}
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
	if first, n := utf8.DecodeRuneInString(text); unicode.IsUpper(first) {
		if said, ok := c.exact[string(unicode.ToLower(first))+text[n:]]; ok {
			return upper(said), true
		}
	}
	return "", false
}

// printed translates a text by the heaviest pattern that can print it.
func (c *Catalogue) printed(text string) (said string, missed []string, ok bool) {
	p, args := c.find(text)
	if bare := strings.TrimRight(text, ".:…"); bare != text { // what ends a text is no part of an argument
		if q, inner := c.find(bare); q != nil && (p == nil || heavier(q, p) <= 0) {
			said, missed = c.print(q, inner)
			return said + text[len(bare):], missed, true
		}
	}
	if p != nil {
		said, missed = c.print(p, args)
		return said, missed, true
	}
	if first, n := utf8.DecodeRuneInString(text); unicode.IsUpper(first) {
		if p, args := c.find(string(unicode.ToLower(first)) + text[n:]); p != nil && p.lead != "" {
			said, missed = c.print(p, args)
			return upper(said), missed, true
		}
	}
	return "", nil, false
}

func (c *Catalogue) find(text string) (best *pattern, args []string) {
	try := func(all []*pattern) {
		for _, p := range all {
			if best != nil && heavier(p, best) >= 0 {
				return
			}
			if a := p.match(text); a != nil {
				best, args = p, a
				return
			}
		}
	}
	for _, n := range c.leads {
		if n > len(text) {
			break
		}
		try(c.led[text[:n]])
	}
	try(c.free)
	return best, args
}

// print fills the translation of p.
func (c *Catalogue) print(p *pattern, args []string) (said string, missed []string) {
	var b strings.Builder
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
		said, some := c.translate(arg)
		b.WriteString(said)
		missed = append(missed, some...)
	}
	return b.String(), missed
}

// joints are what texts are put together with, the one that parts them most first.
var joints = []string{"\n", ". ", "; ", " · ", ": ", ", ", " - ", " / ", " + ", " and ", " or ", " to ", " x ", "/"}

// apart translates a text joint by joint, if that says more of it.
func (c *Catalogue) apart(text, joint string) (said string, missed []string, ok bool) {
	all := strings.Split(text, joint)
	if len(all) < 2 {
		return "", nil, false
	}
	known := 0
	for i, part := range all {
		if strings.TrimSpace(part) == "" {
			continue
		}
		dotted := joint == ". " && i < len(all)-1
		if dotted {
			part += "."
		}
		lead := part[:len(part)-len(strings.TrimLeft(part, " \t-*#•▲▼"))]
		s, some := c.translate(part[len(lead):])
		if len(some) == 0 || s != part[len(lead):] {
			known++
		}
		if dotted {
			s = strings.TrimSuffix(s, ".")
		}
		all[i] = lead + s
		missed = append(missed, some...)
	}
	if known == 0 || len(missed) > 0 && len(joint) > 0 && !strong(joint) {
		return "", nil, false
	}
	if german, ok := c.exact[strings.TrimSpace(joint)]; ok && strings.TrimSpace(joint) != "" {
		joint = strings.Replace(joint, strings.TrimSpace(joint), german, 1)
	}
	return strings.Join(all, joint), missed, true
}

// strong reports whether what a joint parts stands for itself, so that a stretch in English
// beside a translated one can be borne.
func strong(joint string) bool {
	return joint == "\n" || joint == ". " || joint == "; " || joint == " · " || joint == ": " || joint == ", "
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
	// worded has at least one word to read: two letters in a row.
	worded = regexp.MustCompile(`\pL{2}`)
	// counted is a number and what is counted.
	counted = regexp.MustCompile(`^([-+−±]?\d[\d.]*)\s+(\pL.*)$`)
	// quantity is numbers with signs and units, nothing to translate.
	quantity = regexp.MustCompile(`^[-+−±≤≥<>~(]?\s*\.?\d[\d.,/: x×()'"″′%°±+−-]*(?:\s*(?:` + units + `)(?:/(?:s|m|m²|Hz|V|kg))?[\d.,/: x×()'"″′%°±+−-]*)*\)?$`)
	point    = regexp.MustCompile(`(\d)\.(\d)`)
	versions = regexp.MustCompile(`\d+(?:\.\d+){2,}`)
)

// units are those that the window writes.
const units = `mm|cm|dm|km|m|m²|m³|in|ft|Hz|kHz|dB|dBSPL|dBFS|dBu|dBV|ms|µs|s|min|h|W|kW|VA|V|A|kg|g|lb|lx|lm|cd|nit|nits|cd/m²|fL|K|°C|°|%|px|Ω|ohm|MB|l/s|m³/h|N|kN|Pa`

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
