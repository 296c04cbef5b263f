package vet_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
	"waywright/procedures/vet"
)

func TestDump(t *testing.T) {
	files, _ := filepath.Glob("../../testdata/procedures/design/*.hcl")
	for _, f := range files {
		l, ds := hclfile.Parse(hclfile.Source{FS: os.DirFS(filepath.Dir(f)), Path: filepath.Base(f)})
		if ds.HasErrors() || l.Procedure == nil {
			continue
		}
		found := vet.Procedure(l.Procedure)
		var b strings.Builder
		diagnose.WriteText(&b, found.Diagnostics, l.Text)
		fmt.Println("=====", f, found.Prompts)
		fmt.Println(b.String())
		for _, z := range found.Zones {
			fmt.Println(z)
		}
	}
}
