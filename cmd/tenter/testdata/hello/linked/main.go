// Command linked says hello with bleve and SQLite linked in and not used.
package main

import (
	"fmt"
	"os"

	"github.com/blevesearch/bleve/v2"
	"github.com/spf13/cobra"
	_ "modernc.org/sqlite"
)

func main() {
	c := &cobra.Command{Use: "hello", Run: func(*cobra.Command, []string) { fmt.Println("hello") }}
	if len(os.Args) > 5 { // never: keeps the linker from dropping it
		_, _ = bleve.NewMemOnly(bleve.NewIndexMapping())
	}
	if c.Execute() != nil {
		os.Exit(1)
	}
}
