package fault

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestFaultPrintsOnlyTheLinesItHas(t *testing.T) {
	for _, c := range []struct {
		name string
		f    Fault
		want string
	}{
		{"what alone", Fault{What: "no cloth is called \"satene\""}, "no cloth is called \"satene\""},
		{"with place", Fault{Where: "a.csv:3:7", What: "empty"}, "a.csv:3:7: empty"},
		{"whole", Fault{Where: "--droop", What: "too steep", Expected: "at most 45°", Mend: "pull the strip back"},
			"--droop: too steep\n  expected: at most 45°\n  mend: pull the strip back"},
		{"without expectation", Fault{What: "too steep", Mend: "pull back"}, "too steep\n  mend: pull back"},
	} {
		t.Run(c.name, func(t *testing.T) { require.Equal(t, c.want, c.f.Error()) })
	}
}

func TestCauseIsFoundButNotPrinted(t *testing.T) {
	f := &Fault{What: "cannot read the wardrobe list", Err: fs.ErrNotExist}
	require.ErrorIs(t, f, fs.ErrNotExist)
	require.NotContains(t, f.Error(), fs.ErrNotExist.Error())
}

func TestAtKeepsTheFirstPlace(t *testing.T) {
	f := (&Fault{What: "x"}).At("--mass")
	require.Equal(t, "--mass", f.Where)
	require.Equal(t, "--mass", f.At("--lining-mass").Where)
}

func TestSortOrdersPlacesByNumber(t *testing.T) {
	l := List{{Where: "b.csv:2:1"}, {Where: "a.csv:10:2"}, {Where: "a.csv:9:30"}, {Where: "a.csv:10:1"}, {Where: "a.csv"}}
	l.Sort()
	var got []string
	for _, f := range l {
		got = append(got, f.Where)
	}
	require.Equal(t, []string{"a.csv", "a.csv:9:30", "a.csv:10:1", "a.csv:10:2", "b.csv:2:1"}, got)
}

func TestSortKeepsTheOrderOfOnePlace(t *testing.T) {
	l := List{{Where: "a:1", What: "first"}, {Where: "a:1", What: "second"}}
	l.Sort()
	require.Equal(t, "first", l[0].What)
}

func TestListPrintsTwentyThenCounts(t *testing.T) {
	var l List
	for i := range 23 {
		l = append(l, &Fault{Where: fmt.Sprintf("a.csv:%d:1", i+1), What: "empty"})
	}
	lines := strings.Split(l.Error(), "\n")
	require.Len(t, lines, 21)
	require.Equal(t, "and 3 more", lines[20])
	require.NotContains(t, l[:20].Error(), "more")
}

func TestEmptyListIsNoError(t *testing.T) {
	require.NoError(t, List{}.OrNil())
	require.Error(t, List{{What: "x"}}.OrNil())
}

func TestAddTakesFaultsListsAndOtherErrors(t *testing.T) {
	var l List
	l.Add(nil)
	l.Add((*Fault)(nil))
	require.Empty(t, l, "neither nil is a finding")
	l.Add(&Fault{What: "one"})
	l.Add(fmt.Errorf("reading: %w", List{{What: "two"}, {What: "three"}}))
	l.Add(errors.New("four"))
	require.Len(t, l, 4)
	require.Equal(t, "three", l[2].What)
	require.Equal(t, Internal, l[3].Kind, "an error of no known shape is our own mistake")
}

func TestErrorsAsSeesEachFindingOfAList(t *testing.T) {
	err := List{{What: "x"}, {What: "y", Err: fs.ErrPermission}}.OrNil()
	require.ErrorIs(t, err, fs.ErrPermission)
}

func TestNearRanksSlipsOfThePen(t *testing.T) {
	known := []string{"cotton-sateen", "silk-sateen", "wool-flannel", "medium", "low"}
	for _, c := range []struct {
		word string
		want []string
	}{
		{"medum", []string{"medium"}},
		{"mediun", []string{"medium"}},
		{"lwo", []string{"low"}},
		{"sateen", []string{"cotton-sateen", "silk-sateen"}}, // as near as each other: by the alphabet,
		{"Wool-Flannel", []string{"wool-flannel"}},
		{"gabardine", nil},
	} {
		t.Run(c.word, func(t *testing.T) { require.Equal(t, c.want, Near(c.word, known, 2)) })
	}
}

func TestNearGivesEachWordOnce(t *testing.T) {
	require.Equal(t, []string{"low"}, Near("low", []string{"low", "low"}, 3))
}

func TestDidYouMean(t *testing.T) {
	require.Equal(t, `did you mean "medium"?`, DidYouMean("medum", []string{"low", "medium"}, "see the list"))
	require.Equal(t, "see the list", DidYouMean("xyzzyx", []string{"low", "medium"}, "see the list"))
}

func TestDistanceIsAMetricOnSmallWords(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"", "abc", 3}, {"fray", "frey", 1}, {"fray", "fary", 1}, {"fray", "fra", 1}, {"satin", "sateen", 2}} {
		require.Equal(t, c.want, distance([]rune(c.a), []rune(c.b)), c.a+" "+c.b)
		require.Equal(t, c.want, distance([]rune(c.b), []rune(c.a)), "the same both ways")
	}
}

// What is named and is not there is told once, with how many places name it, and not while
// its own file has findings; what is wrong by itself is always told.
func TestRootsOfFindings(t *testing.T) {
	named := func(where, what string) *Fault {
		return &Fault{Where: where, What: what, Names: "cloth", Mend: "look"}
	}
	files := map[string]string{"cloth": "cloths.csv"}
	list := List{named("c.csv:9:1", `no cloth has the id "lwn"`), named("c.csv:10:1", `there is no cloth "lwn"`), named("b.csv:1:1", `there is no cloth "lwn"`), named("b.csv:2:1", `there is no cloth "denm"`),
		{Where: "a.csv:1:1", What: "one"}, {Where: "a.csv:2:1", What: "one"}}
	got := list.Roots(files)
	require.Len(t, got, 4)
	require.Equal(t, "b.csv:1:1: there is no cloth \"lwn\"\n  mend: look; 2 more places name it", got[2].Error())
	require.Equal(t, "b.csv:2:1: there is no cloth \"denm\"\n  mend: look", got[3].Error())
	require.Equal(t, got[2].Error(), got.Roots(files)[2].Error(), "looked through again it is the same")
	broken := append(got, &Fault{Where: "cloths.csv:3:1", What: "no structure"})
	require.Len(t, broken.Roots(files), 3)
}
