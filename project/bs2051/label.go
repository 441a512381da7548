// SPDX-License-Identifier: MIT

package bs2051

import (
	"strconv"
	"strings"
)

// layers are the letters with which labels begin, and the layers they stand for, from
// Rec. ITU-R BS.2051.
var layers = map[string]string{"B": "bottom layer", "M": "ear level", "U": "height layer", "UH": "height layer", "T": "top layer"}

// Means returns in plain words where the loudspeaker of a label belongs: "left side, ear
// level" of M+090, and of M+090 b, its copy. It is empty for what is no label. The layers and the sense of the
// azimuth, positive to the left, are the Recommendation's; what is front, wide, side
// and rear is common practice without a source.
func Means(label string) string {
	if strings.HasPrefix(label, "LFE") {
		return "subwoofer"
	}
	label, _, _ = strings.Cut(label, " ")
	sign := strings.IndexAny(label, "+-")
	if sign < 1 {
		return ""
	}
	layer, where := layers[label[:sign]], label[sign:]
	switch {
	case layer == "":
		return ""
	case where == "+SC":
		return "left edge of the screen, " + layer
	case where == "-SC":
		return "right edge of the screen, " + layer
	}
	azimuth, err := strconv.Atoi(where)
	if err != nil || azimuth < -180 || azimuth > 180 {
		return ""
	}
	side := "left"
	if azimuth < 0 {
		side, azimuth = "right", -azimuth
	}
	switch {
	case layer == layers["T"] && azimuth == 0:
		return "overhead, " + layer
	case azimuth == 0:
		return "centre, " + layer
	case azimuth == 180:
		return "rear centre, " + layer
	case azimuth <= 45:
		side += " front"
	case azimuth < 80:
		side += " wide"
	case azimuth <= 110:
		side += " side"
	default:
		side += " rear"
	}
	return side + ", " + layer
}

// InFull returns the name of a loudspeaker with where it belongs: "M+090 left side".
// Heights say so, those at ear level need not.
func InFull(name string) string {
	return strings.TrimSpace(name + " " + strings.TrimSuffix(Means(name), ", ear level"))
}
