// Hemwright puts every performer of a youth show into every look on time.
package main

import (
	"os"

	"hemwright/internal/face/cli"
)

func main() { os.Exit(cli.Run(os.Args[1:], os.Stdout, os.Stderr)) }
