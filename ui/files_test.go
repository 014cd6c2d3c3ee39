package ui

import (
	"bytes"
	"compress/gzip"
	"io"
	"net/http"
	"testing"
)

// TestPackedFiles: a file packed and a file plain are the same file, of the same kind;
// who cannot unpack gets it plain.
func TestPackedFiles(t *testing.T) {
	s := serveTernHollow(t, fewDraws)
	client := &http.Client{Transport: &http.Transport{DisableCompression: true}}
	fetch := func(name, accept string) (*http.Response, []byte) {
		t.Helper()
		q, err := http.NewRequest("GET", "http://127.0.0.1:"+s.port+"/"+name, nil)
		if err != nil {
			t.Fatal(err)
		}
		if accept != "" {
			q.Header.Set("Accept-Encoding", accept)
		}
		r, err := client.Do(q)
		if err != nil {
			t.Fatal(err)
		}
		defer r.Body.Close()
		b, err := io.ReadAll(r.Body)
		if err != nil || r.StatusCode != 200 {
			t.Fatalf("%s: %v, %v", name, r.Status, err)
		}
		return r, b
	}
	for _, name := range []string{"", "line.js", "book.css", "mark.svg", "vendor/preact.js"} {
		plain, want := fetch(name, "")
		small, packed := fetch(name, "br, gzip;q=0.8")
		if plain.Header.Get("Content-Encoding") != "" || small.Header.Get("Content-Encoding") != "gzip" || len(packed) >= len(want) {
			t.Errorf("%q: plain comes as %q, packed as %q with %d bytes of %d", name, plain.Header.Get("Content-Encoding"), small.Header.Get("Content-Encoding"), len(packed), len(want))
			continue
		}
		if a, b := plain.Header.Get("Content-Type"), small.Header.Get("Content-Type"); a != b {
			t.Errorf("%q is %q plain and %q packed", name, a, b)
		}
		z, err := gzip.NewReader(bytes.NewReader(packed))
		if err != nil {
			t.Fatal(err)
		}
		got, err := io.ReadAll(z)
		if err != nil || string(got) != string(want) {
			t.Errorf("%q does not unpack to itself: %v", name, err)
		}
	}
	if r, _ := fetch("fonts/hanken.woff2", "gzip"); r.Header.Get("Content-Encoding") != "" {
		t.Error("a font, which is packed already, is packed again")
	}
}
