"""A rig in two states as one drawing: what was and what is, what came, went and is otherwise marked."""
