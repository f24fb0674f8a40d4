// Command release builds the program for seven systems, each zipped with licence and readme, and writes their SHA-256 beside them.
package main

import (
	"archive/zip"
	"crypto/sha256"
	"encoding/hex"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

var targets = []string{"linux/amd64", "linux/arm64", "linux/arm", "darwin/amd64", "darwin/arm64", "windows/amd64", "windows/arm64"}

func main() {
	version := flag.String("version", "development", "version that the program reports")
	into := flag.String("into", "bin/release", "folder for the zip files")
	flag.Parse()
	if err := build(*version, *into); err != nil {
		fmt.Fprintln(os.Stderr, "release: error:", err)
		os.Exit(2)
	}
}

func build(version, into string) error {
	if err := os.MkdirAll(into, 0o755); err != nil {
		return err
	}
	var sums strings.Builder
	for _, target := range targets {
		system, arch, _ := strings.Cut(target, "/")
		name := "campwright"
		if system == "windows" {
			name += ".exe"
		}
		program := filepath.Join(into, system+"-"+arch, name)
		cmd := exec.Command("go", "build", "-trimpath", "-ldflags=-s -w -X main.version="+version, "-o", program, "./cmd/campwright")
		cmd.Env = append(os.Environ(), "CGO_ENABLED=0", "GOOS="+system, "GOARCH="+arch)
		cmd.Stdout, cmd.Stderr = os.Stdout, os.Stderr
		if err := cmd.Run(); err != nil {
			return fmt.Errorf("%s: %w", target, err)
		}
		packed := filepath.Join(into, fmt.Sprintf("campwright-%s-%s-%s.zip", version, system, arch))
		sum, err := pack(packed, program, "LICENSE", "README.md")
		if err != nil {
			return fmt.Errorf("%s: %w", target, err)
		}
		fmt.Fprintf(&sums, "%s  %s\n", sum, filepath.Base(packed))
		fmt.Println(packed)
	}
	return os.WriteFile(filepath.Join(into, "SHA256SUMS"), []byte(sums.String()), 0o644)
}

// pack zips files and returns the zip's checksum.
func pack(path string, files ...string) (sum string, err error) {
	out, err := os.Create(path)
	if err != nil {
		return "", err
	}
	defer out.Close()
	hash := sha256.New()
	z := zip.NewWriter(io.MultiWriter(out, hash))
	for _, name := range files {
		if err := add(z, name); err != nil {
			return "", err
		}
	}
	if err := z.Close(); err != nil {
		return "", err
	}
	return hex.EncodeToString(hash.Sum(nil)), out.Close()
}

func add(z *zip.Writer, name string) error {
	in, err := os.Open(name)
	if err != nil {
		return err
	}
	defer in.Close()
	info, err := in.Stat()
	if err != nil {
		return err
	}
	head, err := zip.FileInfoHeader(info)
	if err != nil {
		return err
	}
	head.Name, head.Method = filepath.Base(name), zip.Deflate
	head.Modified = head.Modified.UTC()
	w, err := z.CreateHeader(head)
	if err != nil {
		return err
	}
	_, err = io.Copy(w, in)
	return err
}
