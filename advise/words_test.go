package advise

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// Every word of the closed lists is one that some thing of the data bears, and no thing
// bears another: a word that nothing bears is misspelt, or waits for nothing.
func TestTheClosedListsAreThoseOfTheData(t *testing.T) {
	a := adviser(t)
	used := map[string][]string{}
	add := func(list string, words ...string) {
		for _, w := range words {
			if !slices.Contains(used[list], w) {
				used[list] = append(used[list], w)
			}
		}
	}
	for _, p := range a.Pieces {
		add("groups", p.Group)
		add("shapes", p.Shape)
		add("supports", p.Support)
		add("features", p.Features...)
		add("washings", p.Wash)
		add("wearers", p.Wearer)
	}
	for _, f := range a.Finishes {
		add("joins", f.Joined)
		add("edges", f.Edge)
	}
	for _, x := range a.Interfacings {
		add("attachments", x.Attach)
		add("weaves", x.Structure)
		add("roles", x.Role)
	}
	for _, s := range a.Cat.Structures {
		add("classes", s.Class)
	}
	for _, f := range a.Cat.Fibres {
		add("families", f.Family)
	}
	for _, k := range a.Cat.Cloths {
		add("cloth groups", k.Group)
	}
	for list, words := range map[string][]string{"groups": groups, "shapes": shapes, "supports": supports, "features": features, "washings": washings, "wearers": pieceWearers,
		"joins": joins, "edges": edges, "attachments": attachments, "weaves": supportWeaves, "roles": supportRoles, "classes": classes, "families": families, "cloth groups": clothGroups} {
		for _, w := range used[list] {
			require.Contains(t, words, w, list)
		}
		for _, w := range words {
			if list == "groups" || w == "none" || w == "fused" {
				continue // a house file may have pieces of other groups, held by nothing, and finishes whose layers are fused
			}
			require.Contains(t, used[list], w, "%s: nothing of the data is called so", list)
		}
	}
}
