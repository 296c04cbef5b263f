package hclfile_test

import (
	"fmt"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"waywright/procedures/diagnose"
	"waywright/procedures/hclfile"
	"waywright/procedures/hclfile/schema"
)

// places finds every attribute with the blocks that it stands in.
func places(b *schema.Block, path []*schema.Block, visit func(path []*schema.Block, a schema.Attr)) {
	path = append(path[:len(path):len(path)], b)
	for _, a := range b.Attrs {
		visit(path, a)
	}
	for _, u := range b.Blocks {
		places(u.Block, path, visit)
	}
}

// nonsense writes a file in which an attribute has a value that fits nowhere,
// and returns the line that it stands in.
func nonsense(path []*schema.Block, a schema.Attr) (src string, line int) {
	var b strings.Builder
	for i, k := range path[1:] {
		label := ""
		if k.Label != schema.NoLabel {
			label = fmt.Sprintf(" %q", fmt.Sprintf("x%d", i))
		}
		fmt.Fprintf(&b, "%s%s {\n", k.Type, label)
		if k == schema.Correction && i < len(path)-2 {
			b.WriteString("  amount = um(1)\n") // what stands inside needs one
		}
	}
	line = strings.Count(b.String(), "\n") + 1
	fmt.Fprintf(&b, "  %s = [nonsense.of.no.kind, 3]\n", a.Name)
	b.WriteString(strings.Repeat("}\n", len(path)-1))
	return b.String(), line
}

// No attribute of the schema is passed over: nonsense in it is told.
func TestEveryAttributeIsRead(t *testing.T) {
	try := func(file string, parse func(fs.FS) diagnose.List) func([]*schema.Block, schema.Attr) {
		return func(path []*schema.Block, a schema.Attr) {
			src, line := nonsense(path, a)
			for _, d := range parse(fstest.MapFS{file: {Data: []byte(src)}}) {
				if d.Subject.Start.Line == line && d.Severity == diagnose.Error {
					return
				}
			}
			t.Errorf("nothing is said of the nonsense in\n%s", src)
		}
	}
	parse := func(file string) func(fs.FS) diagnose.List {
		return func(dir fs.FS) diagnose.List {
			_, ds := hclfile.Parse(hclfile.Source{FS: dir, Path: file})
			return ds
		}
	}
	places(schema.ProcedureFile, nil, try("p.hcl", parse("p.hcl")))
	places(schema.SharedFile, nil, try("shared.hcl", parse("shared.hcl")))
	places(schema.OverhaulFile, nil, func(path []*schema.Block, a schema.Attr) {
		if path[len(path)-1] == schema.Overhaul {
			try("o.hcl", parse("o.hcl"))(path, a)
		}
	})
	places(schema.MachinesFile, nil, try("m.hcl", func(dir fs.FS) diagnose.List { _, ds := hclfile.Machines(dir, "m.hcl"); return ds }))
	places(schema.InstrumentsFile, nil, try("i.hcl", func(dir fs.FS) diagnose.List { _, ds := hclfile.Instruments(dir, "i.hcl"); return ds }))
	places(schema.PeopleFile, nil, try("q.hcl", func(dir fs.FS) diagnose.List { _, ds := hclfile.People(dir, "q.hcl"); return ds }))
	places(schema.ShopFile, nil, try("s.hcl", func(dir fs.FS) diagnose.List { _, ds := hclfile.Shop(dir, "s.hcl"); return ds }))
}

// Tasks are read when a plan is.
func TestEveryAttributeOfATaskIsRead(t *testing.T) {
	for _, a := range schema.Task.Attrs {
		src := "overhaul \"o\" {\n  title = \"O\"\n  machine = \"any\"\n  revision = \"1\"\n}\ntask \"t\" {\n  " + a.Name + " = [nonsense.of.no.kind, 3]\n}\n"
		_, ds := hclfile.Parse(hclfile.Source{FS: fstest.MapFS{"o.hcl": {Data: []byte(src)}}, Path: "o.hcl"})
		told := false
		for _, d := range ds {
			told = told || d.Subject.Start.Line == 7
		}
		if !told {
			t.Errorf("nothing is said of the nonsense in\n%s", src)
		}
	}
}
