package geom

import (
	"slices"
	"sort"
)

// edge is a side of a ring, its left end (then the upper one) first.
type edge struct {
	left, right    Point
	ring, at, size int // which side of which ring, and how many sides that has
}

func (e *edge) next(f *edge) bool {
	return e.ring == f.ring && ((e.at+1)%e.size == f.at || (f.at+1)%e.size == e.at)
}

// crossing finds a place where rings cross or touch themselves or each other, if there is one. It sweeps a
// line from left to right over the edges, after Shamos and Hoey (1976; from memory), in n log n; since the
// side of a point is decided exactly, so is the answer. Rings have no repeated vertex in a row.
func crossing(rings []Ring) (Point, bool) {
	var edges []edge
	for r, ring := range rings {
		edges = slices.Grow(edges, len(ring))
		for i, p := range ring {
			q := ring[(i+1)%len(ring)]
			if q.before(p) {
				p, q = q, p
			}
			edges = append(edges, edge{p, q, r, i, len(ring)})
		}
	}
	type event struct {
		at    Point
		edge  int
		start bool
	}
	events := make([]event, 0, 2*len(edges))
	for i, e := range edges {
		events = append(events, event{e.left, i, true}, event{e.right, i, false})
	}
	slices.SortFunc(events, func(a, b event) int {
		switch {
		case a.at.before(b.at):
			return -1
		case b.at.before(a.at):
			return 1
		case a.start != b.start && b.start: // what ends makes room for what starts
			return -1
		case a.start != b.start:
			return 1
		}
		return a.edge - b.edge
	})
	w := sweep{edges: edges}
	for i, e := range events {
		if i >= 2 && e.at == events[i-2].at {
			return e.at, true // more than the two edges of one vertex meet here
		}
		if e.start {
			w.insert(e.edge)
		} else {
			w.remove(e.edge)
		}
		if w.found {
			return w.place, true
		}
	}
	return Point{}, false
}

// sweep holds the edges under the sweeping line in the order it meets them.
type sweep struct {
	edges  []edge
	status []int
	place  Point
	found  bool
}

// position is where a place, and from there an edge to its right end, comes in the order.
func (w *sweep) position(p Point, right Point) int {
	return sort.Search(len(w.status), func(i int) bool {
		e := &w.edges[w.status[i]]
		side := orient(e.left, e.right, p)
		if side == 0 {
			side = orient(e.left, e.right, right)
		}
		return side <= 0
	})
}

func (w *sweep) insert(i int) {
	at := w.position(w.edges[i].left, w.edges[i].right)
	w.status = slices.Insert(w.status, at, i)
	w.compare(at-1, at)
	w.compare(at, at+1)
}

func (w *sweep) remove(i int) {
	at := w.position(w.edges[i].right, w.edges[i].right)
	if found := slices.Index(w.status[at:], i); found >= 0 {
		at += found
	} else {
		at = slices.Index(w.status, i)
	}
	w.status = slices.Delete(w.status, at, at+1)
	w.compare(at-1, at)
}

// compare looks whether two neighbours in the order meet.
func (w *sweep) compare(i, j int) {
	if i < 0 || j >= len(w.status) || w.found {
		return
	}
	w.place, w.found = meet(&w.edges[w.status[i]], &w.edges[w.status[j]])
}

// meet tells where two edges cross or touch. Sides next to each other share a vertex, which does not count;
// they meet when one runs back along the other.
func meet(e, f *edge) (Point, bool) {
	a, b := orient(e.left, e.right, f.left), orient(e.left, e.right, f.right)
	c, d := orient(f.left, f.right, e.left), orient(f.left, f.right, e.right)
	if e.next(f) {
		if a != 0 || b != 0 || e.left == f.right || e.right == f.left {
			return Point{}, false
		}
		return f.left, true
	}
	switch {
	case a*b < 0 && c*d < 0:
		u, v := e.right.sub(e.left), f.right.sub(f.left)
		return e.left.add(u.times(f.left.sub(e.left).cross(v) / u.cross(v))), true
	case a == 0 && around(e.left, e.right).holds(f.left):
		return f.left, true
	case b == 0 && around(e.left, e.right).holds(f.right):
		return f.right, true
	case c == 0 && around(f.left, f.right).holds(e.left):
		return e.left, true
	case d == 0 && around(f.left, f.right).holds(e.right):
		return e.right, true
	}
	return Point{}, false
}
