// SPDX-License-Identifier: MIT

package document

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"time"

	"earline/project"
	"earline/project/file"
)

// Copy is a recovery copy that a window left when it ended.
type Copy struct {
	Title string    // what that window called the document
	Path  string    // the document's file; empty when it was never saved
	Time  time.Time // when it was written
	File  State     // how the document's file stands to it

	name string // the copy's own file
}

// State says what became of a document's file since it was read or written.
type State uint8

// The states.
const (
	Same    State = iota // it holds what was read or written; so does no file at all
	Changed              // something else was written to it
	Gone                 // it is not there any more
)

// Copies returns the recovery copies that are left under root in folders that no
// window has, and in own, which this one has; the newest first. What cannot be read
// is moved aside, so that it is told once, and is in no later copy's way; faults
// says what and where to.
func Copies(root, own string) (copies []Copy, faults []error) {
	for _, dir := range folders(root, own) {
		names := copiesIn(dir)
		if len(names) == 0 {
			continue
		}
		look := func() {
			for _, name := range names {
				c, err := readCopy(name)
				switch {
				case err == nil:
					copies = append(copies, c)
				case !errors.Is(err, os.ErrNotExist): // else another window has just restored it
					faults = append(faults, setAside(name, err))
				}
			}
		}
		if dir == own {
			look()
		} else {
			whileFree(dir, look)
		}
	}
	slices.SortStableFunc(copies, func(a, b Copy) int { return cmp.Or(b.Time.Compare(a.Time), cmp.Compare(a.name, b.name)) })
	return copies, faults
}

// Held reports whether a window has a folder under root with copies in it: one that
// works, or one that has just been killed and is not quite gone.
func Held(root, own string) bool {
	for _, dir := range folders(root, own) {
		if dir == own || len(copiesIn(dir)) == 0 {
			continue
		}
		held := true
		whileFree(dir, func() { held = false })
		if held {
			return true
		}
	}
	return false
}

// folders returns the folders that may hold copies.
func folders(root, own string) []string {
	all := []string{root}
	entries, _ := os.ReadDir(root)
	for _, e := range entries {
		if e.IsDir() {
			all = append(all, filepath.Join(root, e.Name()))
		}
	}
	if !slices.Contains(all, own) {
		all = append(all, own)
	}
	return all
}

// copiesIn returns the files of the copies in a folder.
func copiesIn(dir string) (names []string) {
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		if ok, _ := filepath.Match("*"+file.RecoveryExt, e.Name()); ok && e.Type().IsRegular() {
			names = append(names, filepath.Join(dir, e.Name()))
		}
	}
	return names
}

func readCopy(name string) (Copy, error) {
	info, err := os.Stat(name)
	if err != nil {
		return Copy{}, err
	}
	r, err := file.ReadRecovery(name)
	if err != nil {
		return Copy{}, err
	}
	return Copy{Title: title(r.Path, r.Design), Path: r.Path, Time: info.ModTime(), File: state(r.Path, r.Base), name: name}, nil
}

// setAside gives a copy that cannot be read another name.
func setAside(name string, why error) error {
	if all := project.Faults(why); len(all) > 0 {
		why = all[0]
	}
	aside := name + ".unreadable"
	if err := os.Rename(name, aside); err != nil {
		aside = name
	}
	return fmt.Errorf("unsaved work was kept that cannot be read: %w; it stays as %s", why, aside)
}

// Restore returns the unsaved work as a document whose recovery copies go to dir,
// the copy among them: it stays until the document is saved or given up.
func (c Copy) Restore(dir string) (*Document, error) {
	name := newCopyName(dir)
	if err := os.Rename(c.name, name); err != nil {
		if errors.Is(err, os.ErrNotExist) {
			return nil, fmt.Errorf("another window has restored or discarded %s", c.Title)
		}
		return nil, err
	}
	r, err := file.ReadRecovery(name)
	if err != nil {
		return nil, err
	}
	d := New(r.Design, dir)
	d.path, d.base, d.copy = r.Path, r.Base, name
	d.MarkUnsaved()
	return d, nil
}

// Discard removes the copy.
func (c Copy) Discard() error {
	if err := os.Remove(c.name); !errors.Is(err, os.ErrNotExist) {
		return err
	}
	return nil
}
