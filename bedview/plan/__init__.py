"""What the knitter means: the piece, its gauges and sizes, and how it becomes actions and words."""
