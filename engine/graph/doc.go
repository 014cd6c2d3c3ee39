// Package graph recomputes no more than it must. It holds which node reads which
// and is told which nodes were touched; a run computes those, and whatever reads
// one that changed, each once and after all it reads. What a node is, and how it
// is computed, the package does not know.
//
// # Terms
//
// A node is a number from 0 to n-1. It reads other nodes; those that read it are
// its dependents. A node that reads nothing is an input. The order is one in
// which every node stands after all it reads; the place of a node is where it
// stands in that order. To touch a node is to say that it must be computed again;
// an input is touched when it was given another value. Computing a node answers
// whether it changed: where it did not, nothing goes on from it (the cut). A
// circle is a path of nodes that ends where it began.
//
// # Invariants
//
//   - Every read stands at an earlier place than the node that reads it. So there
//     is no circle, and one walk through the order is enough.
//   - Dependents are the reads turned round, no more and no less.
//   - A run computes exactly the nodes that were touched and those of which a
//     read changed in that run. How it goes about it never shows in what it computes.
//   - A bit of the summary is set exactly where its word of the dirty set is not
//     zero; after a run both are empty.
//   - What a run costs follows the nodes it computes and their dependents, but for
//     one look at each 4,096 nodes of the graph. It allocates nothing.
//   - Memory is linear: 17 bytes a node and 8 bytes a read, rounded up.
//
// A graph belongs to one goroutine at a time.
//
// # How it works, and why so
//
// The nodes lie in memory in their order, reads and dependents as one long list
// each. The dirty set is one bit a place. Because a dependent always stands
// later, the lowest bit that is set is always a node whose reads are all done:
// the set is also the queue, and needs no priorities, no heights of nodes and no
// second visit. A summary of one bit for each word of the set skips 4,096 clean
// nodes at a look; without it, an edit that reaches 16 nodes out of 100,000 spends
// its time looking for them.
//
// A node that changed tells its dependents: their bits are set. Where nearly the
// whole graph hangs on an edit, it is cheaper to go through all nodes in order and
// ask each whether something it reads changed, which touches memory from front to
// end and stops at the first yes. Breadth-first search has the same two directions
// and gains from turning midway (Beamer, Asanović and Patterson 2012,
// "Direction-optimizing breadth-first search"). How much hangs on an edit is not
// known before; so a run begins by telling, and turns to asking when it has told
// so often that asking all would have cost the same. It then has paid at most about
// twice what the better of the two would have, whichever that is, and a run that
// stays small never pays for the question. Measured on the benchmarks' sum, the two
// cost the same where half of the nodes are computed; with all computed, asking
// alone takes 0.65 to 0.75 of the time of telling alone.
//
// Rejected: a full pass that computes every node, needed or not. For nodes that
// cost as little as the sum of the benchmarks, some 10 ns, a bare loop wins as soon as
// two fifths of them are affected (measured on chains and fans). But a node of a book is
// a line over weeks and plantings and costs microseconds; one that is computed
// needlessly then costs a hundred times what it costs to ask. And what is recomputed
// would depend on how it was gone about, so that no test could say what is right.
// The bare loop is used where it is exact: when all nodes are touched.
//
// Rejected: nodes as objects that hold lists of each other, as libraries of
// signals have. Such a graph can grow while it runs, which a compiled book does not
// need; each node is then a thing to allocate, and each edge a walk through memory
// (BenchmarkPeers).
//
// Rejected: an order that is mended in place when reads are replaced (Pearce and
// Kelly 2006, "A dynamic topological sort algorithm for directed acyclic graphs").
// It leaves places that are no longer where they lie in memory; one linear walk
// costs a few milliseconds at 100,000 nodes, once for all the lines that an edit replaces.
//
// Entry points: New, Graph.Touch, Graph.Run, Graph.Replace; Circle is the error of
// nodes that need each other.
package graph
