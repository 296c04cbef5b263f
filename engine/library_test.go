package engine_test

import (
	"testing"

	"waywright/procedures/hclfile"
	"waywright/procedures/library"
)

func TestLibraryLoads(t *testing.T) {
	for _, n := range library.List() {
		src, _ := library.Source(n)
		_, diags := hclfile.Parse(src)
		for _, d := range diags {
			t.Log(n, d)
		}
	}
}
