//go:build !linux

package main

// slowDown is known on Linux alone.
func slowDown(string, int, <-chan struct{}) {}

func spentBy([]int) spent { return spent{} }

func renderers(string) []int { return nil }
