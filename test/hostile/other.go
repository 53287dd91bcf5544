//go:build !linux

package main

import "fmt"

func main() {
	fmt.Println("hostile measures what a process takes as Linux tells it, and runs there only")
}
