"""New projects, and input lists that become sources."""
