// SPDX-License-Identifier: MIT

// Package document is the design that is open in the window: its file, its
// history and the recovery copy that outlives a crash. It knows no window.
// Unless said otherwise its functions are for one goroutine at a time.
package document

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"earline/project"
	"earline/project/disk"
	"earline/project/file"
)

// Ext is the extension of a design file.
const Ext = ".earline"

// Document is an open design.
type Document struct {
	*project.History
	path string // "" until it is saved
	base string // the sum of what path held when last read or written; "" for none
	dir  string // of recovery copies; "" keeps none
	copy string // the recovery copy's file, this document's alone; "" until one is written

	mu      sync.Mutex
	waiting *project.Design // to be written as the recovery copy
	writers sync.WaitGroup
}

// New returns a document that is in no file yet and counts as saved. dir is
// where its recovery copy goes; empty keeps none.
func New(d *project.Design, dir string) *Document {
	return &Document{History: project.NewHistory(d), dir: dir}
}

// Open returns the document in the file at path. The error has all its faults;
// see project.Faults.
func Open(path, dir string) (*Document, error) {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs // the working folder may change, the document's must not
	}
	data, err := disk.Read(path, file.MaxSize)
	if err != nil {
		return nil, err
	}
	d, err := file.Decode(data, filepath.Base(path))
	if err != nil {
		return nil, err
	}
	doc := New(d, dir)
	doc.path, doc.base = path, sum(data)
	return doc, nil
}

// Path returns the document's file, empty when it is in none.
func (d *Document) Path() string { return d.path }

// Title returns what the window calls the document: the file's name, or the
// design's.
func (d *Document) Title() string { return title(d.path, d.Design()) }

func title(path string, d *project.Design) string {
	if path != "" {
		return filepath.Base(path)
	}
	if n := strings.TrimSpace(d.Name); n != "" {
		return n
	}
	return "Unnamed room"
}

// State says what became of the document's file since it was read or written by
// this document: someone else may have saved the same room.
func (d *Document) State() State { return state(d.path, d.base) }

// state compares the file at path with the sum of what it held.
func state(path, base string) State {
	if path == "" {
		return Same
	}
	data, err := disk.Read(path, file.MaxSize)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return Gone
	case err == nil && sum(data) == base:
		return Same
	}
	return Changed
}

// sum tells one content of a file from another.
func sum(data []byte) string {
	s := sha256.Sum256(data)
	return hex.EncodeToString(s[:])
}

// Save writes the document to path, which becomes its file; Ext is added when
// it is missing. Whatever the file holds is replaced; see State. When it fails
// nothing has changed.
func (d *Document) Save(path string) error {
	path = WithExt(path)
	data, err := file.Encode(d.Design())
	if err == nil {
		err = disk.Replace(path, data)
	}
	if err != nil {
		return fmt.Errorf("could not save %s: %w", filepath.Base(path), err)
	}
	d.DropRecovery()
	d.path, d.base = path, sum(data)
	d.MarkSaved()
	return nil
}

// WithExt returns path with the extension of a design file.
func WithExt(path string) string {
	if strings.EqualFold(filepath.Ext(path), Ext) {
		return path
	}
	return path + Ext
}

// WriteRecovery writes the recovery copy of the present state in the background.
// failed is called, on another goroutine, when that goes wrong; it may be nil.
func (d *Document) WriteRecovery(failed func(error)) {
	if d.dir == "" {
		return
	}
	d.mu.Lock()
	d.waiting = d.Design()
	d.mu.Unlock()
	if d.copy == "" {
		d.copy = newCopyName(d.dir)
	}
	name, r := d.copy, file.Recovery{Path: d.path, Base: d.base}
	d.writers.Go(func() {
		d.mu.Lock()
		defer d.mu.Unlock()
		if d.waiting == nil { // saved meanwhile, or written by another WriteRecovery
			return
		}
		r.Design = d.waiting
		err := file.WriteRecovery(name, r)
		d.waiting = nil
		if err != nil && failed != nil {
			failed(err)
		}
	})
}

// Wait returns once every recovery copy that was asked for is written.
func (d *Document) Wait() { d.writers.Wait() }

// DropRecovery removes the recovery copy, once the document is saved or given up.
// A copy that cannot be removed is offered at the next start, which does no harm.
func (d *Document) DropRecovery() {
	if d.copy == "" {
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	d.waiting = nil
	_ = os.Remove(d.copy)
}

// newCopyName returns a name for a recovery copy that no other has.
func newCopyName(dir string) string {
	return filepath.Join(dir, fmt.Sprintf("%016x%s", rand.Uint64(), file.RecoveryExt))
}
