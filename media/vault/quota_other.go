//go:build !unix

package vault

// edquot stands for "quota used up" where the system has no such number.
const edquot = 0x7fffffff
