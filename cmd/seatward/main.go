// Command seatward answers which check valve to put on a pump's discharge: from a
// station file to a ranked and reasoned answer.
package main

import (
	"os"
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }
