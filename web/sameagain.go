package web

import (
	"strings"

	"campwright/figure"
)

// The same thing to do at several parts is told once, with the list of the parts: "clamp the cable of alternator 1 and 2 with the engine
// hot". Only texts in words are put together; one that reads otherwise in the other units stays as it is.

// leastAlike is how many words two texts must have in common, two of them at least at each end; they must be two thirds of the longer one.
const leastAlike = 6

// together puts texts together that differ in one place only.
func together(list []Both) []Both {
	type cluster struct {
		texts      [][]string
		head, tail int // words in common at both ends
	}
	var clusters []cluster
next:
	for _, b := range list {
		words := strings.Fields(b.US)
		for i := range clusters {
			c := &clusters[i]
			if b.US != b.Metric {
				break
			}
			head, tail := inCommon(c.texts[0], words)
			if len(c.texts) > 1 {
				head, tail = min(head, c.head), min(tail, c.tail)
			}
			if n := head + tail; head > 1 && tail > 1 && n >= leastAlike && 3*n >= 2*max(len(words), len(c.texts[0])) {
				c.texts, c.head, c.tail = append(c.texts, words), head, tail
				continue next
			}
		}
		clusters = append(clusters, cluster{texts: [][]string{words}})
	}
	if len(clusters) == len(list) {
		return list
	}
	out := []Both{}
	for _, c := range clusters {
		first := c.texts[0]
		if len(c.texts) == 1 {
			for _, b := range list {
				if strings.Join(strings.Fields(b.US), " ") == strings.Join(first, " ") {
					out = append(out, b)
					break
				}
			}
			continue
		}
		middles, comma := make([]string, len(c.texts)), ""
		for i, words := range c.texts {
			middle := strings.Join(words[c.head:len(words)-c.tail], " ")
			middles[i] = strings.TrimSuffix(middle, ",")
			if middles[i] != middle {
				comma = ","
			}
		}
		out = append(out, alike(strings.Join(first[:c.head], " ")+" "+figure.List(middles)+comma+" "+strings.Join(first[len(first)-c.tail:], " ")))
	}
	return out
}

// inCommon counts the words that two texts have in common at their beginnings and ends, leaving one between them in each.
func inCommon(a, b []string) (head, tail int) {
	most := min(len(a), len(b)) - 1
	for head < most && a[head] == b[head] {
		head++
	}
	for tail < most-head && a[len(a)-1-tail] == b[len(b)-1-tail] {
		tail++
	}
	return head, tail
}
