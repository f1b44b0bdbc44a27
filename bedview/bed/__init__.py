"""The machine itself: needles, actions, the rules, the fabric they make and the timeline of it all."""
