package draw

import (
	"encoding/json"
	"fmt"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// browse runs a headless browser on a file, one at a time on this machine, and
// skips the test where there is none.
func browse(t *testing.T, file string, args ...string) string {
	t.Helper()
	bin := ""
	for _, n := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if p, err := exec.LookPath(n); err == nil {
			bin = p
			break
		}
	}
	if bin == "" {
		if os.Getenv("TENTER_NEED_BROWSER") == "1" {
			t.Fatal("there is no Chromium on this machine")
		}
		t.Skip("there is no Chromium on this machine, so the pictures were not looked at in a browser")
	}
	all := append([]string{bin, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--user-data-dir=" + t.TempDir()}, args...)
	all = append(all, "file://"+file)
	if flock, err := exec.LookPath("flock"); err == nil {
		all = append([]string{flock, filepath.Join(os.TempDir(), "tenter-browser.lock")}, all...)
	}
	out, err := exec.Command(all[0], all[1:]...).Output()
	require.NoError(t, err)
	return string(out)
}

// measured is what the browser says of one text.
type measured struct {
	Picture, Text string
	X, Y, W, H    float64
	Box           [4]float64
}

const measure = `
const out = [];
for (const s of document.querySelectorAll('svg')) {
  const v = s.viewBox.baseVal;
  for (const t of s.querySelectorAll('text')) {
    const b = t.getBBox();
    out.push({Picture: s.getAttribute('aria-labelledby').split('-title')[0], Text: t.textContent, X: b.x, Y: b.y, W: b.width, H: b.height, Box: [v.x, v.y, v.width, v.height]});
  }
}
const pre = document.createElement('pre'); pre.id = 'out'; pre.textContent = JSON.stringify(out); document.body.append(pre);
`

// In a browser no lettering leaves the picture and none lies on other lettering.
// With TENTER_SHOTS set to a folder each picture is also photographed there, to
// be looked at.
func TestRendered(t *testing.T) {
	var names []string
	for n := range samples() {
		names = append(names, n)
	}
	sort.Strings(names)
	dir := t.TempDir()
	var page strings.Builder
	page.WriteString("<!DOCTYPE html><meta charset=utf-8><title>pictures</title><body>")
	shots := os.Getenv("TENTER_SHOTS")
	for _, n := range names {
		p, err := samples()[n](Options{Prefix: n})
		require.NoError(t, err)
		page.WriteString(p.String())
		if shots != "" {
			file := filepath.Join(dir, n+".svg")
			require.NoError(t, os.WriteFile(file, []byte(asFile(p)), 0o644))
			size := regexp.MustCompile(`width="(\d+)" height="(\d+)"`).FindStringSubmatch(p.String())
			browse(t, file, "--screenshot="+filepath.Join(shots, n+".png"), "--window-size="+size[1]+","+size[2], "--force-device-scale-factor=1.5")
		}
	}
	fmt.Fprintf(&page, "<script>%s</script>", measure)
	file := filepath.Join(dir, "all.html")
	require.NoError(t, os.WriteFile(file, []byte(page.String()), 0o644))
	dom := browse(t, file, "--dump-dom")
	m := regexp.MustCompile(`(?s)<pre id="out">(.*?)</pre>`).FindStringSubmatch(dom)
	require.NotNil(t, m, dom)
	var texts []measured
	require.NoError(t, json.Unmarshal([]byte(html.UnescapeString(m[1])), &texts))
	require.Greater(t, len(texts), len(names))
	const slack = 0.5
	for i, a := range texts {
		where := fmt.Sprintf("%s: %q", a.Picture, a.Text)
		require.Greater(t, a.W, 0.0, where)
		require.GreaterOrEqual(t, a.X, a.Box[0]-slack, where)
		require.GreaterOrEqual(t, a.Y, a.Box[1]-slack, where)
		require.LessOrEqual(t, a.X+a.W, a.Box[0]+a.Box[2]+slack, where)
		require.LessOrEqual(t, a.Y+a.H, a.Box[1]+a.Box[3]+slack, where)
		for _, b := range texts[i+1:] {
			if a.Picture != b.Picture {
				continue
			}
			w := min(a.X+a.W, b.X+b.W) - max(a.X, b.X)
			h := min(a.Y+a.H, b.Y+b.H) - max(a.Y, b.Y)
			require.False(t, w > 1 && h > 4, "%s lies on %q", where, b.Text)
		}
	}
}
