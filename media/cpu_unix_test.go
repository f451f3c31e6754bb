//go:build unix

package media

import (
	"syscall"
	"time"
)

// processorTime is what this process and its ended children have used.
func processorTime() time.Duration {
	total := int64(0)
	for _, who := range []int{syscall.RUSAGE_SELF, syscall.RUSAGE_CHILDREN} {
		var u syscall.Rusage
		if syscall.Getrusage(who, &u) == nil {
			total += u.Utime.Nano() + u.Stime.Nano()
		}
	}
	return time.Duration(total)
}
