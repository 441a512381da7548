// SPDX-License-Identifier: MIT

package document

import (
	"os"
	"path/filepath"
	"testing"

	"earline/assets"
	"earline/project/file"
)

// FuzzCopies: whatever lies in the folder of recovery copies, each copy is offered and
// can be restored with what it marks as its file, or is put aside and told once.
func FuzzCopies(f *testing.F) {
	f.Add(assets.Start(), "unsaved")
	f.Add([]byte(`{"unsaved_work_of": "/rooms/a.earline"}`), "a")
	f.Add([]byte{}, "..")
	f.Fuzz(func(t *testing.T, data []byte, name string) {
		dir := t.TempDir()
		path := filepath.Join(dir, filepath.Base(name)+file.RecoveryExt)
		if os.WriteFile(path, data, 0o600) != nil {
			return // no name for a file
		}
		copies, faults := Copies(dir, dir)
		if len(copies)+len(faults) != 1 {
			t.Fatalf("%d copies, %v", len(copies), faults)
		}
		if len(faults) == 1 {
			if again, more := Copies(dir, dir); len(again)+len(more) != 0 {
				t.Fatalf("told twice: %v", more)
			}
			return
		}
		d, err := copies[0].Restore(dir)
		if err != nil {
			t.Fatal(err)
		}
		if d.Path() != copies[0].Path || !d.Dirty() {
			t.Fatalf("restored as %q, unsaved %v; was of %q", d.Path(), d.Dirty(), copies[0].Path)
		}
	})
}
