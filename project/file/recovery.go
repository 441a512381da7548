// SPDX-License-Identifier: MIT

package file

import (
	"os"
	"path/filepath"
	"slices"
	"unicode/utf8"

	"earline/project"
	"earline/project/disk"
)

// RecoveryExt ends the name of a recovery copy.
const RecoveryExt = ".recovery.earline"

// Recovery is what a recovery copy holds: unsaved work that outlives a crash. A
// copy is a design file with two fields more, which Decode passes over: it can be
// opened like any other.
type Recovery struct {
	Design *project.Design
	Path   string // of the file that the work is of; empty when it was never saved
	Base   string // what tells that file's content as the work knew it; empty for none
}

// The fields of a copy that no other file has.
const (
	recoveryPath = "unsaved_work_of"
	recoveryBase = "began_from_sha256"
)

// recovery is the copy, in the order of its fields.
type recovery struct {
	Format  string `json:"format"`
	Version int    `json:"version"`
	Path    string `json:"unsaved_work_of,omitempty"`
	Base    string `json:"began_from_sha256,omitempty"`
	project.Design
}

// WriteRecovery writes a recovery copy to the file at name as Write does. It makes
// its folder, readable by the user alone, if there is none.
func WriteRecovery(name string, r Recovery) error {
	if err := r.Design.Validate(); err != nil {
		return err
	}
	if !utf8.ValidString(r.Path) { // JSON would make another name of it
		r.Path, r.Base = "", ""
	}
	version := lowest(r.Design)
	data, err := encode(recovery{Format, version, r.Path, r.Base, full(r.Design, version)})
	if err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(name), 0o700); err != nil {
		return err
	}
	return disk.Replace(name, data)
}

// ReadRecovery reads the recovery copy in the file at name. Errors are as Read's.
func ReadRecovery(name string) (Recovery, error) {
	data, err := disk.Read(name, MaxSize)
	if err != nil {
		return Recovery{}, err
	}
	return decodeRecovery(data, filepath.Base(name), Version, migrations)
}

// takeRecovery takes the fields out of root that only a copy has.
func takeRecovery(root node) (rest node, r Recovery) {
	members, ok := root.value.([]member)
	if !ok {
		return root, r
	}
	members = slices.DeleteFunc(members, func(m member) bool {
		text, _ := m.value.value.(string)
		switch m.name {
		case recoveryPath:
			r.Path = text
		case recoveryBase:
			r.Base = text
		default:
			return false
		}
		return true
	})
	return node{value: members}, r
}
