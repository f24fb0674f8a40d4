package web

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"
)

// file is a rig file on disk, read anew each time.
type file struct{ path string }

// File returns the rig file at a path as a source. It is opened when it is read, so a file that is missing now may be there later.
func File(path string) Source { return file{path} }

// mostText is what is read of a rig file at most; package rig refuses less than this and says why.
const mostText = 2 << 20

func (f file) Name() string { return filepath.Base(f.path) }

func (f file) Read() (Text, error) {
	h, err := os.Open(f.path)
	if err != nil {
		return Text{}, fmt.Errorf("the rig file cannot be opened: %w", err)
	}
	defer h.Close()
	info, err := h.Stat()
	if err != nil {
		return Text{}, fmt.Errorf("the rig file cannot be read: %w", err)
	}
	data, err := io.ReadAll(io.LimitReader(h, mostText))
	if err != nil {
		return Text{}, fmt.Errorf("the rig file cannot be read: %w", err)
	}
	return Text{Bytes: data, Changed: info.ModTime()}, nil
}

// fixed is a rig that is not a file.
type fixed struct {
	name string
	text []byte
}

// Fixed returns a text that nobody changes as a source, such as a demo rig inside the program.
func Fixed(name string, text []byte) Source { return fixed{name, text} }

func (f fixed) Name() string        { return f.name }
func (f fixed) Read() (Text, error) { return Text{Bytes: f.text, Changed: time.Time{}}, nil }
