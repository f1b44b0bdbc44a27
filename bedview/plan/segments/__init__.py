"""The kinds of segment, one file a kind: its parameters and how they become actions."""
