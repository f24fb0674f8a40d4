package rig

import "errors"

// remove takes out a place. A list or named groups left without a member go with their key; a group keeps its brackets.
func (s *sheet) remove(steps []step, want *node) error {
	for len(steps) > 1 && steps[len(steps)-1].member() && steps[len(steps)-1].most == 1 {
		steps = steps[:len(steps)-1]
	}
	st := steps[len(steps)-1]
	size := len(st.owner.entries)
	if st.item {
		size = len(st.owner.items)
	}
	if size == 1 {
		if len(steps) == 1 {
			return errors.New("the last key of a file cannot be removed")
		}
		empty := &node{kind: groupNode, flow: true}
		return s.set(spot{steps: steps[:len(steps)-1]}, empty, want)
	}
	owner := twin(steps, want)
	if st.item {
		owner.items = append(owner.items[:st.index], owner.items[st.index+1:]...)
	} else {
		owner.entries = append(owner.entries[:st.index], owner.entries[st.index+1:]...)
	}
	if bracketed(steps) {
		return s.removeInline(steps, size)
	}
	from, to, err := s.extent(steps)
	if err != nil {
		return err
	}
	if st.item {
		if from, err = s.dashOf(from); err != nil {
			return err
		}
	}
	if s.alone(from) {
		s.cut(from.line, to.line+1)
		return nil
	}
	// The first key behind a dash: the next one takes its place.
	if st.index+1 >= size || st.item {
		return errLost
	}
	next := st.owner.entries[st.index+1]
	until, err := s.at(next.line, next.column)
	if err != nil {
		return err
	}
	s.replace(from, until, "")
	return nil
}

// removeInline takes an entry or member out of brackets, with the comma before or behind it.
func (s *sheet) removeInline(steps []step, size int) error {
	st := steps[len(steps)-1]
	from, to, err := s.extent(steps)
	if err != nil {
		return err
	}
	neighbour := st
	above := steps[: len(steps)-1 : len(steps)-1]
	if st.index+1 < size {
		neighbour.index++
		if to, _, err = s.extent(append(above, neighbour)); err != nil {
			return err
		}
	} else {
		neighbour.index--
		if _, from, err = s.extent(append(above, neighbour)); err != nil {
			return err
		}
	}
	s.replace(from, to, "")
	return nil
}
