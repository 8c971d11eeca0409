package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"tenter/advise"
	"tenter/page/phone/folder"
)

func newPageExport(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "export DIR",
		Short: "the page as a folder for a phone, without a network",
		Long: `Writes the page as a folder of static files. Put it on any web host with https:
a phone that opens it once has it for good, and works out the same answers without
a network. The folder holds none of your records; they move as one file (tenter
store export). A folder exported before is replaced as a whole.` + exitStatus,
		Example: `  tenter page export site
  tenter page export /srv/www/tenter`,
		Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			w, err := folder.Export(args[0], version())
			if err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(struct {
					Version int    `json:"version"`
					Dir     string `json:"dir"`
					Stamp   string `json:"stamp"`
					Files   int    `json:"files"`
					Bytes   int64  `json:"bytes"`
				}{advise.Version, w.Dir, w.Stamp, w.Files, w.Bytes})
			}
			fmt.Fprintf(a.out, "%s: %d files, %.1f MB, build %s\n", clean(w.Dir), w.Files, float64(w.Bytes)/1e6, w.Stamp)
			a.para("", "Put the folder on a web host with https and open its address on the phone once. It then works without a network.", 2)
			return nil
		},
	}
}
