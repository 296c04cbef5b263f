//go:build !linux

package main

// becomeOrdinary does nothing: the tests are not run as superuser here.
func becomeOrdinary() {}
