package circuit

import (
	"fmt"
	"math"
	"sort"
)

// ground is the merged node of the reference, at zero volts.
const ground = -1

// spot is where a node stands: its merged node and its fixed offset above it [V].
type spot struct {
	super  int32
	offset float64
}

// tie is an ideal source or short seen from the outer end of the tree of ties inside a merged node.
type tie struct {
	element       int32
	child, parent int32 // nodes
	fromA         bool  // the child is the element's A
}

// topology is what of a network does not change with its values, offsets of ideal sources apart.
type topology struct {
	names []string       // of nodes, in order of first mention, reference first
	index map[string]int // of nodes
	spots []spot         // of nodes
	ties  []tie          // leaves first
	ends  [][4]int32     // nodes of each element: A, B, OutA, OutB
	n     int            // merged nodes without ground
}

// build names the nodes, merges those tied by ideal sources and shorts, and refuses loops of them and floating parts.
func (t *topology) build(net Network) error {
	if net.Reference == "" {
		return fmt.Errorf("network: the reference node has no name")
	}
	t.index = map[string]int{}
	t.node(net.Reference)
	seen := make(map[string]bool, len(net.Elements))
	for i := range net.Elements {
		e := &net.Elements[i]
		if err := e.check(); err != nil {
			return err
		}
		if seen[e.Name] {
			return fmt.Errorf("element %q: name used twice", e.Name)
		}
		seen[e.Name] = true
		ends := [4]int32{t.node(e.A), t.node(e.B), -1, -1}
		if e.Kind == Converter {
			ends[2], ends[3] = t.node(e.OutA), t.node(e.OutB)
		}
		t.ends = append(t.ends, ends)
	}
	if len(t.names) > mostNodes {
		return fmt.Errorf("network: %d nodes above %d", len(t.names), mostNodes)
	}
	if err := t.merge(net); err != nil {
		return err
	}
	return t.floating(net)
}

func (t *topology) node(name string) int32 {
	i, ok := t.index[name]
	if !ok {
		i = len(t.names)
		t.index[name] = i
		t.names = append(t.names, name)
	}
	return int32(i)
}

// reach is a tie seen from one of its nodes.
type reach struct {
	element, other int32
	fromA          bool // the element's A is at the far end
}

// merge walks the trees of ideal sources and shorts, the reference's first, and gives each node its merged node and offset.
func (t *topology) merge(net Network) error {
	adjacent := make([][]reach, len(t.names))
	for i := range net.Elements {
		if k := net.Elements[i].Kind; k != EMF && k != Short {
			continue
		}
		a, b := t.ends[i][0], t.ends[i][1]
		adjacent[a] = append(adjacent[a], reach{int32(i), b, false})
		adjacent[b] = append(adjacent[b], reach{int32(i), a, true})
	}
	t.spots = make([]spot, len(t.names))
	parent := make([]int32, len(t.names)) // element by which a node was reached, −1 for a root, −2 for not yet
	for i := range parent {
		parent[i] = -2
	}
	next := int32(ground)
	for root := range t.names {
		if parent[root] != -2 {
			continue
		}
		parent[root] = -1
		t.spots[root] = spot{super: next}
		queue := []int32{int32(root)}
		for len(queue) > 0 {
			at := queue[0]
			queue = queue[1:]
			for _, r := range adjacent[at] {
				if parent[r.other] != -2 {
					if r.element != parent[at] && r.element != parent[r.other] {
						return t.loop(net, parent, at, r)
					}
					continue
				}
				parent[r.other] = r.element
				t.spots[r.other].super = next
				t.ties = append(t.ties, tie{r.element, r.other, at, r.fromA})
				queue = append(queue, r.other)
			}
		}
		next++
	}
	t.n = int(next)
	// The walk went from roots outward; currents are summed from leaves inward.
	for i, j := 0, len(t.ties)-1; i < j; i, j = i+1, j-1 {
		t.ties[i], t.ties[j] = t.ties[j], t.ties[i]
	}
	t.offsets(net)
	return nil
}

// offsets works out how far each node stands above its merged node; called again when an ideal source changes.
func (t *topology) offsets(net Network) {
	for i := len(t.ties) - 1; i >= 0; i-- {
		c := t.ties[i]
		v := net.Elements[c.element].Volts // zero for a short
		if !c.fromA {
			v = -v
		}
		t.spots[c.child].offset = t.spots[c.parent].offset + v
	}
}

// loop describes the loop that the tie r closes at a node.
func (t *topology) loop(net Network, parent []int32, at int32, r reach) error {
	path := func(from int32) (elements, nodes []int32) {
		for nodes = []int32{from}; parent[from] >= 0; {
			e := parent[from]
			elements = append(elements, e)
			from = t.ends[e][0] + t.ends[e][1] - from
			nodes = append(nodes, from)
		}
		return elements, nodes
	}
	left, leftNodes := path(at)
	right, rightNodes := path(r.other)
	for len(left) > 0 && len(right) > 0 && left[len(left)-1] == right[len(right)-1] {
		left, right = left[:len(left)-1], right[:len(right)-1]
	}
	// Sum of rises from at round the loop and back.
	size := 0.0
	rise := func(e, from int32) float64 {
		size += math.Abs(net.Elements[e].Volts)
		if t.ends[e][0] == from { // from A down to B
			return -net.Elements[e].Volts
		}
		return net.Elements[e].Volts
	}
	sum := rise(r.element, at)
	for i, e := range right {
		sum += rise(e, rightNodes[i])
	}
	for i, e := range left {
		sum -= rise(e, leftNodes[i])
	}
	loop := &LoopError{Volts: sum, Elements: []string{net.Elements[r.element].Name}}
	for _, e := range append(left, right...) {
		loop.Elements = append(loop.Elements, net.Elements[e].Name)
	}
	sort.Strings(loop.Elements)
	if loop.Volts = math.Abs(loop.Volts); loop.Volts <= 1e-12*size {
		loop.Volts = 0 // rounding of sources that agree
	}
	return loop
}

// floating refuses nodes without a conducting path to the reference.
func (t *topology) floating(net Network) error {
	up := make([]int32, t.n+1) // union-find over merged nodes, ground last
	for i := range up {
		up[i] = int32(i)
	}
	find := func(node int32) int32 {
		s := t.spots[node].super
		if s == ground {
			s = int32(t.n)
		}
		for up[s] != s {
			up[s] = up[up[s]]
			s = up[s]
		}
		return s
	}
	for i := range net.Elements {
		switch e := &net.Elements[i]; {
		case e.Kind == Resistor || e.Kind == Photovoltaic:
			up[find(t.ends[i][0])] = find(t.ends[i][1])
		case (e.Kind == PowerSource || e.Kind == Converter) && e.Outlet.SetVolts > 0:
			a, b := t.ends[i][0], t.ends[i][1]
			if e.Kind == Converter {
				a, b = t.ends[i][2], t.ends[i][3]
			}
			up[find(a)] = find(b)
		}
	}
	base := find(0)
	var lost []string
	for i, name := range t.names {
		if find(int32(i)) != base {
			lost = append(lost, name)
		}
	}
	if lost != nil {
		sort.Strings(lost)
		return &FloatingError{Nodes: lost}
	}
	return nil
}
