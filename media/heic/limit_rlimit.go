//go:build linux || darwin

package heic

import "syscall"

// addressRoom is what the program maps without using it: its own code, the
// toolkit's libraries, the runtime's reserve.
const addressRoom = 1536

// limitBySystem bounds the address space (MB) and processor time (s). A limit
// that the system refuses is left to the watch.
func limitBySystem(memoryMB, seconds int) {
	set := func(what int, most uint64) {
		var now syscall.Rlimit
		if syscall.Getrlimit(what, &now) != nil {
			return
		}
		now.Cur = min(now.Max, most)
		_ = syscall.Setrlimit(what, &now)
	}
	set(syscall.RLIMIT_AS, uint64(memoryMB+addressRoom)<<20)
	set(syscall.RLIMIT_CPU, uint64(2*seconds))
	set(syscall.RLIMIT_CORE, 0)
}
