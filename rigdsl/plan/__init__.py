"""Planning: what falls silent when something fails, and which gear works together."""
