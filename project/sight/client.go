// SPDX-License-Identifier: MIT

package sight

import (
	"fmt"
	"strings"

	"earline/project/bs2051"
)

// ClientSentence says what seat i, counted from 0, gets, for who knows nothing of
// clearances: how much of the picture, and which loudspeakers are heard past something.
// It says that all is well only where every verdict is clear. Subwoofers are not judged,
// and not spoken of.
func (r *Result) ClientSentence(i int) string {
	if i < 0 || i >= len(r.Views) {
		return ""
	}
	var tight, blocked []string
	judged := 0
	for k := range r.Speakers {
		p := r.Pair(i, k)
		if p.Verdict == NotJudged {
			continue
		}
		judged++
		switch p.Verdict {
		case Tight:
			tight = append(tight, plain(r.Speakers[k].Name()))
		case Blocked:
			blocked = append(blocked, plain(r.Speakers[k].Name()))
		}
	}
	v := r.Views[i]
	sees := "From here you see the whole picture"
	switch {
	case v.Visible < whole && v.Blocker == NoPart:
		sees = "From here you cannot see the whole picture: the seat is not in front of it"
	case v.Visible < whole:
		sees = fmt.Sprintf("From here you see %.1f %% of the picture: %s hides the rest", tenth(v.Visible), r.toYou(i, v.Blocker))
	case v.Verdict == Blocked:
		sees += ", though " + r.toYou(i, v.Blocker) + " touches its lower edge"
	case v.Verdict == Tight:
		sees += ", if only just over " + r.toYou(i, v.Blocker)
	}
	whence := "; you "
	if v.Verdict == Clear {
		whence = " and "
	}
	switch {
	case judged == 0:
		return sees + "."
	case len(blocked) == 0 && len(tight) == 0:
		return sees + whence + "hear every loudspeaker free."
	case len(blocked) == 0:
		return sees + whence + fmt.Sprintf("hear every loudspeaker free, %s only just.", some(tight, judged))
	}
	hidden := fmt.Sprintf("%s. Something stands between you and %s", sees, some(blocked, judged))
	if len(tight) > 0 {
		hidden += fmt.Sprintf("; you hear %s only just free", some(tight, judged))
	}
	return hidden + "."
}

// toYou names a blocker to who sits in seat i.
func (r *Result) toYou(i, blocker int) string {
	words := r.WordsFrom(i, blocker)
	switch {
	case strings.HasPrefix(words, "own "):
		return "your " + words
	case blocker >= 0 && r.Parts[blocker].Row > 0: // of a sitter, a chair, a platform
		return "the " + words
	}
	return words
}

// plain returns what a loudspeaker is called in plain words where its label has any: a
// copy of another, which has the same, goes by its label too.
func plain(name string) string {
	words := bs2051.Means(name)
	if words == "" {
		return name
	}
	words = strings.TrimSuffix(words, ", ear level")
	if _, copied, is := strings.Cut(name, " "); is { // one more of that label
		if n, known := map[string]string{"b": "second ", "c": "third ", "d": "fourth "}[copied]; known {
			return n + words
		}
		words += " (" + copied + ")"
	}
	return words
}

// some names loudspeakers: all of them, each, or how many of how many.
func some(names []string, of int) string {
	const most = 3
	switch n := len(names); {
	case n == of && n > 1:
		return "all of them"
	case n > most:
		return fmt.Sprintf("%d of %d loudspeakers", n, of)
	case n == 1:
		return "the " + names[0] + " loudspeaker"
	}
	return "the " + strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1] + " loudspeakers"
}
