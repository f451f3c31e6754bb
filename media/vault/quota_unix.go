//go:build unix

package vault

import "syscall"

const edquot = syscall.EDQUOT
