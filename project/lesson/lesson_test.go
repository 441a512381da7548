// SPDX-License-Identifier: MIT

package lesson_test

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"strconv"
	"testing"

	"earline/project/file"
	"earline/project/lesson"
)

// seeds is how many lessons of each level the tests make.
func seeds(t *testing.T) int {
	n, err := strconv.Atoi(os.Getenv("EARLINE_LESSONS"))
	if err != nil {
		return 40
	}
	return n
}

func TestEveryLessonHoldsTheFaultsItClaims(t *testing.T) {
	kinds := map[string]int{}
	for seed := 1; seed <= seeds(t); seed++ {
		for level := 1; level <= 3; level++ {
			l, err := lesson.Make(seed, level)
			if err != nil {
				t.Errorf("seed %d level %d: %v", seed, level, err)
				continue
			}
			data, err := file.Encode(l.Start)
			if err != nil {
				t.Fatal(err)
			}
			// It is handed out as a file, and marked as one.
			d, err := file.Decode(data, "")
			if err != nil {
				t.Fatal(err)
			}
			m := l.Mark(d)
			if points, _ := m.Score(); points != 0 || m.Mended() != 0 || len(m.Made)+len(m.Lost) > 0 {
				t.Errorf("seed %d level %d: nothing was mended, but: %s %v %v", seed, level, m.Sentence(), m.Made, m.Lost)
			}
			if m := l.Mark(l.Best); !m.Solved() {
				t.Errorf("seed %d level %d: the best answer: %s", seed, level, m.Sentence())
			}
			for _, f := range l.Faults {
				kinds[f.Cause]++
				if f.Rule.Why == "" || f.Cure == "" || f.Text == "" || len(f.Hints()) != 3 {
					t.Errorf("seed %d level %d: %+v", seed, level, f)
				}
			}
		}
	}
	t.Log(kinds)
}

func TestTheSameSeedIsTheSameRoom(t *testing.T) {
	for seed := 1; seed <= 3; seed++ {
		var was []byte
		for range 2 {
			l, err := lesson.Make(seed, 2)
			if err != nil {
				t.Fatal(err)
			}
			data, err := file.Encode(l.Start)
			if err != nil {
				t.Fatal(err)
			}
			if was != nil && !bytes.Equal(data, was) {
				t.Errorf("seed %d: two rooms", seed)
			}
			was = data
		}
	}
}

// The rooms of a few seeds, as the first twelve digits of the SHA-256 of their files. A
// change here means that a class which was given a seed finds another room: only a
// change of rules or of the file may do that. Where it must, go test -run Seeds prints
// the new ones.
func TestSeedsKeepTheirRooms(t *testing.T) {
	for _, c := range []struct {
		seed, level int
		want        string
	}{{1, 1, "1c13f8796956"}, {7, 2, "77af9ba9a21f"}, {20, 3, "c46f8ba2c772"}, {123456789, 3, "bbd793cb38f3"}} {
		data, err := file.Encode(made(t, c.seed, c.level).Start)
		if err != nil {
			t.Fatal(err)
		}
		if got := fmt.Sprintf("%.6x", sha256.Sum256(data)); got != c.want {
			t.Errorf("seed %d, level %d: %s, was %s", c.seed, c.level, got, c.want)
		}
	}
}
