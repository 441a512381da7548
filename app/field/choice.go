// SPDX-License-Identifier: MIT

package field

import "slices"

// Choice is one of a list of options, all different, held by its index.
type Choice struct {
	Select
	options func() []string
	value   func() int
	set     func(int) error
	fault   func(string)
	quiet   bool
}

// NewChoice returns a choice of options; set takes the index of the one that is chosen.
func NewChoice(options func() []string, value func() int, set func(int) error) *Choice {
	return newChoice(options, value, set, func(string) {})
}

func newChoice(options func() []string, value func() int, set func(int) error, fault func(string)) *Choice {
	c := &Choice{options: options, value: value, set: set, fault: fault}
	c.init(c)
	c.PlaceHolder = "-"
	c.OnChanged = func(string) {
		if !c.quiet {
			c.choose(c.SelectedIndex())
		}
	}
	c.Update()
	return c
}

// Update shows the current options and value.
func (c *Choice) Update() {
	c.quiet = true
	defer func() { c.quiet = false }()
	if o := c.options(); !slices.Equal(o, c.Offered()) {
		c.SetOptions(o)
	}
	i := c.value()
	switch {
	case i < 0 || i >= len(c.Options):
		if c.Selected != "" {
			c.ClearSelected()
		}
	case c.Selected != c.Options[i]:
		c.SetSelectedIndex(i)
	}
}

func (c *Choice) choose(i int) {
	if i < 0 || i == c.value() {
		return
	}
	if err := c.set(i); err != nil {
		c.fault(OneLine(err))
	} else {
		c.fault("")
	}
	c.Update()
}

// Check is a tick.
type Check struct {
	Tick
	value func() bool
	set   func(bool) error
	fault func(string)
	quiet bool
}

func newCheck(value func() bool, set func(bool) error, fault func(string)) *Check {
	c := &Check{value: value, set: set, fault: fault}
	c.init(c)
	c.OnChanged = func(on bool) {
		if c.quiet {
			return
		}
		if err := c.set(on); err != nil {
			c.fault(OneLine(err))
		} else {
			c.fault("")
		}
		c.Update()
	}
	c.Update()
	return c
}

// Update shows the current value.
func (c *Check) Update() {
	c.quiet = true
	defer func() { c.quiet = false }()
	if v := c.value(); v != c.Checked {
		c.SetChecked(v)
	}
}
