package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// root is the project's folder, seen from this package's.
var root = filepath.Join("..", "..")

// projectFiles gives every file of the project, relative to root: what git
// tracks and what it would track. Outside a checkout it is what stands on disk.
func projectFiles(t *testing.T) []string {
	t.Helper()
	c := exec.Command("git", "ls-files", "-z", "--cached", "--others", "--exclude-standard")
	c.Dir = root
	var files []string
	if out, err := c.Output(); err == nil {
		for _, f := range strings.Split(string(out), "\x00") {
			if _, err := os.Stat(filepath.Join(root, f)); f != "" && err == nil {
				files = append(files, f)
			}
		}
	} else {
		err := filepath.WalkDir(root, func(path string, e fs.DirEntry, err error) error {
			if err == nil && !e.IsDir() {
				f, _ := filepath.Rel(root, path)
				files = append(files, filepath.ToSlash(f))
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if !slices.Contains(files, "go.mod") {
		t.Fatalf("go.mod is not among the %d files found: the rules would look at nothing", len(files))
	}
	return files
}

func read(t *testing.T, file string) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(root, file))
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// What stands at the top level was named once, so that a newcomer's first look
// stays short.
var topLevel = []string{"cmd", "engine", "ui", "sheets", "testdata", "go.mod", "go.sum", "README.md", "DEVELOPERS.md"}

func TestTopLevel(t *testing.T) {
	for _, f := range projectFiles(t) {
		top, _, _ := strings.Cut(f, "/")
		if !slices.Contains(topLevel, top) && !strings.HasPrefix(top, ".") {
			t.Errorf("%s is out of place: at the top level stand only %s and files that begin with a dot", f, strings.Join(topLevel, ", "))
		}
	}
}

// A package under engine is read by people who come for one thing: its doc.go
// says what it is for.
func TestEveryEnginePackageHasADoc(t *testing.T) {
	packages := map[string]bool{}
	for _, f := range projectFiles(t) {
		if strings.HasPrefix(f, "engine/") && strings.HasSuffix(f, ".go") && !strings.HasSuffix(f, "_test.go") && !strings.Contains(f, "/testdata/") {
			packages[filepath.ToSlash(filepath.Dir(f))] = true
		}
	}
	for dir := range packages {
		file, err := parser.ParseFile(token.NewFileSet(), filepath.Join(root, dir, "doc.go"), nil, parser.ParseComments|parser.PackageClauseOnly)
		switch {
		case err != nil:
			t.Errorf("%s has no doc.go that can be read: %v", dir, err)
		case file.Doc == nil || !strings.HasPrefix(file.Doc.Text(), "Package "+file.Name.Name+" "):
			t.Errorf("%s/doc.go does not begin with \"// Package %s ...\"", dir, file.Name.Name)
		}
	}
}

// longestFile is where a file is split, unless its first comment says why not
// with the words "over 600 lines".
const longestFile = 600

func TestNoFileIsTooLong(t *testing.T) {
	for _, f := range projectFiles(t) {
		if !slices.Contains([]string{".go", ".js", ".css", ".html"}, filepath.Ext(f)) || strings.Contains(f, "/vendor/") {
			continue
		}
		text := read(t, f)
		if n := strings.Count(text, "\n"); n > longestFile && !strings.Contains(firstComment(text), "over 600 lines") {
			t.Errorf("%s has %d lines: split it, or say in its first comment why it is over 600 lines", f, n)
		}
	}
}

// firstComment gives the text before the first line that is neither empty nor
// part of a comment, in Go, JavaScript, CSS and HTML alike.
func firstComment(text string) string {
	var b strings.Builder
	inside := false
	for line := range strings.Lines(text) {
		s := strings.TrimSpace(line)
		opens := strings.HasPrefix(s, "/*") || strings.HasPrefix(s, "<!--")
		if s != "" && !inside && !opens && !strings.HasPrefix(s, "//") {
			break
		}
		if opens || inside {
			inside = !strings.Contains(s, "*/") && !strings.Contains(s, "-->")
		}
		b.WriteString(line)
	}
	return b.String()
}

func TestFirstComment(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"// one\n// two\n\npackage x\n// three\n", "// one\n// two\n\n"},
		{"/* one\ntwo */\nlet x\n", "/* one\ntwo */\n"},
		{"<!-- one -->\n<p>\n", "<!-- one -->\n"},
		{"package x\n// one\n", ""},
	} {
		if got := firstComment(c.text); got != c.want {
			t.Errorf("%q gives %q, want %q", c.text, got, c.want)
		}
	}
}

// elsewhere matches paths and names of the machine or workplace that a file was
// written on. They mean nothing to a reader. The patterns are put together from
// pieces so that this file does not match them.
var elsewhere = regexp.MustCompile(strings.Join([]string{
	`/` + `work/`, `/` + `farm/in\b`, `/` + `root/`, `/` + `home/[a-z]`,
	`\bshared` + `/(data|design|hooks|lab|reference)`, `\.\.` + `/(shared|lab|reference)\b`,
	`\b(agronomy|energy_light_water|finance_risk|libraries|architecture|conventions|language|product|sketch|verbs)` + `\.md\b`,
	`(?i)\bissue` + ` #?[0-9]{1,2}\b`,
}, "|"))

func TestProjectStandsAlone(t *testing.T) {
	for _, f := range projectFiles(t) {
		if strings.HasSuffix(f, ".sum") {
			continue
		}
		text := read(t, f)
		if strings.ContainsRune(text, 0) {
			continue // a picture or a font
		}
		for i, line := range strings.Split(text, "\n") {
			if m := elsewhere.FindString(line); m != "" {
				t.Errorf("%s:%d names %q, which a reader of the project does not have", f, i+1, m)
			}
		}
	}
}

func TestElsewhere(t *testing.T) {
	for _, bad := range []string{"see /" + "work/x", "../" + "shared", "shared" + "/design/x", "in language" + ".md", "fixes issue" + " 2"} {
		if !elsewhere.MatchString(bad) {
			t.Errorf("%q passes", bad)
		}
	}
	for _, good := range []string{"a workday/holiday", "golang/go#75804", "the language page", "engine/" + "library/heat.go"} {
		if elsewhere.MatchString(good) {
			t.Errorf("%q is refused", good)
		}
	}
}

func TestGateIsOneCommand(t *testing.T) {
	var commands []string
	for line := range strings.Lines(read(t, ".ci/run")) {
		if s := strings.TrimSpace(line); s != "" && !strings.HasPrefix(s, "#") && !strings.HasPrefix(s, "set ") && !strings.HasPrefix(s, "cd ") {
			commands = append(commands, s)
		}
	}
	if !slices.Equal(commands, []string{"go run ./cmd/check"}) {
		t.Errorf(".ci/run calls %q, not the README's command alone", commands)
	}
	if !strings.Contains(read(t, "README.md"), "go run ./cmd/check") {
		t.Error("the README does not name the gate's command")
	}
}

// A reference is written in backquotes as `path:Symbol`; path is a file or a
// package's folder, Symbol a declared name or Type.Name of a method or field.
var (
	reference = regexp.MustCompile("`([A-Za-z0-9_./-]+):([A-Za-z_][A-Za-z0-9_.]*)`")
	barePath  = regexp.MustCompile("`((?:cmd|engine|ui|sheets|testdata)/[A-Za-z0-9_./-]*)`")
)

func TestReferencesInDevelopers(t *testing.T) {
	text := read(t, "DEVELOPERS.md")
	refs := reference.FindAllStringSubmatch(text, -1)
	if len(refs) == 0 {
		t.Error("DEVELOPERS.md refers to no symbol: it is meant to be a map")
	}
	for _, r := range refs {
		names, err := declared(filepath.Join(root, r[1]))
		if err != nil {
			t.Errorf("DEVELOPERS.md: %s: %v", r[0], err)
		} else if !names[r[2]] {
			t.Errorf("DEVELOPERS.md: %s: nothing of that name is declared there", r[0])
		}
	}
	for _, p := range barePath.FindAllStringSubmatch(text, -1) {
		if _, err := os.Stat(filepath.Join(root, p[1])); err != nil {
			t.Errorf("DEVELOPERS.md: %s does not exist", p[0])
		}
	}
}

var scriptName = regexp.MustCompile(`(?m)^(?:export )?(?:async )?(?:function|class|const|let) ([A-Za-z_]\w*)`)

// declared gives the names declared at the top of a Go or JavaScript file, or
// of the Go files of a folder.
func declared(path string) (map[string]bool, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	files := []string{path}
	if info.IsDir() {
		if files, err = filepath.Glob(filepath.Join(path, "*.go")); err != nil {
			return nil, err
		}
	}
	names := map[string]bool{}
	for _, f := range files {
		switch filepath.Ext(f) {
		case ".go":
			tree, err := parser.ParseFile(token.NewFileSet(), f, nil, parser.SkipObjectResolution)
			if err != nil {
				return nil, err
			}
			for _, d := range tree.Decls {
				addDeclared(names, d)
			}
		case ".js":
			b, err := os.ReadFile(f)
			if err != nil {
				return nil, err
			}
			for _, m := range scriptName.FindAllStringSubmatch(string(b), -1) {
				names[m[1]] = true
			}
		default:
			return nil, fmt.Errorf("%s is neither Go nor JavaScript", f)
		}
	}
	return names, nil
}

func addDeclared(names map[string]bool, d ast.Decl) {
	switch d := d.(type) {
	case *ast.FuncDecl:
		name := d.Name.Name
		if d.Recv != nil && len(d.Recv.List) == 1 {
			of := d.Recv.List[0].Type
			if star, ok := of.(*ast.StarExpr); ok {
				of = star.X
			}
			if id, ok := of.(*ast.Ident); ok {
				name = id.Name + "." + name
			}
		}
		names[name] = true
	case *ast.GenDecl:
		for _, s := range d.Specs {
			switch s := s.(type) {
			case *ast.ValueSpec:
				for _, n := range s.Names {
					names[n.Name] = true
				}
			case *ast.TypeSpec:
				names[s.Name.Name] = true
				if fields, ok := s.Type.(*ast.StructType); ok {
					for _, f := range fields.Fields.List {
						for _, n := range f.Names {
							names[s.Name.Name+"."+n.Name] = true
						}
					}
				}
			}
		}
	}
}

func TestDeclared(t *testing.T) {
	names, err := declared("main.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"steps", "longest", "gate", "gate.root", "gate.output", "runSteps"} {
		if !names[want] {
			t.Errorf("%s is not found in main.go", want)
		}
	}
	if names["decide"] {
		t.Error("a name of another file is found in main.go")
	}
	if names, err = declared("."); err != nil || !names["decide"] {
		t.Errorf("decide is not found in the folder: %v", err)
	}
	if _, err = declared("nowhere.go"); err == nil {
		t.Error("no error for a file that does not exist")
	}
}
