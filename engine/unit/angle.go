package unit

import (
	"regexp"
	"strconv"
	"strings"
)

// angleForm is an angle in degrees, minutes and seconds, towards a quarter of the sky.
var angleForm = regexp.MustCompile(`^\s*([-−]?\d+(?:\.\d+)?)\s*(?:°|deg)\s*(?:(\d+(?:\.\d+)?)\s*['′’]\s*)?(?:(\d+(?:\.\d+)?)\s*(?:["″”]|'')\s*)?([NSEWnsew]?)\s*$`)

// Angle is an angle as ParseValue reads it, of one that is written as on a map:
// "48° 30' N" is "48.5 deg", and one to the south or west has a minus. It is "" for
// any other text.
func Angle(s string) string {
	m := angleForm.FindStringSubmatch(s)
	if m == nil {
		return ""
	}
	var parts [3]float64
	for i := range parts {
		parts[i], _ = strconv.ParseFloat(strings.Replace(m[i+1], "−", "-", 1), 64)
	}
	v, sign := parts[0], 1.0
	if strings.ContainsAny(m[1], "-−") {
		v, sign = -v, -1
	}
	v += parts[1]/60 + parts[2]/3600
	if strings.ContainsAny(m[4], "SsWw") {
		sign = -sign
	}
	return strconv.FormatFloat(sign*v, 'g', 6, 64) + " deg"
}
