package page

import (
	"context"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"github.com/chromedp/cdproto/cdp"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// printed is the text of the page as it comes out of a printer.
func (b *tab) printed() string {
	b.t.Helper()
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		b.t.Skip("there is no pdftotext on this machine, so the printed pages were not read")
	}
	pdf, err := chromedp.Run(b.ctx, func(ctx context.Context, t *chromedp.Target) ([]byte, error) {
		res, err := cdp.Call(ctx, t, cdppage.PrintToPDF, cdppage.PrintToPDFParams{})
		return res.Data, err
	})
	require.NoError(b.t, err)
	file := filepath.Join(b.t.TempDir(), "page.pdf")
	require.NoError(b.t, os.WriteFile(file, pdf, 0o644))
	out, err := exec.Command(tool, file, "-").Output()
	require.NoError(b.t, err)
	return string(out)
}

// letters are the letters and figures of a text: lines are broken elsewhere on paper.
func letters(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, s)
}

// What is printed holds every caution that the screen holds, folded up or not: it is
// printed, and the sheets are read.
func TestBrowserPrintsEveryCaution(t *testing.T) {
	b := newTab(t)
	q := url.Values{"piece": {"half-circle-cape"}, "finish": {"bagged-lining"}, "shell": {"cotton-velvet"}, "lining": {"viscose-twill"}}
	for at, where := range map[string]string{"/make?": "summary.say", "/check?": "summary.say", "/cut?": "details.cautions li, details.level > p"} {
		b.open(at + q.Encode())
		said := js[[]string](b, `[...document.querySelectorAll("`+where+`")].map(e => e.textContent)`)
		require.NotEmpty(t, said, at)
		paper := letters(b.printed())
		for _, s := range said {
			require.Contains(t, paper, letters(s), "%s: a caution is not printed", at)
		}
	}
}
