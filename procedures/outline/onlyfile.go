package outline

import (
	"bytes"
	"io/fs"
	"time"
)

// onlyFile is a folder with one file.
type onlyFile struct {
	name string
	data []byte
}

// Open implements fs.FS.
func (f onlyFile) Open(name string) (fs.File, error) {
	if name != f.name {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return &openFile{f, bytes.NewReader(f.data)}, nil
}

type openFile struct {
	onlyFile
	*bytes.Reader
}

func (f *openFile) Stat() (fs.FileInfo, error) { return info{f.onlyFile}, nil }
func (f *openFile) Close() error               { return nil }

type info struct{ onlyFile }

func (i info) Name() string       { return i.name }
func (i info) Size() int64        { return int64(len(i.data)) }
func (i info) Mode() fs.FileMode  { return 0o444 }
func (i info) ModTime() time.Time { return time.Time{} }
func (i info) IsDir() bool        { return false }
func (i info) Sys() any           { return nil }
