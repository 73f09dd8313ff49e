package ask

import (
	"fmt"
	"slices"
	"strings"

	"github.com/agnivade/levenshtein"
	"github.com/google/jsonschema-go/jsonschema"
)

// units are the units that keys end in, the longer before those they end in
// themselves, and how a message writes them.
var units = []struct{ suffix, word string }{
	{"_pct_dry_basis", "% on dry basis"}, {"_pct_wet_basis", "% on wet basis"},
	{"_g_m2", "g/m2"}, {"_g_l", "g/L"}, {"_m3_s", "m3/s"}, {"_l_per_kg", "L/kg"}, {"_per_kg", "money per kg"}, {"_per_hour", "money an hour"},
	{"_hours_per_day", "hours a day"},
	{"_pct", "%"}, {"_mm", "mm"}, {"_cm", "cm"}, {"_in", "in"}, {"_m2", "m2"}, {"_ml", "mL"}, {"_gal", "gal"}, {"_qt", "qt"},
	{"_kg", "kg"}, {"_lb", "lb"}, {"_oz", "oz"}, {"_kn", "kN"}, {"_kpa", "kPa"}, {"_psi", "psi"}, {"_hours", "hours"},
	{"_min", "min"}, {"_c", "°C"}, {"_f", "°F"}, {"_l", "L"}, {"_g", "g"}, {"_m", "m"}, {"_h", "hours"},
}

// stem returns a key without its unit, and how the unit is written.
func stem(key string) (stem, unit string) {
	for _, u := range units {
		if s, ok := strings.CutSuffix(key, u.suffix); ok && s != "" {
			return s, u.word
		}
	}
	return key, ""
}

// inUnit returns " in g/m2" for the path of a key that ends in a unit.
func inUnit(path string) string {
	key := path[strings.LastIndexByte(path, '.')+1:]
	key, _, _ = strings.Cut(key, "[")
	if _, unit := stem(key); unit != "" {
		return " in " + unit
	}
	return ""
}

// unknown says of a key that there is none such, and which was probably meant:
// the same in another unit, the same in another place, or one spelt alike.
func (r *reader) unknown(key, path string, s *jsonschema.Schema) string {
	known := keysOf(s)
	name, unit := stem(key)
	for _, k := range known {
		if kn, ku := stem(k); strings.EqualFold(kn, name) && k != key && ku != unit && ku != "" {
			return fmt.Sprintf("There is no such key: use %s, in %s.", k, ku)
		}
	}
	if near := nearest(key, known); near != "" {
		return fmt.Sprintf("There is no such key; did you mean %s?", near)
	}
	if places := r.places(key); len(places) > 0 && !slices.Contains(places, path) {
		return fmt.Sprintf("There is no such key here: it belongs under %s.", strings.Join(places, " or "))
	}
	if len(known) == 0 {
		return "There is no such key."
	}
	return fmt.Sprintf("There is no such key; known here are %s.", strings.Join(known, ", "))
}

// keysOf lists the keys of an object, in the order of the documents.
func keysOf(s *jsonschema.Schema) []string {
	known := slices.Clone(s.PropertyOrder)
	if s.PropertyNames != nil {
		for _, k := range s.PropertyNames.Enum {
			known = append(known, fmt.Sprint(k))
		}
	}
	return known
}

// nearest returns the key spelt most alike, or "" where none is.
func nearest(key string, known []string) string {
	best, off := "", len(key)/3+1
	for _, k := range known {
		if d := levenshtein.ComputeDistance(strings.ToLower(cut(key)), k); d < off || d == off && best == "" && off > 1 {
			best, off = k, d
		}
	}
	if best == "" && len(key) >= 4 {
		for _, k := range known {
			if strings.HasPrefix(k, strings.ToLower(key)) || samePieces(strings.ToLower(key), k) {
				return k
			}
		}
	}
	return best
}

// samePieces reports whether every piece of a key stands in another:
// grammage_g_m2 in grammage_conditioned_g_m2.
func samePieces(key, in string) bool {
	have := strings.Split(in, "_")
	for _, p := range strings.Split(key, "_") {
		if !slices.Contains(have, p) {
			return false
		}
	}
	return true
}

// places lists the objects of the request that have such a key.
func (r *reader) places(key string) []string {
	var out []string
	var walk func(s *jsonschema.Schema, path string)
	walk = func(s *jsonschema.Schema, path string) {
		if s == nil {
			return
		}
		if slices.Contains(keysOf(s), key) {
			if path == "" {
				path = "the request itself"
			}
			out = append(out, path)
			return
		}
		for _, k := range s.PropertyOrder {
			walk(s.Properties[k], under(path, k))
		}
		walk(s.Items, path+"[]")
	}
	walk(r.root, "")
	return out
}
