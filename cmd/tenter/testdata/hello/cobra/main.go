// Command cobra says hello and does nothing else: the least that a cobra
// program costs to start.
package main

import (
	"fmt"
	"os"

	"github.com/spf13/cobra"
)

func main() {
	c := &cobra.Command{Use: "hello", Run: func(*cobra.Command, []string) { fmt.Println("hello") }}
	if c.Execute() != nil {
		os.Exit(1)
	}
}
