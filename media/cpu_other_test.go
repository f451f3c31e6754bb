//go:build !unix

package media

import "time"

func processorTime() time.Duration { return 0 }
