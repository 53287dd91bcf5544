// Command seatward answers which check valve to put on a pump's discharge: from a
// station file to a ranked and reasoned answer.
//
// The rules of its output: the result goes to standard output, in one piece, and only
// when there is one; all else goes to standard error with the prefix "seatward: ".
// The exit code is 0 when the question is answered, 1 when good input has no answer,
// and 2 when the input is bad; then nothing is written anywhere.
package main

import "os"

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }
