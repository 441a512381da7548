// SPDX-License-Identifier: MIT

// Package document is the design that is open in the window: its file, its
// history and the recovery copy that outlives a crash. It knows no window.
// Unless said otherwise its functions are for one goroutine at a time.
package document

import (
	"fmt"
	"path/filepath"
	"strings"
	"sync"

	"earline/project"
	"earline/project/file"
)

// Ext is the extension of a design file.
const Ext = ".earline"

// Document is an open design.
type Document struct {
	*project.History
	path string // "" until it is saved
	dir  string // of recovery copies; "" keeps none

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
	d, err := file.Read(path)
	if err != nil {
		return nil, err
	}
	doc := New(d, dir)
	doc.path = path
	return doc, nil
}

// Path returns the document's file, empty when it is in none.
func (d *Document) Path() string { return d.path }

// Title returns what the window calls the document: the file's name, or the
// design's.
func (d *Document) Title() string {
	if d.path != "" {
		return filepath.Base(d.path)
	}
	if n := strings.TrimSpace(d.Design().Name); n != "" {
		return n
	}
	return "Unnamed room"
}

// Save writes the document to path, which becomes its file; Ext is added when
// it is missing. When it fails nothing has changed.
func (d *Document) Save(path string) error {
	path = WithExt(path)
	if err := file.Write(path, d.Design()); err != nil {
		return fmt.Errorf("could not save %s: %w", filepath.Base(path), err)
	}
	d.DropRecovery()
	d.path = path
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
	path := d.path
	d.writers.Go(func() {
		d.mu.Lock()
		defer d.mu.Unlock()
		if d.waiting == nil { // saved meanwhile, or written by another WriteRecovery
			return
		}
		err := file.WriteRecovery(d.dir, path, d.waiting)
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
	if d.dir == "" {
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	d.waiting = nil
	_ = file.RemoveRecovery(d.dir, d.path)
}

// Recovered returns the unsaved work that a crash left of the document at path
// (empty for one never saved); ok is false when there is none. It counts as
// unsaved.
func Recovered(path, dir string) (doc *Document, ok bool) {
	if dir == "" {
		return nil, false
	}
	d, ok, err := file.ReadRecovery(dir, path)
	if !ok || err != nil {
		return nil, false
	}
	doc = New(d, dir)
	doc.path = path
	doc.MarkUnsaved()
	return doc, true
}
