package advise

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// piecesOfUse are the pieces that a use of data/stocked.csv may mean: a cloth that is
// bought for skirts makes some skirt, one for circle skirts makes that one. Uses that
// are no piece of ours (dyeing, kitchen straining, book work) are left out.
var piecesOfUse = map[string]string{
	"dresses":              "shift-dress gathered-dress fitted-dress bias-dress knitted-dress floating-dress",
	"summer dresses":       "shift-dress gathered-dress fitted-dress",
	"loose dresses":        "shift-dress gathered-dress",
	"fitted dresses":       "fitted-dress knitted-dress shift-dress",
	"wrap dresses":         "knitted-dress fitted-dress shift-dress bias-dress gathered-dress",
	"school dresses":       "child-dress pinafore",
	"evening dresses":      "floating-dress bias-dress fitted-dress ball-skirt",
	"party dresses":        "party-dress-child floating-dress gathered-dress fitted-dress",
	"bias dresses":         "bias-dress",
	"bias skirts":          "bias-skirt",
	"bias slips":           "bias-skirt bias-dress",
	"slips":                "bias-skirt bias-dress petticoat",
	"wedding dresses":      "ball-skirt floating-dress fitted-dress bias-dress",
	"bags":                 "tote-bag lined-bag drawstring-pouch",
	"skirts":               "straight-skirt gored-skirt full-circle-skirt half-circle-skirt quarter-circle-skirt gathered-skirt tiered-skirt pleated-skirt bias-skirt pencil-skirt dance-skirt",
	"circle skirts":        "full-circle-skirt half-circle-skirt",
	"pleated skirts":       "pleated-skirt",
	"kilts":                "pleated-skirt",
	"ball skirts":          "ball-skirt",
	"sculpted skirts":      "ball-skirt straight-skirt gored-skirt quarter-circle-skirt half-circle-skirt full-circle-skirt",
	"dance skirts":         "dance-skirt full-circle-skirt",
	"children's skirts":    "gathered-skirt tiered-skirt child-dress pinafore",
	"blouses":              "blouse shirt",
	"tops":                 "stretch-top cowl-top blouse cowl",
	"evening tops":         "cowl-top blouse stretch-top fitted-dress",
	"loose tops":           "blouse tunic shirt cowl-top",
	"cowl tops":            "cowl-top",
	"cowls":                "cowl cowl-top",
	"draped tops":          "cowl-top blouse",
	"sweatshirts":          "stretch-top knitted-dress tunic",
	"base layers":          "stretch-top",
	"vests":                "stretch-top",
	"trousers":             "tailored-trousers loose-trousers breeches leggings childs-dungarees",
	"summer trousers":      "tailored-trousers loose-trousers",
	"wide trousers":        "loose-trousers tailored-trousers",
	"jeans":                "loose-trousers childs-dungarees tailored-trousers breeches",
	"joggers":              "loose-trousers leggings",
	"leggings":             "leggings",
	"leotards":             "leotard",
	"swimwear":             "leotard",
	"dance":                "leotard dance-skirt stretch-top",
	"jackets":              "tailored-jacket unlined-jacket casual-jacket soft-jacket cardigan-jacket close-jacket rain-jacket",
	"unlined jackets":      "unlined-jacket soft-jacket cardigan-jacket",
	"cardigan jackets":     "cardigan-jacket",
	"loose jackets":        "soft-jacket unlined-jacket casual-jacket cardigan-jacket",
	"warm jackets":         "casual-jacket coat unlined-jacket quilted-waistcoat",
	"summer jackets":       "unlined-jacket soft-jacket tailored-jacket casual-jacket",
	"country jackets":      "tailored-jacket casual-jacket",
	"light jackets":        "casual-jacket unlined-jacket rain-jacket soft-jacket",
	"rain jackets":         "rain-jacket rain-cape",
	"trench coats":         "raincoat",
	"coats":                "coat frock-coat close-coat raincoat childs-coat",
	"country coats":        "coat raincoat",
	"evening coats":        "coat evening-cape frock-coat",
	"historical coats":     "frock-coat coat doublet",
	"suits":                "tailored-jacket tailored-trousers",
	"uniforms":             "tailored-jacket tailored-trousers frock-coat shirt coat",
	"tailoring":            "tailored-jacket tailored-trousers coat",
	"waistcoats":           "waistcoat",
	"gilets":               "quilted-waistcoat waistcoat",
	"cushions":             "cushion-cover box-cushion",
	"garden cushions":      "cushion-cover box-cushion",
	"chair covers":         "seat-cushion box-cushion cushion-cover",
	"scarves":              "scarf evening-wrap neckerchief stole",
	"shawls":               "triangular-shawl rectangular-wrap square-shawl winter-shawl",
	"stoles":               "stole rectangular-wrap evening-wrap",
	"sashes":               "wide-sash tied-sash",
	"bows":                 "bow bow-tie tied-sash",
	"ties":                 "necktie stock bow-tie",
	"capes":                "half-circle-cape full-circle-cape evening-cape rain-cape capelet",
	"circle capes":         "half-circle-cape full-circle-cape",
	"evening capes":        "evening-cape",
	"cloaks":               "hooded-cloak full-cloak gathered-cloak",
	"stage cloaks":         "hooded-cloak full-cloak gathered-cloak",
	"hoods":                "hood-two-part hood-with-band",
	"curtains":             "curtain sheer-curtain bedroom-curtain",
	"net curtains":         "sheer-curtain",
	"door curtains":        "curtain bedroom-curtain stage-curtain",
	"shirts":               "shirt close-shirt blouse",
	"loose shirts":         "shirt blouse tunic",
	"loose overshirts":     "shirt tunic smock unlined-jacket",
	"summer shirts":        "shirt blouse",
	"historical shirts":    "shirt smock blouse",
	"handkerchiefs":        "neckerchief",
	"aprons":               "apron waist-apron cooks-apron child-apron",
	"pinafores":            "pinafore",
	"children's clothes":   "child-dress childs-dungarees pinafore childs-coat dress-up-tunic",
	"baby clothes":         "baby-gown child-dress child-nightwear",
	"baby gowns":           "baby-gown",
	"baby blankets":        "blanket bed-quilt",
	"blankets":             "blanket blanket-wrap",
	"bodices":              "bodice boned-bodice fitted-dress",
	"pyjamas":              "pyjamas",
	"nightwear":            "nightgown pyjamas",
	"nightshirts":          "nightgown pyjamas",
	"nightwear for adults": "nightgown pyjamas",
	"dressing gowns":       "dressing-gown",
	"robes":                "dressing-gown surplice",
	"kimonos":              "dressing-gown",
	"petticoats":           "petticoat",
	"undergarments":        "petticoat bias-skirt nightgown stretch-top",
	"collars":              "collar",
	"cuffs":                "cuff",
	"sleeves":              "bishop-sleeve puff-sleeve blouse",
	"trial garments":       "toile",
	"workwear":             "casual-jacket apron loose-trousers smock childs-dungarees",
	"hats":                 "stiff-hat coif hood-two-part",
	"veils":                "veil",
	"tablecloths":          "table-cover",
	"table linen":          "table-cover",
	"patchwork":            "bed-quilt",
	"corsets":              "corset boned-bodice",
	"boned bodices":        "boned-bodice corset",
	"flags":                "outdoor-flag dance-flag bunting banner",
	"banners":              "banner",
	"vestments":            "chasuble church-stole surplice",
	"stage drapes":         "stage-curtain stage-skirt backcloth",
	"stage robes":          "surplice hooded-cloak chasuble academic-gown",
	"historical gowns":     "surplice gathered-dress ball-skirt fitted-dress",
	"bridesmaids":          "fitted-dress floating-dress ball-skirt gathered-dress",
	"wedding":              "ball-skirt fitted-dress floating-dress veil",
	"sportswear":           "leotard leggings stretch-top",
	"fancy dress":          "dress-up-tunic half-circle-cape tunic ball-skirt",
	"tutus":                "ruffle petticoat",
}

// TestBoughtClothsSuit: a cloth that shops sell for a use suits some piece of that use,
// perhaps with a reservation. Source: data/stocked.csv, bought_for (common practice,
// written down before the demands were).
func TestBoughtClothsSuit(t *testing.T) {
	a := adviser(t)
	asked, suited := 0, 0
	var wrong []string
	for _, s := range a.Stock {
		for _, use := range s.BoughtFor {
			pieces := strings.Fields(piecesOfUse[use])
			if len(pieces) == 0 {
				continue
			}
			asked++
			best, at, why := -1.0, "", ""
			for _, id := range pieces {
				p, err := a.Piece(id)
				require.NoError(t, err, use)
				m := MakeUp{Piece: p, Shell: &fibres.Subject{Cloth: a.Cat.Cloths[s.Cloth]}}
				if j := a.judge(m); j.rank() > best {
					best, at = j.rank(), fmt.Sprintf("%s %s %.2f", id, j.verdict, j.share)
					why = fmt.Sprint(objectedTo(a.say(j)))
				}
			}
			if best >= 20 {
				suited++
				continue
			}
			wrong = append(wrong, fmt.Sprintf("%s, bought for %s: best %s %s", s.Cloth, use, at, why))
		}
	}
	t.Logf("%d of %d uses suit", suited, asked)
	for _, w := range wrong {
		t.Log(w)
	}
}
