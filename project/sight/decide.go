// SPDX-License-Identifier: MIT

package sight

// decide returns what decides pair (i, k), which has drivers: the worse ear to
// the deciding driver. The auditor must sit in seat i. It touches no result.
func (a *auditor) decide(i, k int) Path {
	a.gather(i, k)
	driver := a.r.Speakers[k].Spec.Deciding()
	var left, right Path
	a.path(&left, i, k, driver, Left)
	a.path(&right, i, k, driver, Right)
	if worse(&right, &left) {
		return right
	}
	return left
}
