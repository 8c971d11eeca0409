package address

import (
	"slices"
	"strings"
)

// The keys of what was picked to compare, which layer it is picked for, and what a
// swap took the place of.
const (
	KeyPick = "pick" // cloths and swatches, with commas between
	KeyOf   = "of"   // shell or lining
	KeyWas  = "was"  // "shell:wool-flannel"
)

// OfReference before a name means the cloth of the reference, also where a swatch is
// called so.
const OfReference = "cloth:"

// maxPicked is how many may be picked at once.
const maxPicked = 24

// Picks are the cloths that were picked to compare.
func (a Ask) Picks() []string {
	var out []string
	for _, name := range strings.Split(a.Get(KeyPick), ",") {
		if name = strings.TrimSpace(name); name != "" && !slices.Contains(out, name) && len(out) < maxPicked {
			out = append(out, name)
		}
	}
	return out
}

// Toggled is the list of picks with one more, or without it where it is there.
func Toggled(list []string, name string) string {
	name = strings.ReplaceAll(name, ",", " ")
	if i := slices.Index(list, name); i >= 0 {
		return strings.Join(slices.Concat(list[:i], list[i+1:]), ",")
	}
	return strings.Join(append(slices.Clone(list), name), ",")
}

// Fragment is the name of a thing as it may stand behind # and as an id.
func Fragment(name string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-' {
			return r
		}
		return '_'
	}, strings.ToLower(name))
}
