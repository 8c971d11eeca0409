package folder

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestInstalledAndOffline(t *testing.T) {
	h := newHost(t, builtFiles(t))
	d := newDevice(t)
	d.open(h.at())
	d.until("document.getElementById('say').textContent.includes('ready') || document.getElementById('say').hidden || document.getElementById('say').textContent.includes('not')")
	t.Log(js[string](d, "document.getElementById('say').textContent + location.href"))
	d.ready("")
	t.Log(d.text("main"))
	h.stop()
	d.restart()
	d.open(h.at() + "#make?piece=cowl&finish=bagged-lining")
	d.ready("make")
	t.Log(d.text("main"))
	require.Contains(t, d.text("main"), "suit")
}
