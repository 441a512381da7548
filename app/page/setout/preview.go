// SPDX-License-Identifier: MIT

package setout

// openPreview shows every sheet, nearly as large as the window. The page comes to the
// top: only there the drawings are worked out.
func (p *setOutPage) openPreview() {
	if p.frame.Busy() {
		return
	}
	p.frame.Commit()
	p.frame.Raise(p)
	p.previewing = true
	p.large.forget()
	p.large.at = p.viewer.at
	p.frame.Ask.Large("Print preview", p.largePane, p.large, func() { p.previewing = false })
	p.Update()
}
