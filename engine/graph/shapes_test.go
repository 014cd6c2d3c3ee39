package graph

// shape is a graph whose nodes stand in order; a node that reads nothing is an input.
type shape struct {
	name  string
	reads [][]int32
	sinks []int32 // what is looked at in the end
	edits []edit
}

// edit is an input to change, and how many nodes hang on it.
type edit struct {
	name  string
	input int32
	below int
}

// shapes are the graphs that are measured, about 100,000 nodes each.
func shapes() []shape {
	return []shape{chain(100_000), fanOut(99_000), fans(1000), diamond(100, 1000), tree(50_000)}
}

// small are the same shapes, a tenth as large.
func small() []shape {
	return []shape{chain(10_000), fanOut(9_900), fans(100), diamond(30, 330), tree(5_000)}
}

// chain: each node reads the one before.
func chain(n int) shape {
	s := shape{name: "chain"}
	last := s.add()
	for len(s.reads) < n {
		last = s.add(last)
	}
	s.sinks = []int32{last}
	s.edits = []edit{{"head", 0, n - 1}}
	return s
}

// fanOut: one input that n nodes read; each 100 of these are read by one.
func fanOut(n int) shape {
	s := shape{name: "fan-out"}
	s.addFan(n)
	s.edits = []edit{{"the input", 0, len(s.reads) - 1}}
	return s
}

// fans: inputs that 100 nodes each read; each 100 of these are read by one.
func fans(count int) shape {
	s := shape{name: "fans"}
	for range count {
		s.addFan(100)
	}
	s.edits = []edit{{"one of them", 0, 101}}
	return s
}

// chains: chains of 100 nodes.
func chains(count int) shape {
	s := shape{name: "chains"}
	for range count {
		last := s.add()
		for range 99 {
			last = s.add(last)
		}
		s.sinks = append(s.sinks, last)
	}
	s.edits = []edit{{"one of them", 0, 99}}
	return s
}

// inputs are the nodes that read nothing.
func (s *shape) inputs() []int32 {
	var inputs []int32
	for i, r := range s.reads {
		if len(r) == 0 {
			inputs = append(inputs, int32(i))
		}
	}
	return inputs
}

// diamond: layers of nodes that each read two neighbours of the layer above. An
// input of its own is read 10 layers from the end: the layers below it widen by
// one node each, 1 + 2 + ... + 10.
func diamond(width, depth int) shape {
	s := shape{name: "diamond"}
	above := make([]int32, width)
	for i := range above {
		above[i] = s.add()
	}
	late := s.add()
	for layer := range depth {
		below := make([]int32, width)
		for i := range below {
			reads := []int32{above[i], above[(i+1)%width]}
			if layer == depth-10 && i == 0 {
				reads = append(reads, late)
			}
			below[i] = s.add(reads...)
		}
		above = below
	}
	s.sinks = above
	top := 0 // of layer l, l+2 nodes hang on one input, until that is all of them
	for layer := range depth {
		top += min(layer+2, width)
	}
	s.edits = []edit{{"top", 0, top}, {"10 layers from the end", late, 55}}
	return s
}

// tree: leaves that are read in pairs, and so on up.
func tree(leaves int) shape {
	s := shape{name: "tree"}
	var level []int32
	for range leaves {
		level = append(level, s.add())
	}
	height := 0
	for len(level) > 1 {
		var up []int32
		for i := 0; i+1 < len(level); i += 2 {
			up = append(up, s.add(level[i], level[i+1]))
		}
		if len(level)%2 == 1 {
			up = append(up, level[len(level)-1])
		}
		level = up
		height++
	}
	s.sinks = level
	s.edits = []edit{{"one leaf", 0, height}}
	return s
}

func (s *shape) add(reads ...int32) int32 {
	s.reads = append(s.reads, reads)
	return int32(len(s.reads) - 1)
}

func (s *shape) addFan(n int) {
	in := s.add()
	first := in + 1
	for range n {
		s.add(in)
	}
	for n > 0 {
		part := make([]int32, 100)
		for i := range part {
			part[i] = first + int32(i)
		}
		s.sinks = append(s.sinks, s.add(part...))
		first, n = first+100, n-100
	}
}

func (s *shape) yield(node int32, yield func(int32)) {
	for _, r := range s.reads[node] {
		yield(r)
	}
}

// graph makes the graph of a shape, which must have no circle.
func (s *shape) graph() *Graph {
	g, err := New(len(s.reads), s.yield)
	if err != nil {
		panic(err)
	}
	return g
}

// means holds the values of a shape's nodes: the mean of what a node reads, plus
// 0.001; 0 for an input until it is set.
type means struct {
	reads rows
	value []float64
}

func (s *shape) means() *means {
	m := &means{rows{make([]int32, 1, len(s.reads)+1), nil}, make([]float64, len(s.reads))}
	for _, r := range s.reads {
		m.reads.to = append(m.reads.to, r...)
		m.reads.at = append(m.reads.at, int32(len(m.reads.to)))
	}
	return m
}

// compute gives what a graph is run with. An input has its value from outside.
func (m *means) compute() func(node int32) bool {
	at, to, value := m.reads.at, m.reads.to, m.value
	return func(node int32) bool {
		reads := to[at[node]:at[node+1]]
		if len(reads) == 0 {
			return true
		}
		x := 0.0
		for _, r := range reads {
			x += value[r]
		}
		x = x/float64(len(reads)) + 0.001
		changed := x != value[node]
		value[node] = x
		return changed
	}
}
