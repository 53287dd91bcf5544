// Package pool does things that do not touch each other side by side.
package pool

import (
	"fmt"
	"runtime"
	"runtime/debug"

	"golang.org/x/sync/errgroup"
)

// Each does 0 to n-1 on all processors. Each files its result under its own number, so that
// it does not matter which is done first. A fault of the program in one of them falls back
// on who asked, who may hold it.
func Each(n int, do func(i int)) {
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	for i := range n {
		g.Go(func() (err error) {
			defer func() {
				if fault := recover(); fault != nil {
					err = fmt.Errorf("%v\n%s", fault, debug.Stack())
				}
			}()
			do(i)
			return nil
		})
	}
	if err := g.Wait(); err != nil {
		panic(err.Error())
	}
}
