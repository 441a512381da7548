// SPDX-License-Identifier: MIT

package document

import (
	"os"
	"path/filepath"
	"strconv"
	"sync"
	"testing"
)

// Two windows do not write over each other's recovery copies.
func TestTwoWindowsHaveFoldersOfTheirOwn(t *testing.T) {
	root := filepath.Join(t.TempDir(), "recovery")
	dir, release := Claim(root)
	if dir != root {
		t.Fatalf("the first has %s", dir)
	}
	second, releaseSecond := Claim(root)
	defer releaseSecond()
	if second != filepath.Join(root, "2") {
		t.Errorf("the second has %s", second)
	}
	release()
	third, releaseThird := Claim(root)
	defer releaseThird()
	if third != root {
		t.Errorf("after the first has ended the third has %s", third)
	}
}

// Windows that were started together after a crash, as a login session does, had
// one folder between them.
func TestWindowsStartedTogetherSharedAFolder(t *testing.T) {
	root := t.TempDir()
	// As a crash left it, with the number of a process that runs: this one.
	if err := os.WriteFile(filepath.Join(root, lockName), []byte(strconv.Itoa(os.Getpid())), 0o600); err != nil {
		t.Fatal(err)
	}
	var (
		mu   sync.Mutex
		seen = map[string]bool{}
		all  sync.WaitGroup
	)
	for range 16 {
		all.Go(func() {
			dir, release := Claim(root)
			t.Cleanup(release)
			mu.Lock()
			defer mu.Unlock()
			if seen[dir] {
				t.Errorf("two windows have %s", dir)
			}
			seen[dir] = true
		})
	}
	all.Wait()
	if !seen[root] {
		t.Error("the folder of the window that crashed is held to be taken")
	}
}

// A folder that cannot be made is no reason not to start.
func TestClaimWithoutAFolder(t *testing.T) {
	f := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(f, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if dir, release := Claim(filepath.Join(f, "recovery")); dir == "" {
		t.Error("nothing")
	} else {
		release()
	}
}
