package ui

import (
	"path"
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
	imports := regexp.MustCompile(`(?m)^(?:import|export)[^'"]*['"]\./([\w/-]+\.js)['"]`)
	reached := []string{"desk.js"} // the script itself
	for i := 0; i < len(reached); i++ {
		text, err := web.ReadFile("web/" + reached[i])
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range imports.FindAllSubmatch(text, -1) {
			name := path.Join(path.Dir(reached[i]), string(m[1]))
			if slices.Contains(reached, name) {
				continue
			}
			reached = append(reached, name)
			if !slices.Contains(named, name) {
				t.Errorf("%s, which %s imports, is not named ahead in index.html", name, reached[i])
			}
		}
	}
	if len(reached) < 20 {
		t.Errorf("only %q are reached", reached)
	}
}
