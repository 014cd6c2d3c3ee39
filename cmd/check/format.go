package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"go/format"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// checkFormat names the Go files that gofmt would change. It uses the library
// that gofmt is made of: a machine may have the one program and not the other.
func checkFormat(_ context.Context, g *gate) error {
	var bad []string
	err := filepath.WalkDir(g.root, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if e.IsDir() && path != g.root && strings.HasPrefix(e.Name(), ".") {
			return filepath.SkipDir
		}
		if e.IsDir() || filepath.Ext(path) != ".go" {
			return nil
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		short, _ := filepath.Rel(g.root, path)
		want, err := format.Source(text)
		switch {
		case err != nil:
			bad = append(bad, fmt.Sprintf("%s: %v", short, err))
		case !bytes.Equal(text, want):
			bad = append(bad, short+": gofmt would change it")
		}
		return nil
	})
	if err == nil && len(bad) > 0 {
		err = errors.New(strings.Join(bad, "\n"))
	}
	return err
}
