package engine

import (
	"encoding/json"
	"strings"
	"sync"

	"wintertruss/engine/book"
	"wintertruss/engine/store"
	"wintertruss/engine/syntax"
)

// Live is one book that many look at and edit. Edits go through it one at a
// time: applied to the text, made durable, computed, handed on.
type Live struct {
	opts Options
	file string
	st   store.Store

	mu     sync.Mutex // one writer; guards all below
	desk   *Desk
	number uint64
	// done remembers what became of an edit's ID, so that one sent again after a
	// lost connection is answered again and not done again.
	done map[string]uint64
	// taken holds, by page, the edits that it can take back, the last one last.
	taken map[string][]undoable
	// good holds the last good value of every line, for lines that are now in error.
	good map[string]*Value
}

type undoable struct {
	what    string
	inverse book.Edit
}

// record is what the store keeps of an edit.
type record struct {
	ID   string    `json:"id"`
	By   string    `json:"by"`
	What string    `json:"what"`
	Edit book.Edit `json:"edit"`
}

// Change is what one edit did.
type Change struct {
	Number   uint64
	By, What string
	Edit     book.Edit
	// Before is the text before it, After the book after it. (The desk before may
	// share its numbers with the desk after, so it is not given.)
	Before *book.Book
	Faults []*syntax.Error // of Before
	After  *Desk
	Moved
	Was   map[string]*Value // the values before it of the lines that moved, where they had one
	Undo  string            // what the page's next undo would take back
	Again bool              // the ID was known: nothing was done now
}

// remembered is how many edits back an edit sent again is recognised after the
// server was started anew.
const remembered = 10_000

// OpenLive opens the book of a store.
func OpenLive(file string, st store.Store, o Options) (*Live, error) {
	text, number, err := st.Load()
	if err != nil {
		return nil, err
	}
	d, err := Open(file, text, o)
	if err != nil {
		return nil, err
	}
	l := &Live{opts: o, file: file, st: st, desk: d, number: number, done: map[string]uint64{}, taken: map[string][]undoable{}, good: map[string]*Value{}}
	entries, err := st.Since(number - min(number, remembered))
	if err != nil {
		return nil, err
	}
	gone := map[uint64]bool{} // logged, but their text never came to be
	for _, e := range entries {
		gone[e.TakesBack] = true
	}
	for _, e := range entries {
		var rec record
		if gone[e.Number] {
			continue
		}
		if json.Unmarshal(e.Record, &rec) == nil && rec.ID != "" {
			l.done[rec.ID] = e.Number
		}
	}
	l.keepGood(d.Names())
	return l, nil
}

// Now gives the desk as it stands and the number of its last edit.
func (l *Live) Now() (*Desk, uint64) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.desk, l.number
}

// Good gives the last good value of a line that is in error now; nil when it never had one.
func (l *Live) Good(name string) *Value {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.good[name]
}

// Apply does an edit for a page. The error is the person's to read. When it
// returns without one, the edit is durable.
func (l *Live) Apply(e book.Edit, id, by string) (*Change, *syntax.Error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.apply(e, id, by, true)
}

// Undo takes back the last edit of a page that is not taken back yet.
func (l *Live) Undo(id, by string) (*Change, *syntax.Error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if n, again := l.done[id]; again && id != "" {
		return &Change{Number: n, Again: true, Undo: l.nextUndo(by)}, nil
	}
	stack := l.taken[by]
	if len(stack) == 0 {
		return nil, &syntax.Error{Code: "nothing-to-undo", Message: "there is nothing of yours to take back"}
	}
	c, err := l.apply(stack[len(stack)-1].inverse, id, by, false)
	if err != nil {
		return nil, err
	}
	l.taken[by] = stack[:len(stack)-1]
	c.What = "took back: " + stack[len(stack)-1].what
	c.Undo = l.nextUndo(by)
	return c, nil
}

// NextUndo says what a page's next undo would take back; "" when nothing.
func (l *Live) NextUndo(by string) string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.nextUndo(by)
}

func (l *Live) nextUndo(by string) string {
	if s := l.taken[by]; len(s) > 0 {
		return s[len(s)-1].what
	}
	return ""
}

func (l *Live) apply(e book.Edit, id, by string, remember bool) (*Change, *syntax.Error) {
	if n, again := l.done[id]; again && id != "" {
		return &Change{Number: n, Again: true, Undo: l.nextUndo(by)}, nil
	}
	doc, inverse, fault := e.Apply(l.desk.Book.Doc)
	if fault != nil {
		return nil, fault
	}
	what := says(e)
	rec, err := json.Marshal(record{id, by, what, e})
	if err != nil {
		return nil, &syntax.Error{Code: "store", Message: err.Error()}
	}
	if err := l.st.Commit(l.number, doc.Text(), rec); err != nil {
		return nil, &syntax.Error{Code: "store", Message: "this could not be saved, so it was not done: " + err.Error()}
	}
	before, faults := l.desk.Book, l.desk.Faults()
	after, moved := l.desk.Next(doc)
	l.desk, l.number = after, l.number+1
	if id != "" {
		l.done[id] = l.number
	}
	if remember {
		l.taken[by] = append(l.taken[by], undoable{what, inverse})
	}
	was := make(map[string]*Value, len(moved.Lines))
	for _, name := range moved.Lines {
		was[name] = l.good[name]
	}
	if moved.Anew { // a list's members may have other names, which moves no number
		l.keepGood(after.Names())
	} else {
		l.keepGood(moved.Lines)
	}
	return &Change{Number: l.number, By: by, What: what, Edit: e, Before: before, Faults: faults, After: after, Moved: moved, Was: was, Undo: l.nextUndo(by)}, nil
}

// Changed says whether another program changed the file.
func (l *Live) Changed() (bool, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.st.Changed()
}

// Reload takes in the file as another program left it. Undo starts anew.
func (l *Live) Reload() (*Desk, uint64, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	text, number, err := l.st.Load()
	if err != nil {
		return nil, 0, err
	}
	d, err := Open(l.file, text, l.opts)
	if err != nil {
		return nil, 0, err
	}
	l.desk, l.number, l.taken = d, number, map[string][]undoable{}
	l.keepGood(d.Names())
	return l.desk, l.number, nil
}

// Close ends the store.
func (l *Live) Close() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.st.Close()
}

// keepGood remembers the values of those of the lines that have one.
func (l *Live) keepGood(names []string) {
	for _, name := range names {
		if v := l.desk.Plain(name); v != nil && !v.Broken {
			l.good[name] = v
		}
	}
}

// says says in words what an edit does.
func says(e book.Edit) string {
	switch e.Kind {
	case book.SetLine, book.AddLine, book.RemoveLine, book.SetSetting:
		verb := map[string]string{book.SetLine: "changed", book.AddLine: "added", book.RemoveLine: "removed", book.SetSetting: "changed"}[e.Kind]
		name := e.Name
		if name == "" {
			name, _, _ = strings.Cut(strings.TrimSpace(string(e.Text)), " ")
		}
		return verb + " " + name
	case book.WriteProse:
		return "changed a paragraph"
	case book.SetCell:
		return "changed " + e.Name + "." + e.Column + " of " + e.Member
	case book.AddMember:
		return "added " + e.Member + " to " + e.Name
	case book.RemoveMember:
		return "removed " + e.Member + " from " + e.Name
	case book.AddRecord:
		return "wrote down one of " + e.Name
	case book.CorrectRecord:
		return "corrected one of " + e.Name
	case book.RemoveRecord:
		return "removed one of " + e.Name
	case book.Pin:
		return "pinned " + e.Address
	case book.Unpin:
		return "unpinned " + e.Address
	case book.SetOverride, book.RemoveOverride:
		return "changed the scenario " + e.Name
	}
	return "changed the book"
}
