"""The desktop: the only room with widgets."""
