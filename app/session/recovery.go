// SPDX-License-Identifier: MIT

package session

import "time"

// startAutosave sees to it that the recovery copy is written soon.
func (s *Session) startAutosave() {
	if s.autosave != nil || s.host.closed {
		return
	}
	var t *time.Timer
	t = time.AfterFunc(s.Autosave, func() {
		s.host.post(func() {
			if s.autosave == t {
				s.autosave = nil
				s.WriteRecovery()
			}
		})
	})
	s.autosave = t
}

// dropAutosave writes no recovery copy later.
func (s *Session) dropAutosave() {
	if s.autosave != nil {
		s.autosave.Stop()
		s.autosave = nil
	}
}

// WriteRecovery writes the recovery copy in the background, or removes it when
// there is nothing to lose.
func (s *Session) WriteRecovery() {
	if !s.Doc.Dirty() {
		s.Doc.DropRecovery()
		return
	}
	s.Doc.WriteRecovery(func(err error) {
		s.host.post(func() { s.Say("No recovery copy can be written: " + err.Error()) })
	})
}

// Discard gives up the unsaved changes and their recovery copy: there is nothing
// to recover.
func (s *Session) Discard() {
	s.dropAutosave()
	s.Doc.DropRecovery()
}

// Rescue writes the recovery copy and waits for it: the program is about to die.
func (s *Session) Rescue() {
	if s.Doc.Dirty() {
		s.Doc.WriteRecovery(nil)
		s.Doc.Wait()
	}
}
