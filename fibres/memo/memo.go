// Package memo keeps what is dear to work out, for many who ask at once.
package memo

import (
	"slices"
	"sync"
)

// Cache keeps a value by its key. The zero value is ready, and keeps all it is
// given, unless it is held [Cache.Within] a limit. It may be used from many
// goroutines.
type Cache[K comparable, V any] struct {
	mu     sync.Mutex
	limit  int // 0: all is kept
	sizeOf func(V) int
	by     map[K]*entry[V]
	order  []K // oldest first
	size   int
}

type entry[V any] struct {
	once  sync.Once
	value V
	done  bool // the work ended, and not in a panic; guarded by once

	settled bool // the same; guarded by the cache, as is size
	size    int
}

// Within sets how much is kept, and returns the cache: the oldest go where the sizes
// of what is kept come to more than limit. Without sizeOf each value counts 1.
func (c *Cache[K, V]) Within(limit int, sizeOf func(V) int) *Cache[K, V] {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.limit, c.sizeOf = limit, sizeOf
	return c
}

// Get returns the value of a key, working it out the first time: of many who ask
// at once one works and the others wait. It is shared, so nobody may change it.
// Work that ends in a panic is tried again by the next who asks.
func (c *Cache[K, V]) Get(key K, work func() V) V {
	for {
		e := c.entry(key)
		e.once.Do(func() {
			defer c.settle(key, e)
			e.value = work()
			e.done = true
		})
		if e.done {
			return e.value
		}
	}
}

// Peek returns a value that is kept, and whether there is one.
func (c *Cache[K, V]) Peek(key K) (value V, ok bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if e := c.by[key]; e != nil && e.settled {
		return e.value, true
	}
	return value, false
}

// Put keeps a value that was worked out elsewhere, unless the key has one.
func (c *Cache[K, V]) Put(key K, value V) { c.Get(key, func() V { return value }) }

// Clear drops all that is kept.
func (c *Cache[K, V]) Clear() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.by, c.order, c.size = nil, nil, 0
}

// entry is that of a key, entered where it is new.
func (c *Cache[K, V]) entry(key K) *entry[V] {
	c.mu.Lock()
	defer c.mu.Unlock()
	e := c.by[key]
	if e == nil {
		e = &entry[V]{}
		if c.by == nil {
			c.by = map[K]*entry[V]{}
		}
		c.by[key] = e
		c.order = append(c.order, key)
	}
	return e
}

// settle counts what was worked out. It drops what failed, and the oldest where
// there is too much.
func (c *Cache[K, V]) settle(key K, e *entry[V]) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.by[key] != e { // the cache was cleared meanwhile
		return
	}
	if !e.done {
		c.drop(key)
		return
	}
	e.settled, e.size = true, 1
	if c.sizeOf != nil {
		e.size = c.sizeOf(e.value)
	}
	c.size += e.size
	for c.limit > 0 && c.size > c.limit {
		c.drop(c.order[0])
	}
}

func (c *Cache[K, V]) drop(key K) {
	c.size -= c.by[key].size
	delete(c.by, key)
	i := slices.Index(c.order, key)
	c.order = slices.Delete(c.order, i, i+1)
}
