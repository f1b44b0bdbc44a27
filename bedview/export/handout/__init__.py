"""What a teacher gives out: a lesson on paper with its answers, and as a page to step through at home."""
