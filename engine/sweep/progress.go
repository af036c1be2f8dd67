package sweep

import "context"

type progressKey struct{}

// WithProgress has told called as points are computed: how many of how many. It is
// called often, and by one goroutine at a time.
func WithProgress(ctx context.Context, told func(done, total int)) context.Context {
	return context.WithValue(ctx, progressKey{}, told)
}

// meter counts points for whoever wants to be told.
type meter struct {
	told        func(done, total int)
	done, total int
}

func newMeter(ctx context.Context, total int) *meter {
	told, _ := ctx.Value(progressKey{}).(func(done, total int))
	return &meter{told: told, total: total}
}

// add counts points that have been computed; more than there were to be are left
// out.
func (m *meter) add(n int) {
	if m.done = min(m.done+n, m.total); m.told != nil {
		m.told(m.done, m.total)
	}
}
