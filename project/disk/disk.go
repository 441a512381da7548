// SPDX-License-Identifier: MIT

// Package disk puts files in their place whole or not at all, and reads no more
// of one than is wanted.
package disk

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"time"
)

// Replace puts data in the place of the file at path, wholly or not at all:
// whatever happens on the way, path holds the old content or the new. A file that
// exists keeps its permissions, and one that is read-only is refused; a symbolic
// link stays one and its target is written, whether it is there yet or not; other
// names of the file (hard links) keep the old content; anything but a regular file
// is refused. Errors are of type *fs.PathError with path in them. Libraries were
// looked at: natefinch/atomic 1.0.1 leaves a new file readable by its owner alone
// and turns a link into a file; google/renameio 2 leaves out Windows.
func Replace(path string, data []byte) error {
	file, err := followed(path)
	if err != nil {
		return named(path, err)
	}
	mode, err := writable(file)
	if err != nil {
		return named(path, err)
	}
	return named(path, place(file, data, mode, os.Rename))
}

// CanReplace returns the error that Replace would return at path as things are, and
// leaves nothing there: for who works long on what is then written.
func CanReplace(path string) error {
	file, err := followed(path)
	if err == nil {
		_, err = writable(file)
	}
	if err == nil {
		err = place(file, nil, 0, func(temp, _ string) error { return os.Remove(temp) })
	}
	return named(path, err)
}

// Create writes a file that is not there yet, wholly or not at all. The error
// wraps fs.ErrExist when there is one.
func Create(path string, data []byte) error {
	if _, err := os.Lstat(path); err == nil {
		return &fs.PathError{Op: "create", Path: path, Err: fs.ErrExist}
	}
	return named(path, place(path, data, 0, func(temp, path string) error {
		err := os.Link(temp, path) // which, unlike a renaming, replaces nothing
		if err == nil {
			_ = os.Remove(temp)
			return nil
		}
		if errors.Is(err, fs.ErrExist) {
			return err
		}
		return os.Rename(temp, path) // a file system without links
	}))
}

// Read returns what is in the file at path, but no more than one byte over limit:
// who sees more than limit knows that it is too large.
func Read(path string, limit int) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, int64(limit)+1))
}

// named returns err as one of path: the temporary file's name helps nobody.
func named(path string, err error) error {
	if err == nil {
		return nil
	}
	cause := err
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &p):
		cause = p.Err
	case errors.As(err, &l):
		cause = l.Err
	}
	return &fs.PathError{Op: "write", Path: path, Err: cause}
}

// followed returns the file that path means, at the end of symbolic links.
func followed(path string) (string, error) {
	const most = 40 // as of Linux
	for range most {
		to, err := os.Readlink(path)
		if err != nil {
			return path, nil // no link, or nothing
		}
		if !filepath.IsAbs(to) {
			dir, err := filepath.EvalSymlinks(filepath.Dir(path))
			if err != nil {
				return "", err
			}
			to = filepath.Join(dir, to)
		}
		path = to
	}
	return "", errors.New("symbolic links in a circle")
}

// writable returns the permissions of the file at path, 0 when there is none yet;
// an error when it is not to be written.
func writable(path string) (fs.FileMode, error) {
	old, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return 0, nil
	case err != nil:
		return 0, err
	case !old.Mode().IsRegular():
		return 0, errors.New("not a regular file")
	case old.Mode().Perm()&0o200 == 0: // which an administrator could write all the same
		return 0, errReadOnly
	}
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if errors.Is(err, fs.ErrPermission) {
		return 0, errReadOnly
	}
	if err != nil {
		return 0, err
	}
	return old.Mode().Perm(), f.Close()
}

var errReadOnly = fmt.Errorf("the file is read-only: %w", fs.ErrPermission)

// place writes data to a temporary file beside path and has put give it its name.
// mode 0 is that of a new file.
func place(path string, data []byte, mode fs.FileMode, put func(temp, path string) error) (err error) {
	dir := filepath.Dir(path)
	sweep(dir)
	temp := filepath.Join(dir, fmt.Sprintf(tempName, rand.Uint64()))
	f, err := os.OpenFile(temp, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666) // less the umask
	if errors.Is(err, fs.ErrPermission) {
		return fmt.Errorf("nothing can be written in its folder: %w", fs.ErrPermission)
	}
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			f.Close() // again, at worst
			os.Remove(temp)
		}
	}()
	if mode != 0 {
		if err = f.Chmod(mode); err != nil && !errors.Is(err, errors.ErrUnsupported) {
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
	return put(temp, path)
}

// tempName names a temporary file: hidden, and short whatever the file is called.
const tempName = ".earline-%016x.tmp"

// sweep removes from dir the temporary files of processes that were killed while
// they wrote. What is younger than any writing takes may be another's at work.
func sweep(dir string) {
	const longest = 10 * time.Minute
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		if ours, _ := filepath.Match(".earline-????????????????.tmp", e.Name()); !ours || !e.Type().IsRegular() {
			continue
		}
		if info, err := e.Info(); err == nil && time.Since(info.ModTime()) > longest {
			_ = os.Remove(filepath.Join(dir, e.Name()))
		}
	}
}
