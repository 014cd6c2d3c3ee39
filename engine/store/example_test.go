package store_test

import (
	"fmt"

	"wintertruss/engine/store"
)

func Example() {
	// OpenFile("tern_hollow.md") keeps a book in its file; this one is not kept.
	var s store.Store = store.NewMemory([]byte("```lines\nprice : 3 USD/lb\n```\n"))
	defer s.Close()

	_, number, _ := s.Load()
	err := s.Commit(number, []byte("```lines\nprice : 4 USD/lb\n```\n"), []byte(`{"who":"desk"}`))
	fmt.Println(err)
	err = s.Commit(number, []byte("```lines\nprice : 5 USD/lb\n```\n"), []byte(`{"who":"phone"}`))
	fmt.Println(err)
	entries, _ := s.Since(0)
	fmt.Println(entries[0].Number, string(entries[0].Record))
	// Output:
	// <nil>
	// the book is at edit 1 and the change was made upon 0
	// 1 {"who":"desk"}
}
