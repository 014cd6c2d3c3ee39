package ui

import (
	"bytes"
	"html"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"wintertruss/engine/syntax"
)

// markdown shows prose. Raw HTML stays text and images are left out: opening a
// book must not call anyone.
var markdown = goldmark.New(goldmark.WithExtensions(extension.Table, extension.Strikethrough),
	goldmark.WithParserOptions(parser.WithASTTransformers(util.Prioritized(withoutImages{}, 100)), parser.WithInlineParsers(syntax.MentionParser())),
	goldmark.WithRendererOptions(renderer.WithNodeRenderers(util.Prioritized(liveNumbers{}, 100))))

// liveNumbers leaves a place for each live number, in which the page puts what the
// line comes to; without scripts its name stands there.
type liveNumbers struct{}

func (liveNumbers) RegisterFuncs(r renderer.NodeRendererFuncRegisterer) {
	r.Register(syntax.KindMention, func(w util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering {
			address := html.EscapeString(n.(*syntax.MentionNode).Address)
			_, _ = w.WriteString(`<span class="live" data-live="` + address + `">` + address + `</span>`)
		}
		return ast.WalkContinue, nil
	})
}

type withoutImages struct{}

func (withoutImages) Transform(doc *ast.Document, _ text.Reader, _ parser.Context) {
	var images []ast.Node
	_ = ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if _, ok := n.(*ast.Image); ok && entering {
			images = append(images, n)
		}
		return ast.WalkContinue, nil
	})
	for _, n := range images {
		if p := n.Parent(); p != nil {
			p.RemoveChild(p, n)
		}
	}
}

// proseHTML gives prose as the page shows it. A page's own heading is left out:
// the page shows its title itself.
func proseHTML(prose, title string) string {
	if title != "" {
		prose = withoutTitle(prose)
	}
	var out bytes.Buffer
	if err := markdown.Convert([]byte(prose), &out); err != nil {
		return "<p>" + html.EscapeString(prose) + "</p>"
	}
	return out.String()
}

// withoutTitle cuts the level-1 heading that starts a page.
func withoutTitle(prose string) string {
	lines := strings.SplitAfter(prose, "\n")
	for i, l := range lines {
		t := strings.TrimSpace(l)
		if t == "" {
			continue
		}
		if strings.HasPrefix(t, "#") {
			return strings.Join(lines[i+1:], "")
		}
		if i+1 < len(lines) && strings.HasPrefix(strings.TrimSpace(lines[i+1]), "=") {
			return strings.Join(lines[i+2:], "")
		}
		break
	}
	return prose
}
