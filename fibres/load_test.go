package fibres

import (
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"tenter/data"
	"tenter/fibres/fault"
)

// Every slip of the files is told in one reading, each with its place, what was expected
// and, where a word is nearly right, the right one; what names a thing that is not there,
// once the file of that thing is sound.
func TestSlipsOfTheFilesAreToldWithTheirPlace(t *testing.T) {
	for _, kind := range []string{"slip of its own", "named by a fact", "named by structures.csv", "named by cloths.csv"} {
		slipsAreTold(t, kind)
	}
}

// slipsAreTold makes the slips of a kind in one reading.
func slipsAreTold(t *testing.T, kind string) {
	files := fstest.MapFS{}
	names, err := fs.Glob(data.FS, "*.csv")
	require.NoError(t, err)
	for _, n := range names {
		b, err := fs.ReadFile(data.FS, n)
		require.NoError(t, err)
		files[n] = &fstest.MapFile{Data: b}
	}
	var want []string
	for _, x := range []struct{ file, row, said string }{
		{"mass.csv", "cloth,denm,1,2,3,,practice,practice,,", `: no cloth has the id "denm"; the id of a cloth; did you mean "denim"?`},
		{"mass.csv", "clot,denim,1,2,3,,practice,practice,,", `: of is "clot"; cloth, structure, fibre or treatment; `},
		{"mass.csv", "cloth,denim,300,350,400,,practise,practice,,", `: basis is "practise"; published, memory or practice; did you mean "practice"?`},
		{"mass.csv", "cloth,denim,300,350,400,,practice,nobody,,", `: source "nobody" is not in sources.csv; the id of a source; add the source first`},
		{"mass.csv", "cloth,denim,300,350,400,lo,practice,practice,,", `: given is "lo"; some of low, typical and high parted by "; ", or word; `},
		{"mass.csv", "cloth,denim,300,350,400,low,practice,practice,,", `: practice has no source that could give figures; an empty cell; `},
		{"mass.csv", "cloth,denim,300,350,400,,published,watson-1907,p. 1,", `: nothing says which figures the source gives; some of low, typical and high, or word; write word where the source only names or describes`},
		{"mass.csv", "cloth,denim,300,,400,,practice,practice,,", `: the figure is missing; low, typical and high, all three; leave the row out where nothing is known`},
		{"mass.csv", "cloth,denim,400,350,400,,practice,practice,,", `: low, typical and high are out of order; low ≤ typical ≤ high; `},
		{"fray.csv", "cloth,denim,low,medum,high,,practice,practice,,", `: "medum" is not on the scale of fray; none, low, medium, high; did you mean "medium"?`},
		{"content.csv", "cloth,denim,coton,100,100,100,,practice,practice,,", `: fibre "coton" is not in fibres.csv; the id of a fibre; did you mean "cotton"?`},
		{"content.csv", "structure,plain,cotton,100,100,100,,practice,practice,,", `: content is of a cloth; cloth; `},
		{"effects.csv", "structure,plain,mas,1,1,1,,practice,practice,,", `: no property is called "mas"; mass, bending-length, shrink-warp …; `},
		{"effects.csv", "structure,plain,mass,1,,1,,practice,practice,,", `: the factor is missing; low, typical and high; `},
		{"moisture.csv", "fibre,cotton,eu,410,practice,practice,,", `: allowance_pct is 410, outside what it can be; 0 to 40; `},
		{"effects.csv", "structure,plain,mass,1,1,21,,practice,practice,,", `: factor_high is 21, outside what it can be; -3 to 20; `},
		{"cloths.csv", "denim,again,,,,twill-2-1,,,,,,,Again.,practice,practice,,", ``}, // it stands before the one of the data, which is then told
		{"cloths.csv", ",no id,,,,plain,,,,,,,Say.,practice,practice,,", `: the id is empty; lower-case words joined by hyphens; `},
		// what is named and is not there
		{"cloths.csv", "aa-cloth,aa cloth,,,,plane,,,,,,,Say.,practice,practice,,", `: structure "plane" is not in structures.csv; the id of a structure; did you mean "lace" or "plain"?`},
		{"cloths.csv", "ab-cloth,ab cloth,,,,plain,sanforisd,,,,,,Say.,practice,practice,,", `: treatment "sanforisd" is not in treatments.csv; the id of a treatment; `},
		{"structures.csv", "zz,zz,,woven,plian,What.,practice,practice,,", `: weave "plian" is not in weaves.csv; the id of a lift plan; did you mean "plain"?`},
		{"fibres.csv", "zz,zz,,,cellulose,often,Burns.,,,practice,practice,,", `: felts is "often"; no, slow, yes; `},
		{"idle_words.csv", "Hand Dyed,practice,practice,,", `: "Hand Dyed" is no plain word; one word in small letters; `},
		{"shop_names.csv", "stuff,denom,1,practice,practice,,", `: cloth "denom" is not in cloths.csv; the id of a cloth; did you mean "denim"?`},
		{"shop_names.csv", "Denim,denim,1,practice,practice,,", `: "Denim" is the name of one cloth, denim; a name that is nobody's own; take the rows out, or name the cloth otherwise`},
	} {
		of := "slip of its own"
		if strings.Contains(x.said, "the id of a ") {
			of = "named by a fact"
			if x.file == "cloths.csv" || x.file == "structures.csv" {
				of = "named by " + x.file
			}
		}
		if of != kind {
			continue
		}
		head, rest, _ := strings.Cut(string(files[x.file].Data), "\n")
		files[x.file] = &fstest.MapFile{Data: []byte(head + "\n" + x.row + "\n" + rest)}
		if x.said != "" {
			want = append(want, "data/"+x.file+x.said)
		}
	}
	if kind == "slip of its own" {
		delete(files, "dots.csv")
		want = append(want, "data/dots.csv: the file is missing; ; ", `data/cloths.csv: id "denim" is there twice; each id once; rename one of them`)
	}
	_, err = read(files)
	var got []string
	for _, f := range fault.All(err) {
		file, place, _ := strings.Cut(f.Where, ".csv")
		if f.What != "the file is missing" {
			require.Regexp(t, `^:\d+:\d+$`, place, "%s", f.What)
		}
		got = append(got, file+".csv: "+f.What+"; "+f.Expected+"; "+f.Mend)
	}
	for _, w := range want {
		require.Contains(t, got, w)
	}
	require.Len(t, got, len(want), "no slip brings others with it")
}

// Of the rows of one fact the best basis comes first, save that a book of before 1960 does
// not outrank what is common now of what has changed since.
func TestWhichRowComesFirst(t *testing.T) {
	c, _ := toy()
	for id, year := range map[string]string{"old": "1959", "new": "1960", "undated": "", "span": "1950-60"} {
		c.Sources[id] = &Source{ID: id, Year: year}
	}
	row := func(b Basis, source string) Estimate { return Estimate{Basis: b, Sources: []string{source}} }
	mass, fray := ref{"cloth", "stuff", "mass"}, ref{"cloth", "stuff", "fray"}
	for _, x := range []struct {
		at          ref
		first, then Estimate
	}{
		{mass, row(Published, "new"), row(Practice, "practice")},
		{mass, row(Practice, "practice"), row(Published, "old")},
		{mass, row(Memory, "undated"), row(Practice, "practice")},
		{mass, row(Published, "span"), row(Practice, "practice")},
		{fray, row(Published, "old"), row(Practice, "practice")},
		{mass, row(Published, "new"), row(Memory, "new")},
	} {
		require.True(t, c.before(x.at, x.first, x.then), "%v", x)
		require.False(t, c.before(x.at, x.then, x.first), "%v", x)
	}
	year, old := c.Dated(Mass, row(Published, "old"))
	require.True(t, old)
	require.Equal(t, "1959", year)
	for _, x := range []struct {
		p Property
		e Estimate
	}{{Fray, row(Published, "old")}, {Mass, row(Published, "new")}, {Mass, row(Derived, "old")}, {Mass, row(Practice, "old")}, {Mass, Estimate{Basis: Published}}} {
		_, old := c.Dated(x.p, x.e)
		require.False(t, old, "%v", x)
	}
}
