package ui

import (
	"bytes"
	"compress/gzip"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"slices"
	"strings"
	"sync"
)

// files serves the page's own files. Those that are text go out packed to whoever
// takes them so: a phone in the house fetches a third of the bytes.
type files struct {
	plain  http.Handler
	packed map[string][]byte // by name, without the leading slash
}

func newFiles() (*files, error) {
	root, err := fs.Sub(web, "web")
	if err != nil {
		return nil, err
	}
	packed, err := packedFiles()
	return &files{http.FileServerFS(root), packed}, err
}

// packedFiles packs the text files, once for all servers of this program.
var packedFiles = sync.OnceValues(func() (map[string][]byte, error) {
	out := map[string][]byte{}
	return out, fs.WalkDir(web, "web", func(name string, _ fs.DirEntry, err error) error {
		if err != nil || !slices.Contains([]string{".js", ".css", ".html", ".svg"}, path.Ext(name)) {
			return err
		}
		text, err := web.ReadFile(name)
		if err != nil {
			return err
		}
		var b bytes.Buffer
		w, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
		if err != nil {
			return err
		}
		if _, err := w.Write(text); err != nil {
			return err
		}
		if err := w.Close(); err != nil {
			return err
		}
		out[strings.TrimPrefix(name, "web/")] = b.Bytes()
		return nil
	})
})

func (f *files) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	name := strings.TrimPrefix(r.URL.Path, "/")
	if name == "" {
		name = "index.html"
	}
	packed, ok := f.packed[name]
	if !ok || name == "index.html" && r.URL.Path != "/" {
		f.plain.ServeHTTP(w, r)
		return
	}
	w.Header().Set("Vary", "Accept-Encoding")
	if !strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
		f.plain.ServeHTTP(w, r)
		return
	}
	w.Header().Set("Content-Type", mime.TypeByExtension(path.Ext(name)))
	w.Header().Set("Content-Encoding", "gzip")
	if _, err := w.Write(packed); err != nil {
		return // the page is gone
	}
}
