"""Several jobs in; out comes each worked at by a process of its own, and what is said of all together."""
