// SPDX-License-Identifier: MIT

package file

import (
	"io"
	"os"
	"path/filepath"

	"earline/project"
	"earline/project/disk"
)

// Read reads the design in the file at path. Errors of the content are those of
// Decode, under the file's base name; errors of the disk wrap fs errors.
func Read(path string) (*project.Design, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, MaxSize+1))
	if err != nil {
		return nil, err
	}
	return Decode(data, filepath.Base(path))
}

// Write writes d to the file at path, wholly or not at all: whatever happens on
// the way, path holds the old content or the new. A file that exists keeps its
// permissions; a symbolic link stays one and its target is written.
func Write(path string, d *project.Design) error {
	data, err := Encode(d)
	if err != nil {
		return err
	}
	return disk.Replace(path, data)
}
