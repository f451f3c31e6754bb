package main

import "os"

func main() {
	if trendCommand().Execute() != nil {
		os.Exit(1)
	}
}
