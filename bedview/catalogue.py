"""The translations that travel with the program, and the language a person reads."""
