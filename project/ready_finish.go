// SPDX-License-Identifier: MIT

package project

import "slices"

// ReadyFinish is a finish to begin with.
type ReadyFinish struct {
	Name string
	Finish
}

// ReadyFinishes returns finishes to choose from. Their names say what they look like and are
// nobody's product; their colours are common practice, no source: a sample beside a colour
// chart tells better.
func ReadyFinishes() []ReadyFinish {
	one := func(name string, m FinishMaterial, c Colour) ReadyFinish {
		return ReadyFinish{name, Finish{Material: m, Colour: c}}
	}
	return []ReadyFinish{
		one("walnut veneer", Timber, "#69503f"),
		one("dark walnut veneer", Timber, "#4f3f33"),
		one("oak veneer", Timber, "#a68a68"),
		one("pale oak veneer", Timber, "#bba585"),
		one("smoked oak veneer", Timber, "#5a4c40"),
		one("charcoal wool cloth", Cloth, "#4c4e52"),
		one("black stage cloth", Cloth, "#39383a"),
		one("ink-blue wool cloth", Cloth, "#3a475a"),
		one("warm grey wool cloth", Cloth, "#7d746a"),
		one("sand linen cloth", Cloth, "#a8987f"),
		one("oatmeal linen cloth", Cloth, "#bdb4a5"),
		one("moss-green wool cloth", Cloth, "#4c5645"),
		one("wine-red velvet", Cloth, "#66323a"),
		one("cognac leather", Leather, "#80604c"),
		one("espresso leather", Leather, "#51423a"),
		one("stone-grey leather", Leather, "#8b857d"),
		one("ink-blue leather", Leather, "#3d4b5f"),
		one("oxblood leather", Leather, "#633b3e"),
		one("ink-blue carpet", Carpet, "#3b495b"),
		one("charcoal carpet", Carpet, "#48484b"),
		one("mid-grey carpet", Carpet, "#7f8082"),
		one("sand carpet", Carpet, "#a3927a"),
		one("moss-green carpet", Carpet, "#4f5a48"),
		one("white paint", Paint, "#efece4"),
		one("warm grey paint", Paint, "#8f8a82"),
		one("dark warm grey paint", Paint, "#68625b"),
		one("charcoal paint", Paint, "#47484b"),
		one("dove-blue paint", Paint, "#76828d"),
		one("slate-blue paint", Paint, "#4d5c6b"),
		one("pale plaster", Plaster, "#dfdad1"),
		one("grey plaster", Plaster, "#a9a6a0"),
		one("clay plaster", Plaster, "#ab907a"),
		one("brushed bronze", Metal, "#a0805a"),
		one("brushed aluminium", Metal, "#b7b8ba"),
		one("blackened steel", Metal, "#4a4b4d"),
		one("black lacquer", Lacquer, "#38383a"),
		one("ink-blue lacquer", Lacquer, "#38465a"),
		one("ivory lacquer", Lacquer, "#e6dfd0"),
	}
}

// Suits reports whether p is usually finished in m; whatever is not suggested can be given
// all the same.
func (p FinishPlace) Suits(m FinishMaterial) bool {
	var usual []FinishMaterial
	switch p {
	case FloorFinish, PlatformsFinish:
		usual = []FinishMaterial{Carpet, Timber}
	case CeilingFinish:
		usual = []FinishMaterial{Plaster, Paint, Cloth, Timber}
	case WallsFinish, ScreenWallFinish:
		usual = []FinishMaterial{Cloth, Timber, Paint, Plaster, Leather}
	case TreatmentsFinish:
		usual = []FinishMaterial{Cloth, Leather, Timber}
	case JoineryFinish:
		usual = []FinishMaterial{Timber, Paint, Lacquer, Metal}
	case ChairsFinish:
		usual = []FinishMaterial{Leather, Cloth}
	case LoudspeakerFinish:
		usual = []FinishMaterial{Lacquer, Timber, Paint, Metal}
	}
	return slices.Contains(usual, m)
}
