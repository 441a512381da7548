// SPDX-License-Identifier: MIT

package file

import (
	"path/filepath"

	"earline/project"
	"earline/project/disk"
)

// Read reads the design in the file at path. Errors of the content are those of
// Decode, under the file's base name; errors of the disk wrap fs errors.
func Read(path string) (*project.Design, error) {
	data, err := disk.Read(path, MaxSize)
	if err != nil {
		return nil, err
	}
	return Decode(data, filepath.Base(path))
}

// ReadPolar reads the table of polar data in the file at path; see DecodePolar.
// Errors of the content are under name, errors of the disk wrap fs errors.
func ReadPolar(path, name string) (project.Polar, error) {
	data, err := disk.Read(path, MaxSize)
	if err != nil {
		return project.Polar{}, err
	}
	return DecodePolar(data, name)
}

// Write writes d to the file at path, wholly or not at all, as disk.Replace does.
func Write(path string, d *project.Design) error {
	data, err := Encode(d)
	if err != nil {
		return err
	}
	return disk.Replace(path, data)
}
