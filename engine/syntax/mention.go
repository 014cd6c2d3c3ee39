package syntax

import (
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// Mention is a live number in prose: "{cash}", "{harvest @ long_tomato, 2027-W16}",
// "{cash @ this_week}". The page shows there what the line comes to; elsewhere the
// book reads as it was written. Braces that hold no address are text, as are those
// in code and those behind a backslash.
type Mention struct {
	Address
	Place         // braces included
	Headline bool // stands in the heading that starts the page: the page's own figure
}

// ThisWeek is the word that a live number may have for the open week.
const ThisWeek = "this_week"

// MentionNode is a Mention in the tree of a prose, as MentionParser leaves it.
type MentionNode struct {
	ast.BaseInline
	Address string // as it stands between the braces
	from    int    // byte of the prose at which the brace opens
}

// KindMention is the kind of a MentionNode.
var KindMention = ast.NewNodeKind("Mention")

// Kind is KindMention.
func (n *MentionNode) Kind() ast.NodeKind { return KindMention }

// Dump prints the node.
func (n *MentionNode) Dump(source []byte, level int) { ast.DumpHelper(n, source, level, nil, nil) }

// MentionParser reads live numbers for a parser of CommonMark. It stands before the
// library's own parsers, as none of them begins at a brace.
func MentionParser() util.PrioritizedValue { return util.Prioritized(mentionParser{}, 50) }

type mentionParser struct{}

func (mentionParser) Trigger() []byte { return []byte{'{'} }

func (mentionParser) Parse(_ ast.Node, block text.Reader, _ parser.Context) ast.Node {
	line, segment := block.PeekLine()
	inside, ok := mentioned(string(line))
	if !ok {
		return nil
	}
	block.Advance(len(inside) + 2)
	return &MentionNode{Address: inside, from: segment.Start}
}

// mentioned gives the address that s begins with, in braces; false where it begins otherwise.
func mentioned(s string) (inside string, ok bool) {
	if inside, _, ok = strings.Cut(s[1:min(len(s), longestMention)], "}"); !ok || strings.ContainsAny(inside, "\r\n") {
		return "", false
	}
	_, err := ParseAddress(inside, Place{Line: 1, Col: 1})
	return inside, err == nil
}

// prose reads what stands inside paragraphs too, which costs the library more.
var prose = parser.NewParser(
	parser.WithBlockParsers(blockParsers()...),
	parser.WithInlineParsers(append(parser.DefaultInlineParsers(), MentionParser())...),
	parser.WithParagraphTransformers(util.Prioritized(shortReferences{}, 100)),
)

// longestMention is the most bytes of a live number. Braces that close further on are text.
const longestMention = 300

// Live numbers are looked for in prose of at most longestLive bytes in one piece, and
// in mostLive bytes of a book: some texts cost the library the square of their length.
const (
	longestLive = 20_000
	mostLive    = 1_000_000
)

// readMentions finds the live numbers of a part of prose.
func (b *bookReader) readMentions(p *Part) {
	if !strings.Contains(p.Text, "{") || len(p.Text) > longestLive || b.live+len(p.Text) > mostLive {
		return
	}
	b.live += len(p.Text)
	body := strings.TrimPrefix(p.Text, byteOrderMark)
	_ = ast.Walk(prose.Parse(text.NewReader([]byte(body))), func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		m, ok := n.(*MentionNode)
		if !ok || !entering {
			return ast.WalkContinue, nil
		}
		at := p.placeOf(len(p.Text) - len(body) + m.from)
		address, err := ParseAddress(m.Address, Place{Line: at.Line, Col: at.Col + 1})
		if err != nil {
			panic("syntax: an address was read and then not: " + err.Error())
		}
		at.Len = utf8.RuneCountInString(m.Address) + 2
		heading, ok := m.Parent().(*ast.Heading)
		p.Mentions = append(p.Mentions, Mention{address, at, ok && p.Title != "" && heading.Level == 1 && heading.PreviousSibling() == nil})
		return ast.WalkContinue, nil
	})
}

// placeOf gives where byte i of a part stands in the book.
func (p *Part) placeOf(i int) Place {
	before := p.Text[:i]
	row := before[strings.LastIndexByte(before, '\n')+1:]
	return Place{Line: p.Line + strings.Count(before, "\n"), Col: 1 + utf8.RuneCountInString(strings.TrimPrefix(row, byteOrderMark)), Len: 1}
}

// withoutMentions takes the live numbers out of a heading: a page is called what is left.
func withoutMentions(heading string) string {
	var b strings.Builder
	for rest := heading; rest != ""; {
		at := strings.IndexByte(rest, '{')
		if at < 0 {
			b.WriteString(rest)
			break
		}
		b.WriteString(rest[:at])
		rest = rest[at:]
		if inside, ok := mentioned(rest); ok && !strings.HasSuffix(b.String(), `\`) {
			rest = rest[len(inside)+2:]
			continue
		}
		b.WriteByte('{')
		rest = rest[1:]
	}
	if left := strings.Join(strings.Fields(b.String()), " "); left != "" {
		return left
	}
	return heading
}
