//go:build unix

package store

import (
	"os"
	"path/filepath"
	"syscall"
)

// lock holds the folder against other programs that change the same rig; the kernel lets it go when this one is killed. Where the file
// system has no locks, or the folder cannot be written, the change goes on without: the step after would tell what is wrong.
func (osDisk) lock(path string) (free func()) {
	f, err := os.Open(filepath.Dir(path))
	if err != nil {
		return func() {}
	}
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX); err != nil {
		return func() { _ = f.Close() }
	}
	return func() { _ = f.Close() } // closing lets go
}
