package figures

import (
	"context"
	"runtime"
	"sync"
)

// parallel does n pieces of work on all cores. The first failure ends the rest and is what is told; a panic comes out
// where the work was asked for.
func parallel(ctx context.Context, n int, do func(ctx context.Context, i int) error) error {
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	next, wrong, thrown := make(chan int), sync.Once{}, any(nil)
	var failed error
	var workers sync.WaitGroup
	work := func(i int) {
		defer func() {
			if r := recover(); r != nil {
				wrong.Do(func() { thrown = r })
				stop(context.Canceled)
			}
		}()
		if err := do(ctx, i); err != nil {
			wrong.Do(func() { failed = err })
			stop(err)
		}
	}
	for range min(runtime.GOMAXPROCS(0), n) {
		workers.Go(func() {
			for i := range next {
				work(i)
			}
		})
	}
	for i := 0; i < n && ctx.Err() == nil; i++ {
		select {
		case next <- i:
		case <-ctx.Done():
		}
	}
	close(next)
	workers.Wait()
	if thrown != nil {
		panic(thrown)
	}
	if failed == nil && n > 0 {
		failed = ctx.Err()
	}
	return failed
}
