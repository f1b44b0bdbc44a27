"""The class view: the bed for a projector, large, in few words, with a pointer that shows."""
