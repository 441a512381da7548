// SPDX-License-Identifier: MIT

package assets

// Words returns the catalogue of a language other than English by its code, for
// app/words.Read: "de". There must be one.
func Words(code string) []byte { return read("words/" + code + ".json") }
