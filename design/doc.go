// Package design proposes the wiring that a rig lacks: topology, cable sizes, fuses, disconnects and bus bars, as edits of the document that
// its owner accepts, each with the limit that forced it and what relaxing that limit would allow. It also makes the answer to "how is it
// wired": every run and device in every state, and what opening a device darkens and leaves live.
//
// What is already written stays as it is; only what no run reaches is proposed for. Lengths that nobody measured are marked as guesses, and
// a size that rests on one is shown at both ends of it: no size is final on a guess.
//
// The shape of a proposal is the trade's: blocks on bars of their own where there are several, each with its fuse at the post; one main fuse
// and one disconnect; plus and minus bars; every branch fused where it leaves the bar; the shunt between the bank and all that draws; what
// must never lose power ahead of the disconnect. Sizes, ratings and interrupts are those of package conductor, by the rig's book.
//
// Left out, and why: parallel cables (each book has conditions of its own for them), panels of the AC side beyond one breaker for each feed
// (a licensed person lays those out), and where things are mounted.
package design
