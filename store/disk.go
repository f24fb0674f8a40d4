package store

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"time"
)

// disk is what the store does with files. Each method is one step that can fail on its own; the tests let them fail one by one.
type disk interface {
	real(path string) (string, error)
	read(path string) (data []byte, mode fs.FileMode, changed time.Time, err error)
	size(path string) (int64, error) // -1 when there is no such file
	write(path string, data []byte, mode fs.FileMode) error
	add(path string, data []byte, mode fs.FileMode) error // at the end, and down to the disk
	cut(path string, size int64) error
	lock(path string) (free func()) // keeps other programs from changing the same rig meanwhile
	rename(from, to string) error
	remove(path string) error
}

// osDisk is the operating system's.
type osDisk struct{}

func (osDisk) real(path string) (string, error) { return filepath.EvalSymlinks(path) }

func (osDisk) read(path string) ([]byte, fs.FileMode, time.Time, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, 0, time.Time{}, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, 0, time.Time{}, err
	}
	data, err := io.ReadAll(f)
	return data, info.Mode().Perm(), info.ModTime(), err
}

func (osDisk) size(path string) (int64, error) {
	info, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return -1, nil
	}
	if err != nil {
		return 0, err
	}
	return info.Size(), nil
}

func (osDisk) write(path string, data []byte, mode fs.FileMode) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, mode)
	if err != nil {
		return err
	}
	return finish(f, data, mode)
}

func (osDisk) add(path string, data []byte, mode fs.FileMode) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_APPEND, mode)
	if err != nil {
		return err
	}
	return finish(f, data, mode)
}

// finish writes data into an open file, down to the disk, and closes it.
func finish(f *os.File, data []byte, mode fs.FileMode) error {
	_, err := f.Write(data)
	if runtime.GOOS != "windows" {
		err = errors.Join(err, f.Chmod(mode)) // the mask of the process may have narrowed it
	}
	return errors.Join(err, f.Sync(), f.Close())
}

func (osDisk) cut(path string, size int64) error { return os.Truncate(path, size) }

// rename also brings the folder down to the disk, so that the new name outlives a power cut.
func (osDisk) rename(from, to string) error {
	if err := os.Rename(from, to); err != nil {
		return err
	}
	folder, err := os.Open(filepath.Dir(to))
	if err != nil {
		return nil // the rename is done; a folder that cannot be opened cannot be synced
	}
	_ = folder.Sync() // not every file system can
	return folder.Close()
}

func (osDisk) remove(path string) error {
	err := os.Remove(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}
