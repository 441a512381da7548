// SPDX-License-Identifier: MIT

// Package disk replaces files whole or not at all.
package disk

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
)

// Replace puts data in the place of the file at path, wholly or not at all:
// whatever happens on the way, path holds the old content or the new. A file that
// exists keeps its permissions; a symbolic link stays one and its target is
// written; anything but a regular file is refused. Libraries were looked at:
// natefinch/atomic 1.0.1 leaves a new file readable by its owner alone and
// turns a link into a file; google/renameio 2 leaves out Windows.
func Replace(path string, data []byte) (err error) {
	if target, err := filepath.EvalSymlinks(path); err == nil {
		path = target
	}
	mode := fs.FileMode(0o666) // less the umask
	old, err := os.Stat(path)
	if err == nil && !old.Mode().IsRegular() {
		return &fs.PathError{Op: "write", Path: path, Err: errors.New("not a regular file")}
	}
	exists := err == nil
	temp := fmt.Sprintf("%s.%016x.tmp", path, rand.Uint64())
	f, err := os.OpenFile(temp, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			f.Close() // again, at worst
			os.Remove(temp)
		}
	}()
	if exists {
		if err = f.Chmod(old.Mode().Perm()); err != nil && !errors.Is(err, errors.ErrUnsupported) {
			return err
		}
	}
	if _, err = f.Write(data); err != nil {
		return err
	}
	if err = f.Sync(); err != nil { // else a power cut could leave the new name on no content
		return err
	}
	if err = f.Close(); err != nil {
		return err
	}
	return os.Rename(temp, path)
}
