package plant

import (
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"
)

// SideBySide does n things that do not touch each other, on all processors. Each files its
// result under its own number, so that it does not matter which is done first.
func SideBySide(n int, do func(i int)) {
	var next atomic.Int64
	var workers sync.WaitGroup
	var failed atomic.Value
	for range min(runtime.GOMAXPROCS(0), n) {
		workers.Go(func() {
			defer func() { // a fault of ours falls back on who asked, who may hold it
				if fault := recover(); fault != nil {
					failed.CompareAndSwap(nil, fmt.Sprintf("%v\n%s", fault, debug.Stack()))
				}
			}()
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(i)
			}
		})
	}
	workers.Wait()
	if fault := failed.Load(); fault != nil {
		panic(fault)
	}
}
