"""A finished plan in; out come the plan file, a pole's facts, other sidings beside it, what changed."""
