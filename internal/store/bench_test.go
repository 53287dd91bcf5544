package store

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
)

// station is about as long as a station file with every fact told.
var station = strings.Repeat("  - length: 120 m # a run of the main\n", 100)

// filled is a store with n studies.
func filled(b *testing.B, n int) (*Store, []string) {
	b.Helper()
	s := newStore(b)
	if _, err := s.writer.Exec("PRAGMA synchronous = OFF"); err != nil { // for the filling alone
		b.Fatal(err)
	}
	ids := make([]string, n)
	for i := range ids {
		k, err := s.Create(context.Background(), draft(fmt.Sprint("Station ", i), fmt.Sprint("# ", i, "\n", station)))
		if err != nil {
			b.Fatal(err)
		}
		ids[i] = k.ID
	}
	if _, err := s.writer.Exec("PRAGMA synchronous = FULL"); err != nil {
		b.Fatal(err)
	}
	return s, ids
}

func BenchmarkSave(b *testing.B) {
	for _, size := range []int{4 << 10, 1 << 20} {
		b.Run(fmt.Sprintf("%dKiB", size>>10), func(b *testing.B) {
			s, ctx := newStore(b), context.Background()
			k := must[Kept](b)(s.Create(ctx, draft("A", "")))
			rest := strings.Repeat("x", size-12)
			for b.Loop() {
				k = must[Kept](b)(s.Save(ctx, k.ID, k.Revision, draft("A", fmt.Sprintf("%012d", k.Revision)+rest)))
			}
		})
	}
}

func BenchmarkOf10000(b *testing.B) {
	s, ids := filled(b, 10_000)
	ctx := context.Background()
	b.Run("List", func(b *testing.B) {
		for b.Loop() {
			if all, err := s.List(ctx); err != nil || len(all) != len(ids) {
				b.Fatal(len(all), err)
			}
		}
	})
	b.Run("Get", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			must[Kept](b)(s.Get(ctx, ids[i*7919%len(ids)]))
		}
	})
	b.Run("GetFromManyAtOnce", func(b *testing.B) {
		b.RunParallel(func(pb *testing.PB) {
			for i := 0; pb.Next(); i++ {
				if _, err := s.Get(ctx, ids[i*7919%len(ids)]); err != nil {
					b.Error(err)
				}
			}
		})
	})
	b.Run("Healthy", func(b *testing.B) {
		for b.Loop() {
			if err := s.Healthy(ctx); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("Backup", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			if err := s.Backup(ctx, filepath.Join(b.TempDir(), fmt.Sprint(i))); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("Open", func(b *testing.B) {
		for b.Loop() {
			again, err := Open(s.path)
			if err != nil {
				b.Fatal(err)
			}
			if err := again.Close(); err != nil {
				b.Fatal(err)
			}
		}
	})
}
