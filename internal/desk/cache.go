package desk

import (
	"context"
	"sync"
)

// cache keeps the answers asked for last, at most so many. Two that ask for the same at the
// same time wait for one. The zero value with most set is ready.
type cache[K comparable, V any] struct {
	most int

	mu    sync.Mutex
	kept  map[K]*entry[V]
	clock uint64
}

type entry[V any] struct {
	done  chan struct{} // closed when value and err are there
	value V
	err   error
	used  uint64
}

// get gives what is kept, or makes it. An error is not kept. Who waits for another's
// making and sees it cancelled makes it again.
func (c *cache[K, V]) get(ctx context.Context, key K, fresh func() (V, error)) (V, error) {
	for {
		e, mine := c.entry(key)
		if mine {
			c.fill(key, e, fresh)
			return e.value, e.err
		}
		select {
		case <-e.done:
		case <-ctx.Done():
			var none V
			return none, ctx.Err()
		}
		if e.err == nil || ctx.Err() != nil {
			return e.value, e.err
		}
	}
}

// fill makes the value. Whatever happens, nobody waits for ever.
func (c *cache[K, V]) fill(key K, e *entry[V], fresh func() (V, error)) {
	made := false
	defer func() {
		if !made || e.err != nil {
			c.mu.Lock()
			delete(c.kept, key)
			c.mu.Unlock()
		}
		if !made {
			e.err = context.Canceled // fresh has panicked: others try for themselves
		}
		close(e.done)
	}()
	e.value, e.err = fresh()
	made = true
}

// entry is that of the key; mine where the caller has to fill it.
func (c *cache[K, V]) entry(key K) (e *entry[V], mine bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.clock++
	if e := c.kept[key]; e != nil {
		e.used = c.clock
		return e, false
	}
	if c.kept == nil {
		c.kept = map[K]*entry[V]{}
	}
	for len(c.kept) >= c.most {
		c.drop()
	}
	e = &entry[V]{done: make(chan struct{}), used: c.clock}
	c.kept[key] = e
	return e, true
}

// drop forgets the entry used longest ago. Those who wait for it hold it themselves.
func (c *cache[K, V]) drop() {
	var oldest K
	found := false
	for k, e := range c.kept {
		if !found || e.used < c.kept[oldest].used {
			oldest, found = k, true
		}
	}
	delete(c.kept, oldest)
}
