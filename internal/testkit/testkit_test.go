package testkit

import "testing"

func TestFirstDifference(t *testing.T) {
	for _, x := range []struct{ want, got, says string }{
		{"a\nb\n", "a\nb\n", ""},
		{"a\nb\nc", "a\nx\ny", `line 2 is "x", not "b"`},
		{"a\nb", "a", `line 2 is missing: "b"`},
		{"a", "a\nb", `line 2 should not be there: "b"`},
		{"", "a", `line 1 is "a", not ""`},
	} {
		if says := firstDifference(x.want, x.got); says != x.says {
			t.Errorf("%q and %q: %s, not %s", x.want, x.got, says, x.says)
		}
	}
}
