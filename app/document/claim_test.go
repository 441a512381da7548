// SPDX-License-Identifier: MIT

package document

import (
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"earline/project/file"
)

// hold makes dir look as if a process of that number had it.
func hold(t *testing.T, dir string, pid int) {
	t.Helper()
	if err := os.MkdirAll(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, inUse), []byte(strconv.Itoa(pid)+"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
}

// other returns the number of a process that runs until the test ends.
func other(t *testing.T) int {
	t.Helper()
	cmd := exec.Command("sleep", "60")
	if err := cmd.Start(); err != nil {
		t.Skip("no sleep here:", err)
	}
	t.Cleanup(func() { _ = cmd.Process.Kill(); _ = cmd.Wait() })
	return cmd.Process.Pid
}

// gone returns the number of a process that has ended.
func gone(t *testing.T) int {
	t.Helper()
	cmd := exec.Command("sleep", "0")
	if err := cmd.Run(); err != nil {
		t.Skip("no sleep here:", err)
	}
	return cmd.Process.Pid
}

// Two windows do not write over each other's recovery copies.
func TestTwoWindowsHaveFoldersOfTheirOwn(t *testing.T) {
	root := filepath.Join(t.TempDir(), "recovery")
	dir, release := Claim(root)
	if dir != root {
		t.Fatalf("the first has %s", dir)
	}
	release()
	hold(t, root, other(t))
	second, release := Claim(root)
	if second != filepath.Join(root, "2") {
		t.Errorf("the second has %s", second)
	}
	hold(t, second, other(t))
	if third, _ := Claim(root); third != filepath.Join(root, "3") {
		t.Errorf("the third has %s", third)
	}
	release()
}

// What a window that crashed left is found by the next one, wherever it is, and
// its folder taken over.
func TestWhatIsLeftComesFirst(t *testing.T) {
	root := filepath.Join(t.TempDir(), "recovery")
	hold(t, root, gone(t))
	left := filepath.Join(root, "2")
	hold(t, left, gone(t))
	if err := file.WriteRecovery(left, "", file.New()); err != nil {
		t.Fatal(err)
	}
	dir, _ := Claim(root)
	if dir != left {
		t.Fatalf("claimed %s", dir)
	}
	if _, ok := Recovered("", dir); !ok {
		t.Error("the copy is not found there")
	}
	// While another process has it, it is let alone.
	hold(t, left, other(t))
	if dir, _ := Claim(root); dir != root {
		t.Errorf("claimed %s", dir)
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
