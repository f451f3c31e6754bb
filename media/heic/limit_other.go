//go:build !linux && !darwin

package heic

// limitBySystem does nothing where the system has no such limits; the watch in
// limitProcess holds there.
func limitBySystem(int, int) {}
