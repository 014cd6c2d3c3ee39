package book_test

import (
	"encoding/json"
	"fmt"

	"wintertruss/engine/book"
	"wintertruss/engine/syntax"
)

func ExampleEdit() {
	doc := syntax.Read("book.md", []byte("# Market\n\n```lines\nprice : 3 USD/lb\n```\n"))
	var e book.Edit
	fmt.Println(json.Unmarshal([]byte(`{"kind": "pin", "address": "price", "text": "4 USD/lb // agreed"}`), &e))
	after, inverse, _ := e.Apply(doc)
	fmt.Printf("%s", after.Text())
	before, _, _ := inverse.Apply(after)
	fmt.Println(string(before.Text()) == string(doc.Text()))
	// Output:
	// <nil>
	// # Market
	//
	// ```lines
	// price : 3 USD/lb
	// ```
	//
	// ```pins
	// price : 4 USD/lb // agreed
	// ```
	// true
}
