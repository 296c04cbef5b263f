package logbook

import (
	"bytes"
	"fmt"
	"path/filepath"

	"github.com/google/renameio/v2"

	"waywright/report"
	"waywright/report/html"
)

// The record of a run, made from its journal.
const (
	recordName = "record.json"
	pageName   = "record.html"
)

// Record makes the record of a run as it stands.
func (r *Run) Record() report.Record {
	return report.Build(r.State, r.Head.Hash.String(), r.Head.N).SpoiltSince(r.Since)
}

// WriteRecord writes the record into the run's folder, as JSON and as a page,
// and returns the names of the files. Each is there whole, the old one or the
// new one.
func (r *Run) WriteRecord() (files []string, err error) {
	rec := r.Record()
	text, err := report.Marshal(rec)
	if err != nil {
		return nil, fmt.Errorf("run %s: %w", r.Name, err)
	}
	var page bytes.Buffer
	if err := html.Write(&page, rec); err != nil {
		return nil, fmt.Errorf("run %s: %w", r.Name, err)
	}
	for _, f := range []struct {
		name string
		data []byte
	}{{recordName, text}, {pageName, page.Bytes()}} {
		path := filepath.Join(r.Dir, f.name)
		if err := renameio.WriteFile(path, f.data, 0o666); err != nil {
			return files, fmt.Errorf("run %s: its record cannot be written: %w. The journal has everything; make the record again with: waywright report %s", r.Name, err, r.Name)
		}
		files = append(files, path)
	}
	return files, nil
}
