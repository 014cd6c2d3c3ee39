// The graphs of BenchmarkPeers on libraries of signals. Reads a list of graphs as
// JSON from stdin; writes one line of JSON for each library, graph and edit.
//
// As in the Go benchmarks, a node's value is the mean of what it reads plus 0.001,
// an edit adds 1 to an input, and times are the shortest of several. The sums of
// the sinks go back to be compared. These libraries compute by recursion: a long
// chain needs node --stack-size and a shell's ulimit -s; where that is not enough,
// the line tells so.
import { readFileSync } from 'node:fs'
import * as alien from 'alien-signals'
import * as preact from '@preact/signals-core'

const libraries = {
  'alien-signals': {
    input: alien.signal, computed: alien.computed, effect: alien.effect,
    get: node => node(), set: (node, value) => node(value),
  },
  'preact-signals-core': {
    input: preact.signal, computed: preact.computed, effect: preact.effect,
    get: node => node.value, set: (node, value) => { node.value = value },
  },
}

const now = () => Number(process.hrtime.bigint())

function build(library, graph) {
  const { get } = library
  const nodes = []
  for (const reads of graph.reads) {
    if (reads.length === 0) {
      nodes.push(library.input(0))
    } else if (reads.length === 1) {
      const from = nodes[reads[0]]
      nodes.push(library.computed(() => get(from) + 0.001))
    } else {
      const from = reads.map(r => nodes[r])
      nodes.push(library.computed(() => {
        let sum = 0
        for (let i = 0; i < from.length; i++) sum += get(from[i])
        return sum / from.length + 0.001
      }))
    }
  }
  const seen = graph.sinks.map(() => 0)
  graph.sinks.forEach((sink, i) => library.effect(() => { seen[i] = get(nodes[sink]) }))
  return { nodes, seen }
}

for (const graph of JSON.parse(readFileSync(0))) {
  for (const [name, library] of Object.entries(libraries)) {
    const line = { library: name, graph: graph.name }
    try {
      const begin = now()
      const { nodes, seen } = build(library, graph)
      line.build = now() - begin
      for (const edit of graph.edits) {
        const each = Math.max(1, Math.floor(2000 / edit.below))
        let best = Infinity
        let value = library.get(nodes[edit.input])
        const turns = 20
        for (let turn = 0; turn < turns; turn++) {
          const start = now()
          for (let i = 0; i < each; i++) library.set(nodes[edit.input], ++value)
          best = Math.min(best, (now() - start) / each)
        }
        const sum = seen.reduce((a, b) => a + b, 0)
        console.log(JSON.stringify({ ...line, edit: edit.name, value, nanoseconds: best, sum }))
      }
    } catch (error) {
      console.log(JSON.stringify({ ...line, failed: String(error.message ?? error) }))
    }
  }
}
