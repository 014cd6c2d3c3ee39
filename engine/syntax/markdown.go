package syntax

import (
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// blocks reads the blocks of CommonMark and leaves their insides alone: only
// headings and fences of the top level matter here. Two of the library's costs
// that grow with the square of a book are bounded.
var blocks = parser.NewParser(
	parser.WithBlockParsers(blockParsers()...),
	parser.WithParagraphTransformers(util.Prioritized(shortReferences{}, 100)),
)

// blockParsers are the library's own, in its own order.
func blockParsers() []util.PrioritizedValue {
	return []util.PrioritizedValue{
		util.Prioritized(parser.NewSetextHeadingParser(), 100),
		util.Prioritized(parser.NewThematicBreakParser(), 200),
		util.Prioritized(shallow{parser.NewListParser()}, 300),
		util.Prioritized(parser.NewListItemParser(), 400),
		util.Prioritized(parser.NewCodeBlockParser(), 500),
		util.Prioritized(parser.NewATXHeadingParser(), 600),
		util.Prioritized(parser.NewFencedCodeBlockParser(), 700),
		util.Prioritized(shallow{parser.NewBlockquoteParser()}, 800),
		util.Prioritized(parser.NewHTMLBlockParser(), 900),
		util.Prioritized(parser.NewParagraphParser(), 1000),
	}
}

// deepestProse is how many quotes and lists may stand inside each other; what is
// deeper is plain text. Every line passes through all that are open, and the
// library calls itself once for each.
const deepestProse = 50

// shallow is a parser of quotes or lists that opens none inside too many.
type shallow struct{ parser.BlockParser }

func (s shallow) Open(parent ast.Node, reader text.Reader, pc parser.Context) (ast.Node, parser.State) {
	depth := 0
	for n := parent; n != nil; n = n.Parent() {
		if depth++; depth > deepestProse {
			return nil, parser.NoChildren
		}
	}
	return s.BlockParser.Open(parent, reader, pc)
}

// longestReferences is the most lines of a paragraph in which link references are
// looked for (they matter only before a row of =): the library copies the rest of
// the paragraph for each.
const longestReferences = 500

type shortReferences struct{}

func (shortReferences) Transform(node *ast.Paragraph, reader text.Reader, pc parser.Context) {
	if node.Lines().Len() <= longestReferences {
		parser.LinkReferenceParagraphTransformer.Transform(node, reader, pc)
	}
}
