// SPDX-License-Identifier: MIT

package document

import (
	"os"
	"path/filepath"
	"strconv"

	"github.com/gofrs/flock"
)

// lockName is the name of the file in a folder of recovery copies that the window
// which has the folder holds locked. The system lets go of the lock however the
// window ends; the file stays.
const lockName = "in-use"

// Claim returns a folder under root for the recovery copies of this window alone,
// and what gives it up. root is one itself, the first; others have numbers. Should
// nothing work it is root, shared.
func Claim(root string) (dir string, release func()) {
	const most = 64 // windows at once
	for n := 1; n <= most; n++ {
		dir := root
		if n > 1 {
			dir = filepath.Join(root, strconv.Itoa(n))
		}
		if err := os.MkdirAll(dir, 0o700); err != nil {
			return root, func() {}
		}
		lock := lockOf(dir)
		ok, err := lock.TryLock()
		if err != nil { // no locks here, as over some networks: a folder that nobody else can have
			if dir, err := os.MkdirTemp(root, "window-"); err == nil {
				return dir, func() {}
			}
			break
		}
		if ok {
			return dir, func() { _ = lock.Unlock() }
		}
	}
	return root, func() {}
}

func lockOf(dir string) *flock.Flock {
	return flock.New(filepath.Join(dir, lockName), flock.SetPermissions(0o600))
}

// whileFree calls f unless a window has the folder, which no window gets meanwhile.
// Where there are no locks f is called.
func whileFree(dir string, f func()) {
	lock := lockOf(dir)
	ok, err := lock.TryLock()
	if !ok && err == nil {
		return
	}
	defer func() { _ = lock.Unlock() }()
	f()
}
