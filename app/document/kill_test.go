// SPDX-License-Identifier: MIT

package document

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"earline/project"
	"earline/project/file"
)

// The test below starts itself again as the process that is killed; these name the
// file and the recovery folders that it works on.
const (
	killedFile = "EARLINE_KILLED_FILE"
	killedRoot = "EARLINE_KILLED_ROOT"
)

// Kills at random moments tear no file, lose no save that had ended and no recovery
// copy, and leave nothing that the next save does not remove. EARLINE_KILLS sets how
// many; every fifth strikes a large document.
func TestKilledWhileSaving(t *testing.T) {
	if os.Getenv(killedFile) != "" {
		saveForever(t)
	}
	kills := 60
	if s := os.Getenv("EARLINE_KILLS"); s != "" {
		var err error
		if kills, err = strconv.Atoi(s); err != nil {
			t.Fatal(err)
		}
	}
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	random := rand.New(rand.NewPCG(seed, 0))
	dir := t.TempDir()
	root := filepath.Join(dir, "recovery")
	small, large := filepath.Join(dir, "small.earline"), filepath.Join(dir, "large.earline")
	for path, angles := range map[string]int{small: 0, large: 190} {
		d := file.New()
		d.Name = "0"
		if angles > 0 {
			measured(d, angles)
		}
		if err := New(d, "").Save(path); err != nil {
			t.Fatal(err)
		}
	}
	saves, copies, left := 0, 0, 0
	for i := range kills {
		path, most := small, 40*time.Millisecond
		if i%5 == 4 {
			path, most = large, 500*time.Millisecond
		}
		ended := kill(t, path, root, time.Duration(random.Int64N(int64(most))))
		d, err := Open(path, "")
		if err != nil {
			t.Fatalf("kill %d: %v", i, err)
		}
		if got, err := strconv.Atoi(d.Design().Name); err != nil || got < ended {
			t.Fatalf("kill %d: save %d had ended, the file holds %s", i, ended, d.Design().Name)
		}
		saves = max(saves, ended)
		own, release := Claim(root)
		if own != root {
			t.Fatalf("kill %d: the folder is still held", i)
		}
		found, faults := Copies(root, own)
		if len(faults) != 0 || len(found) > 1 {
			t.Fatalf("kill %d: %d copies of one document, %v", i, len(found), faults)
		}
		for _, c := range found {
			copies++
			if c.Path != path {
				t.Errorf("kill %d: a copy of %q", i, c.Path)
			}
			if err := c.Discard(); err != nil {
				t.Error(err)
			}
		}
		release()
	}
	for _, d := range []string{dir, root} { // as if ten minutes had passed
		temps, _ := filepath.Glob(filepath.Join(d, ".earline-*.tmp"))
		left += len(temps)
		for _, name := range temps {
			if err := os.Chtimes(name, time.Time{}, time.Now().Add(-time.Hour)); err != nil {
				t.Error(err)
			}
		}
	}
	d, err := Open(small, root)
	if err != nil {
		t.Fatal(err)
	}
	crash(t, d)
	if err := d.Save(small); err != nil {
		t.Fatal(err)
	}
	for _, d := range []string{dir, root} {
		if temps, _ := filepath.Glob(filepath.Join(d, ".*")); len(temps) != 0 {
			t.Errorf("left behind: %v", temps)
		}
	}
	t.Logf("%d kills, up to %d saves a document, %d recovery copies found, %d temporary files swept", kills, saves, copies, left)
}

// kill starts saveForever on the file at path, kills it a while after its first
// save, and returns the last save that it said had ended.
func kill(t *testing.T, path, root string, after time.Duration) (ended int) {
	t.Helper()
	cmd := exec.Command(os.Args[0], "-test.run", "^TestKilledWhileSaving$")
	cmd.Env = append(os.Environ(), killedFile+"="+path, killedRoot+"="+root)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewScanner(out)
	for first := true; lines.Scan(); first = false {
		n, err := strconv.Atoi(lines.Text())
		if err != nil {
			t.Errorf("it said %q", lines.Text())
			break
		}
		ended = n
		if first {
			time.AfterFunc(after, func() { _ = cmd.Process.Kill() })
		}
	}
	_ = cmd.Process.Kill() // should it have said something else
	if err := cmd.Wait(); err == nil {
		t.Error("it ended by itself")
	}
	return ended
}

// saveForever edits, keeps a recovery copy and saves, and says so each time.
func saveForever(t *testing.T) {
	dir, _ := Claim(os.Getenv(killedRoot))
	path := os.Getenv(killedFile)
	d, err := Open(path, dir)
	if err != nil {
		t.Fatal(err)
	}
	n, err := strconv.Atoi(d.Design().Name)
	if err != nil {
		t.Fatal(err)
	}
	for {
		n++
		if err := d.Do("count", "", func(d *project.Design) { d.Name = strconv.Itoa(n) }); err != nil {
			t.Fatal(err)
		}
		d.WriteRecovery(func(err error) { t.Error(err) })
		d.Wait()
		if err := d.Save(path); err != nil {
			t.Fatal(err)
		}
		fmt.Println(n)
	}
}

// measured gives the first model of d polar data at so many angles.
func measured(d *project.Design, angles int) {
	p := project.Polar{}
	for i := range angles {
		p.Angles = append(p.Angles, float64(i-angles/2))
	}
	for i := range project.MaxPolar {
		c := project.PolarCurve{Frequency: float64(20 + i)}
		for k := range angles {
			c.Level = append(c.Level, -float64(k)/7)
		}
		p.Horizontal, p.Vertical = append(p.Horizontal, c), append(p.Vertical, c)
	}
	d.Models[0].Polar = p
}
