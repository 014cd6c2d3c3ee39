package ui

import (
	"io/fs"
	"regexp"
	"slices"
	"testing"
)

// TestPreloaded: the page names all its modules ahead, so that the browser fetches
// them at once and not one after the other as each names the next.
func TestPreloaded(t *testing.T) {
	index, err := web.ReadFile("web/index.html")
	if err != nil {
		t.Fatal(err)
	}
	var named []string
	for _, m := range regexp.MustCompile(`rel="modulepreload" href="([^"]+)"`).FindAllSubmatch(index, -1) {
		named = append(named, string(m[1]))
	}
	files, err := fs.Glob(web, "web/*.js")
	if err != nil || len(files) < 20 {
		t.Fatalf("%d modules: %v", len(files), err)
	}
	for _, file := range files {
		if name := file[len("web/"):]; name != "desk.js" && !slices.Contains(named, name) { // desk.js is the script itself
			t.Errorf("%s is not named ahead in index.html", name)
		}
	}
}
