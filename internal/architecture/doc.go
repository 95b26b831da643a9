// Package architecture holds no code. Its tests keep the laws of the project: which
// package may import which, who may touch files, the network or the clock, and that
// every package and exported name says what it is for.
package architecture
