// Package ui serves a book to browsers on this computer: the page's files over
// HTTP and the book over one websocket a page.
//
// Terms. A viewer is one open page. The hub owns all viewers and sends each
// change to all of them. A change has a number; a viewer that comes back says the
// last one it has and gets what it missed, or the whole book.
//
// Invariants. Only loopback is listened on; Host and Origin are checked, so that
// no other site can reach the book through a person's browser. An edit is
// acknowledged after it is durable. A viewer that cannot keep up is dropped, not
// waited for: it comes back and resumes. Every goroutine ends with its viewer or
// with the server.
//
// Entry points: New, Server.ServeHTTP, Server.Close. Messages are in wire.go; how
// a book becomes messages is in view.go.
package ui
