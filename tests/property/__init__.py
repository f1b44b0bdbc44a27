"""What holds for every procedure, tried on random ones."""
